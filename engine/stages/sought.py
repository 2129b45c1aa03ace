"""What power to look for while no candidate can be reckoned with: from the power page, before any engine is chosen."""

from typing import cast

from engine.bands import Band
from engine.constants import KNOT
from engine.defaults import amount, amount_or_none, word
from engine.findings import Finding, fits
from engine.hull.shallow_water import shallow_water
from engine.machinery.derating import STATUS as DERATING_STATUS
from engine.machinery.derating import site_adjustment
from engine.machinery.diesel import EngineKind
from engine.plan import Plan, noun_of
from engine.plan_defaults import gear_efficiency
from engine.sections.electric import Motor
from engine.sections.engine import Candidate
from engine.stages.demand import Demand
from engine.stages.drive import losses_aboard, site_of
from engine.stages.engine_findings import TOP_LOAD
from engine.stages.hull import HullAnswers
from engine.stages.speed import SpeedAnswers
from engine.stages.wording import Wording, at_the_shafts, percent

TOP_RULE = f"top speed at {percent(TOP_LOAD)} of what is left, from memory"
SOUGHT_AT = "engine.candidate"
"""What the finding is about: the table that waits for a candidate."""


def behind_crankshaft(plan: Plan) -> float:
    """Share of the power of the engine that reaches the shaft: of the chosen candidate, else through a gear [-]."""
    item = plan.engine.selected
    return amount(plan.gear, "efficiency") if item is None else gear_efficiency(plan, item)


def left_aboard(plan: Plan) -> tuple[float, str]:
    """Share of the rated power left in the plan's air and water [-], and where that is from.

    Of the chosen candidate, else of the kind of diesel that is taken while none is said.
    """
    item = plan.engine.selected
    if isinstance(item, Motor):
        return 1.0, "by its maker"
    if item is not None and item.power_lost is not None:
        return losses_aboard(plan, item)[0], "by its maker"
    kind = cast(EngineKind, word(item or Candidate(), "kind"))
    return float(site_adjustment(kind, site_of(plan)).claimed_power_ratio), f"{kind}; {DERATING_STATUS}"


def rated_power_to_ask_for(top: Band, left: float) -> Band:
    """Rated power of one engine, in the unit of `top`, its power for the top speed wanted.   left: as `left_aboard`."""
    return top.scaled(1.0 / (TOP_LOAD * left))


def sought_findings(plan: Plan, hull: HullAnswers, speed: SpeedAnswers, demand: Demand) -> tuple[Finding, ...]:
    """What to look for, in words; nothing where the top speed wanted is beyond the speeds worked out."""
    top = _at_top_speed(plan, hull, speed, demand)
    if not top.is_known:
        return ()
    say, noun, is_one = Wording(plan.units), noun_of(plan.engine.selected), demand.screws == 1
    left, status = left_aboard(plan)
    rated = say.band(rated_power_to_ask_for(top.scaled(1.0 / (demand.screws * behind_crankshaft(plan))), left))
    article = "a" if noun == "motor" else "an"
    text = (
        f"Look for {f'{article} {noun} rated about {rated}' if is_one else f'two {noun}s rated about {rated} each'}: "
        f"the top speed wanted, {speed.top_kn:.1f} kn, takes {say.band(top)} "
        f"{at_the_shafts(demand.screws)} in calm water, the losses aboard come on top, and "
        f"{percent(1.0 - TOP_LOAD)} is kept back for a foul bottom and a head sea."
    )
    text += _in_shallow_water(plan, hull, speed, demand)
    losses = (
        "" if isinstance(plan.engine.selected, Motor) else f"; {percent(left)} left in your air and water: {status}"
    )
    return (fits(text, f"shaft power of the power page; {TOP_RULE}{losses}", SOUGHT_AT),)


def _at_top_speed(plan: Plan, hull: HullAnswers, speed: SpeedAnswers, demand: Demand, *, service: bool = False) -> Band:
    """Power at all shafts at the top speed wanted [kW]."""
    each = demand.each_delivered_power(speed.top_kn * KNOT, service=service) / amount(plan.gear, "shaft_efficiency")
    return hull.fleet.band(each / 1e3)


def _in_shallow_water(plan: Plan, hull: HullAnswers, speed: SpeedAnswers, demand: Demand) -> str:
    """What the depth that the plan gives makes of the top speed; "" without one, or where it does not slow her."""
    depth, say = amount_or_none(plan.power, "water_depth"), Wording(plan.units)
    if depth is None or not shallow_water(hull.form, speed.top_kn * KNOT, depth).speed_loss:
        return ""
    there = _at_top_speed(plan, hull, speed, demand, service=True)
    takes = f"takes {say.band(there)} with all that you allow for" if there.is_known else "cannot be worked out"
    return f" That is in deep water; in {say.length(depth)} of it that speed {takes}."

"""Stage 5: which ratio? Every ratio on offer with the best propeller that fits."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from engine.answers import answer, maybe, table
from engine.bands import UNKNOWN, Band
from engine.constants import KNOT, RPM
from engine.findings import Finding, Outcome, fits, look, stop
from engine.machinery.gearbox import DISPLACEMENT_BOAT_DUTY, ROTATION_RULES, gear_rating_required, judge_gear_rating
from engine.machinery.shaft import shaft_torque
from engine.plan import Plan
from engine.propeller import handbook
from engine.propeller.cavitation import tip_speed
from engine.propeller.matching import PitchFound, pitch_ratio_to_absorb
from engine.propeller.wageningen import WAGENINGEN_B
from engine.stages.boats import each_boat
from engine.stages.boats_trial import try_on_boats
from engine.stages.defaults import amount, whole
from engine.stages.demand import Demand
from engine.stages.drive import Drive
from engine.stages.engine import EngineAnswers
from engine.stages.hull import HullAnswers
from engine.stages.power import PowerAnswers
from engine.stages.propulsion import boats_points
from engine.stages.room import propeller_limit, tip_clearance
from engine.stages.speed import SpeedAnswers
from engine.stages.wording import Wording

_SERIES = "Wageningen B-series, Oosterveld and van Oossanen (1975), in equilibrium with hull and engine"


@dataclass(frozen=True)
class RatioRow:
    """One ratio with the best propeller for it that fits the room."""

    ratio: float = answer("Ratio")
    shaft_rpm: float = answer("Shaft speed")
    free_diameter_m: float = answer("Diameter it would like", metric="mm", imperial="in")
    diameter_m: float = answer("Diameter that fits", metric="mm", imperial="in")
    pitch_m: float = answer("Pitch", metric="mm", imperial="in")
    efficiency_fraction: Band = answer("Efficiency of the propeller at cruise")
    tip_clearance_fraction: float = answer("Tip clearance")
    top_kn: Band = answer("Top speed", spread=True)
    cruise_l_per_h: Band = answer("Burn at cruise", spread=True)
    tip_speed_m_per_s: float = answer("Tip speed")
    chosen: bool = answer("Chosen")


@dataclass(frozen=True, kw_only=True)
class GearAnswers:
    """The chosen ratio."""

    ratio: float = answer("Ratio")
    recommended_ratio: float = answer("Recommended ratio")
    shaft_rpm: float = answer("Shaft speed at rated engine speed")
    shaft_torque_nm: float = answer("Shaft torque at rated power")
    largest_diameter_m: float = answer("Largest diameter that fits", metric="mm", imperial="in")
    needed_rating_kw_per_100_rpm: float = answer("Gear rating needed")
    rating_margin_fraction: float | None = maybe("Margin of the gear rating")
    options: tuple[RatioRow, ...] = table("Ratios side by side")


_DIAMETER_SHARES = np.linspace(0.45, 1.6, 47)
"""Diameters tried, over the handbook's; the largest that fits is tried as well."""
_WORTH = 0.005
"""A deeper ratio must give this share more speed at full power to be preferred: it costs torque and money."""


def assess_gear(
    plan: Plan, hull: HullAnswers, speed: SpeedAnswers, power: PowerAnswers, engine: EngineAnswers
) -> Outcome[GearAnswers]:
    """For every ratio on offer the propeller that fits and absorbs the power best, side by side."""
    limit = propeller_limit(plan)
    if not plan.gear.ratios:
        return Outcome(None, waits_for="the ratios on offer.")
    if limit is None:
        return Outcome(None, waits_for="the room for the propeller, asked on the propeller page.")
    ratios = sorted({ratio.si for ratio in plan.gear.ratios} | ({plan.gear.ratio.si} if plan.gear.ratio else set()))
    found = [_option(plan, hull, speed, power.demand, engine.drive, ratio, limit) for ratio in ratios]
    options = [option for option, _ in found]
    usable = [(option, reached) for option, reached in found if np.isfinite(reached)]
    if not usable:
        text = "With none of the ratios on offer is there a propeller that fits the room and absorbs the power."
        return Outcome(None, (stop(text, _SERIES, "gear.ratios"),), "a ratio or a room that suits the engine.")
    recommended = _recommended(usable)
    wanted = plan.gear.ratio.si if plan.gear.ratio else recommended.ratio
    chosen = next(option for option in options if option.ratio == wanted)
    drive = engine.drive
    shaft_speed = drive.engine.rated_speed / wanted
    needed = float(gear_rating_required(drive.engine.crankshaft_rated_power, drive.engine.rated_speed))
    rating = plan.gear.rating
    answers = GearAnswers(
        ratio=wanted,
        recommended_ratio=recommended.ratio,
        shaft_rpm=shaft_speed / RPM,
        shaft_torque_nm=float(shaft_torque(drive.power_after_gear, shaft_speed)),
        largest_diameter_m=limit,
        needed_rating_kw_per_100_rpm=needed * 100.0 * RPM / 1e3,
        rating_margin_fraction=None if rating is None else rating.si / needed - 1.0,
        options=tuple(replace(option, chosen=option.ratio == wanted) for option in options),
    )
    return Outcome(answers, tuple(_findings(plan, answers, chosen, recommended, needed)))


def _recommended(options: list[tuple[RatioRow, float]]) -> RatioRow:
    """The fastest at full power [m/s]; a shallower ratio wins when the deeper one gains next to nothing."""
    fastest = max(reached for _, reached in options)
    return next(option for option, reached in options if reached >= fastest * (1.0 - _WORTH))


def _option(
    plan: Plan, hull: HullAnswers, speed: SpeedAnswers, demand: Demand, drive: Drive, ratio: float, limit: float
) -> tuple[RatioRow, float]:
    """The row of a ratio, and the speed that the middle of the fleet reaches [m/s], -inf when no propeller suits."""
    shaft_speed = drive.engine.rated_speed / ratio
    blades, area = whole(plan.propeller, "blades"), amount(plan.propeller, "area_ratio")
    usual = float(handbook.diameter(drive.power_at_propeller, shaft_speed))
    free = np.unique(np.append(usual * _DIAMETER_SHARES, limit))
    trial = pitch_ratio_to_absorb(
        WAGENINGEN_B,
        free,
        blades,
        area,
        drive.power_at_propeller,
        shaft_speed * (1.0 + amount(plan.propeller, "light_running")),
        demand.calm,
    )
    reached = np.where(trial.found == PitchFound.YES, np.asarray(trial.boat_speed), -np.inf)
    fitting = np.where(free <= limit, reached, -np.inf)
    best = int(np.argmax(fitting))
    nothing = not np.isfinite(fitting[best])
    freest = int(np.argmax(reached))
    diameter = math.nan if nothing else float(free[best])
    pitch_ratio = float(np.asarray(trial.pitch_ratio)[best])
    row = RatioRow(
        ratio=ratio,
        shaft_rpm=shaft_speed / RPM,
        free_diameter_m=float(free[freest]) if np.isfinite(reached[freest]) else math.nan,
        diameter_m=diameter,
        pitch_m=pitch_ratio * diameter,
        efficiency_fraction=UNKNOWN,
        tip_clearance_fraction=tip_clearance(plan, diameter),
        top_kn=UNKNOWN,
        cruise_l_per_h=UNKNOWN,
        tip_speed_m_per_s=math.nan if nothing else float(tip_speed(diameter, shaft_speed)),
        chosen=False,
    )
    if nothing:
        return row, -math.inf
    return _on_boats(plan, hull, speed, demand, drive, row), float(reached[best])


def _on_boats(
    plan: Plan, hull: HullAnswers, speed: SpeedAnswers, demand: Demand, drive: Drive, row: RatioRow
) -> RatioRow:
    """The row with the bands of its propeller on the plausible boats."""
    open_water = WAGENINGEN_B.cubics(
        row.pitch_m / row.diameter_m * np.asarray(hull.boats.propeller_pitch),
        amount(plan.propeller, "area_ratio"),
        whole(plan.propeller, "blades"),
    )
    trial = try_on_boats(open_water, row.diameter_m, demand.boats_calm, drive, row.ratio, hull.boats)
    point = boats_points(open_water, row.diameter_m, demand.boats_calm, np.array([speed.cruise_kn * KNOT]))
    power, shaft_speed, efficiency = (
        each_boat(values, hull.fleet.size) for values in (point.delivered_power, point.shaft_speed, point.efficiency)
    )
    burn = drive.burn_l_per_h(power, shaft_speed * row.ratio)
    return replace(
        row,
        efficiency_fraction=hull.fleet.band(efficiency),
        top_kn=hull.fleet.band(trial.boat_speed).scaled(1.0 / KNOT),
        cruise_l_per_h=hull.fleet.band(burn * demand.screws),
    )


def _findings(
    plan: Plan, answers: GearAnswers, chosen: RatioRow, recommended: RatioRow, needed: float
) -> Iterator[Finding]:
    say = Wording(plan.units)
    if not np.isfinite(chosen.diameter_m):
        yield stop(
            f"With {chosen.ratio:.4g}:1 no propeller of the series fits the room and absorbs the power. "
            f"Take {recommended.ratio:.4g}:1.",
            _SERIES,
            "gear.ratio",
        )
        return
    if chosen.ratio == recommended.ratio:
        yield fits(f"{chosen.ratio:.4g}:1 makes the best use of the room for the propeller.", _SERIES)
    else:
        yield look(
            f"{recommended.ratio:.4g}:1 would be {recommended.top_kn.best - chosen.top_kn.best:.2f} kn faster at full "
            "power and burn "
            f"{say.flow(recommended.cruise_l_per_h.best)} instead of {say.flow(chosen.cruise_l_per_h.best)} at cruise.",
            _SERIES,
            "gear.ratio",
        )
    if chosen.free_diameter_m > chosen.diameter_m * 1.02:
        yield look(
            f"At {chosen.shaft_rpm:.0f} rpm the shaft would like {say.size(chosen.free_diameter_m)}; only "
            f"{say.size(answers.largest_diameter_m)} fits with the tip clearance asked for.",
            _SERIES,
            "propeller.room",
        )
    if plan.gear.rating is None:
        yield look(
            f"The rating of the gear is not given; it needs {say.gear_rating(answers.needed_rating_kw_per_100_rpm)} "
            f"and a tenth in hand. {DISPLACEMENT_BOAT_DUTY}",
            "gear makers' rating by power per speed",
            "gear.rating",
        )
    else:
        yield judge_gear_rating(needed, plan.gear.rating.si)
    yield look(ROTATION_RULES[1], "gear makers' manuals")

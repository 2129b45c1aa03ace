"""Stage 3: what does that take? Resistance, and the power to overcome it."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from engine.answers import answer, detail, maybe, table
from engine.bands import Band
from engine.constants import KNOT
from engine.defaults import amount, word
from engine.findings import Finding, Outcome, fits, look
from engine.hull.displacement_rules import HONEST_LABEL, shaft_power_gerr, shaft_power_wyman
from engine.hull.methods import METHODS, range_report
from engine.numeric import Real
from engine.plan import Plan
from engine.stages.boats import each_boat
from engine.stages.cases import Cases
from engine.stages.demand import Demand
from engine.stages.doubt import DoubtRow, first_step, what_to_measure
from engine.stages.hull import HullAnswers
from engine.stages.log_on_power import (
    BeforeLog,
    LoggedPoint,
    change_by_log,
    log_finding,
    logged_points,
)
from engine.stages.power_allowances import allowance_findings
from engine.stages.resistance import SPEED_STEP_KN, ResistanceCurve, at_speed, each_at_speed, methods_in_use
from engine.stages.speed import HULL_SPEED_RATIO, SpeedAnswers
from engine.stages.unknowns import held_findings
from engine.stages.wording import Wording, at_the_shafts, percent

_COUNTS = 0.05
"""A method of less weight than this is not spoken of (ours)."""
_OVER_THE_RULES = 1.1
"""Times what the rules of thumb install, from which the power wants a second look (ours)."""
_FIRST_SHOWN = round(2.0 / SPEED_STEP_KN)
"""Of the grid of speeds, from 2 kn on every one is a row of the curve."""
_SHOWN_BEYOND = 1.12
"""The rows of the curve reach this many times the higher of top speed and hull speed (ours)."""
_PARTS = {
    "calm": "clean hull, keel and rudder, calm deep water",
    "fouling": "fouling",
    "shallow": "shallow water",
    "wind": "air and wind",
    "waves": "head sea",
    "margin": "sea margin",
    "total": "in service, all together",
}
"""Part of the resistance in service -> its words, in the order in which they apply."""


@dataclass(frozen=True)
class PowerRow:
    """One speed of the power curve, calm water.

    methods: method name -> effective power of the boat as described [kW], None where the method does not apply to her.
    by_method_fraction: method name -> its share in the consensus, in which methods a little outside still count.
    """

    speed_kn: float = answer("Speed", digits=4)
    resistance_n: Band = answer("Resistance")
    effective_power_kw: Band = answer("Effective power")
    delivered_power_kw: Band = answer("Delivered power")
    shaft_power_kw: Band = answer("Shaft power", spread=True)
    service_shaft_power_kw: Band = answer("Shaft power with margin")
    methods: Mapping[str, float | None] = detail("Effective power by method, kW", column="methods_kw")
    by_method_fraction: Mapping[str, float] = detail("Weight of each method")
    consensus_kw: float | None = maybe("Effective power, methods together, boat as described")


@dataclass(frozen=True)
class PartRow:
    """One part of the resistance at cruise, calm or in service."""

    part: str = answer("Part")
    resistance_n: Band = answer("Resistance", spread=True)
    share_fraction: Band = answer("Of the clean hull in calm water")


@dataclass(frozen=True, kw_only=True)
class PowerAnswers:
    """Power for the whole boat, at the two speeds and as a curve."""

    method: str = answer("Method")
    wake_fraction: Band = answer("Wake")
    thrust_deduction: Band = answer("Thrust deduction")
    hull_efficiency: Band = answer("Hull efficiency")
    propulsive_efficiency: Band = answer("Propulsive efficiency at cruise")
    cruise_resistance_n: Band = answer("Resistance at cruise")
    cruise_effective_power_kw: Band = answer("Effective power at cruise")
    cruise_shaft_power_kw: Band = answer("Shaft power at cruise, calm")
    cruise_service_power_kw: Band = answer("Shaft power at cruise, with margin")
    top_resistance_n: Band = answer("Resistance at top speed")
    top_effective_power_kw: Band = answer("Effective power at top speed")
    top_shaft_power_kw: Band = answer("Shaft power at top speed, calm")
    reference_diameter_m: float = answer("Propeller assumed for the efficiency, diameter", metric="mm", imperial="in")
    demand: Demand
    cases: Cases
    rule_wyman_kw: float | None = maybe("Displacement rule of Wyman at cruise, installed")
    rule_gerr_kw: float | None = maybe("Displacement rule of Gerr at cruise, installed")
    before_log_kw: Band | None = maybe("Shaft power at cruise, calm, before log and trial", only_known=True)
    curve: tuple[PowerRow, ...] = table("Power against speed, calm water")
    parts: tuple[PartRow, ...] = table("Resistance at cruise, part by part")
    logged: tuple[LoggedPoint, ...] = table("The log, read through the present propeller")
    doubt: tuple[DoubtRow, ...] = table("What to measure next, for the power at cruise")


def assess_power(
    plan: Plan, hull: HullAnswers, speed: SpeedAnswers, demand: Demand, cases: Cases, before_log: BeforeLog
) -> Outcome[PowerAnswers]:
    """Resistance, effective and shaft power of the whole boat at the planned speeds and as a curve."""
    answers = _answers(plan, hull, speed, demand, cases, before_log)
    return Outcome(answers, (*held_findings(plan, "power"), *_findings(plan, hull, speed, answers)))


def _answers(
    plan: Plan, hull: HullAnswers, speed: SpeedAnswers, demand: Demand, cases: Cases, before_log: BeforeLog
) -> PowerAnswers:
    curve, fleet, boats = demand.resistance, hull.fleet, hull.boats
    cruise, top = speed.cruise_kn * KNOT, speed.top_kn * KNOT
    to_shaft = amount(plan.gear, "shaft_efficiency")
    cruise_force, top_force = (each_at_speed(curve, curve.calm, v) for v in (cruise, top))
    cruise_power = demand.each_delivered_power(cruise)
    wake, deduction = (each_boat(value, fleet.rows) for value in (boats.wake_fraction, boats.thrust_deduction))
    below_hull_speed = speed.cruise_speed_length_ratio <= HULL_SPEED_RATIO
    return PowerAnswers(
        method=word(plan.power, "method"),
        wake_fraction=fleet.band(wake),
        thrust_deduction=fleet.band(deduction),
        hull_efficiency=fleet.band((1.0 - deduction) / (1.0 - wake)),
        propulsive_efficiency=fleet.band(cruise_force * cruise / cruise_power),
        cruise_resistance_n=fleet.band(cruise_force),
        cruise_effective_power_kw=fleet.band(cruise_force * cruise / 1e3),
        cruise_shaft_power_kw=fleet.band(cruise_power / to_shaft / 1e3),
        cruise_service_power_kw=fleet.band(demand.each_delivered_power(cruise, service=True) / to_shaft / 1e3),
        top_resistance_n=fleet.band(top_force),
        top_effective_power_kw=fleet.band(top_force * top / 1e3),
        top_shaft_power_kw=fleet.band(demand.each_delivered_power(top) / to_shaft / 1e3),
        reference_diameter_m=demand.reference.diameter,
        rule_wyman_kw=_rule(shaft_power_wyman, hull, cruise) if below_hull_speed else None,
        rule_gerr_kw=_rule(shaft_power_gerr, hull, cruise) if below_hull_speed else None,
        demand=demand,
        cases=cases,
        before_log_kw=before_log.cruise_kw,
        curve=tuple(_rows(demand, to_shaft, max(top, hull.hull_speed_kn.best * KNOT))),
        parts=tuple(_parts(curve, cruise)),
        logged=tuple(logged_points(plan, hull, demand)),
        doubt=what_to_measure(fleet, cruise_power, hull.logbook, hull.trial),
    )


def _rule(rule: Callable[[float, float, float], Real], hull: HullAnswers, speed: float) -> float:
    return float(rule(hull.displacement_kg.best, speed, hull.waterline_length_m.best)) / 1e3


def _rows(demand: Demand, to_shaft: float, highest: float) -> Iterator[PowerRow]:
    curve, fleet = demand.resistance, demand.resistance.fleet
    last = min(int(np.searchsorted(curve.speed, _SHOWN_BEYOND * highest)) + 1, len(curve.speed))
    shown = slice(_FIRST_SHOWN, last)
    speed = curve.speed[shown]
    resistance, delivered, service = (
        fleet.each_band(values[:, shown]) for values in (curve.calm, demand.delivered, demand.service_delivered)
    )
    for i, grid in enumerate(range(_FIRST_SHOWN, last)):
        if not delivered[i].is_known:
            return
        yield PowerRow(
            speed_kn=float(speed[i] / KNOT),
            resistance_n=resistance[i],
            effective_power_kw=resistance[i].scaled(float(speed[i]) / 1e3),
            delivered_power_kw=delivered[i].scaled(1e-3),
            shaft_power_kw=delivered[i].scaled(1e-3 / to_shaft),
            service_shaft_power_kw=service[i].scaled(1e-3 / to_shaft),
            consensus_kw=_power_kw(curve.together[grid], speed[i]),
            by_method_fraction={label: float(weight[grid]) for label, weight in curve.weights.items()},
            methods={
                label: _power_kw(force[grid], speed[i]) if curve.applies[label][grid] else None
                for label, force in curve.by_method.items()
            },
        )


def _parts(curve: ResistanceCurve, speed: float) -> Iterator[PartRow]:
    """The parts that are not nothing."""
    calm = each_at_speed(curve, np.asarray(curve.parts.calm), speed)
    for name, words in _PARTS.items():
        force = each_at_speed(curve, np.asarray(getattr(curve.parts, name)), speed)
        if np.any(force != 0.0):
            yield PartRow(words, curve.fleet.band(force), curve.fleet.band(force / calm))


def _power_kw(force: float, speed: float) -> float | None:
    return float(force * speed / 1e3) if np.isfinite(force) else None


def _findings(plan: Plan, hull: HullAnswers, speed: SpeedAnswers, answers: PowerAnswers) -> Iterator[Finding]:
    say = Wording(plan.units)
    yield from _method_findings(plan, hull, speed, answers)
    yield from _rule_findings(say, answers)
    if answers.before_log_kw is not None:
        yield change_by_log(plan, hull, answers.before_log_kw, answers.cruise_shaft_power_kw)
    yield from first_step("the power at cruise", answers.doubt)
    yield from allowance_findings(plan, hull, speed, answers.demand)
    for point in answers.logged:
        yield log_finding(plan, point)


def _method_findings(plan: Plan, hull: HullAnswers, speed: SpeedAnswers, answers: PowerAnswers) -> Iterator[Finding]:
    in_use = methods_in_use(plan)
    if len(in_use) == 1:
        method = METHODS[in_use[0]]
        for outside in range_report(method, hull.form, speed.top_kn * KNOT):
            yield look(outside.sentence, f"{method.source}; range {outside.limit.status}", "power.method")
    curve, cruise = answers.demand.resistance, speed.cruise_kn * KNOT
    say = Wording(plan.units)
    weights = {label: at_speed(curve, weight, cruise) for label, weight in curve.weights.items()}
    counting = [label for label, weight in weights.items() if weight >= _COUNTS]
    if len(counting) > 1:
        powers = [at_speed(curve, curve.by_method[label], cruise) * cruise / 1e3 for label in counting]
        leader = max(counting, key=weights.__getitem__)
        yield fits(
            f"At cruise {len(counting)} methods lie between {say.power(min(powers))} and {say.power(max(powers))} of "
            f"effective power on the boat as described; {leader} counts for most, {percent(weights[leader])}.",
            "; ".join(counting),
        )


def _rule_findings(say: Wording, answers: PowerAnswers) -> Iterator[Finding]:
    screws = answers.demand.screws
    if answers.rule_wyman_kw is None or answers.rule_gerr_kw is None:
        yield look(
            "The displacement rules are left out: the cruising speed is above hull speed, where they part company.",
            HONEST_LABEL,
            "speed.cruise",
        )
        return
    low, high = sorted((answers.rule_wyman_kw, answers.rule_gerr_kw))
    text = (
        f"The displacement rules give {say.power(low)} to {say.power(high)} installed at cruise, with a large "
        "margin in them; "
    )
    service = answers.cruise_service_power_kw
    if not service.is_known:
        yield look(f"{text}the power with all that you allow for cannot be worked out beside them.", HONEST_LABEL)
        return
    text += f"the resistance methods give {say.power(service.best)} {at_the_shafts(screws)} with your margin."
    if service.best <= high * _OVER_THE_RULES:
        yield fits(text, HONEST_LABEL)
    else:
        unusual = "More than the rules install is unusual: look at weight and dimensions."
        yield look(f"{text} {unusual}", f"{HONEST_LABEL} A tenth over them as the limit: ours.")

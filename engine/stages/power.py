"""Stage 3: what does that take? Resistance, and the power to overcome it."""

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from engine.answers import answer, detail, maybe, table
from engine.constants import KNOT, RPM, TWO_PI
from engine.findings import Finding, Outcome, fits, look
from engine.hull.displacement_rules import HONEST_LABEL, shaft_power_gerr, shaft_power_wyman
from engine.hull.methods import METHODS, range_report
from engine.numeric import Real
from engine.plan import Plan
from engine.propeller import handbook
from engine.propeller.design import optimum_for_thrust_at_diameter
from engine.propeller.equilibrium import OperatingPoint, shaft_speed_at_boat_speed
from engine.propeller.hull_curve import HullCurve, hull_curve
from engine.propeller.interaction import ARRANGEMENTS, Interaction, interaction
from engine.propeller.wageningen import WAGENINGEN_B
from engine.stages.defaults import amount, amount_or_none, whole, word
from engine.stages.hull import HullAnswers
from engine.stages.resistance import SPEED_STEP_KN, ResistanceCurve, at_speed
from engine.stages.room import propeller_limit
from engine.stages.speed import HULL_SPEED_RATIO, SpeedAnswers
from engine.stages.wording import Wording, percent


@dataclass(frozen=True)
class PowerRow:
    """One speed of the power curve, calm water. `methods`: method name -> effective power in kW, None outside."""

    speed_kn: float = answer("Speed")
    resistance_n: float = answer("Resistance")
    effective_power_kw: float = answer("Effective power")
    delivered_power_kw: float = answer("Delivered power")
    shaft_power_kw: float = answer("Shaft power")
    service_shaft_power_kw: float = answer("Shaft power with margin")
    methods: Mapping[str, float | None] = detail("Effective power by method, kW")


@dataclass(frozen=True)
class LoggedPoint:
    """A row of the owner's log, read through the present propeller, beside what the plan expects at that speed."""

    speed_kn: float = answer("Speed")
    engine_rpm: float = answer("Engine speed")
    slip_fraction: float = answer("Apparent slip")
    shaft_power_kw: float = answer("Shaft power read from the log")
    expected_shaft_power_kw: float = answer("Shaft power expected")


@dataclass(frozen=True, eq=False)
class Demand:
    """What the boat asks of her propellers, and a fair propeller's answer, over the speeds of the resistance curve.

    calm, service: hull curves per propeller.   propeller: the operating points of the reference propeller, calm, per
    propeller, on the grid.   service_propeller: the same with margin.   diameter: of the reference propeller [m].
    """

    resistance: ResistanceCurve
    interaction: Interaction
    screws: int
    calm: HullCurve
    service: HullCurve
    propeller: OperatingPoint
    service_propeller: OperatingPoint
    diameter: float

    def delivered_power(self, speed: float, *, service: bool = False) -> float:
        """Power at all propellers together at a boat speed [m/s], in calm water or with margin [W]."""
        point = self.service_propeller if service else self.propeller
        return self.screws * at_speed(self.resistance, np.asarray(point.delivered_power), speed)


@dataclass(frozen=True, kw_only=True)
class PowerAnswers:
    """Power for the whole boat, at the two speeds and as a curve."""

    method: str = answer("Method")
    wake_fraction: float = answer("Wake")
    thrust_deduction: float = answer("Thrust deduction")
    hull_efficiency: float = answer("Hull efficiency")
    propulsive_efficiency: float = answer("Propulsive efficiency at cruise")
    cruise_resistance_n: float = answer("Resistance at cruise")
    cruise_effective_power_kw: float = answer("Effective power at cruise")
    cruise_shaft_power_kw: float = answer("Shaft power at cruise, calm")
    cruise_service_power_kw: float = answer("Shaft power at cruise, with margin")
    top_resistance_n: float = answer("Resistance at top speed")
    top_effective_power_kw: float = answer("Effective power at top speed")
    top_shaft_power_kw: float = answer("Shaft power at top speed, calm")
    reference_diameter_m: float = answer("Propeller assumed for the efficiency, diameter", metric="mm", imperial="in")
    demand: Demand
    rule_wyman_kw: float | None = maybe("Displacement rule of Wyman at cruise, installed")
    rule_gerr_kw: float | None = maybe("Displacement rule of Gerr at cruise, installed")
    curve: tuple[PowerRow, ...] = table("Power against speed, calm water")
    logged: tuple[LoggedPoint, ...] = table("The log, read through the present propeller")


_REFERENCE_BLADES = 3
_REFERENCE_AREA = 0.55
_FIRST_SHOWN, _SHOWN_STEP = round(2.0 / SPEED_STEP_KN), round(0.25 / SPEED_STEP_KN)
"""Of the grid of speeds, from 2 kn every quarter of a knot is a row of the curve."""
_LOG_OFF = 0.25
"""A reading of the log further than this from the plan wants a second look."""
_LARGE_MARGIN = 0.25
"""A sea margin above this stands for more than a light wind."""


def assess_power(plan: Plan, hull: HullAnswers, speed: SpeedAnswers) -> Outcome[PowerAnswers]:
    """Resistance, effective and shaft power of the whole boat at the planned speeds and as a curve."""
    if plan.hull.propeller_place is None:
        return Outcome(None, waits_for="where the propeller works, asked on the hull page.")
    demand = _demand(plan, hull, speed)
    answers = _answers(plan, hull, speed, demand)
    return Outcome(answers, tuple(_findings(plan, hull, speed, answers)))


def _interaction(plan: Plan, hull: HullAnswers) -> Interaction:
    """Wake and thrust deduction: the owner's, else the middle of what is usual for the stern and the hull."""
    place = word(plan.hull, "propeller_place")
    key = next(key for key, stern in ARRANGEMENTS.items() if stern.words == place)
    estimate = interaction(key, hull.block_coefficient)
    wake, deduction = amount_or_none(plan.power, "wake"), amount_or_none(plan.power, "thrust_deduction")
    return replace(
        estimate,
        wake_fraction=estimate.wake_fraction if wake is None else wake,
        thrust_deduction=estimate.thrust_deduction if deduction is None else deduction,
    )


def _demand(plan: Plan, hull: HullAnswers, speed: SpeedAnswers) -> Demand:
    curve = speed.curve
    screws = whole(plan.hull, "screws")
    between = _interaction(plan, hull)
    angle = math.radians(amount_or_none(plan.shaft, "angle") or 0.0)
    calm, service = (
        hull_curve(curve.speed, force, between, hull.water.density, propellers=screws, shaft_angle=angle)
        for force in (curve.calm, curve.service)
    )
    diameter = propeller_limit(plan) or float(
        handbook.minimum_diameter(hull.waterline_beam_m, hull.hull_draft_m, screws)
    )
    top = speed.top_kn * KNOT
    best = optimum_for_thrust_at_diameter(
        WAGENINGEN_B,
        _REFERENCE_BLADES,
        _REFERENCE_AREA,
        thrust=float(calm.thrust_at(top)),
        diameter=diameter,
        advance_speed=top * float(calm.advance_fraction),
        density=float(hull.water.density),
    )
    open_water = WAGENINGEN_B.cubics(best.pitch_ratio, _REFERENCE_AREA, _REFERENCE_BLADES)
    turning, turning_in_service = (
        shaft_speed_at_boat_speed(open_water, diameter, curve.speed, side) for side in (calm, service)
    )
    return Demand(curve, between, screws, calm, service, turning, turning_in_service, diameter)


def _answers(plan: Plan, hull: HullAnswers, speed: SpeedAnswers, demand: Demand) -> PowerAnswers:
    curve, between = demand.resistance, demand.interaction
    cruise, top = speed.cruise_kn * KNOT, speed.top_kn * KNOT
    to_shaft = amount(plan.gear, "shaft_efficiency")
    cruise_force, top_force = (at_speed(curve, curve.calm, v) for v in (cruise, top))
    below_hull_speed = speed.cruise_speed_length_ratio <= HULL_SPEED_RATIO
    return PowerAnswers(
        method=curve.method.label,
        wake_fraction=float(between.wake_fraction),
        thrust_deduction=float(between.thrust_deduction),
        hull_efficiency=float(between.hull_efficiency),
        propulsive_efficiency=cruise_force * cruise / demand.delivered_power(cruise),
        cruise_resistance_n=cruise_force,
        cruise_effective_power_kw=cruise_force * cruise / 1e3,
        cruise_shaft_power_kw=demand.delivered_power(cruise) / to_shaft / 1e3,
        cruise_service_power_kw=demand.delivered_power(cruise, service=True) / to_shaft / 1e3,
        top_resistance_n=top_force,
        top_effective_power_kw=top_force * top / 1e3,
        top_shaft_power_kw=demand.delivered_power(top) / to_shaft / 1e3,
        reference_diameter_m=demand.diameter,
        rule_wyman_kw=_rule(shaft_power_wyman, hull, cruise) if below_hull_speed else None,
        rule_gerr_kw=_rule(shaft_power_gerr, hull, cruise) if below_hull_speed else None,
        demand=demand,
        curve=tuple(_rows(demand, to_shaft, max(top, hull.hull_speed_kn * KNOT))),
        logged=tuple(_logged(plan, hull, demand)),
    )


def _rule(rule: Callable[[float, float, float], Real], hull: HullAnswers, speed: float) -> float:
    return float(rule(hull.displacement_kg, speed, hull.waterline_length_m)) / 1e3


def _rows(demand: Demand, to_shaft: float, highest: float) -> Iterator[PowerRow]:
    curve = demand.resistance
    calm, service = (
        np.asarray(p.delivered_power) * demand.screws for p in (demand.propeller, demand.service_propeller)
    )
    last = int(np.searchsorted(curve.speed, 1.12 * highest))
    for i in range(_FIRST_SHOWN, min(last + 1, len(curve.speed)), _SHOWN_STEP):
        if not np.isfinite(calm[i]):
            return
        yield PowerRow(
            speed_kn=float(curve.speed[i] / KNOT),
            resistance_n=float(curve.calm[i]),
            effective_power_kw=float(curve.calm[i] * curve.speed[i] / 1e3),
            delivered_power_kw=float(calm[i] / 1e3),
            shaft_power_kw=float(calm[i] / to_shaft / 1e3),
            service_shaft_power_kw=float(service[i] / to_shaft / 1e3),
            methods={label: _power_kw(force[i], curve.speed[i]) for label, force in curve.by_method.items()},
        )


def _power_kw(force: float, speed: float) -> float | None:
    return float(force * speed / 1e3) if np.isfinite(force) else None


def _logged(plan: Plan, hull: HullAnswers, demand: Demand) -> Iterator[LoggedPoint]:
    """Each complete row of the log, when the present gear and propeller are known."""
    present = plan.present
    ratio, diameter, pitch = present.gear_ratio, present.propeller_diameter, present.propeller_pitch
    if ratio is None or diameter is None or pitch is None:
        return
    if WAGENINGEN_B.outside(pitch.si / diameter.si, _REFERENCE_AREA, _REFERENCE_BLADES):
        return
    blades = present.propeller_blades or _REFERENCE_BLADES
    open_water = WAGENINGEN_B.cubics(pitch.si / diameter.si, _REFERENCE_AREA, blades)
    to_shaft = amount(plan.gear, "shaft_efficiency")
    for row in present.log:
        if row.engine_speed is None or row.speed is None:
            continue
        n, speed = row.engine_speed.si / ratio.si, row.speed.si
        advance = speed * float(demand.calm.advance_fraction) / (n * diameter.si)
        torque = float(open_water.torque_coefficient(advance)) * float(hull.water.density) * n**2 * diameter.si**5
        torque /= float(demand.calm.relative_rotative_efficiency)
        yield LoggedPoint(
            speed_kn=speed / KNOT,
            engine_rpm=row.engine_speed.si / RPM,
            slip_fraction=1.0 - speed / (pitch.si * n),
            shaft_power_kw=demand.screws * TWO_PI * n * torque / to_shaft / 1e3,
            expected_shaft_power_kw=demand.delivered_power(speed) / to_shaft / 1e3,
        )


def _findings(plan: Plan, hull: HullAnswers, speed: SpeedAnswers, answers: PowerAnswers) -> Iterator[Finding]:
    say, method = Wording(plan.units), answers.demand.resistance.method
    for outside in range_report(method, hull.form, speed.top_kn * KNOT):
        yield look(outside.sentence, f"{method.source}; range {outside.limit.status}", "power.method")
    yield from _rule_findings(say, answers)
    curve, cruise = answers.demand.resistance, speed.cruise_kn * KNOT
    forces = [at_speed(curve, force, cruise) for force in curve.by_method.values()]
    powers = [force * cruise / 1e3 for force in forces if np.isfinite(force)]
    if len(powers) > 1:
        yield fits(
            f"At cruise the methods lie between {say.power(min(powers))} and {say.power(max(powers))} of "
            "effective power.",
            "; ".join(other.source for other in METHODS.values()),
        )
    if plan.power.wake is None or plan.power.thrust_deduction is None:
        yield fits(
            f"Wake ({percent(answers.wake_fraction)}) and thrust deduction ({percent(answers.thrust_deduction)}) are "
            f"the middle of what is usual here ({word(plan.hull, 'propeller_place')}); give your own if you know "
            "better.",
            "Taylor (1943), Gerr (1989) and typical values from memory, trade and tank practice; the mean is ours",
            "power.wake",
        )
    if answers.demand.interaction.wake_clamped.any():
        yield look("The wake was held to what is believable for small craft.", "0 to 0.35, from memory", "power.wake")
    for record in answers.demand.interaction.outside:
        yield look(record.sentence(), "Taylor (1943) and Gerr (1989) compared with each other", "hull.hull_draft")
    yield from _unread_log_findings(plan, answers)
    if plan.hull.windage_area is None:
        yield look(
            "No frontal area is given, so the drag of the air is left out.", "ITTC 7.5-02-03-01.4", "hull.windage_area"
        )
    if amount(plan.power, "head_wind") > 0.0 and amount(plan.power, "sea_margin") > _LARGE_MARGIN:
        yield look(
            "A head wind and a large sea margin are both allowed for. Give the weather once, as a wind or as a margin.",
            "the margin already stands for wind and waves",
            "power.sea_margin",
        )
    for point in answers.logged:
        yield _log_finding(say, point)


def _rule_findings(say: Wording, answers: PowerAnswers) -> Iterator[Finding]:
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
        f"the resistance method gives {say.power(answers.cruise_service_power_kw)} at the shaft with your margin."
    )
    if answers.cruise_service_power_kw <= high * 1.1:
        yield fits(text, HONEST_LABEL)
    else:
        yield look(f"{text} More than the rules install is unusual: look at weight and dimensions.", HONEST_LABEL)


def _unread_log_findings(plan: Plan, answers: PowerAnswers) -> Iterator[Finding]:
    if plan.present.log and not answers.logged:
        yield look(
            "The log is not used yet: each row wants rpm and speed, and the present gear ratio, diameter and pitch are "
            f"needed, with a pitch of {WAGENINGEN_B.pitch_ratio[0]:g} to {WAGENINGEN_B.pitch_ratio[1]:g} diameters.",
            WAGENINGEN_B.source,
            "present.gear_ratio",
        )


def _log_finding(say: Wording, point: LoggedPoint) -> Finding:
    at = f"The log at {point.engine_rpm:.0f} rpm and {point.speed_kn:.1f} kn"
    source = "Wageningen B-series at the logged speeds, Oosterveld and van Oossanen (1975)"
    if point.slip_fraction < 0.0 or point.shaft_power_kw <= 0.0:
        return look(f"{at} has the boat outrunning her propeller. Check pitch, ratio, tachometer and current.", source)
    gap = point.shaft_power_kw / point.expected_shaft_power_kw - 1.0
    text = (
        f"{at} reads as {say.power(point.shaft_power_kw)} at the shaft, {percent(abs(gap))} "
        f"{'more' if gap > 0 else 'less'} than the plan expects."
    )
    return fits(text, source) if abs(gap) <= _LOG_OFF else look(text, source, "present.log")

"""Stage 6: which propeller? A stock size, and its match with engine and hull over the whole range."""

import math
from dataclasses import replace

import numpy as np

from engine.bands import Band
from engine.constants import INCH, KNOT, RPM
from engine.findings import Outcome, stop
from engine.plan import Plan, is_direct
from engine.propeller import handbook
from engine.propeller.bollard import POLYNOMIAL_ERROR, BollardPull, astern_pull, bollard_pull
from engine.propeller.cavitation import keller_allowance, keller_area_ratio, tip_speed
from engine.propeller.geometry import (
    developed_area_ratio,
    hub_diameter_range,
    mean_width_ratio_from_developed,
    typical_hub_diameter,
)
from engine.propeller.interaction import bollard_thrust_deduction
from engine.propeller.matching import PITCH_RATIO_STEP, pitch_ratio_to_absorb
from engine.propeller.rotation import hand_for, outward_turning
from engine.stages.boats import each_boat
from engine.stages.boats_trial import each_thrust_at
from engine.stages.cases import Cases
from engine.stages.demand import ThrustDemand
from engine.stages.doubt import what_to_measure
from engine.stages.drive import Drive, ElectricDrive, said_of
from engine.stages.fitting import Fitted, Size, Trial, fit
from engine.stages.hull import HullAnswers
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.propeller_findings import FULL_THROTTLE, TOO_LIGHT, half_load_findings, propeller_findings
from engine.stages.propeller_tables import (
    BOATS_BESIDE,
    SHAFT_SPEEDS,
    case_rows,
    match_rows,
    neighbour_rows,
    sizes_around,
)
from engine.stages.room import tip_clearance
from engine.stages.setting import Setting
from engine.stages.speed import SpeedAnswers
from engine.stages.stock import fitted_words, other_steps, size_words, stock_steps
from engine.stages.unknowns import held_findings
from engine.stages.wheel import Wheel, try_together

_SUITABLE = "a wheel that keeps to every rule; the findings say what helps."
_TURNABLE = "a propeller that the engine can turn; the findings say what helps."


def assess_propeller(
    plan: Plan,
    hull: HullAnswers,
    speed: SpeedAnswers,
    demand: ThrustDemand,
    cases: Cases,
    drive: Drive,
    ratio: float,
    largest: float,
) -> Outcome[PropellerAnswers]:
    """A stock propeller for the chosen ratio, and how it matches over the whole range.

    largest: diameter that there is room for [m].
    """
    setting = Setting(plan, hull, speed, demand, cases, drive, ratio)
    fitted = fit(setting, largest, stock_steps(plan))
    slips = tuple(half_load_findings(setting))
    if fitted.size is None:
        nothing = _nothing_fits(setting, fitted)
        return replace(nothing, findings=(*nothing.findings, *slips))
    wheel = Wheel(setting, *fitted.size)
    calm = wheel.trial(setting.cases.calm)
    try_together(((wheel, case) for case in (*setting.cases, setting.cases.margin)), near=calm)
    turning = calm.shaft_speed / setting.rated_shaft_speed
    if not hull.fleet.band(turning).low >= SHAFT_SPEEDS[0]:
        text = (
            "With this size full throttle cannot be worked out: it holds the engine under a quarter of its rated "
            "speed, or drives the boat faster than was worked out. Choose another size, or leave it empty."
        )
        return Outcome(None, (stop(text, FULL_THROTTLE, "propeller.diameter"), *slips), _TURNABLE)
    answers = _answers(wheel, largest)
    found = said_of(setting.drive, propeller_findings(setting, answers))
    return Outcome(answers, (*held_findings(plan, "propeller"), *slips, *found))


def _nothing_fits(setting: Setting, fitted: Fitted) -> Outcome[PropellerAnswers]:
    """Why there is no size, and what would help."""
    series = setting.kind.series
    if fitted.found is None or fitted.found.wheels == 0:
        low, high = series.pitch_ratio
        text = (
            f"The series of tested propellers ({series.label}) has pitches of {low:g} to {high:g} times the diameter, "
            "and the size you chose lies outside. Choose another pitch or diameter, or leave them empty."
        )
        return Outcome(
            None,
            (stop(text, series.source, "propeller.pitch"),),
            "a size the series describes; the findings say which.",
        )
    rules = fitted.binding_rules
    reasons = f" What holds it back: {'; '.join(rules)}." if rules else ""
    text = (
        f"No stock size in the room keeps to every rule with this ratio and the margin asked for.{reasons} Try every "
        "stock wheel with every ratio: another ratio, number of blades or blade area may do it. Else it takes more "
        "room, or less power."
    )
    return Outcome(None, said_of(setting.drive, [stop(text, FULL_THROTTLE, "gear.ratio")]), _SUITABLE)


def _answers(wheel: Wheel, largest: float) -> PropellerAnswers:
    setting, diameter, pitch = wheel.setting, wheel.diameter, wheel.pitch
    plan, demand, drive, kind = setting.plan, setting.demand, setting.drive, setting.kind
    fleet, cases = setting.hull.fleet, setting.cases
    around = sizes_around(setting, diameter, pitch)
    beside = Wheel(setting.with_fewer_boats(BOATS_BESIDE), diameter, pitch)
    exponent = _pitch_exponent(around)
    calm, margin = wheel.trial(cases.calm), wheel.trial(cases.margin)
    turning, top = calm.shaft_speed, calm.boat_speed
    cruise = wheel.at(cases.calm, np.array([setting.cruise]))
    cruise_speed = each_boat(cruise.shaft_speed, fleet.size)
    thrust = each_thrust_at(cases.calm.boats, top)
    allowance = keller_allowance(demand.screws)
    needed = keller_area_ratio(thrust, diameter, kind.blades, setting.shaft_pressure, allowance)
    to_engine = setting.ratio / RPM
    full_throttle_rpm = turning * to_engine
    rated_rpm = drive.engine.rated_speed / RPM
    developed = float(developed_area_ratio(kind.area_ratio, kind.blades))
    hub_low, hub_high = hub_diameter_range(diameter)
    held = _held(wheel)
    pull = _pull_of_all(setting, held)
    quick = _handbook_size(setting, float(fleet.median(top)))
    return PropellerAnswers(
        size=_size_words(plan, (diameter, pitch), kind.blades),
        other_size=_other_size(beside.setting, largest),
        hand=_hand_words(setting),
        diameter_m=diameter,
        pitch_m=pitch,
        blades=kind.blades,
        series=kind.series.label,
        area_ratio=kind.area_ratio,
        disc_area_ratio=developed,
        mean_width_ratio=float(mean_width_ratio_from_developed(developed, kind.blades)),
        pitch_ratio=pitch / diameter,
        hub_diameter_m=Band(float(typical_hub_diameter(diameter)), float(hub_low), float(hub_high)),
        tip_clearance_fraction=tip_clearance(plan, diameter),
        full_throttle_rpm=fleet.band(full_throttle_rpm),
        rated_rpm=rated_rpm,
        reaches_rated_fraction=fleet.share(margin.reaches_rated),
        overloaded_fraction=fleet.share(margin.light_running < 0.0),
        overspeeding_fraction=fleet.share(margin.light_running > TOO_LIGHT),
        light_running_fraction=fleet.band(margin.light_running),
        top_kn=fleet.band(top / KNOT),
        service_full_throttle_rpm=fleet.band(wheel.trial(cases.service).shaft_speed * to_engine),
        cruise_rpm=fleet.band(cruise_speed * to_engine),
        cruise_power_kw=fleet.band(drive.at_crankshaft(each_boat(cruise.delivered_power, fleet.size)) / 1e3),
        cruise_efficiency_fraction=fleet.band(each_boat(cruise.efficiency, fleet.size)),
        cruise_slip_fraction=fleet.band(1.0 - setting.cruise / (pitch * cruise_speed)),
        thrust_n=fleet.band(thrust),
        bollard_pull_n=pull,
        astern_pull_n=_astern(pull),
        tip_speed_m_per_s=fleet.band(np.asarray(tip_speed(diameter, turning))),
        needed_area_ratio=fleet.band(np.asarray(needed)),
        handbook_diameter_m=quick[0],
        handbook_pitch_m=quick[1],
        series_pitch_m=_series_pitch(setting, quick[0]),
        static_thrust_n=_static_thrust(setting, held),
        held=held,
        pitch_exponent=exponent,
        inch_of_pitch_rpm=exponent * (1.0 + float(around.light_running[0])) * rated_rpm * INCH / pitch,
        wheel=wheel,
        cases=tuple(case_rows(wheel)),
        match=tuple(match_rows(wheel, beside)),
        neighbours=tuple(neighbour_rows(wheel, around)),
        doubt=what_to_measure(
            fleet,
            full_throttle_rpm,
            setting.hull.logbook,
            setting.hull.trial,
            of_motor=isinstance(setting.drive, ElectricDrive),
        ),
    )


def _other_size(setting: Setting, largest: float) -> str | None:
    """The best size in centimetres for who orders in inches, and the other way round; None while the owner chooses.

    setting: with fewer boats; it stands beside the answer.
    """
    if setting.plan.propeller.diameter is not None or setting.plan.propeller.pitch is not None:
        return None
    other = other_steps(stock_steps(setting.plan))
    size = fit(setting, largest, other).size
    return None if size is None else size_words(size, setting.kind.blades, other)


def _size_words(plan: Plan, size: Size, blades: int) -> str:
    """In the steps it is ordered in; one that the owner gives, as it was made."""
    own = plan.propeller.diameter is not None and plan.propeller.pitch is not None
    return (fitted_words if own else size_words)(size, blades, stock_steps(plan))


def _hand_words(setting: Setting) -> str:
    if setting.demand.screws == 2:
        return f"{outward_turning(is_port=True)} to port, {outward_turning(is_port=False)} to starboard"
    hand = hand_for(setting.plan.gear.output_turns)
    if hand is not None:
        return hand.words
    return (
        "either: choose one" if is_direct(setting.plan, setting.ratio) else "as the gear's output turns: ask its maker"
    )


def _handbook_size(setting: Setting, top: float) -> Size:
    """Diameter and pitch by the trade's quick method, for the number of blades where it has a factor for it."""
    diameter = float(handbook.diameter(setting.drive.power_at_propeller, setting.rated_shaft_speed))
    pitch = float(handbook.pitch_from_slip(top, setting.rated_shaft_speed, handbook.slip(top)))
    factors = handbook.blade_factors(min(setting.kind.blades, handbook.MOST_BLADES))
    return diameter * factors.diameter, pitch * factors.pitch


def _series_pitch(setting: Setting, diameter: float) -> float | None:
    """The pitch at which the series takes the engine's power at rated speed, as the handbook's does; None if none."""
    match = pitch_ratio_to_absorb(
        setting.family(diameter),
        setting.kind.series.pitch_ratio_grid(PITCH_RATIO_STEP),
        diameter,
        setting.drive.power_at_propeller,
        setting.rated_shaft_speed,
        setting.cases.calm.middle,
    )
    pitch = float(match.pitch_ratio) * diameter
    return pitch if math.isfinite(pitch) else None


def _held(wheel: Wheel) -> BollardPull:
    """The propeller of each boat at full throttle with no way on."""
    setting = wheel.setting
    drive, boats = setting.drive, setting.hull.boats
    return bollard_pull(
        wheel.with_no_way_on(),
        wheel.diameter,
        lambda n: drive.full_load_at_propeller(n, setting.ratio),
        drive.engine.no_load_speed / setting.ratio,
        setting.hull.water.density,
        bollard_thrust_deduction(),
        output=boats.engine_output,
    )


def _pull_of_all(setting: Setting, held: BollardPull) -> Band:
    """Of all propellers [N]: the middle of the boats, with the ends that thrust deduction and polynomials leave."""
    fleet = setting.hull.fleet
    middle, low, high = (
        setting.demand.screws * fleet.band(each_boat(pull, fleet.size)).best
        for pull in (held.pull.middle, held.pull.low, held.pull.high)
    )
    return Band(middle, low, high)


def _static_thrust(setting: Setting, held: BollardPull) -> Band:
    """Of one propeller [N]: the middle of the boats, with the ends that the polynomials leave."""
    fleet = setting.hull.fleet
    middle = fleet.band(each_boat(held.thrust, fleet.size)).best
    return Band(middle, (1.0 - POLYNOMIAL_ERROR) * middle, (1.0 + POLYNOMIAL_ERROR) * middle)


def _astern(ahead: Band) -> Band:
    middle, least, most = (astern_pull(pull) for pull in (ahead.best, ahead.low, ahead.high))
    return Band(float(middle.middle), float(least.low), float(most.high))


def _pitch_exponent(around: Trial) -> float:
    """Exponent of the pitch in the shaft speed at which rated power is taken, d ln n / d ln P (about -0.6 to -0.9).
    From the sizes of the chosen diameter; NaN with fewer than two."""
    known = (around.diameter == around.diameter[0]) & np.isfinite(around.light_running)
    if known.sum() < 2:
        return math.nan
    pitch, turning = np.log(around.pitch[known]), np.log1p(around.light_running[known])
    return float((turning[pitch.argmax()] - turning[pitch.argmin()]) / np.ptp(pitch))

"""Stage 6: which propeller? A stock size, and its match with engine and hull over the whole range."""

import math
from collections.abc import Iterator

import numpy as np

from engine.bands import Band
from engine.constants import INCH, KNOT, RPM
from engine.findings import Outcome, stop
from engine.machinery.diesel import full_load_power
from engine.numeric import Array
from engine.plan import Plan
from engine.propeller import handbook
from engine.propeller.bollard import BollardPull, astern_pull, bollard_pull
from engine.propeller.cavitation import keller_allowance, keller_area_ratio, pressure_above_vapour, tip_speed
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
from engine.stages.boats_trial import BoatsTrial, curves_over_shaft_speed, each_thrust_at, try_on_boats
from engine.stages.cases import Case
from engine.stages.doubt import what_to_measure
from engine.stages.engine import EngineAnswers
from engine.stages.fitting import Fitted, Size, Trial, described_by_the_series, fit, try_propellers
from engine.stages.gear_answers import GearAnswers
from engine.stages.hull import HullAnswers
from engine.stages.power import PowerAnswers
from engine.stages.propeller_answers import CaseRow, MatchRow, NeighbourRow, PropellerAnswers, Wheel
from engine.stages.propeller_findings import FULL_THROTTLE, TOO_LIGHT, propeller_findings
from engine.stages.propulsion import boats_points
from engine.stages.room import shaft_depth, tip_clearance
from engine.stages.setting import Setting
from engine.stages.speed import SpeedAnswers
from engine.stages.stock import INCH_STEPS, METRIC_STEPS, size_words, stock_steps

_TURNABLE = "a propeller that the engine can turn."
_SHAFT_SPEEDS = np.linspace(0.25, 1.25, 41)
"""Shaft speeds over rated speed at which demand and full load are compared."""


def assess_propeller(
    plan: Plan, hull: HullAnswers, speed: SpeedAnswers, power: PowerAnswers, engine: EngineAnswers, gear: GearAnswers
) -> Outcome[PropellerAnswers]:
    """A stock propeller for the chosen ratio, and how it matches over the whole range."""
    setting = Setting(plan, hull, speed, power.demand, power.cases, engine.drive, gear.ratio)
    steps = stock_steps(plan)
    fitted = fit(setting, gear, steps)
    if fitted.size is None:
        return _nothing_fits(setting, fitted)
    wheel = _wheel(setting, fitted.size)
    calm = _trial(setting, fitted.size, setting.cases.calm)
    if not hull.fleet.band(calm.shaft_speed / setting.rated_shaft_speed).low >= _SHAFT_SPEEDS[0]:
        text = (
            "With this size full throttle cannot be worked out: it holds the engine under a quarter of its rated "
            "speed, or drives the boat faster than was worked out. Choose another size, or leave it empty."
        )
        return Outcome(None, (stop(text, FULL_THROTTLE, "propeller.diameter"),), _TURNABLE)
    answers = _answers(setting, gear, fitted.size, wheel, calm)
    return Outcome(answers, tuple(propeller_findings(setting, answers)))


def _nothing_fits(setting: Setting, fitted: Fitted) -> Outcome[PropellerAnswers]:
    """Why there is no size, and what would help."""
    series = setting.kind.series
    if fitted.found is None or fitted.found.wheels == 0:
        low, high = series.pitch_ratio
        text = (
            f"The series of tested propellers ({series.label}) has pitches of {low:g} to {high:g} times the diameter, "
            "and the size you chose lies outside. Choose another pitch or diameter, or leave them empty."
        )
        return Outcome(None, (stop(text, series.source, "propeller.pitch"),), "a size the series describes.")
    rules = fitted.binding_rules
    reasons = f" What holds it back: {'; '.join(rules)}." if rules else ""
    text = (
        "No stock size in the room lets this engine reach its rated speed with this ratio and the margin asked for."
        f"{reasons} Take a deeper ratio, more room, more blade area, or another number of blades."
    )
    return Outcome(None, (stop(text, FULL_THROTTLE, "gear.ratio"),), _TURNABLE)


def _wheel(setting: Setting, size: Size) -> Wheel:
    return Wheel(setting.boats_open_water(*size), setting.boats_open_water(*size, setting.cases.service))


def _trial(setting: Setting, size: Size, case: Case) -> BoatsTrial:
    """A propeller on the boats of a case, with the growth on its blades that the case has."""
    diameter, pitch = size
    open_water = setting.boats_open_water(diameter, pitch, case)
    return try_on_boats(open_water, diameter, case.boats, setting.drive, setting.ratio, setting.hull.boats)


def _margin_trial(setting: Setting, size: Size, calm: BoatsTrial) -> BoatsTrial:
    """The propeller in the state that its margin is for, mostly the calm one."""
    cases = setting.cases
    return calm if cases.margin.boats is cases.calm.boats else _trial(setting, size, cases.margin)


def _answers(setting: Setting, gear: GearAnswers, size: Size, wheel: Wheel, calm: BoatsTrial) -> PropellerAnswers:
    plan, demand, drive, kind = setting.plan, setting.demand, setting.drive, setting.kind
    diameter, pitch = size
    fleet, cases = setting.hull.fleet, setting.cases
    around = _neighbours(setting, size)
    exponent = _pitch_exponent(around)
    foul, against, service = (_trial(setting, size, case) for case in (cases.foul, cases.head_wind, cases.service))
    trials = [(cases.calm, calm), (cases.foul, foul), (cases.head_wind, against), (cases.service, service)]
    margin = _margin_trial(setting, size, calm)
    turning, top = calm.shaft_speed, calm.boat_speed
    cruise = boats_points(wheel.clean, diameter, cases.calm.boats, np.array([setting.cruise]))
    cruise_speed = each_boat(cruise.shaft_speed, fleet.size)
    thrust = each_thrust_at(cases.calm.boats, top)
    pressure = pressure_above_vapour(shaft_depth(plan), setting.hull.water.density)
    needed = keller_area_ratio(thrust, diameter, kind.blades, pressure, keller_allowance(demand.screws))
    to_engine = setting.ratio / RPM
    full_throttle_rpm = turning * to_engine
    rated_rpm = drive.engine.rated_speed / RPM
    developed = float(developed_area_ratio(kind.area_ratio, kind.blades))
    hub_low, hub_high = hub_diameter_range(diameter)
    pull = _bollard_pull(setting, wheel, diameter)
    quick = _handbook_size(setting, float(fleet.median(top)))
    return PropellerAnswers(
        size=size_words(size, kind.blades, stock_steps(plan)),
        other_size=_other_size(setting, gear),
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
        reaches_rated_fraction=fleet.share(margin.light_running >= 0.0),
        overloaded_fraction=fleet.share(margin.light_running < 0.0),
        overspeeding_fraction=fleet.share(margin.light_running > TOO_LIGHT),
        light_running_fraction=fleet.band(margin.light_running),
        top_kn=fleet.band(top / KNOT),
        service_full_throttle_rpm=fleet.band(service.shaft_speed * to_engine),
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
        pitch_exponent=exponent,
        inch_of_pitch_rpm=exponent * (1.0 + float(around.light_running[0])) * rated_rpm * INCH / pitch,
        wheel=wheel,
        cases=tuple(
            CaseRow(
                state=case.words,
                full_throttle_rpm=fleet.band(trial.shaft_speed * to_engine),
                reaches_rated_fraction=fleet.share(trial.light_running >= 0.0),
                top_kn=fleet.band(trial.boat_speed / KNOT),
            )
            for case, trial in trials
        ),
        match=tuple(_match(setting, size)),
        neighbours=tuple(_neighbour_rows(setting, around, calm, margin)),
        doubt=what_to_measure(fleet, full_throttle_rpm, setting.hull.logbook),
    )


def _other_size(setting: Setting, gear: GearAnswers) -> str | None:
    """The best size in centimetres for who orders in inches, and the other way round; None while the owner chooses."""
    if setting.plan.propeller.diameter is not None or setting.plan.propeller.pitch is not None:
        return None
    other = INCH_STEPS if stock_steps(setting.plan) == METRIC_STEPS else METRIC_STEPS
    size = fit(setting, gear, other).size
    return None if size is None else size_words(size, setting.kind.blades, other)


def _hand_words(setting: Setting) -> str:
    if setting.demand.screws == 2:
        return f"{outward_turning(is_port=True)} to port, {outward_turning(is_port=False)} to starboard"
    hand = hand_for(setting.plan.gear.output_turns)
    return "as the gear's output turns: ask its maker" if hand is None else hand.words


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


def _bollard_pull(setting: Setting, wheel: Wheel, diameter: float) -> Band:
    """Of all propellers [N]: the middle of the boats, with the ends that thrust deduction and polynomials leave."""
    drive, fleet, boats = setting.drive, setting.hull.fleet, setting.hull.boats
    held: BollardPull = bollard_pull(
        wheel.clean,
        diameter,
        lambda n: drive.full_load_at_propeller(n, setting.ratio),
        drive.engine.no_load_speed / setting.ratio,
        setting.hull.water.density,
        bollard_thrust_deduction(),
        output=boats.engine_output,
    )
    middle, low, high = (
        setting.demand.screws * fleet.band(each_boat(pull, fleet.size)).best
        for pull in (held.pull.middle, held.pull.low, held.pull.high)
    )
    return Band(middle, low, high)


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


def _match(setting: Setting, size: Size) -> Iterator[MatchRow]:
    drive, cases, fleet = setting.drive, setting.cases, setting.hull.fleet
    shaft_speed: Array = setting.rated_shaft_speed * _SHAFT_SPEEDS
    calm, foul, against = (
        curves_over_shaft_speed(setting.boats_open_water(*size, case), size[0], case.boats, shaft_speed)
        for case in (cases.calm, cases.foul, cases.head_wind)
    )
    to_crankshaft = float(drive.at_crankshaft(1.0)) / 1e3
    speeds = fleet.each_band(calm.boat_speed)
    powers, when_foul, into_wind = (fleet.each_band(curve.delivered_power) for curve in (calm, foul, against))
    engine_speed = shaft_speed * setting.ratio
    available = np.asarray(full_load_power(drive.engine, engine_speed, derating=drive.derating))
    for i in range(len(engine_speed)):
        if powers[i].is_known and engine_speed[i] <= drive.engine.no_load_speed:
            yield MatchRow(
                engine_rpm=float(engine_speed[i]) / RPM,
                speed_kn=speeds[i].scaled(1.0 / KNOT),
                demand_kw=powers[i].scaled(to_crankshaft),
                foul_demand_kw=when_foul[i].scaled(to_crankshaft),
                head_wind_demand_kw=into_wind[i].scaled(to_crankshaft),
                available_kw=float(available[i]) / 1e3,
            )


def _neighbours(setting: Setting, size: Size) -> Trial:
    """The size itself, first, and the stock sizes about it that the series describes."""
    diameter, pitch = size
    steps = stock_steps(setting.plan)
    wider, finer = steps.diameter, steps.pitch
    moves = ((0.0, 0.0), (0.0, finer), (0.0, -finer), (wider, 0.0), (-wider, 0.0), (-wider, wider), (wider, -wider))
    diameters = np.array([diameter + move for move, _ in moves])
    pitches = np.array([pitch + move for _, move in moves])
    return try_propellers(setting, *described_by_the_series(setting, diameters, pitches))


def _neighbour_rows(
    setting: Setting, around: Trial, chosen: BoatsTrial, chosen_margin: BoatsTrial
) -> Iterator[NeighbourRow]:
    """The sizes beside the chosen one, which is the first of those around it and has its trials already."""
    fleet, cases = setting.hull.fleet, setting.cases
    for i in np.lexsort((around.pitch, around.diameter)):
        diameter, pitch = float(around.diameter[i]), float(around.pitch[i])
        calm = chosen if i == 0 else _trial(setting, (diameter, pitch), cases.calm)
        margin = chosen_margin if i == 0 else _margin_trial(setting, (diameter, pitch), calm)
        yield NeighbourRow(
            diameter_m=diameter,
            pitch_m=pitch,
            tip_clearance_fraction=tip_clearance(setting.plan, diameter),
            full_throttle_rpm=fleet.band(calm.shaft_speed * setting.ratio / RPM),
            light_running_fraction=fleet.band(margin.light_running),
            reaches_rated_fraction=fleet.share(margin.light_running >= 0.0),
            top_kn=fleet.band(calm.boat_speed).scaled(1.0 / KNOT),
            cruise_rpm=float(np.asarray(around.cruise.shaft_speed)[i]) * setting.ratio / RPM,
            cruise_l_per_h=float(around.cruise_l_per_h[i]),
            chosen=bool(i == 0),
        )

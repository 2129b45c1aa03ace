"""Stage 6: which propeller? A stock size, and its match with engine and hull over the whole range."""

import math
from collections.abc import Iterator

import numpy as np

from engine.constants import INCH, KNOT, RPM
from engine.findings import Outcome, stop
from engine.machinery.diesel import full_load_power
from engine.plan import Plan
from engine.propeller import handbook
from engine.propeller.cavitation import keller_allowance, keller_area_ratio, pressure_above_vapour, tip_speed
from engine.propeller.wageningen import WAGENINGEN_B
from engine.showing import round_number
from engine.stages.boats import each_boat
from engine.stages.boats_trial import BoatsTrial, curves_over_shaft_speed, each_thrust_at, try_on_boats
from engine.stages.doubt import what_to_measure
from engine.stages.engine import EngineAnswers
from engine.stages.fitting import (
    Setting,
    Trial,
    choose,
    corrected_open_water,
    described_by_the_series,
    in_service,
    stock_sizes,
    stock_steps,
    try_propellers,
)
from engine.stages.gear import GearAnswers
from engine.stages.hull import HullAnswers
from engine.stages.power import PowerAnswers
from engine.stages.propeller_answers import MatchRow, NeighbourRow, PropellerAnswers, Wheel
from engine.stages.propeller_findings import FULL_THROTTLE, propeller_findings
from engine.stages.propulsion import boats_points
from engine.stages.room import shaft_depth, tip_clearance
from engine.stages.speed import SpeedAnswers

_TURNABLE = "a propeller that the engine can turn."


def assess_propeller(
    plan: Plan, hull: HullAnswers, speed: SpeedAnswers, power: PowerAnswers, engine: EngineAnswers, gear: GearAnswers
) -> Outcome[PropellerAnswers]:
    """A stock propeller for the chosen ratio, and how it matches over the whole range."""
    setting = Setting(plan, hull, speed, power.demand, engine.drive, gear.ratio)
    sizes = stock_sizes(plan, gear)
    if len(sizes[0]) == 0:
        low, high = WAGENINGEN_B.pitch_ratio
        text = (
            f"The series of tested propellers has pitches of {low:g} to {high:g} times the diameter, and the size you "
            "chose lies outside. Choose another pitch or diameter, or leave them empty."
        )
        return Outcome(None, (stop(text, WAGENINGEN_B.source, "propeller.pitch"),), "a size the series describes.")
    trial = try_propellers(setting, *sizes)
    best = choose(plan, trial)
    if best is None:
        text = (
            "No stock size in the room lets this engine reach its rated speed with this ratio. "
            "Take a deeper ratio, more room, or another number of blades."
        )
        return Outcome(None, (stop(text, FULL_THROTTLE, "gear.ratio"),), _TURNABLE)
    if not np.isfinite(np.asarray(trial.full_throttle.shaft_speed)[best]):
        text = (
            "With this size full throttle cannot be worked out: it holds the engine under a quarter of its rated "
            "speed, or drives the boat faster than was worked out. Choose another size, or leave it empty."
        )
        return Outcome(
            None, (stop(text, FULL_THROTTLE, "propeller.diameter"),), "a propeller that the engine can turn."
        )
    diameter, pitch = float(trial.diameter[best]), float(trial.pitch[best])
    answers = _answers(setting, diameter, pitch)
    return Outcome(answers, tuple(propeller_findings(setting, answers)))


def _neighbours(setting: Setting, diameter: float, pitch: float) -> Trial:
    step, pitch_step = stock_steps(setting.plan)
    moves = ((0.0, 0.0), (0.0, pitch_step), (0.0, -pitch_step), (step, 0.0), (-step, 0.0), (-step, step), (step, -step))
    diameters = np.array([diameter + move for move, _ in moves])
    pitches = np.array([pitch + move for _, move in moves])
    return try_propellers(setting, *described_by_the_series(diameters, pitches))


def _answers(setting: Setting, diameter: float, pitch: float) -> PropellerAnswers:
    plan, speed, demand, drive = setting.plan, setting.speed, setting.demand, setting.drive
    fleet, boats = setting.hull.fleet, setting.hull.boats
    around = _neighbours(setting, diameter, pitch)
    exponent, light = _pitch_exponent(around), float(around.light_running[0])
    wheel = _wheel(setting, diameter, pitch)
    calm, service = (
        try_on_boats(open_water, diameter, hull, drive, setting.ratio, boats)
        for open_water, hull in ((wheel.boats_clean, demand.boats_calm), (wheel.boats_foul, demand.boats_service))
    )
    turning, top = calm.shaft_speed, calm.boat_speed
    cruise = boats_points(wheel.boats_clean, diameter, demand.boats_calm, np.array([speed.cruise_kn * KNOT]))
    cruise_speed = each_boat(cruise.shaft_speed, fleet.size)
    thrust = each_thrust_at(demand.boats_calm, top)
    pressure = pressure_above_vapour(shaft_depth(plan), setting.hull.water.density)
    needed = keller_area_ratio(thrust, diameter, setting.blades, pressure, keller_allowance(demand.screws))
    to_engine = setting.ratio / RPM
    full_throttle_rpm = turning * to_engine
    rated_rpm = drive.engine.rated_speed / RPM
    return PropellerAnswers(
        size=_size_words(diameter, pitch, setting.blades),
        diameter_m=diameter,
        pitch_m=pitch,
        blades=setting.blades,
        area_ratio=setting.area_ratio,
        pitch_ratio=pitch / diameter,
        tip_clearance_fraction=tip_clearance(plan, diameter),
        full_throttle_rpm=fleet.band(full_throttle_rpm),
        rated_rpm=rated_rpm,
        reaches_rated_fraction=fleet.share(calm.light_running >= 0.0),
        light_running_fraction=fleet.band(calm.light_running),
        top_kn=fleet.band(top / KNOT),
        service_full_throttle_rpm=fleet.band(service.shaft_speed * to_engine),
        cruise_rpm=fleet.band(cruise_speed * to_engine),
        cruise_power_kw=fleet.band(drive.at_crankshaft(each_boat(cruise.delivered_power, fleet.size)) / 1e3),
        cruise_efficiency_fraction=fleet.band(each_boat(cruise.efficiency, fleet.size)),
        cruise_slip_fraction=fleet.band(1.0 - speed.cruise_kn * KNOT / (pitch * cruise_speed)),
        thrust_n=fleet.band(thrust),
        tip_speed_m_per_s=fleet.band(np.asarray(tip_speed(diameter, turning))),
        needed_area_ratio=fleet.band(np.asarray(needed)),
        handbook_diameter_m=float(handbook.diameter(drive.power_at_propeller, setting.rated_shaft_speed)),
        handbook_pitch_m=_handbook_pitch(setting, float(fleet.median(top))),
        pitch_exponent=exponent,
        inch_of_pitch_rpm=exponent * (1.0 + light) * rated_rpm * INCH / pitch,
        wheel=wheel,
        match=tuple(_match(setting, around, wheel)),
        neighbours=tuple(_neighbour_rows(setting, around, calm)),
        doubt=what_to_measure(fleet, full_throttle_rpm, setting.hull.logbook),
    )


def _handbook_pitch(setting: Setting, top: float) -> float:
    return float(handbook.pitch_from_slip(top, setting.rated_shaft_speed, handbook.slip(top)))


def _wheel(setting: Setting, diameter: float, pitch: float) -> Wheel:
    ordered, made = np.asarray(pitch), pitch * np.asarray(setting.hull.boats.propeller_pitch)
    size = np.asarray(diameter)
    clean, boats_clean = (corrected_open_water(setting, size, each) for each in (ordered, made))
    return Wheel(
        clean,
        in_service(setting, clean, size, ordered),
        boats_clean,
        in_service(setting, boats_clean, size, made),
    )


def _size_words(diameter: float, pitch: float, blades: int) -> str:
    """As the trade writes it, diameter first: "19 x 14 in, 3 blades"."""
    inches = " x ".join(round_number(length / INCH, 3) for length in (diameter, pitch))
    return f"{inches} in, {blades} blades"


def _pitch_exponent(around: Trial) -> float:
    """Exponent of the pitch in the shaft speed at which rated power is taken, d ln n / d ln P (about -0.6 to -0.9).
    From the sizes of the chosen diameter; NaN with fewer than two."""
    known = (around.diameter == around.diameter[0]) & np.isfinite(around.light_running)
    if known.sum() < 2:
        return math.nan
    pitch, turning = np.log(around.pitch[known]), np.log1p(around.light_running[known])
    return float((turning[pitch.argmax()] - turning[pitch.argmin()]) / np.ptp(pitch))


def _match(setting: Setting, around: Trial, wheel: Wheel) -> Iterator[MatchRow]:
    drive, demand, fleet = setting.drive, setting.demand, setting.hull.fleet
    shaft_speed = around.absorbed.shaft_speed
    calm, service = (
        curves_over_shaft_speed(open_water, around.diameter[0], hull, shaft_speed)
        for open_water, hull in ((wheel.boats_clean, demand.boats_calm), (wheel.boats_foul, demand.boats_service))
    )
    speeds, powers, in_service = (
        fleet.each_band(values) for values in (calm.boat_speed, calm.delivered_power, service.delivered_power)
    )
    engine_speed = shaft_speed * setting.ratio
    available = np.asarray(full_load_power(drive.engine, engine_speed, derating=drive.derating))
    to_crankshaft = float(drive.at_crankshaft(1.0))
    for i in range(len(engine_speed)):
        if powers[i].is_known and engine_speed[i] <= drive.engine.no_load_speed:
            yield MatchRow(
                engine_rpm=float(engine_speed[i]) / RPM,
                speed_kn=speeds[i].scaled(1.0 / KNOT),
                demand_kw=powers[i].scaled(to_crankshaft / 1e3),
                service_demand_kw=in_service[i].scaled(to_crankshaft / 1e3),
                available_kw=float(available[i]) / 1e3,
            )


def _neighbour_rows(setting: Setting, around: Trial, chosen: BoatsTrial) -> Iterator[NeighbourRow]:
    fleet, demand, boats = setting.hull.fleet, setting.demand, setting.hull.boats
    for i in np.lexsort((around.pitch, around.diameter)):
        diameter, pitch = float(around.diameter[i]), float(around.pitch[i])
        made = pitch * np.asarray(boats.propeller_pitch)
        open_water = corrected_open_water(setting, np.asarray(diameter), made)
        trial = (
            chosen
            if i == 0
            else try_on_boats(open_water, diameter, demand.boats_calm, setting.drive, setting.ratio, boats)
        )
        yield NeighbourRow(
            diameter_m=diameter,
            pitch_m=pitch,
            tip_clearance_fraction=tip_clearance(setting.plan, diameter),
            full_throttle_rpm=fleet.band(trial.shaft_speed * setting.ratio / RPM),
            light_running_fraction=fleet.band(trial.light_running),
            top_kn=fleet.band(trial.boat_speed).scaled(1.0 / KNOT),
            cruise_rpm=float(np.asarray(around.cruise.shaft_speed)[i]) * setting.ratio / RPM,
            cruise_l_per_h=float(around.cruise_l_per_h[i]),
            chosen=bool(i == 0),
        )

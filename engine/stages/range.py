"""Stage 8: how far will she go? Fuel or battery, range and endurance against speed."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from engine.bands import Band
from engine.constants import HOUR, KILOWATT_HOUR, KNOT, LITRE
from engine.defaults import amount_or_none, word
from engine.findings import Finding, Outcome, stop
from engine.fleet import Fleet
from engine.hull.shallow_water import SHALLOW_SOURCE
from engine.machinery.electric import SAILING_SPEEDS, charge_time, regeneration_power
from engine.machinery.fuel import DIESEL
from engine.numeric import Array
from engine.plan import Plan
from engine.sections.electric import YES, Motor
from engine.sections.engine import Candidate
from engine.showing import show
from engine.stages.batteries import voltage_of
from engine.stages.boats import each_boat
from engine.stages.candidates import Rivals
from engine.stages.hull import HullAnswers
from engine.stages.range_about import About
from engine.stages.range_answers import RangeAnswers, SailingRow
from engine.stages.range_beside import at_cruise, beside
from engine.stages.range_findings import range_findings
from engine.stages.running import Running
from engine.stages.serial import serial_of
from engine.stages.speed import SpeedAnswers
from engine.stages.voyage import measured_tanks, voyage_of
from engine.stages.wheel import Wheel
from engine.units import Dimension

_LOWEST_SHARE = 0.35
"""The curve begins at this share of the speed at full throttle in service; below it the engine idles (ours)."""
_POINTS = 40
"""Speeds of the curve (ours)."""
_HALF = 0.5
"""A leg that fewer of the boats make has no fastest speed (ours)."""
_AT_SLOW_END = "at the slowest of these speeds; slower may take her further"
_AT_FAST_END = "at full throttle, the fastest of these speeds; slower takes her less far"


@dataclass(frozen=True, eq=False)
class UnderWay:
    """The drive in service, whatever is aboard to go on.   curve: up to full throttle.   cruise: at that one speed."""

    curve: Running
    cruise: Running


def assess_under_way(plan: Plan, cruise_kn: float, wheel: Wheel) -> Outcome[UnderWay]:
    """Load and consumption against speed with the chosen propeller, in service."""
    highest = float(wheel.setting.hull.fleet.median(_tops(wheel)))
    if not math.isfinite(highest):
        return Outcome(None, (_no_speed_finding(plan),), "a sea that she can run in.")
    grid: Array = np.linspace(_LOWEST_SHARE * highest, highest, _POINTS)
    return Outcome(UnderWay(Running.at(wheel, grid).from_idle(), Running.at(wheel, np.array([cruise_kn * KNOT]))))


def _tops(wheel: Wheel) -> Array:
    """What each boat does at full throttle in service (N,) [m/s]."""
    return wheel.full_throttle(wheel.setting.cases.service).boat_speed


def _no_speed_finding(plan: Plan) -> Finding:
    """Why there is no curve: the bottom is what the formulas end at first."""
    text = "With all that you allow for, no steady speed at full throttle is found"
    if plan.power.water_depth is None:
        return stop(f"{text}: look at wind, waves and growth.", "equilibrium in service", "power.head_wind")
    return stop(
        f"{text}: the water may be too shallow for the formula. Look at its depth, then at wind, waves and growth.",
        f"equilibrium in service; {SHALLOW_SOURCE}",
        "power.water_depth",
    )


def assess_range(
    plan: Plan, hull: HullAnswers, speed: SpeedAnswers, rivals: Rivals, under_way: UnderWay
) -> Outcome[RangeAnswers]:
    """Consumption, range and endurance against speed with the chosen propeller, in service, reserve kept back."""
    drive, item = rivals.drive, rivals.chosen.item
    voyage = voyage_of(plan, drive)
    if voyage is None:
        return Outcome(None, waits_for="what the fuel tanks hold.")
    fleet, serial, running = hull.fleet, serial_of(plan, item), under_way.curve
    wheel = running.wheel
    best = voyage.best_speed(running.speed, fleet.median(running.rate))
    at_slow_end, at_fast_end = (bool(best.at_edge) and best.speed == running.speed[end] for end in (0, -1))
    at_best = Running.at(wheel, np.array([float(best.speed)]))
    (cruise_row,), (best_row,) = (at.rows(voyage, serial) for at in (under_way.cruise, at_best))
    leg = amount_or_none(plan.range, "leg")
    for_leg = None if leg is None else _no_faster(voyage.fastest_for(leg, running.speed, running.rate), _tops(wheel))
    planned = voyage.usable * (1.0 - voyage.reserve)
    voltage = voltage_of(item) if isinstance(item, Motor) else None
    full_throttle = fleet.band(drive.per_hour(_rate_at_full_throttle(wheel) + voyage.hotel))
    top_drawn = drive.if_electric(full_throttle)
    answers = RangeAnswers(
        reserve_fraction=voyage.reserve,
        usable_l=drive.if_fuel(voyage.usable / DIESEL.density / LITRE),
        usable_gallons=drive.if_fuel(_gallons(voyage.usable / DIESEL.density)),
        planned_l=drive.if_fuel(planned / DIESEL.density / LITRE),
        usable_kwh=drive.if_electric(voyage.usable / KILOWATT_HOUR),
        planned_kwh=drive.if_electric(planned / KILOWATT_HOUR),
        cruise_l_per_h=cruise_row.burn_l_per_h,
        cruise_drawn_kw=cruise_row.drawn_kw,
        full_throttle_l_per_h=drive.if_fuel(full_throttle),
        full_throttle_drawn_kw=top_drawn,
        battery_v=voltage,
        cruise_battery_a=_current(cruise_row.drawn_kw, voltage),
        full_throttle_battery_a=_current(top_drawn, voltage),
        cruise_range_nmi=cruise_row.range_nmi,
        cruise_endurance_h=cruise_row.endurance_h,
        cruise_generator_range_nmi=cruise_row.generator_range_nmi,
        cruise_fuel_per_mile_l=cruise_row.fuel_per_mile_l,
        cruise_energy_per_mile_kwh=cruise_row.energy_per_mile_kwh,
        cruise_cost_per_mile_money=cruise_row.cost_per_mile_money,
        best_kn=float(best.speed) / KNOT,
        best_lies=_AT_SLOW_END if at_slow_end else _AT_FAST_END if at_fast_end else None,
        best_range_nmi=best_row.range_nmi if math.isfinite(float(best.speed)) else Band(0.0, 0.0, 0.0),
        leg_kn=_leg_band(fleet, for_leg),
        leg_share_fraction=None if for_leg is None else fleet.share(np.isfinite(for_leg)),
        charge_h=_charge_hours(item, planned),
        tanks=tuple(measured_tanks(plan)),
        sailing=tuple(_sailing(item)),
        curve=running.rows(voyage, serial),
        beside=tuple(beside(plan, rivals, running)),
        at_cruise=tuple(at_cruise(plan, speed, rivals, cruise_row)),
    )
    by_reference, reference = rivals.chosen.loading, rivals.chosen.loading.demand.reference
    about = About(
        plan,
        voyage,
        item,
        drive,
        at_slow_end,
        cruise_row,
        best_row,
        diameter=wheel.diameter,
        reference_load=fleet.band(by_reference.cruise_service).best,
        reference_diameter=reference.diameter,
    )
    return Outcome(answers, tuple(range_findings(about, answers)))


def _no_faster(speeds: Array, tops: Array) -> Array:
    """Speeds of the boats (N,) [m/s], none faster than hers at full throttle, where that is known."""
    return np.where(tops < speeds, tops, speeds)


def _leg_band(fleet: Fleet, speeds: Array | None) -> Band | None:
    """Fastest speed for a leg [kn] from that of each boat (N,) [m/s]; None without a leg, or where few boats make
    it."""
    if speeds is None or fleet.share(np.isfinite(speeds)) < _HALF:
        return None
    return fleet.band(np.nan_to_num(speeds, nan=0.0)).scaled(1.0 / KNOT)


def _rate_at_full_throttle(wheel: Wheel) -> Array:
    """What all engines of each boat take at her own full throttle in service (N,) [kg/s] or [W]. At the one speed that
    ends the curve a slow boat would take more than her engines have."""
    setting = wheel.setting
    engine_speed = wheel.full_throttle(setting.cases.service).shaft_speed * setting.ratio
    output = each_boat(setting.hull.boats.engine_output, len(engine_speed))
    power = output * setting.drive.full_load(engine_speed)
    return setting.drive.engine_rate(power, engine_speed) * setting.demand.screws


def _current(drawn_kw: Band | None, voltage: float | None) -> Band | None:
    """What the battery gives [A] at a power [kW] and its voltage [V]; None of a diesel, and while that is not known."""
    return None if drawn_kw is None or voltage is None else drawn_kw.scaled(1e3 / voltage)


def _gallons(volume: float) -> str:
    """A volume [m3] in both gallons."""
    return ", ".join(show(volume, unit, Dimension.VOLUME) for unit in ("US gal", "imp gal"))


def _charge_hours(item: Candidate | Motor, energy: float) -> float | None:
    if not isinstance(item, Motor) or item.charge_power is None:
        return None
    return float(charge_time(energy, item.charge_power.si)) / HOUR


def _sailing(item: Candidate | Motor) -> Iterator[SailingRow]:
    if isinstance(item, Motor) and word(item, "regenerates") == YES:
        for speed in SAILING_SPEEDS:
            low, high = regeneration_power(speed)
            yield SailingRow(speed_kn=speed / KNOT, low_kw=float(low) / 1e3, high_kw=float(high) / 1e3)

"""Stage 8: how far will she go? Fuel, range and endurance against speed."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from engine.answers import answer, maybe, table
from engine.bands import Band
from engine.constants import KNOT, NAUTICAL_MILE, RPM
from engine.findings import Finding, Outcome, fits, look, stop
from engine.fleet import Fleet
from engine.machinery.fuel import DIESEL, fuel_rate, litres_per_hour
from engine.machinery.range import (
    RESERVES,
    ReservePolicy,
    best_range_speed,
    cost_per_distance,
    cruising_range,
    endurance,
    fuel_per_distance,
    usable_fuel,
)
from engine.numeric import Array
from engine.plan import Plan
from engine.stages.defaults import amount, amount_or_none, word
from engine.stages.hull import HullAnswers
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.speed import SpeedAnswers
from engine.stages.wheel import Wheel
from engine.stages.wording import Wording, percent


@dataclass(frozen=True)
class RangeRow:
    """One speed, whole boat, with the sea margin."""

    speed_kn: float = answer("Speed")
    engine_rpm: Band = answer("Engine speed")
    load_fraction: Band = answer("Engine load")
    burn_l_per_h: Band = answer("Burn", spread=True)
    range_nmi: Band = answer("Range", spread=True)
    endurance_h: Band = answer("Endurance")
    fuel_per_mile_l: Band = answer("Fuel per mile")
    cost_per_mile: Band | None = maybe("Cost per mile")


@dataclass(frozen=True, kw_only=True)
class RangeAnswers:
    """Range with the reserve kept back, in service."""

    usable_l: float = answer("Usable fuel")
    planned_l: float = answer("Fuel to plan with, reserve kept back")
    cruise_l_per_h: Band = answer("Burn at cruise")
    cruise_range_nmi: Band = answer("Range at cruise")
    cruise_endurance_h: Band = answer("Endurance at cruise")
    cruise_fuel_per_mile_l: Band = answer("Fuel per mile at cruise")
    cruise_cost_per_mile: Band | None = maybe("Cost per mile at cruise")
    best_kn: float = answer("Speed of best range")
    best_range_nmi: Band = answer("Best range")
    curve: tuple[RangeRow, ...] = table("Range and burn against speed")


_LOWEST_SHARE = 0.35
"""The curve begins at this share of the speed at full throttle; below it the engine idles."""
_POINTS = 40
_WORTH_SAYING = 0.05
_THIN_RESERVE = 0.15
_LITRE = 1e-3
_MAP = (
    "open fuel maps of Heywood (1988), Neumann et al. (c. 1993) and Merrion (1994), scaled; about 10 % without figures"
)


def assess_range(
    plan: Plan, hull: HullAnswers, speed: SpeedAnswers, propeller: PropellerAnswers
) -> Outcome[RangeAnswers]:
    """Burn, range and endurance against speed with the chosen propeller, with the sea margin and the reserve kept."""
    if plan.range.tank is None:
        return Outcome(None, waits_for="what the fuel tanks hold.")
    voyage = _Voyage.of(plan)
    highest = propeller.top_kn.best * KNOT
    grid: Array = np.linspace(_LOWEST_SHARE * highest, highest, _POINTS)
    running = _Running.at(propeller.wheel, grid)
    best = best_range_speed(grid, hull.fleet.median(running.fuel), hotel_rate=voyage.hotel, head_current=voyage.current)
    cruise_row, best_row = (
        _rows(hull.fleet, voyage, _Running.at(propeller.wheel, np.array([speed])))[0]
        for speed in (speed.cruise_kn * KNOT, float(best.speed))
    )
    answers = RangeAnswers(
        usable_l=voyage.usable / DIESEL.density / _LITRE,
        planned_l=voyage.usable / DIESEL.density / _LITRE * (1.0 - voyage.reserve.fraction),
        cruise_l_per_h=cruise_row.burn_l_per_h,
        cruise_range_nmi=cruise_row.range_nmi,
        cruise_endurance_h=cruise_row.endurance_h,
        cruise_fuel_per_mile_l=cruise_row.fuel_per_mile_l,
        cruise_cost_per_mile=cruise_row.cost_per_mile,
        best_kn=float(best.speed) / KNOT,
        best_range_nmi=best_row.range_nmi if math.isfinite(float(best.speed)) else Band(0.0, 0.0, 0.0),
        curve=_rows(hull.fleet, voyage, running),
    )
    return Outcome(answers, tuple(_findings(Wording(plan.units), answers, voyage, bool(best.at_edge))))


@dataclass(frozen=True)
class _Voyage:
    """Fuel and conditions.   usable: [kg].   hotel: [kg/s].   current: ahead [m/s].   price: [money/m3] or None."""

    usable: float
    reserve: ReservePolicy
    hotel: float
    current: float
    price: float | None

    @classmethod
    def of(cls, plan: Plan) -> "_Voyage":
        asked = plan.range
        return cls(
            usable=float(usable_fuel(amount(asked, "tank"), DIESEL.density, amount(asked, "usable"))),
            reserve=RESERVES[word(asked, "reserve")],
            hotel=amount(asked, "hotel") * DIESEL.density,
            current=amount(asked, "current"),
            price=amount_or_none(asked, "price"),
        )


@dataclass(frozen=True, eq=False)
class _Running:
    """Engines and propellers of the boats in service over boat speed (S,) [m/s]; fields (N, S).

    engine_speed: [rev/s].   load: of one engine [-].   fuel: of all engines [kg/s].
    """

    speed: Array
    engine_speed: Array
    load: Array
    fuel: Array

    @classmethod
    def at(cls, wheel: Wheel, speed: Array) -> "_Running":
        setting = wheel.setting
        demand, drive, boats = setting.demand, setting.drive, setting.hull.boats
        point = wheel.at(setting.cases.service, speed)
        engine_speed = np.asarray(point.shaft_speed) * setting.ratio
        power = drive.at_crankshaft(point.delivered_power)
        fuel = np.asarray(fuel_rate(drive.engine, power, engine_speed)) * demand.screws
        return cls(speed, engine_speed, power / (drive.usable_power * np.asarray(boats.engine_output)), fuel)


def _rows(fleet: Fleet, voyage: _Voyage, running: _Running) -> tuple[RangeRow, ...]:
    """One row for each boat speed, whole boat."""
    reserve = voyage.reserve.fraction
    conditions = {"hotel_rate": voyage.hotel, "head_current": voyage.current}
    distance = cruising_range(voyage.usable, running.speed, running.fuel, reserve=reserve, **conditions)
    time = endurance(voyage.usable, running.fuel, hotel_rate=voyage.hotel, reserve=reserve)
    per_distance = fuel_per_distance(running.speed, running.fuel, **conditions)
    burn = litres_per_hour(running.fuel + voyage.hotel)
    engine_speed, load, burned, nautical, lasting, per_mile = (
        fleet.each_band(np.asarray(values))
        for values in (running.engine_speed, running.load, burn, distance, time, per_distance)
    )
    return tuple(
        RangeRow(
            speed_kn=float(running.speed[i]) / KNOT,
            engine_rpm=engine_speed[i].scaled(1.0 / RPM),
            load_fraction=load[i],
            burn_l_per_h=burned[i],
            range_nmi=nautical[i].scaled(1.0 / NAUTICAL_MILE),
            endurance_h=lasting[i].scaled(1.0 / 3600.0),
            fuel_per_mile_l=per_mile[i].scaled(NAUTICAL_MILE / DIESEL.density / _LITRE),
            cost_per_mile=_cost(per_mile[i], voyage.price),
        )
        for i in range(len(running.speed))
    )


def _cost(per_distance: Band, price: float | None) -> Band | None:
    """Money per nautical mile; None without a price."""
    if price is None:
        return None
    return per_distance.scaled(float(cost_per_distance(1.0, DIESEL.density, price)) * NAUTICAL_MILE)


def _findings(say: Wording, answers: RangeAnswers, voyage: _Voyage, at_edge: bool) -> Iterator[Finding]:
    distance = answers.cruise_range_nmi
    if distance.best <= 0.0:
        yield stop(
            "At the cruising speed she makes no way against the current you gave.",
            "range over the ground",
            "range.current",
        )
        return
    yield fits(
        f"At cruise she goes {distance.best:.0f} nmi ({distance.low:.0f} to {distance.high:.0f}) in "
        f"{answers.cruise_endurance_h.best:.0f} hours on "
        f"{say.volume(answers.planned_l)}, in service, with the reserve ({voyage.reserve.name}) kept back.",
        f"{_MAP}; reserve: common practice, {voyage.reserve.status}",
    )
    gain = answers.best_range_nmi.best / distance.best - 1.0
    if at_edge:
        yield fits(
            f"The slower she goes the further she gets, down to {answers.best_kn:.1f} kn, where this curve begins.",
            _MAP,
        )
    elif gain > _WORTH_SAYING:
        yield fits(
            f"At {answers.best_kn:.1f} kn she would get {answers.best_range_nmi.best:.0f} nmi, "
            f"{percent(gain)} further than at cruise.",
            _MAP,
        )
    if voyage.reserve.fraction < _THIN_RESERVE:
        yield look("A tenth in reserve is too little for the open sea.", voyage.reserve.status, "range.reserve")
    top = answers.curve[-1]
    yield fits(
        f"At full throttle she burns {say.flow(top.burn_l_per_h.best)}, "
        f"{top.burn_l_per_h.best / answers.cruise_l_per_h.best:.1f} times as much as at cruise.",
        _MAP,
    )

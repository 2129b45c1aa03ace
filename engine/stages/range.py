"""Stage 8: how far will she go? Fuel, range and endurance against speed."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from engine.answers import answer, maybe, table
from engine.constants import KNOT, NAUTICAL_MILE, RPM
from engine.findings import Finding, Outcome, fits, look, stop
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
from engine.propeller.equilibrium import shaft_speed_at_boat_speed
from engine.stages.defaults import amount, amount_or_none, word
from engine.stages.engine import EngineAnswers
from engine.stages.fitting import Setting
from engine.stages.gear import GearAnswers
from engine.stages.hull import HullAnswers
from engine.stages.power import PowerAnswers
from engine.stages.propeller import PropellerAnswers
from engine.stages.speed import SpeedAnswers
from engine.stages.wording import Wording, percent


@dataclass(frozen=True)
class RangeRow:
    """One speed, whole boat, with the sea margin."""

    speed_kn: float = answer("Speed")
    engine_rpm: float = answer("Engine speed")
    load_fraction: float = answer("Engine load")
    burn_l_per_h: float = answer("Burn")
    range_nmi: float = answer("Range")
    endurance_h: float = answer("Endurance")
    fuel_per_mile_l: float = answer("Fuel per mile")
    cost_per_mile: float | None = maybe("Cost per mile")


@dataclass(frozen=True, kw_only=True)
class RangeAnswers:
    """Range with the reserve kept back, in service."""

    usable_l: float = answer("Usable fuel")
    planned_l: float = answer("Fuel to plan with, reserve kept back")
    cruise_l_per_h: float = answer("Burn at cruise")
    cruise_range_nmi: float = answer("Range at cruise")
    cruise_endurance_h: float = answer("Endurance at cruise")
    cruise_fuel_per_mile_l: float = answer("Fuel per mile at cruise")
    cruise_cost_per_mile: float | None = maybe("Cost per mile at cruise")
    best_kn: float = answer("Speed of best range")
    best_range_nmi: float = answer("Best range")
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
    plan: Plan,
    hull: HullAnswers,
    speed: SpeedAnswers,
    power: PowerAnswers,
    engine: EngineAnswers,
    gear: GearAnswers,
    propeller: PropellerAnswers,
) -> Outcome[RangeAnswers]:
    """Burn, range and endurance against speed with the chosen propeller, with the sea margin and the reserve kept."""
    if plan.range.tank is None:
        return Outcome(None, waits_for="what the fuel tanks hold.")
    setting = Setting(plan, hull, speed, power.demand, engine.drive, gear.ratio)
    voyage = _Voyage.of(plan)
    highest = propeller.top_kn * KNOT
    grid: Array = np.linspace(_LOWEST_SHARE * highest, highest, _POINTS)
    running = _Running.at(setting, propeller, grid)
    best = best_range_speed(grid, running.fuel, hotel_rate=voyage.hotel, head_current=voyage.current)
    cruise_row, best_row = (
        _rows(voyage, _Running.at(setting, propeller, np.array([speed])))[0]
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
        best_range_nmi=best_row.range_nmi if math.isfinite(float(best.speed)) else 0.0,
        curve=_rows(voyage, running),
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
    """Engines and propellers in service over boat speed [m/s].   engine_speed: [rev/s].   load: of one engine [-].
    fuel: of all engines [kg/s]."""

    speed: Array
    engine_speed: Array
    load: Array
    fuel: Array

    @classmethod
    def at(cls, setting: Setting, propeller: PropellerAnswers, speed: Array) -> "_Running":
        demand, drive = setting.demand, setting.drive
        point = shaft_speed_at_boat_speed(propeller.open_water, propeller.diameter_m, speed, demand.service)
        engine_speed = np.asarray(point.shaft_speed) * setting.ratio
        power = drive.at_crankshaft(point.delivered_power)
        fuel = np.asarray(fuel_rate(drive.engine, power, engine_speed)) * demand.screws
        return cls(speed, engine_speed, power / drive.usable_power, fuel)


def _rows(voyage: _Voyage, running: _Running) -> tuple[RangeRow, ...]:
    """One row for each boat speed, whole boat."""
    reserve = voyage.reserve.fraction
    conditions = {"hotel_rate": voyage.hotel, "head_current": voyage.current}
    distance = np.asarray(cruising_range(voyage.usable, running.speed, running.fuel, reserve=reserve, **conditions))
    time = np.asarray(endurance(voyage.usable, running.fuel, hotel_rate=voyage.hotel, reserve=reserve))
    per_distance = np.asarray(fuel_per_distance(running.speed, running.fuel, **conditions))
    burn = np.asarray(litres_per_hour(running.fuel + voyage.hotel))
    return tuple(
        RangeRow(
            speed_kn=float(running.speed[i]) / KNOT,
            engine_rpm=float(running.engine_speed[i]) / RPM,
            load_fraction=float(running.load[i]),
            burn_l_per_h=float(burn[i]),
            range_nmi=float(distance[i]) / NAUTICAL_MILE,
            endurance_h=float(time[i]) / 3600.0,
            fuel_per_mile_l=float(per_distance[i]) * NAUTICAL_MILE / DIESEL.density / _LITRE,
            cost_per_mile=_cost(per_distance[i], voyage.price),
        )
        for i in range(len(running.speed))
    )


def _cost(per_distance: float, price: float | None) -> float | None:
    """Money per nautical mile; None without a price."""
    if price is None:
        return None
    return float(cost_per_distance(per_distance, DIESEL.density, price)) * NAUTICAL_MILE


def _findings(say: Wording, answers: RangeAnswers, voyage: _Voyage, at_edge: bool) -> Iterator[Finding]:
    if answers.cruise_range_nmi <= 0.0:
        yield stop(
            "At the cruising speed she makes no way against the current you gave.",
            "range over the ground",
            "range.current",
        )
        return
    yield fits(
        f"At cruise she goes {answers.cruise_range_nmi:.0f} nmi in {answers.cruise_endurance_h:.0f} hours on "
        f"{say.volume(answers.planned_l)}, in service, with the reserve ({voyage.reserve.name}) kept back.",
        f"{_MAP}; reserve: common practice, {voyage.reserve.status}",
    )
    gain = answers.best_range_nmi / answers.cruise_range_nmi - 1.0
    if at_edge:
        yield fits(
            f"The slower she goes the further she gets, down to {answers.best_kn:.1f} kn, where this curve begins.",
            _MAP,
        )
    elif gain > _WORTH_SAYING:
        yield fits(
            f"At {answers.best_kn:.1f} kn she would get {answers.best_range_nmi:.0f} nmi, "
            f"{percent(gain)} further than at cruise.",
            _MAP,
        )
    if voyage.reserve.fraction < _THIN_RESERVE:
        yield look("A tenth in reserve is too little for the open sea.", voyage.reserve.status, "range.reserve")
    top = answers.curve[-1]
    yield fits(
        f"At full throttle she burns {say.flow(top.burn_l_per_h)}, "
        f"{top.burn_l_per_h / answers.cruise_l_per_h:.1f} times as much as at cruise.",
        _MAP,
    )

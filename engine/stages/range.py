"""Stage 8: how far will she go? Fuel, range and endurance against speed."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from engine.answers import answer, maybe, table
from engine.constants import KNOT, NAUTICAL_MILE, RPM
from engine.findings import Finding, Outcome, fits, look, stop
from engine.machinery.fuel import DIESEL, fuel_rate
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
    curve = _curve(setting, propeller, voyage, grid)
    cruise_row = _curve(setting, propeller, voyage, np.array([speed.cruise_kn * KNOT]))[0]
    rates = np.array([row.burn_l_per_h for row in curve]) * _LITRE / 3600.0 * DIESEL.density
    best = best_range_speed(grid, rates, head_current=voyage.current)
    best_row = _curve(setting, propeller, voyage, np.array([float(best.speed)]))[0] if np.isfinite(best.speed) else None
    answers = RangeAnswers(
        usable_l=voyage.usable / DIESEL.density / _LITRE,
        planned_l=voyage.usable / DIESEL.density / _LITRE * (1.0 - voyage.reserve.fraction),
        cruise_l_per_h=cruise_row.burn_l_per_h,
        cruise_range_nmi=cruise_row.range_nmi,
        cruise_endurance_h=cruise_row.endurance_h,
        cruise_fuel_per_mile_l=cruise_row.fuel_per_mile_l,
        cruise_cost_per_mile=cruise_row.cost_per_mile,
        best_kn=float(best.speed) / KNOT,
        best_range_nmi=0.0 if best_row is None else best_row.range_nmi,
        curve=curve,
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


def _curve(setting: Setting, propeller: PropellerAnswers, voyage: _Voyage, speeds: Array) -> tuple[RangeRow, ...]:
    """Rows for boat speeds [m/s], whole boat, in service."""
    demand, drive = setting.demand, setting.drive
    point = shaft_speed_at_boat_speed(propeller.open_water, propeller.diameter_m, speeds, demand.service)
    delivered, turning = np.asarray(point.delivered_power), np.asarray(point.shaft_speed) * setting.ratio
    propulsion = np.asarray(fuel_rate(drive.engine, drive.at_crankshaft(delivered), turning)) * demand.screws
    conditions = {"hotel_rate": voyage.hotel, "head_current": voyage.current}
    reached = np.asarray(
        cruising_range(voyage.usable, speeds, propulsion, reserve=voyage.reserve.fraction, **conditions)
    )
    time = np.asarray(endurance(voyage.usable, propulsion, hotel_rate=voyage.hotel, reserve=voyage.reserve.fraction))
    per_distance = np.asarray(fuel_per_distance(speeds, propulsion, **conditions))
    load = drive.at_crankshaft(delivered) / drive.usable_power
    return tuple(
        RangeRow(
            speed_kn=float(speeds[i] / KNOT),
            engine_rpm=float(turning[i] / RPM),
            load_fraction=float(load[i]),
            burn_l_per_h=float((propulsion[i] + voyage.hotel) / DIESEL.density / _LITRE * 3600.0),
            range_nmi=float(reached[i] / NAUTICAL_MILE),
            endurance_h=float(time[i] / 3600.0),
            fuel_per_mile_l=float(per_distance[i] * NAUTICAL_MILE / DIESEL.density / _LITRE),
            cost_per_mile=None
            if voyage.price is None
            else float(cost_per_distance(per_distance[i], DIESEL.density, voyage.price)) * NAUTICAL_MILE,
        )
        for i in range(len(speeds))
    )


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

"""Fuel burned at any power and speed, from the engine's own figures where given and a published map's shape."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from engine.constants import HORSEPOWER, HOUR, IMPERIAL_GALLON, KILOWATT_HOUR, LITRE, POUND, US_GALLON
from engine.data import table
from engine.machinery.diesel import DieselEngine
from engine.machinery.duty_cycles import DutyCycle
from engine.machinery.fuel_maps import EPA_LINE, interpolate_bilinear
from engine.numeric import Array, Real, plain
from engine.validity import OutOfRange, not_negative, outside_range, positive

_FUEL = table("fuel")
_IMO = _FUEL["imo_parabola"]
G_PER_KWH = 1e-3 / KILOWATT_HOUR
"""One gram per kilowatt-hour [kg/J]."""

IDLE_FRACTION: float = _FUEL["idle"]["speed_fraction"]


@dataclass(frozen=True)
class Fuel:
    """density: at 15 C [kg/m3].   heating_value: lower [J/kg].   density_range: printed limits [kg/m3] or None."""

    name: str
    density: float
    heating_value: float
    density_range: tuple[float, float] | None
    status: str


@dataclass(frozen=True)
class ConsumptionRule:
    """A rule of thumb for power actually delivered; fuel per energy by mass [kg/J] at a density, as arithmetic."""

    text: str
    amount: float
    unit: str
    status: str

    def specific_consumption(self, density: Real) -> Real:
        """Fuel per energy [kg/J] at a fuel density [kg/m3]."""
        if self.unit == "lb":
            mass: Real = POUND * self.amount
        else:
            mass = plain(np.asarray(density) * _VOLUME[self.unit] * self.amount)
        return plain(np.asarray(mass) / (HORSEPOWER * HOUR))


_VOLUME: Mapping[str, float] = {"US gal": US_GALLON, "imp gal": IMPERIAL_GALLON, "L": LITRE}


def _fuel(row: Mapping[str, Any]) -> Fuel:
    limits = row.get("density_range_kg_m3")
    return Fuel(
        name=row["name"],
        density=row["density_kg_m3"],
        heating_value=row["heating_value_mj_kg"] * 1e6,
        density_range=None if limits is None else (limits[0], limits[1]),
        status=row["status"],
    )


FUELS: Mapping[str, Fuel] = {key: _fuel(row) for key, row in _FUEL["fuel"].items()}
DIESEL = FUELS["diesel"]
"""Diesel for arithmetic: 840 kg/m3, 42.7 MJ/kg."""

CONSUMPTION_RULES: tuple[ConsumptionRule, ...] = tuple(
    ConsumptionRule(row["text"], row["amount"], row["unit"], row["status"]) for row in _FUEL["rule"]
)


def full_load_consumption(engine: DieselEngine) -> float:
    """Fuel per energy at rated power [kg/J]: the data sheet's, else the default of the engine's kind.

    Source: defaults 275, 250, 225, 210 g/kWh are our own choice within the published spread, uncertain by 10 %.
    """
    if engine.specific_consumption is not None:
        return engine.specific_consumption
    return float(_FUEL["default_consumption"][engine.kind]["g_per_kwh"]) * G_PER_KWH


def fuel_rate(engine: DieselEngine, power: Real, speed: Real) -> Real:
    """Fuel mass per time at a power and speed of the engine; a running engine burns fuel even at no power.

    power: at the flywheel [W], >= 0.   speed: of the engine [rev/s], >= 0; at standstill nothing burns.
    Returns: fuel [kg/s]; broadcast shape. The map of the engine's kind shapes it: fuel per revolution, bilinear in
    speed and torque. Past its most torque a straight line goes on, below its least one to `unloaded`; beyond its speeds
    the end row holds (check_fuel_rate says where). Scaled to full_load_consumption, or along the maker's propeller
    fuel curve.
    Raises: ValueError naming the argument.
    Error: about 10 % without the maker's figures.
    Source: Heywood (1988), Neumann et al. (c. 1993), Merrion (1994), one copy each; engine/data/fuel_maps.toml; without
    load as `unloaded`.
    """
    turning = not_negative("speed", speed)
    rate = _map_fuel_rate(engine, not_negative("power", power), turning)
    if engine.propeller_fuel_curve is not None:
        points = np.asarray(engine.propeller_fuel_curve, dtype=float)
        speeds, rates = points[:, 0], points[:, 1]
        cubic = engine.crankshaft_rated_power * (speeds / engine.rated_speed) ** 3
        rate = rate * np.interp(turning, speeds, rates / _map_fuel_rate(engine, cubic, speeds))
    return plain(rate)


def _fractions(engine: DieselEngine, power: Array, speed: Array) -> tuple[Array, Array]:
    """Speed and torque over their rated values; torque 0 at standstill."""
    speed_fraction = speed / engine.rated_speed
    turns = speed_fraction > 0.0
    torque_fraction = power / engine.crankshaft_rated_power / np.where(turns, speed_fraction, 1.0)
    return speed_fraction, np.where(turns, torque_fraction, 0.0)


def _map_fuel_rate(engine: DieselEngine, power: Array, speed: Array) -> Array:
    speed_fraction, torque_fraction = _fractions(engine, power, speed)
    shape = engine.shape
    per_revolution = interpolate_bilinear(
        shape.speed_fraction, shape.torque_fraction, shape.fuel_per_revolution, speed_fraction, torque_fraction
    )
    full_rate = full_load_consumption(engine) * engine.crankshaft_rated_power
    return np.asarray(full_rate * speed_fraction * per_revolution)


def usual_idle_speed(engine: DieselEngine) -> float:
    """Idle speed [rev/s]: the data sheet's, else a usual share of rated speed.

    Source: 27 % of rated speed, 800 of 3000 rpm, is ours.
    """
    return engine.idle_speed or IDLE_FRACTION * engine.rated_speed


def cycle_specific_consumption(engine: DieselEngine, cycle: DutyCycle) -> float:
    """Fuel per energy over the modes of a test cycle, weighted by time [kg/J].

    A mode at standstill of the cycle is idle: it burns at idle speed and gives nothing.
    Source: ISO 8178-4, weighted fuel over weighted power.
    """
    idle = usual_idle_speed(engine)
    speed = np.where(cycle.speed_fraction > 0.0, cycle.speed_fraction * engine.rated_speed, idle)
    power = cycle.power_fraction * engine.crankshaft_rated_power
    burned = cycle.weighted_mean(fuel_rate(engine, power, speed))
    return float(burned) / float(cycle.weighted_mean(power))


def outside_map(engine: DieselEngine, power: Real, speed: Real) -> tuple[OutOfRange, ...]:
    """Where fuel_rate reaches past the published map.

    power: at the flywheel [W].   speed: of the engine [rev/s].
    """
    shape = engine.shape
    speeds, torques = _fractions(engine, np.asarray(power, dtype=float), np.asarray(speed, dtype=float))
    rows, columns = shape.speed_fraction, shape.torque_fraction
    found = outside_range(
        "share of the rated engine speed", speeds, rows[0], rows[-1], "the map's end row is held there"
    )
    return found + outside_range(
        "share of the rated torque", torques, columns[1], columns[-1], "a straight line goes on from it"
    )


def check_fuel_rate(engine: DieselEngine, power: Real, speed: Real) -> tuple[OutOfRange, ...]:
    """Where fuel_rate reaches past the published map, and where a default consumption is used out of its place.

    power: at the flywheel [W].   speed: of the engine [rev/s].
    """
    found = outside_map(engine, power, speed)
    default = _FUEL["default_consumption"][engine.kind]
    if engine.specific_consumption is None and engine.propeller_fuel_curve is None and "power_kw" in default:
        low, high = default["power_kw"]
        note = "the default consumption of this kind of engine is meant for that size"
        found += outside_range("rated power in kW", engine.crankshaft_rated_power / 1e3, low, high, note)
    return found


def litres_per_hour(rate: Real, density: Real = DIESEL.density) -> Real:
    """Litres an hour from fuel mass per time [kg/s] at a density [kg/m3], > 0.

    Raises: ValueError naming the argument.   Source: definition.
    """
    return plain(np.asarray(rate) / positive("density", density) * HOUR / LITRE)


def part_load_ratio_imo(load: Real) -> Real:
    """Specific consumption over the base figure by the IMO parabola, for ships' medium-speed engines; a cross-check.

    load: power over rated power [-], 0 to 1.
    Returns: ratio [-]; same shape; least, 1.003, at a load of 0.78.
    Source: IMO (2014), Third GHG Study, after Jalkanen et al. (2012): 0.455 L^2 - 0.71 L + 1.28.
    """
    part = np.asarray(load, dtype=float)
    return plain(_IMO["a"] * part**2 + _IMO["b"] * part + _IMO["c"])


def specific_consumption_epa(load: Real) -> Real:
    """Specific consumption of marine diesels by the EPA line [kg/J]; a cross-check.

    load: power over rated power [-], > 0 to 1.
    Raises: ValueError naming the argument.
    Source: United States EPA (2000), EPA420-R-00-002, Table 5-1, g/kWh = 14.12/L + 205.717; from memory.
    """
    return plain((EPA_LINE["over_load"] / positive("load", load) + EPA_LINE["constant"]) * G_PER_KWH)

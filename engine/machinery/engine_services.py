"""What flows to the engine: raw water, fuel, and the current that starts it."""

from math import pi

import numpy as np

from engine.data import table
from engine.numeric import Real, plain
from engine.validity import not_negative, positive

_DATA = table("installation")
_WATER, _FUEL, _STARTING = _DATA["raw_water"], _DATA["fuel"], _DATA["starting"]
STRAINER_PIPE_AREAS: float = _WATER["strainer_pipe_areas"]
SUCTION_LIFT: float = _WATER["suction_lift_m"]
SECOND_SHUT_OFF: float = _FUEL["second_shut_off_m"]
FILL_FROM_OPENING: float = _FUEL["fill_from_opening_m"]
VENT_BORE: float = _FUEL["vent_bore_m"]


def raw_water_heat(fuel_power: Real) -> Real:
    """Heat that the raw water takes away [W], 30 % of the power in the fuel [W], >= 0.

    Raises: ValueError naming the argument.   Source: from memory.
    """
    return plain(_WATER["heat_share_of_fuel"] * not_negative("fuel_power", fuel_power))


def raw_water_flow(heat: Real, rise: Real = _WATER["rise_k"]) -> Real:
    """Raw water [m3/s] that takes a heat [W], >= 0, with a rise of its temperature [K], > 0; 15 K from memory.

    Raises: ValueError naming the argument.   Source: balance of heat.
    """
    per_volume = _WATER["heat_capacity"] * _WATER["density"]
    return plain(not_negative("heat", heat) / (per_volume * positive("rise", rise)))


def least_inlet_bore(flow: Real, speed: Real = _WATER["speed_limit"]) -> Real:
    """Bore [m] at which water of a flow [m3/s], >= 0, runs at a speed [m/s], > 0; 1.8 m/s from memory.

    Raises: ValueError naming the argument.   Source: continuity.
    """
    return plain(np.sqrt(4.0 * not_negative("flow", flow) / (pi * positive("speed", speed))))


def fuel_circulation(burn: Real) -> tuple[Real, Real]:
    """Least and most fuel that a diesel draws and sends back, 2 to 4 times what it burns, in the unit of that.

    Source: from memory.
    """
    low, high = _FUEL["circulation_times_burn"]
    return plain(low * np.asarray(burn)), plain(high * np.asarray(burn))


def least_fuel_line_bore(power: float) -> float:
    """Bore of the fuel supply line [m] for a rated power [W]; NaN over 400 kW. Source: from memory."""
    return next((size / 1e3 for kilowatts, size in _FUEL["line"] if power <= kilowatts * 1e3), float("nan"))


def cranking_current(swept_volume: Real) -> tuple[Real, Real, Real]:
    """Least, usual and most cold-cranking current at 12 V [A] for a swept volume [m3], > 0.

    Raises: ValueError naming the argument.   Source: from memory.
    """
    litres = 1e3 * positive("swept_volume", swept_volume)
    low, usual, high = (plain(per_litre * litres) for per_litre in _STARTING["current_per_litre"])
    return low, usual, high

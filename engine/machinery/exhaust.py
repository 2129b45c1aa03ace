"""Exhaust: flow, back pressure, bore, heights that keep water out, and the volume of a water-lift muffler."""

from math import pi

import numpy as np

from engine.constants import MINUTE
from engine.data import table
from engine.machinery.engine_air import AIR_PER_FUEL
from engine.numeric import Real, plain
from engine.validity import OutOfRange, not_negative, outside_range, positive

_EXHAUST = table("installation")["exhaust"]
INJECTION_HEIGHT: float = _EXHAUST["injection_height_m"]
LOOP_HEIGHT: float = _EXHAUST["loop_height_m"]
LIFT_LIMIT: float = _EXHAUST["lift_limit_m"]
FALL_DEG: float = _EXHAUST["fall_deg"]
LONG_RUN_BORES: float = _EXHAUST["long_run_bores"]
LONG_RUN_INCREASE: float = _EXHAUST["long_run_increase"]
WET_OVER_DRY_BORE: float = _EXHAUST["wet_over_dry_bore"]
GAS_TEMPERATURE_C: float = _EXHAUST["temperature_c"]
LAG_ABOVE_C: float = _EXHAUST["lag_above_c"]
_ROUNDS = 40


def back_pressure_limit(is_turbocharged: bool) -> float:
    """Back pressure that most makers allow [Pa]. Source: a default, ours, under what makers print."""
    return 1e3 * float(_EXHAUST["limit_kpa"]["turbocharged" if is_turbocharged else "natural"])


def exhaust_density(temperature_c: Real = _EXHAUST["temperature_c"]) -> Real:
    """Density of exhaust gas [kg/m3] at a temperature [C]. Source: large makers' handbooks, from memory."""
    return plain(_EXHAUST["heat_factor"] / (np.asarray(temperature_c, dtype=float) + 273.0))


def exhaust_flow(fuel_rate: Real, temperature_c: Real = _EXHAUST["temperature_c"]) -> Real:
    """Exhaust gas [m3/s] at a fuel rate [kg/s], >= 0, and a temperature [C]; 450 C at full power from memory.

    Raises: ValueError naming the argument.   Source: fuel and 24 times as much air by mass.
    """
    return plain(not_negative("fuel_rate", fuel_rate) * (1.0 + AIR_PER_FUEL) / exhaust_density(temperature_c))


def back_pressure(
    flow: Real, bore: Real, length: Real, bends: Real = 0.0, *, is_wet: bool = False, density: Real | None = None
) -> Real:
    """Pressure at the engine's outlet above that of the air [Pa].

    flow: of gas, at its temperature [m3/s], >= 0.   bore: inside diameter [m], > 0.   length: of the run [m], >= 0.
    bends: of 90 degrees; each counts for 33 bores, from memory.   is_wet: twice as much, Gerr (2009).
    density: of the gas [kg/m3]; at 450 C when None.
    Returns: [Pa]; broadcast shape. Mufflers and lift come on top.
    Raises: ValueError naming the argument.
    Source: large makers' handbooks, from memory: kPa = L S Q^2 3.6e6/D^5; it stands for a friction factor of 0.016.
    """
    size = positive("bore", bore)
    run = not_negative("length", length) + _EXHAUST["bend_diameters"] * not_negative("bends", bends) * size
    gas = positive("density", exhaust_density() if density is None else density)
    per_minute, millimetres = not_negative("flow", flow) * MINUTE, size * 1e3
    pressure = 1e3 * run * gas * per_minute**2 * _EXHAUST["pipe_constant"] / millimetres**5
    return plain(pressure * (_EXHAUST["wet_factor"] if is_wet else 1.0))


def least_bore(flow: float, length: float, bends: float, limit: float) -> float:
    """Bore [m] at which the back pressure of a dry exhaust reaches a limit [Pa]; arguments as back_pressure, but some
    flow and some run.

    Method: the pressure falls with the fifth power of the bore, or the fourth where bends rule, so the bore is
    corrected by the fifth root of pressure over limit until it stays; a round leaves a fifth of the error at most.
    Raises: ValueError naming the argument.   Source: as back_pressure.
    """
    allowed = float(positive("limit", limit))
    positive("flow", flow)
    positive("length and bends together", length + bends)
    bore = 0.05
    for _ in range(_ROUNDS):
        bore *= (float(back_pressure(flow, bore, length, bends)) / allowed) ** 0.2
    return bore


def usual_wet_hose(power: float) -> float:
    """Bore of the wet hose that engines of a rated power [W] usually have [m]; NaN over 450 kW. Source: from memory."""
    rows = _EXHAUST["wet_hose"]
    return next((millimetres / 1e3 for kilowatts, millimetres in rows if power <= kilowatts * 1e3), float("nan"))


def water_falling_back(bore: Real, rise: Real) -> Real:
    """Water that runs back into the muffler when she stops [m3]: a hose full up to its highest point (ours, safe side).

    bore: [m], > 0.   rise: lift from muffler to the highest point [m], >= 0.   Raises: ValueError naming the argument.
    """
    area = 0.25 * pi * positive("bore", bore) ** 2
    return plain(area * not_negative("rise", rise))


def least_muffler_volume(bore: Real, rise: Real) -> Real:
    """Volume of a water-lift muffler [m3]: three times `water_falling_back`, whose arguments these are.

    Source: engine/data/installation.toml; printed.
    """
    return plain(_EXHAUST["muffler_fall_back"] * np.asarray(water_falling_back(bore, rise)))


def check_long_run(length: float, bore: float) -> tuple[OutOfRange, ...]:
    """Where a run is so long for its bore that it wants a fifth more; both [m].

    Source: engine/data/installation.toml; printed.
    """
    return outside_range("exhaust run in bores", length / bore, 0.0, LONG_RUN_BORES, "a bore a fifth larger is wanted")

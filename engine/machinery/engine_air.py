"""Air for the engine and its room: vents, least flow, what it burns, and what carries the heat away."""

import numpy as np

from engine.constants import FOOT, HORSEPOWER, INCH, MINUTE
from engine.data import table
from engine.numeric import Real, plain
from engine.validity import not_negative, positive

_AIR = table("installation")["air"]
COMPLEX_DUCTS: float = _AIR["complex_duct_factor"]
INTAKE_LIMIT_C: float = _AIR["intake_limit_c"]
RISE_LIMIT_K: float = _AIR["rise_limit_k"]
AIR_PER_FUEL: float = _AIR["air_per_fuel"]
_CFM = FOOT**3 / MINUTE


def least_vent_area(power: Real, *, is_complex: bool = False) -> Real:
    """Least free area of the vents [m2] for all machinery in the space.

    power: rated, of all engines in it [W], >= 0.   is_complex: long or bent ducts, a fifth more.
    Raises: ValueError naming the argument.
    Source: Gerr (2009), Boat Mechanical Systems Handbook, Formula 16-1 and 16-2, area in2 = hp/3.3.
    """
    area = not_negative("power", power) / HORSEPOWER / _AIR["vent_area_hp_per_in2"] * INCH**2
    return plain(area * (COMPLEX_DUCTS if is_complex else 1.0))


def least_airflow(power: Real) -> Real:
    """Least flow of air into the space [m3/s], for combustion and a little cooling.

    power: rated, of all engines in it [W], >= 0.
    Raises: ValueError naming the argument.
    Source: Gerr (2009), cfm = 2.75 hp - 90, from 60 hp on; below it 2.5 cfm a horsepower, a large engine maker's rule,
    printed. Of the two the greater from 60 hp on.
    """
    horsepower = not_negative("power", power) / HORSEPOWER
    small = _AIR["small_engine_cfm_per_hp"] * horsepower
    large = _AIR["airflow_cfm_per_hp"] * horsepower + _AIR["airflow_cfm_offset"]
    return plain(_CFM * np.where(horsepower >= _AIR["airflow_from_hp"], np.maximum(small, large), small))


def combustion_air(fuel_rate: Real) -> Real:
    """Air that an engine burns [m3/s] at a fuel rate [kg/s], >= 0.

    Raises: ValueError naming the argument.   Source: 24 times the fuel by mass, ours within 20 to 30.
    """
    return plain(AIR_PER_FUEL * not_negative("fuel_rate", fuel_rate) / _AIR["air_density"])


def radiated_heat(fuel_power: Real) -> Real:
    """Heat given off to the engine room [W], 5 % of the power in the fuel [W], >= 0.

    Raises: ValueError naming the argument.   Source: from memory, 3 to 6 %.
    """
    return plain(_AIR["radiated_share_of_fuel"] * not_negative("fuel_power", fuel_power))


def cooling_air(heat: Real, rise: Real) -> Real:
    """Air that carries a heat [W] out of the room with a rise of its temperature [K], > 0 [m3/s].

    Raises: ValueError naming the argument.   Source: balance of heat.
    """
    return plain(
        not_negative("heat", heat) / (_AIR["air_density"] * _AIR["air_heat_capacity"] * positive("rise", rise))
    )


def blower_share(power: float) -> float:
    """Least share of the airflow that blowers must give [-]; 0 up to 500 hp. power: of all engines [W].

    Source: Gerr (2009), printed.
    """
    horsepower = power / HORSEPOWER
    return next((float(row["share"]) for row in _AIR["blower"] if horsepower > row["above_hp"]), 0.0)

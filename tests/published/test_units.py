"""Every unit that can be written, against the conversion factors that standards print to seven digits.

Source: A. Thompson & B. N. Taylor (2008), Guide for the Use of the International System of Units, NIST Special
Publication 811, appendix B.8, recalled. Those marked ours are not in it: worked out by hand from factors that are.
"""

import pytest

from engine import constants
from engine.units import UNITS, Dimension, Unit

D = Dimension
PRINTED: dict[tuple[Dimension, str], float] = {
    (D.LENGTH, "m"): 1.0,
    (D.LENGTH, "cm"): 1e-2,
    (D.LENGTH, "mm"): 1e-3,
    (D.LENGTH, "ft"): 3.048e-1,
    (D.LENGTH, "in"): 2.54e-2,
    (D.DISTANCE, "nmi"): 1.852e3,
    (D.DISTANCE, "km"): 1e3,
    (D.AREA, "m2"): 1.0,
    (D.AREA, "cm2"): 1e-4,
    (D.AREA, "in2"): 6.4516e-4,
    (D.AREA, "ft2"): 9.290304e-2,
    (D.VOLUME, "L"): 1e-3,
    (D.VOLUME, "m3"): 1.0,
    (D.VOLUME, "cm3"): 1e-6,
    (D.VOLUME, "in3"): 1.638706e-5,
    (D.VOLUME, "ft3"): 2.831685e-2,
    (D.VOLUME, "US gal"): 3.785412e-3,
    (D.VOLUME, "imp gal"): 4.54609e-3,
    (D.MASS, "kg"): 1.0,
    (D.MASS, "t"): 1e3,
    (D.MASS, "lb"): 4.535924e-1,
    (D.MASS, "long ton"): 1.016047e3,
    (D.MASS, "short ton"): 9.071847e2,
    (D.FORCE, "N"): 1.0,
    (D.FORCE, "kN"): 1e3,
    (D.FORCE, "lbf"): 4.448222,
    (D.SPEED, "kn"): 5.144444e-1,
    (D.SPEED, "ft/s"): 3.048e-1,
    (D.SPEED, "m/s"): 1.0,
    (D.SPEED, "km/h"): 2.777778e-1,
    (D.SPEED, "mph"): 4.4704e-1,
    (D.POWER, "kW"): 1e3,
    (D.POWER, "W"): 1.0,
    (D.POWER, "hp"): 7.456999e2,
    (D.POWER, "PS"): 7.354988e2,
    (D.TORQUE, "N m"): 1.0,
    (D.TORQUE, "lb ft"): 1.355818,
    (D.ENERGY, "kWh"): 3.6e6,
    (D.ENERGY, "Wh"): 3.6e3,
    (D.ENERGY, "MJ"): 1e6,
    (D.TEMPERATURE, "C"): 1.0,
    (D.TEMPERATURE, "F"): 5.555556e-1,
    (D.PRESSURE, "kPa"): 1e3,
    (D.PRESSURE, "mbar"): 1e2,
    (D.PRESSURE, "bar"): 1e5,
    (D.PRESSURE, "psi"): 6.894757e3,
    (D.PRESSURE, "in Hg"): 3.386389e3,
    (D.PRESSURE, "mm Hg"): 1.333224e2,
    (D.PRESSURE, "in water"): 2.490889e2,
    (D.DURATION, "h"): 3.6e3,
    (D.DURATION, "min"): 6e1,
    (D.DURATION, "s"): 1.0,
    (D.DURATION, "days"): 8.64e4,
    (D.FLOW, "US gal/min"): 6.309020e-5,
    (D.FLOW, "cfm"): 4.719474e-4,
    (D.CONSUMPTION, "lb/hp h"): 1.689659e-7,
}
OURS: dict[tuple[Dimension, str], float] = {
    (D.ROTATION, "rpm"): 1.666667e-2,
    (D.ROTATION, "rev/s"): 1.0,
    (D.GEAR_RATING, "kW per 100 rpm"): 6e2,
    (D.GEAR_RATING, "kW/rpm"): 6e4,
    (D.GEAR_RATING, "hp per 100 rpm"): 4.474199e2,
    (D.ANGLE, "deg"): 1.0,
    (D.DURATION, "weeks"): 6.048e5,
    (D.DURATION, "months"): 2.6298e6,
    (D.DURATION, "years"): 3.15576e7,
    (D.FLOW, "L/h"): 2.777778e-7,
    (D.FLOW, "US gal/h"): 1.051503e-6,
    (D.FLOW, "imp gal/h"): 1.262803e-6,
    (D.FLOW, "L/min"): 1.666667e-5,
    (D.FLOW, "m3/min"): 1.666667e-2,
    (D.CONSUMPTION, "g/kWh"): 2.777778e-10,
    (D.PRICE, "per L"): 1e3,
    (D.PRICE, "per US gal"): 2.641720e2,
    (D.PRICE, "per imp gal"): 2.199692e2,
    (D.ENERGY_PRICE, "per kWh"): 2.777778e-7,
    (D.MONEY, ""): 1.0,
    (D.ELECTRIC_CURRENT, "A"): 1.0,
    (D.VOLTAGE, "V"): 1.0,
    (D.FRACTION, "%"): 1e-2,
    (D.FRACTION, ""): 1.0,
    (D.RATIO, ":1"): 1.0,
    (D.NUMBER, ""): 1.0,
    (D.NUMBER, "% L"): 1.0,
}


def test_there_is_a_figure_for_every_unit() -> None:
    known = [(unit.dimension, unit.symbol) for unit in UNITS]
    assert len(known) == len(set(known))
    assert set(known) == {*PRINTED, *OURS}


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: f"{unit.dimension.value}, {unit.symbol}")
def test_a_unit_is_as_large_as_printed(unit: Unit) -> None:
    """Half a unit of the seventh digit, whatever the first is."""
    expected = {**PRINTED, **OURS}[unit.dimension, unit.symbol]
    assert unit.factor == pytest.approx(expected, rel=5e-7)
    assert (unit.offset != 0.0) == (unit.symbol == "F")


def test_water_freezes_at_32_and_boils_at_212_degrees_fahrenheit() -> None:
    (fahrenheit,) = (unit for unit in UNITS if unit.symbol == "F")
    assert [fahrenheit.to_si(32.0), fahrenheit.to_si(212.0)] == pytest.approx([0.0, 100.0], abs=1e-9)


def test_weight_is_reckoned_with_standard_gravity() -> None:
    """9.80665 m/s2, exact: third General Conference on Weights and Measures, 1901."""
    assert constants.GRAVITY == 9.80665

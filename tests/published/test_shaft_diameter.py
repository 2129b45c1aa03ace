"""Shaft diameters against numbers printed in their sources."""

import numpy as np
import pytest

from engine.constants import HORSEPOWER, INCH, PSI, RPM
from engine.data import table
from engine.machinery.shaft import (
    SAFETY_FACTOR_FLOOR,
    SAFETY_FACTORS,
    propeller_divisor,
    shaft_diameter_from_propeller,
    shaft_diameter_iacs_m68,
    shaft_diameter_small_craft,
    shaft_torque,
)

PRINTED_FACTORS = table("shaft_factors")["published_safety_factor"]

# Source: Gerr, D. (2009), Boat Mechanical Systems Handbook, International Marine, Formula 1-2 and its example.


def test_handbook_example_in_inches_gives_1_74_inch() -> None:
    diameter = shaft_diameter_small_craft(403 * HORSEPOWER, 1050 * RPM, 70_000 * PSI, 3.0)
    assert diameter / INCH == pytest.approx(1.74, abs=0.005)  # half a unit of the last printed digit


def test_handbook_example_in_millimetres_gives_44_2_mm() -> None:
    diameter = shaft_diameter_small_craft(300e3, 1050 * RPM, 482_000e3, 3.0)
    # Printed with the rounded constant 3651 (exact 3650.18), worth 0.01 mm: half a unit of the last digit still holds.
    assert diameter * 1e3 == pytest.approx(44.2, abs=0.05)


def test_printed_constant_321000_is_the_exact_one_rounded_up() -> None:
    diameter = shaft_diameter_small_craft(1 * HORSEPOWER, 1 * RPM, 1 * PSI, 1.0)
    assert (diameter / INCH) ** 3 == pytest.approx(321_000, rel=1e-4)  # printed derivation: 320 984, rounded up


def test_printed_constant_3651_is_the_exact_one_rounded_up() -> None:
    diameter = shaft_diameter_small_craft(1e3, 1 * RPM, 1e3, 1.0)
    assert diameter * 1e3 == pytest.approx(3651, rel=3e-4)


# Source: shafting calculation sheet of a Canadian naval-architect consultancy, item 6.5.3.


def test_commercial_sheet_with_factor_ten_gives_2_68_inch() -> None:
    diameter = shaft_diameter_small_craft(414 * HORSEPOWER, 1101 * RPM, 63_000 * PSI, 10.0)
    assert diameter / INCH == pytest.approx(2.68, abs=0.005)
    assert diameter * 1e3 == pytest.approx(67.98, rel=5e-4)  # printed from a rounded constant and conversion


# Source: student design report, Military Institute of Science and Technology (2022), on class rules of 2013.


def test_class_rule_example_keyed_shaft_gives_167_833_mm() -> None:
    power, speed = 1324e3, 412.8 * RPM
    assert shaft_diameter_iacs_m68(power, speed, 600e6, "keyed taper") * 1e3 == pytest.approx(167.833, abs=5e-4)
    # Printed 30.626 (meant as kN m); its inputs are rounded to the digits shown.
    assert shaft_torque(power, speed) / 1e3 == pytest.approx(30.626, rel=2e-4)


# Source: Gerr (2009), Table 1-1, and the 1/14 rule printed beside it.


@pytest.mark.parametrize(
    ("propeller_diameter", "divisor", "printed", "unit", "half_digit"),
    [
        (30 * INCH, propeller_divisor(4, "high-strength stainless"), 1.84, INCH, 0.005),
        (0.762, propeller_divisor(4, "high-strength stainless"), 46.7, 1e-3, 0.051),  # ours 46.748, printed cut off
        (24 * INCH, 14.0, 1.71, INCH, 0.005),
        (24 * INCH, 14.0, 43.6, 1e-3, 0.06),  # printed from a rounded figure; ours 43.54
    ],
)
def test_quick_rule_reproduces_its_printed_examples(
    propeller_diameter: float, divisor: float, printed: float, unit: float, half_digit: float
) -> None:
    assert shaft_diameter_from_propeller(propeller_diameter, divisor) / unit == pytest.approx(printed, abs=half_digit)


@pytest.mark.parametrize(
    ("metal", "printed"),
    [("weaker metals", (14.5, 14.0, 13.1)), ("high-strength stainless", (18.1, 17.5, 16.3))],
)
def test_divisors_are_the_printed_ones(metal: str, printed: tuple[float, ...]) -> None:
    """Two, three and four blades. The copy seen has the headings in the other order; its example, 16.3 for stainless,
    and the weaker metal's thicker shaft decide which is which."""
    assert tuple(propeller_divisor(blades, metal) for blades in (2, 3, 4)) == printed


def test_quick_rule_gives_the_weaker_metal_the_thicker_shaft() -> None:
    for blades in (2, 3, 4):
        weak, strong = (propeller_divisor(blades, m) for m in ("weaker metals", "high-strength stainless"))
        assert np.less(weak, strong)


def test_published_safety_factors_are_the_printed_ones() -> None:
    """Gerr (2009); Gerr (2011), The Masthead 18; the last from the consultancy's sheet above."""
    assert [(row["low"], row["high"]) for row in PRINTED_FACTORS] == [
        (2.0, 2.0),  # light petrol pleasure craft
        (3.0, 3.0),  # average yacht
        (3.5, 4.0),  # long-range motor cruiser
        (4.0, 5.0),  # high-performance racing
        (5.0, 6.0),  # pilot and patrol
        (7.5, 7.5),  # commercial, inspected passenger
        (8.0, 8.0),  # heavy commercial, towing, in older texts
        (10.0, 10.0),  # Canadian practice
    ]


def test_a_suggested_safety_factor_is_one_of_the_printed() -> None:
    for factor in SAFETY_FACTORS.values():
        assert any(row["low"] <= factor.value <= row["high"] for row in PRINTED_FACTORS), factor.use


def test_the_floor_of_the_safety_factor_is_the_printed_one() -> None:
    """ABYC P-6, committee minutes (2008): at least 2, after proof against corrosion fatigue."""
    assert SAFETY_FACTOR_FLOOR == 2.0

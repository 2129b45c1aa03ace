"""Gerr, D. (2009), Boat Mechanical Systems Handbook, ch. 16, Formula 16-2: vents for two 325 hp diesels."""

import pytest

from engine.constants import HORSEPOWER, INCH
from engine.machinery.engine_air import least_vent_area


def test_650_horsepower_want_197_square_inches() -> None:
    """Printed: 650/3.3 = 197 in2, to the inch."""
    assert round(float(least_vent_area(650.0 * HORSEPOWER)) / INCH**2) == 197


def test_484_kilowatts_want_1260_square_centimetres() -> None:
    """Printed: 484 kW x 2.6 = 1260 cm2; 2.6 is 2.62 rounded, so within 1 %."""
    assert float(least_vent_area(484e3)) * 1e4 == pytest.approx(1260.0, rel=0.01)


def test_a_fifth_more_for_complex_ducts() -> None:
    """Printed beside it: 20 %."""
    assert least_vent_area(50e3, is_complex=True) == pytest.approx(1.2 * float(least_vent_area(50e3)))

"""Hicks, T.G., Handbook of Energy Engineering Calculations: an 800 hp diesel at 10 000 ft, factors from tables."""

import pytest

from engine.constants import HORSEPOWER
from engine.machinery.derating import derated_by_tables


@pytest.mark.parametrize(
    ("altitude", "temperature", "horsepower", "kilowatts"),
    [(0.68, 0.95, 516.0, 384.9), (0.74, 1.0, 592.0, 441.6), (0.74, 0.95, 563.0, 420.1)],
)
def test_the_printed_powers(altitude: float, temperature: float, horsepower: float, kilowatts: float) -> None:
    """Printed to the horsepower, cut or rounded up by one: 516.8, 592.0 and 562.4 by arithmetic."""
    left = float(derated_by_tables(800.0 * HORSEPOWER, altitude, temperature))
    assert left / HORSEPOWER == pytest.approx(horsepower, abs=0.9)
    assert left / 1e3 == pytest.approx(kilowatts, abs=0.9)

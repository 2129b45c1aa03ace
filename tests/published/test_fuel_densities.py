"""Densities that the standards of fuels print; heating values and those of EN 15940 stand here from memory."""

import pytest

from engine.constants import POUND, US_GALLON
from engine.machinery.fuel import FUELS


@pytest.mark.parametrize(("name", "low", "high"), [("EN590", 820.0, 845.0), ("DMA", 0.0, 890.0)])
def test_limits_of_density_are_the_printed_ones(name: str, low: float, high: float) -> None:
    """EN 590, temperate classes; ISO 8217, DMA, three copies: an upper limit alone."""
    fuel = FUELS[name]
    assert fuel.density_range == (low, high)
    assert low < fuel.density <= high


def test_united_states_diesel_weighs_7_1_to_7_2_pounds_a_gallon() -> None:
    """Printed in three copies; the table holds the kilograms to the nearest whole one or so."""
    low, high = FUELS["US2"].density_range or (0.0, 0.0)
    assert [low * US_GALLON / POUND, high * US_GALLON / POUND] == pytest.approx([7.1, 7.2], abs=0.01)

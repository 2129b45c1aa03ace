"""The ITTC 1957 line: a printed value of Holtrop & Mennen (1982), and the formula's exact arithmetic."""

import pytest

from engine.constants import KNOT
from engine.hull.friction import friction_coefficient_ittc57


def test_friction_coefficient_of_the_1982_example_is_the_printed_one() -> None:
    reynolds = 25.0 * KNOT * 205.0 / 1.18831e-6
    # Printed with six decimals.
    assert friction_coefficient_ittc57(reynolds) == pytest.approx(0.001390, abs=0.5e-6, rel=0)


@pytest.mark.parametrize(
    ("reynolds", "exact"),
    [(1e6, 0.075 / 16.0), (1e7, 0.075 / 25.0), (1e8, 0.075 / 36.0), (1e9, 0.075 / 49.0)],
)
def test_friction_coefficient_at_round_reynolds_numbers_is_exact(reynolds: float, exact: float) -> None:
    # log10 of a power of ten is an integer, so the definition gives the value without rounding.
    assert friction_coefficient_ittc57(reynolds) == pytest.approx(exact, rel=1e-12)

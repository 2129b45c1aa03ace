"""Worked example of Holtrop (1984), A statistical re-analysis of resistance and propulsion data, ISP 31 (363).

A 50 m twin-screw vessel from 25 to 35 knots. The paper's table is printed in whole kilonewtons.
"""

import numpy as np
import pytest

from engine.constants import KNOT
from engine.hull.holtrop_1984 import form_factor_1984, resistance_holtrop_1984
from engine.hull.wetted_surface import wetted_surface_holtrop
from tests.published.ship_of_1984 import SHIP, WATER

SPEED = np.array([25.0, 27.0, 29.0, 31.0, 33.0, 35.0]) * KNOT
RESULT = resistance_holtrop_1984(SHIP, SPEED, WATER, gravity=9.81)

PRINTED_KN = {
    "wave": [475, 512, 539, 564, 590, 618],
    "appendages": [21, 24, 28, 31, 35, 39],
    "transom": [25, 16, 2, 0, 0, 0],
    "total": [662, 715, 756, 807, 864, 925],
}


@pytest.mark.parametrize("part", PRINTED_KN)
def test_resistance_table_is_the_printed_one(part: str) -> None:
    # 1 kN: half a unit of the last digit, and the paper's own rounding of intermediates.
    np.testing.assert_allclose(np.asarray(getattr(RESULT, part)) / 1e3, PRINTED_KN[part], atol=1.0, rtol=0)


def test_form_factor_is_the_printed_one() -> None:
    assert form_factor_1984(SHIP) == pytest.approx(1.297, abs=5e-4, rel=0)


def test_wetted_surface_is_the_printed_one() -> None:
    assert wetted_surface_holtrop(SHIP) == pytest.approx(584.9, abs=5e-2, rel=0)


def test_correlation_on_the_bare_hull_alone_would_miss_every_printed_total() -> None:
    """The usual slip of implementations: RA on S instead of S + SAPP."""
    missing = np.asarray(RESULT.correlation * RESULT.appendage_area / RESULT.total_wetted_surface)
    short = (np.asarray(RESULT.total) - missing) / 1e3 - PRINTED_KN["total"]
    assert np.all(short < -2.0)

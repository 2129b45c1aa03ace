"""Ocean Navigator, September 2011: a 31 ft sloop with a 7 kW motor at 48 V; 3.5 kW give 5 kn, 1 kW gives 3 kn."""

import math

import numpy as np
import pytest

from engine.constants import KNOT, NAUTICAL_MILE
from engine.machinery.range import fuel_per_distance

FAST, SLOW = (3.5e3, 5.0 * KNOT), (1.0e3, 3.0 * KNOT)
_KWH = 3.6e6


@pytest.mark.parametrize(("running", "kwh_per_mile"), [(FAST, 0.70), (SLOW, 0.33)])
def test_energy_per_mile(running: tuple[float, float], kwh_per_mile: float) -> None:
    """0.70 and 0.33 kWh a mile follow from the printed pairs, to two digits."""
    power, speed = running
    per_metre = float(np.asarray(fuel_per_distance(speed, power)))
    assert round(per_metre * NAUTICAL_MILE / _KWH, 2) == kwh_per_mile


def test_five_knots_cost_twice_as_much_a_mile_as_three() -> None:
    """2.1 times, which is power rising with speed to the 2.45; both follow from the printed pairs."""
    fast, slow = (float(np.asarray(fuel_per_distance(speed, power))) for power, speed in (FAST, SLOW))
    assert fast / slow == pytest.approx(2.1, abs=0.01)
    assert 1.0 + math.log(fast / slow) / math.log(5.0 / 3.0) == pytest.approx(2.45, abs=0.005)

"""The trade's quick method beside the polynomials: the handbook's pitch against the pitch that takes the power."""

import numpy as np
import pytest

from engine.constants import HORSEPOWER, KNOT, RPM, TWO_PI
from engine.propeller import handbook
from engine.propeller.equilibrium import bollard_point
from engine.propeller.roots import bracketed_root
from engine.propeller.series import SERIES

DENSITY = 1025.0
AREA = 0.50
ADVANCE_FRACTION = 3.8 / (8.6 * KNOT)
"""Speed of the water over the boat's, 0.859, that of the 60 kW boat; the others are given the same."""

# Horsepower at the propeller, shaft rpm, knots.
SMALL, MIDDLE, SIXTY_KILOWATTS = (25, 1500, 6.5), (50, 1200, 7.5), (80.46, 900, 8.6)


def pitch_ratio_that_takes_the_power(series, power, shaft_speed, diameter, advance_speed):
    wanted = power / (TWO_PI * DENSITY * shaft_speed**3 * diameter**5)
    J = advance_speed / (shaft_speed * diameter)
    low, high = (np.asarray(end) for end in series.pitch_ratio)

    def spare(pitch_ratio):
        return np.asarray(wanted - series.cubics(pitch_ratio, AREA, 3).torque_coefficient(J))

    return float(bracketed_root(spare, low, high, spare(low), spare(high)))


def pitch_over_the_series(name, horsepower, rpm, knots):
    """The handbook's pitch at the handbook's diameter over the series' pitch there."""
    power, n, V = horsepower * HORSEPOWER, rpm * RPM, knots * KNOT
    D = handbook.diameter(power, n)
    pitch = handbook.pitch_from_slip(V, n, handbook.slip(V))
    return pitch / D / pitch_ratio_that_takes_the_power(SERIES[name], power, n, D, ADVANCE_FRACTION * V)


@pytest.mark.parametrize("sample", [SMALL, MIDDLE, SIXTY_KILOWATTS])
def test_handbook_pitch_is_within_5_percent_of_gawn(sample):
    assert pitch_over_the_series("gawn", *sample) == pytest.approx(1.0, abs=0.05)


def test_handbook_pitch_of_60_kilowatts_is_within_5_percent_of_the_b_series():
    assert pitch_over_the_series("wageningen_b", *SIXTY_KILOWATTS) == pytest.approx(1.0, abs=0.05)


@pytest.mark.parametrize("sample", [SMALL, MIDDLE])
def test_small_fast_wheels_of_the_b_series_want_6_percent_more_pitch(sample):
    """The handbook is about flat-faced wheels, which take more torque at equal pitch."""
    assert pitch_over_the_series("wageningen_b", *sample) == pytest.approx(0.94, abs=0.01)


@pytest.mark.parametrize("sample", [SMALL, MIDDLE, SIXTY_KILOWATTS])
def test_the_b_series_asks_for_more_pitch_than_gawn(sample):
    assert pitch_over_the_series("wageningen_b", *sample) < pitch_over_the_series("gawn", *sample)


@pytest.mark.parametrize("name", ["gawn", "wageningen_b"])
def test_handbook_bollard_thrust_is_some_10_percent_below_the_series(name):
    """60 kW, 0.66 m, P/D 0.7: 8.85 kN beside 9.8 to 9.9."""
    thrust = bollard_point(SERIES[name].cubics(0.7, AREA, 3), 0.66, 60e3, DENSITY).thrust
    assert handbook.bollard_thrust(60e3, 0.66) / thrust == pytest.approx(0.90, abs=0.01)

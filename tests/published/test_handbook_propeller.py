"""The trade's quick method: D. Gerr (1989), "Propeller Handbook"."""

import numpy as np
import pytest

from engine.constants import HORSEPOWER, INCH, KNOT, RPM
from engine.propeller import handbook


def test_a_27_foot_cruiser_takes_a_14_inch_propeller():
    """A public page restating formula 5-3 with a number: 42 SHP at 2000 shaft rpm gives 14 in."""
    assert round(handbook.diameter(42 * HORSEPOWER, 2000 * RPM) / INCH) == 14


def test_the_metric_form_is_the_same_rule():
    """By conversion of units: D [m] = 17.04 kW^0.2 / RPM^0.6."""
    assert handbook.diameter(60e3, 15.0) == pytest.approx(17.04 * 60**0.2 / 900**0.6, rel=5e-4)


def test_more_blades_make_a_smaller_less_efficient_propeller():
    factors = [handbook.blade_factors(blades) for blades in (2, 3, 4)]
    assert [factor.diameter for factor in factors] == sorted([factor.diameter for factor in factors], reverse=True)
    assert factors[1].efficiency == 1.0
    with pytest.raises(ValueError, match="2, 3 or 4"):
        handbook.blade_factors(5)


@pytest.mark.parametrize(("blades", "expected"), [(2, (1.05, 1.01, 1.02)), (4, (0.94, 0.98, 0.96))])
def test_blade_factors_are_as_recalled_from_the_book(blades, expected):
    """On diameter, pitch and efficiency of three blades; not read in a copy."""
    found = handbook.blade_factors(blades)
    assert (found.diameter, found.pitch, found.efficiency) == expected


def test_slip_and_pitch_give_back_the_boat_speed():
    V, n = 7.5 * KNOT, 20.0
    S = handbook.slip(V)
    assert handbook.pitch_from_slip(V, n, S) * n * (1 - S) == pytest.approx(V, rel=1e-12)


def test_pitch_ratio_rises_with_speed_and_keeps_its_order():
    rule = handbook.pitch_ratio(np.array([6.0, 8.0, 10.0]) * KNOT)
    assert np.all(rule.low < rule.middle)
    assert np.all(rule.middle < rule.high)
    assert np.all(np.diff(rule.middle) > 0)


def test_twin_screws_may_be_smaller():
    assert handbook.minimum_diameter(3.2, 0.6, 2) == pytest.approx(0.8 * handbook.minimum_diameter(3.2, 0.6))
    # 4.07 sqrt(10 ft x 2 ft) = 18.20 in by the formula as remembered
    assert handbook.minimum_diameter(3.048, 0.6096) / INCH == pytest.approx(18.20, abs=0.005)


def test_half_speed_takes_a_sixth_of_the_power():
    assert handbook.absorbed_power(40e3, 0.5) == pytest.approx(40e3 * 0.5**2.7, rel=1e-12)

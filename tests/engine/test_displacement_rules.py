"""Behaviour of the handbook rules."""

import numpy as np
import pytest

from engine.constants import FOOT, GRAVITY, HORSEPOWER, KNOT, LONG_TON, POUND
from engine.hull import displacement_rules as rules


def test_speed_length_ratio_is_in_knots_and_feet() -> None:
    assert rules.speed_length_ratio(8.0 * KNOT, 64.0 * FOOT) == pytest.approx(1.0)


def test_wave_at_hull_speed_is_as_long_as_the_boat() -> None:
    # 1.34 is rounded: the exact constant is 1.3405 with standard gravity.
    lengths = np.array([7.0, 12.0, 25.0])
    np.testing.assert_allclose(rules.wave_length(rules.hull_speed(lengths)), lengths, rtol=2e-3)


def test_hull_speed_is_a_speed_length_ratio_of_1_34() -> None:
    assert rules.speed_length_ratio(rules.hull_speed(11.3), 11.3) == pytest.approx(1.34, rel=1e-12)


def test_displacement_length_ratio_of_one_hundred_feet_is_the_tonnage() -> None:
    assert rules.displacement_length_ratio(300.0 * LONG_TON, 100.0 * FOOT) == pytest.approx(300.0)


@pytest.mark.parametrize(("tons", "limit"), [(100.0, 1.9723), (400.0, 1.2816)])
def test_the_ratio_a_hull_reaches_falls_with_her_weight_as_formula_2_3_has_it(tons: float, limit: float) -> None:
    """Of 100 ft, so that long tons are the displacement-length ratio: 8.26/100^0.311 and 8.26/400^0.311, by hand."""
    found = rules.speed_length_ratio_limit_gerr(tons * LONG_TON, 100.0 * FOOT)
    assert found == pytest.approx(limit, abs=5.1e-5)


def test_504_pounds_per_horsepower_gives_hull_speed_by_gerr() -> None:
    # Gerr (1989): 504 lb per shaft horsepower at a speed-length ratio of 1.34; whole pounds.
    length = 36.0 * FOOT
    power = rules.shaft_power_gerr(504.0 * POUND, rules.hull_speed(length), length)
    assert power / HORSEPOWER == pytest.approx(1.0, abs=1e-3, rel=0)


def test_gerr_is_a_pure_cube_law_and_wyman_is_flatter() -> None:
    length, mass = 11.0, 9000.0
    gerr = rules.shaft_power_gerr(mass, 4.0, length) / rules.shaft_power_gerr(mass, 2.0, length)
    wyman = rules.shaft_power_wyman(mass, 4.0, length) / rules.shaft_power_wyman(mass, 2.0, length)
    assert gerr == pytest.approx(8.0)
    assert 4.0 < wyman < 8.0


@pytest.mark.parametrize("rule", [rules.shaft_power_wyman, rules.shaft_power_gerr])
def test_rules_broadcast_over_boats_and_speeds_and_start_at_zero(rule) -> None:
    masses = np.array([8000.0, 10000.0])[:, None]
    power = np.asarray(rule(masses, np.array([0.0, 2.0, 4.0]), 11.0))
    assert power.shape == (2, 3)
    assert np.all(power[:, 0] == 0.0)
    assert np.all(np.diff(power, axis=1) > 0.0)
    np.testing.assert_allclose(power[1] * 0.8, power[0])


def test_heavier_boats_have_a_lower_displacement_limit() -> None:
    limits = rules.speed_length_ratio_limit_gerr(np.array([5000.0, 10000.0, 20000.0]), 11.0)
    assert np.all(np.diff(limits) < 0.0)


def test_wave_length_grows_with_the_square_of_speed() -> None:
    assert rules.wave_length(2.0) == pytest.approx(2.0 * np.pi * 4.0 / GRAVITY)

"""Hull-propeller interaction of small craft."""

import numpy as np
import pytest

from engine.propeller.interaction import (
    ARRANGEMENTS,
    bollard_thrust_deduction,
    interaction,
    interaction_bands,
    wake_fraction_gerr,
    wake_fraction_taylor,
)

BLOCKS = np.linspace(0.35, 0.50, 7)


def test_taylor_and_gerr_span_the_usual_wake_of_small_craft():
    """For block 0.35 to 0.50 Taylor gives 0.125 to 0.20, Gerr 0.10 to 0.19, by their printed formulas."""
    assert wake_fraction_taylor(BLOCKS)[[0, -1]] == pytest.approx([0.125, 0.20], abs=1e-12)
    assert wake_fraction_gerr(BLOCKS)[[0, -1]] == pytest.approx([0.10, 0.19], abs=1e-12)
    assert wake_fraction_taylor(0.45, 2) == pytest.approx(0.0475, abs=1e-12)
    assert wake_fraction_gerr(0.45, 2) == pytest.approx(0.12, abs=1e-12)


@pytest.mark.parametrize("key", ARRANGEMENTS)
def test_bands_are_in_order_and_hold_the_central_value(key):
    bands = interaction_bands(key, BLOCKS)
    for band in (bands.wake_fraction, bands.thrust_deduction):
        assert np.all(np.asarray(band.low) < band.middle)
        assert np.all(np.asarray(band.middle) < band.high)
    central = interaction(key, BLOCKS)
    np.testing.assert_array_equal(central.wake_fraction, bands.wake_fraction.middle)
    assert central.outside == ()


def test_central_wake_is_the_mean_of_formulas_and_typical_values():
    formula = 0.5 * (0.5 * 0.42 - 0.05 + 0.6 * 0.42 - 0.11)
    assert interaction("aperture", 0.42).wake_fraction == pytest.approx(0.5 * (formula + 0.24), rel=1e-12)


@pytest.mark.parametrize(
    ("key", "wake", "deduction", "rotative"),
    [
        ("aperture", 0.1955, 0.187975, 1.0),
        ("long_keel", 0.1555, 0.1283125, 1.0),
        ("skeg", 0.1605, 0.12815, 1.0),
        ("strut", 0.1105, 0.07065, 1.0),
        ("twin_struts", 0.05975, 0.0618875, 0.98),
    ],
)
def test_central_values_of_every_arrangement_worked_out_by_hand(key, wake, deduction, rotative):
    """CB 0.42. One screw: Taylor 0.16, Gerr 0.142, mean 0.151; two: 0.031 and 0.108, mean 0.0695. Typical wakes, in the
    middle: 0.24, 0.16, 0.17, 0.07, 0.05; t/w 0.9, 0.75, 0.6, 0.6, 0.9; typical t 0.20, 0.14, 0.16, 0.075, 0.07."""
    found = interaction(key, 0.42)
    factors = (found.wake_fraction, found.thrust_deduction, found.relative_rotative_efficiency)
    assert factors == pytest.approx((wake, deduction, rotative), rel=1e-9)


def test_the_ends_of_the_bands_in_an_aperture_worked_out_by_hand():
    """Wake: half of 0.151 - 0.04 + 0.18, and of 0.151 + 0.04 + 0.30; deduction: half of 0.9 of it and 0.15, 0.25."""
    bands = interaction_bands("aperture", 0.42)
    wake, deduction = bands.wake_fraction, bands.thrust_deduction
    assert (wake.low, wake.high) == pytest.approx((0.1455, 0.2455), rel=1e-9)
    assert (deduction.low, deduction.high) == pytest.approx((0.140475, 0.235475), rel=1e-9)


def test_an_aperture_is_slower_water_than_a_strut():
    wakes = [interaction(key, 0.42).wake_fraction for key in ("aperture", "skeg", "strut", "twin_struts")]
    assert wakes == sorted(wakes, reverse=True)


def test_wake_below_zero_is_held_and_reported():
    result = interaction("twin_struts", np.array([0.05, 0.42]))
    assert result.wake_clamped.tolist() == [True, False]
    assert result.wake_fraction[0] == 0.0
    assert [record.quantity for record in result.outside] == ["block coefficient"]


def test_an_unknown_arrangement_is_refused_with_the_known_ones():
    with pytest.raises(ValueError, match="twin_struts"):
        interaction("jet", 0.42)


def test_hull_efficiency_is_the_ratio_of_the_two():
    result = interaction("skeg", 0.42)
    expected = (1 - result.thrust_deduction) / (1 - result.wake_fraction)
    assert result.hull_efficiency == pytest.approx(expected, rel=1e-12)


def test_every_arrangement_is_marked_from_memory():
    assert all("from memory" in arrangement.status for arrangement in ARRANGEMENTS.values())


def test_thrust_deduction_at_the_bollard_is_small():
    band = bollard_thrust_deduction()
    assert (band.low, band.high) == (0.04, 0.08)

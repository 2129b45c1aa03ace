"""A band is the middle and the two ends of what the fleet says."""

import math

import numpy as np
import pytest

from engine.bands import Band
from engine.quantiles import weighted_quantiles


def equal(count: int) -> np.ndarray:
    return np.full(count, 1.0 / count)


def test_median_of_an_odd_number_is_the_middle_one() -> None:
    assert weighted_quantiles([7.0, 1.0, 3.0], equal(3), (0.5,))[0] == pytest.approx(3.0, rel=1e-12)


def test_equal_weights_give_hazens_plotting_position() -> None:
    values = np.random.default_rng(1).normal(size=(101, 3, 2))
    shares = (0.1, 0.25, 0.5, 0.9)
    expected = np.quantile(values, shares, axis=0, method="hazen")
    np.testing.assert_allclose(weighted_quantiles(values, equal(101), shares), expected, rtol=1e-9)


def test_whole_weights_come_near_so_many_copies() -> None:
    generator = np.random.default_rng(2)
    values, copies = generator.normal(size=400), generator.integers(0, 5, 400)
    repeated = np.repeat(values, copies)
    found = weighted_quantiles(values, copies, (0.1, 0.5, 0.9))
    np.testing.assert_allclose(found, weighted_quantiles(repeated, equal(repeated.size), (0.1, 0.5, 0.9)), atol=0.02)


def test_what_has_no_weight_or_no_value_changes_nothing() -> None:
    values, weights = np.array([1.0, 2.0, 3.0, 4.0, 5.0]), np.array([1.0, 2.0, 3.0, 2.0, 1.0])
    more = np.append(values, [1e9, np.nan, -np.inf])
    shares = (0.1, 0.5, 0.9)
    expected = weighted_quantiles(values, weights, shares)
    np.testing.assert_allclose(
        weighted_quantiles(more, np.append(weights, [0.0, 0.5, 0.5]), shares), expected, rtol=1e-12
    )


def test_each_column_leaves_out_its_own() -> None:
    values = np.array([[1.0, np.nan], [2.0, 4.0], [3.0, 6.0]])
    np.testing.assert_allclose(weighted_quantiles(values, equal(3), (0.5,)), [[2.0, 5.0]], rtol=1e-12)


def test_unknown_below_half_of_the_weight_and_known_at_half() -> None:
    values = np.array([1.0, 2.0, np.nan, np.nan])
    assert weighted_quantiles(values, [1.0, 1.0, 1.0, 1.0], (0.5,))[0] == pytest.approx(1.5)
    assert np.isnan(weighted_quantiles(values, [1.0, 1.0, 1.0, 1.1], (0.5,))[0])
    assert np.isnan(weighted_quantiles(np.full(3, np.nan), equal(3), (0.1, 0.5))).all()


def test_quantiles_never_leave_the_values() -> None:
    np.testing.assert_array_equal(weighted_quantiles([2.0, 5.0], [1.0, 1.0], (0.0, 1.0)), [2.0, 5.0])
    assert weighted_quantiles([4.0], [0.3], (0.9,))[0] == 4.0


def test_weights_must_belong_to_the_rows() -> None:
    with pytest.raises(ValueError, match="one weight"):
        weighted_quantiles([1.0, 2.0], [1.0], (0.5,))


def test_band_in_another_unit_and_of_a_falling_function() -> None:
    band = Band(2.0, 1.0, 4.0)
    assert band.scaled(10.0) == Band(20.0, 10.0, 40.0)
    assert band.scaled(-1.0) == Band(-2.0, -4.0, -1.0)
    assert band.mapped(lambda value: 1.0 / value) == Band(0.5, 0.25, 1.0)
    assert band.mapped(math.sqrt) == Band(math.sqrt(2.0), 1.0, 2.0)


def test_a_band_with_a_gap_is_not_known() -> None:
    assert Band(2.0, 1.0, 4.0).is_known
    assert not Band(2.0, math.nan, 4.0).is_known
    assert not Band(2.0, 1.0, math.inf).is_known

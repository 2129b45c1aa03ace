"""The evenly spread points are those of the published sequence, and fill each unknown's range alike."""

import numpy as np
import pytest
from scipy.stats import norm, qmc

from engine.quasirandom import MOST_DIMENSIONS, normal_scores, sobol_points


@pytest.mark.parametrize("size", [1, 2, 64, 1024, 4096])
def test_points_are_the_unscrambled_sequence_half_a_cell_on(size: int) -> None:
    """A second copy of the table of Joe and Kuo (2008) and a second program give the same points, every dimension."""
    theirs = qmc.Sobol(MOST_DIMENSIONS, scramble=False).random(size)
    np.testing.assert_array_equal(sobol_points(size, MOST_DIMENSIONS), theirs + 0.5 / size)


def test_the_table_serves_enough_unknowns() -> None:
    assert MOST_DIMENSIONS >= 24


def test_each_cell_of_each_unknown_is_used_once() -> None:
    points = sobol_points(256, 24)
    middles = (np.arange(256) + 0.5) / 256
    for column in points.T:
        np.testing.assert_array_equal(np.sort(column), middles)


def test_fewer_unknowns_are_the_first_columns_of_more() -> None:
    np.testing.assert_array_equal(sobol_points(128, 5), sobol_points(128, 20)[:, :5])


def test_scores_are_normal_quantiles_of_the_points() -> None:
    np.testing.assert_allclose(normal_scores(512, 7), norm.ppf(sobol_points(512, 7)), rtol=1e-12, atol=1e-12)


def test_scores_have_mean_zero_spread_one_and_hardly_any_correlation() -> None:
    scores = normal_scores(1024, 24)
    np.testing.assert_allclose(scores.mean(axis=0), 0.0, atol=1e-12)
    np.testing.assert_allclose(scores.std(axis=0), 1.0, atol=3e-3)
    correlation = np.corrcoef(scores.T) - np.eye(24)
    assert np.abs(correlation).max() < 0.1


@pytest.mark.parametrize("size", [0, -4, 3, 1000])
def test_a_size_that_is_no_power_of_two_is_refused(size: int) -> None:
    with pytest.raises(ValueError, match="power of two"):
        sobol_points(size, 3)


@pytest.mark.parametrize("dimensions", [0, MOST_DIMENSIONS + 1])
def test_unknowns_beyond_the_table_are_refused(dimensions: int) -> None:
    with pytest.raises(ValueError, match="Sobol table"):
        normal_scores(8, dimensions)


def test_shared_arrays_cannot_be_changed() -> None:
    with pytest.raises(ValueError, match="read-only"):
        normal_scores(64, 3)[0, 0] = 1.0
    with pytest.raises(ValueError, match="read-only"):
        sobol_points(64, 3)[0, 0] = 1.0
    assert normal_scores(64, 3) is normal_scores(64, 3)

"""The fleet summarises, says what its doubt comes from, and learns from a log what can be learned."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from engine.conditioning import conditioned
from engine.fleet import Fleet, draw, levelled, thinned, variance_shares
from tests.how_thorough import some_by_day

Array = NDArray[np.float64]

READINGS, UNKNOWNS = 4, 20
FLEET = draw(1024, UNKNOWNS)
LOG_SPEED = np.log(np.linspace(4.0, 7.0, READINGS) / 5.5)


def directions() -> tuple[Array, Array]:
    """How ln(prediction) moves with the unknowns: 20 % in level, 8 % in slope."""
    generator = np.random.default_rng(3)
    level, slope = generator.normal(size=(2, UNKNOWNS))
    return 0.20 * level / np.linalg.norm(level), 0.08 * slope / np.linalg.norm(slope)


def straight(scores: Array) -> Array:
    level, slope = directions()
    return (scores @ level)[:, None] + (scores @ slope)[:, None] * LOG_SPEED


def bent(scores: Array) -> Array:
    return straight(scores) + 0.15 * np.expm1(2.0 * straight(scores))


def log_of(model: Callable[[Array], Array], truth: Array, errors: Array) -> Callable[[Array], Array]:
    observed = model(truth[None])[0] + errors
    return lambda scores: observed - model(scores)


TRUTH = np.random.default_rng(11).normal(size=UNKNOWNS)
ERRORS = 0.02 * np.array([0.9, -0.6, 0.3, -0.8])
DOUBT = np.full(READINGS, 0.02)


# Summaries


def test_a_fleet_drawn_is_alike_each_time_and_equally_likely() -> None:
    again = draw(1024, UNKNOWNS)
    np.testing.assert_array_equal(again.scores, FLEET.scores)
    assert again.size == 1024
    assert again.effective_size == pytest.approx(1024.0, rel=1e-12)


def test_band_of_a_score_is_that_of_the_normal_distribution() -> None:
    """Standard normal: 10th and 90th percentile 1.2816 from the middle."""
    band = FLEET.band(10.0 + FLEET.scores[:, 7])
    assert (band.best, band.low, band.high) == pytest.approx((10.0, 8.7184, 11.2816), abs=0.002)


def test_bands_and_median_go_column_by_column() -> None:
    values = FLEET.scores[:, :3] * np.array([1.0, 2.0, 3.0])
    best, low, high = FLEET.bands(values)
    for column in range(3):
        band = FLEET.band(values[:, column])
        assert (best[column], low[column], high[column]) == (band.best, band.low, band.high)
    np.testing.assert_array_equal(FLEET.median(values.reshape(1024, 3, 1))[:, 0], best)


def test_share_is_the_weight_where_it_holds() -> None:
    fleet = Fleet(np.zeros((3, 1)), np.array([0.2, 0.3, 0.5]))
    assert fleet.share(np.array([True, False, True])) == pytest.approx(0.7)
    assert fleet.share(np.array([1.0, np.nan, 2.0]) > 1.5) == pytest.approx(0.5)
    assert fleet.effective_size == pytest.approx(1.0 / 0.38)


def heavy() -> Fleet:
    """exp(z) as weight moves the middle of the first z from 0 to 1, and leaves its spread."""
    weights = np.exp(FLEET.scores[:, 0])
    return Fleet(FLEET.scores, weights / weights.sum())


def test_a_levelled_fleet_says_what_the_fleet_says() -> None:
    level = levelled(heavy())
    assert level.weights * 1024.0 == pytest.approx(np.bincount(drawn_of(level)))
    values = FLEET.scores[:, :6] @ np.diag([1.0, 2.0, 3.0, 4.0, 5.0, 6.0])
    again = level.scores[:, :6] @ np.diag([1.0, 2.0, 3.0, 4.0, 5.0, 6.0])
    for column in range(6):
        band, before = level.band(again[:, column]), heavy().band(values[:, column])
        width = before.high - before.low
        for end in ("best", "low", "high"):
            assert getattr(band, end) == pytest.approx(getattr(before, end), abs=0.04 * width)
    np.testing.assert_array_equal(levelled(FLEET).scores, FLEET.scores)


def drawn_of(fleet: Fleet) -> NDArray[np.intp]:
    assert fleet.drawn is not None
    return fleet.drawn


def test_boats_that_are_alike_are_one_row_that_counts_as_often_as_it_was_drawn() -> None:
    """All that is said of them is said as of so many boats, each by itself."""
    level = levelled(heavy())
    drawn = drawn_of(level)
    each = Fleet(level.scores[drawn], np.full(1024, 1.0 / 1024.0), level.worth)
    assert level.rows < level.size == each.rows == each.size == 1024
    assert level.effective_size == each.effective_size
    values = np.where(level.scores[:, 2:6] < -1.5, np.nan, level.scores[:, 1:5] * level.scores[:, 3:7])
    np.testing.assert_array_equal(level.bands(values), each.bands(values[drawn]))
    np.testing.assert_array_equal(level.median(values), each.median(values[drawn]))
    value = values[:, 0]
    assert level.band(value) == each.band(value[drawn])
    assert level.share(value > 0.3) == pytest.approx(each.share(value[drawn] > 0.3))
    np.testing.assert_allclose(variance_shares(level, value), variance_shares(each, value[drawn]), rtol=1e-9)
    for size in (16, 300, 900):
        np.testing.assert_array_equal(thinned(level, size).scores, thinned(each, size).scores)
        np.testing.assert_array_equal(thinned(level, size).weights, thinned(each, size).weights)
    assert thinned(level, 1024) is level


def test_boats_that_repeat_each_other_are_worth_no_more_than_those_they_stand_for() -> None:
    """Kish (1965) for weights exp(z) of a standard normal z: N / e."""
    assert heavy().effective_size == pytest.approx(1024.0 / np.e, rel=0.05)
    assert levelled(heavy()).effective_size == heavy().effective_size
    assert thinned(levelled(heavy()), 64).effective_size == pytest.approx(64.0)
    every = [tuple(range(8))]  # 24 terms: as many as boats worth 25 can tell nothing of
    plain = draw(64, 8)
    assert variance_shares(plain, plain.scores[:, 0], every) == pytest.approx(1.0)
    assert variance_shares(replace(plain, worth=25.0), plain.scores[:, 0], every) == 0.0


# What the doubt comes from


def test_shares_of_a_sum_are_the_squares_of_its_slopes() -> None:
    slopes = np.array([3.0, 2.0, 1.0, 0.5, *np.zeros(16)])
    shares = variance_shares(FLEET, 5.0 + FLEET.scores @ slopes)
    np.testing.assert_allclose(shares, slopes**2 / np.sum(slopes**2), atol=0.02)
    together = variance_shares(FLEET, FLEET.scores @ slopes, [(0, 1)])[0]
    assert together == pytest.approx(13.0 / 14.25, abs=0.02)


def test_what_unknowns_do_only_together_is_in_no_share() -> None:
    """y = x1 + x2^2 + x1 x3: variances 1, 2 and 1 of 4, so shares 1/4, 1/2 and 0."""
    x = draw(1024, 6).scores
    value = x[:, 0] + x[:, 1] ** 2 + x[:, 0] * x[:, 2]
    np.testing.assert_allclose(variance_shares(draw(1024, 6), value), [0.25, 0.5, 0, 0, 0, 0], atol=0.03)
    assert variance_shares(draw(1024, 6), value, [[0, 2]])[0] == pytest.approx(0.25, abs=0.03)


def test_shares_of_a_curve_beyond_the_third_degree_are_nearly_all_seen() -> None:
    """y = exp(x1/2) + x2/2: variances (e^(1/4) - 1) e^(1/4) = 0.3647 and 0.25."""
    x = draw(1024, 3).scores
    shares = variance_shares(draw(1024, 3), np.exp(0.5 * x[:, 0]) + 0.5 * x[:, 1])
    np.testing.assert_allclose(shares, [0.3647 / 0.6147, 0.25 / 0.6147, 0.0], atol=0.02)


def test_shares_of_a_weighted_fleet_are_those_of_the_distribution_it_stands_for() -> None:
    """Weights that make the first score normal with half the spread: variances 1/4 and 1."""
    weights = np.exp(-1.5 * FLEET.scores[:, 0] ** 2)
    fleet = Fleet(FLEET.scores, weights / weights.sum())
    shares = variance_shares(fleet, FLEET.scores[:, 0] + FLEET.scores[:, 1])
    np.testing.assert_allclose(shares[:2], [0.2, 0.8], atol=0.04)
    assert shares[2:].max() < 0.03


def test_no_variance_no_shares_and_gaps_do_not_count() -> None:
    np.testing.assert_array_equal(variance_shares(FLEET, np.full(1024, 0.1)), np.zeros(UNKNOWNS))
    np.testing.assert_array_equal(variance_shares(FLEET, np.full(1024, np.nan)), np.zeros(UNKNOWNS))
    values = np.where(np.arange(1024) % 7 == 0, np.nan, FLEET.scores[:, 4])
    assert variance_shares(FLEET, values)[4] == pytest.approx(1.0, abs=1e-6)
    assert variance_shares(FLEET, values, [()])[0] == 0.0


# What a log changes


def test_straight_readings_give_the_exact_answer() -> None:
    """Normal before, straight lines, normal errors: mean and covariance after the log are known in closed form."""
    level, slope = directions()
    lines = level + LOG_SPEED[:, None] * slope
    after = conditioned(FLEET, log_of(straight, TRUTH, ERRORS), DOUBT)
    covariance = np.linalg.inv(np.eye(UNKNOWNS) + lines.T @ lines / 0.02**2)
    mean = covariance @ lines.T @ (lines @ TRUTH + ERRORS) / 0.02**2
    for direction in (level, slope, np.eye(UNKNOWNS)[0], np.eye(UNKNOWNS)[9]):
        values = after.fleet.scores @ direction
        spread = np.sqrt(direction @ covariance @ direction)
        found = after.fleet.weights @ values
        assert found == pytest.approx(direction @ mean, abs=0.1 * spread)
        assert np.sqrt(after.fleet.weights @ (values - found) ** 2) == pytest.approx(spread, rel=0.08)
    assert after.effective_size > 300.0
    assert after.effective_size == after.fleet.effective_size
    assert after.tempering == 1.0
    assert not after.stray.any()


@pytest.mark.parametrize("row", range(READINGS))
@pytest.mark.parametrize("error", [-0.25, 0.25])
def test_a_stray_reading_is_named_and_does_not_move_the_answer(row: int, error: float) -> None:
    there = np.arange(READINGS) == row
    after = conditioned(FLEET, log_of(straight, TRUTH, ERRORS + error * there), DOUBT)
    np.testing.assert_array_equal(after.stray, there)
    without = conditioned(FLEET, lambda scores: log_of(straight, TRUTH, ERRORS)(scores)[:, ~there], DOUBT[~there])
    for column in (0, READINGS - 1):
        answer = after.fleet.band(straight(after.fleet.scores)[:, column])
        expected = without.fleet.band(straight(without.fleet.scores)[:, column])
        assert answer.best == pytest.approx(expected.best, abs=0.004)


def test_readings_that_contradict_each_other_are_not_used() -> None:
    errors = np.array([0.5, -0.5, 0.2, -0.25])
    after = conditioned(FLEET, log_of(straight, np.zeros(UNKNOWNS), errors), np.full(READINGS, 0.01))
    assert after.contradictory
    assert after.stray.all()
    assert after.fleet is FLEET


def test_a_reading_no_boat_can_have_made_is_left_out() -> None:
    def misfit(scores: Array) -> Array:
        found = log_of(straight, TRUTH, ERRORS)(scores)
        found[:, 2] = np.nan
        return found

    after = conditioned(FLEET, misfit, DOUBT)
    np.testing.assert_array_equal(after.stray, [False, False, True, False])
    assert after.effective_size > 300.0
    assert after.evidence == -np.inf


def test_boats_that_cannot_have_made_a_reading_have_no_weight() -> None:
    def misfit(scores: Array) -> Array:
        found = log_of(straight, np.zeros(UNKNOWNS), ERRORS)(scores)
        found[scores[:, 5] > 0.0] = np.nan
        return found

    after = conditioned(FLEET, misfit, DOUBT)
    assert not after.stray.any()
    assert after.fleet.share(after.fleet.scores[:, 5] > 0.0) == 0.0
    assert after.fleet.weights.sum() == pytest.approx(1.0)


def test_a_log_with_nothing_in_it_changes_nothing() -> None:
    after = conditioned(FLEET, lambda scores: np.zeros((scores.shape[0], 0)), np.zeros(0))
    assert after.fleet is FLEET
    assert not after.contradictory
    assert after.evidence == pytest.approx(0.0, abs=1e-12)


def test_a_log_too_sharp_for_the_fleet_is_blunted_and_says_so() -> None:
    """A misfit so wrinkled that no straight line finds where it is small: too few boats happen to be there."""
    after = conditioned(FLEET, lambda scores: 0.2 * np.sin(25.0 * scores[:, :1]), np.array([0.002]))
    assert not after.stray.any()
    assert 0.0 < after.tempering < 1.0
    assert after.effective_size >= 1024 / 20


def test_two_logs_cannot_be_laid_one_on_the_other() -> None:
    after = conditioned(FLEET, log_of(straight, TRUTH, ERRORS), DOUBT)
    with pytest.raises(ValueError, match="equally likely"):
        conditioned(after.fleet, log_of(straight, TRUTH, ERRORS), DOUBT)


def test_doubt_may_differ_from_boat_to_boat() -> None:
    log = log_of(straight, TRUTH, ERRORS)
    alike = conditioned(FLEET, log, DOUBT)
    each = conditioned(FLEET, log, np.tile(DOUBT, (1024, 1)))
    np.testing.assert_allclose(each.fleet.weights, alike.fleet.weights, atol=1e-9)


def test_the_same_log_gives_the_same_numbers() -> None:
    first, second = (conditioned(FLEET, log_of(bent, TRUTH, ERRORS), DOUBT) for _ in range(2))
    np.testing.assert_array_equal(first.fleet.scores, second.fleet.scores)
    np.testing.assert_array_equal(first.fleet.weights, second.fleet.weights)
    assert first.evidence == second.evidence


@pytest.mark.parametrize("model", some_by_day([bent, straight]))
def test_eight_in_ten_hidden_truths_lie_in_the_band(model: Callable[[Array], Array]) -> None:
    """200 boats with errors as doubted: 74 to 86 % is two standard deviations of such a count about 80 %."""
    generator = np.random.default_rng(17)
    inside = usable = 0
    for _ in range(200):
        truth = generator.normal(size=UNKNOWNS)
        after = conditioned(FLEET, log_of(model, truth, 0.02 * generator.normal(size=READINGS)), DOUBT)
        band = after.fleet.band(model(after.fleet.scores)[:, -1])
        inside += band.low <= model(truth[None])[0, -1] <= band.high
        usable += after.tempering == 1.0 and not after.contradictory
    assert 148 <= inside <= 172
    assert usable >= 190

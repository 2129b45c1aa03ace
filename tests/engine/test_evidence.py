"""A fault of the whole log is named when the readings say so together, and not otherwise."""

import numpy as np
import pytest

from engine.constants import KNOT
from engine.evidence import (
    STRAY_SHARE,
    STRAY_SPREAD,
    SteadyErrors,
    _Likelihood,
    log_evidence,
    robust_log_likelihood,
    steady_errors,
    stray_probability,
)
from engine.fleet import draw

BOATS = draw(512, 3)
SPEEDS = np.array([4.0, 5.0, 6.0, 7.0]) * KNOT
SLOPE = 1.2
CLEAN = np.array([0.008, -0.010, 0.004, -0.005])


def judged(true_misfit: np.ndarray, speeds: np.ndarray = SPEEDS, doubt: float = 0.015) -> SteadyErrors:
    """The verdict on readings off by so much, for boats that differ by 3 % in level and 2 % in slope."""
    level, tilt = 0.03 * BOATS.scores[:, :1], 0.02 * BOATS.scores[:, 1:2]
    misfit = true_misfit - level - tilt * np.log(speeds / (5.5 * KNOT))
    slope = np.full_like(misfit, SLOPE)
    return steady_errors(misfit, slope, speeds, np.full(speeds.size, doubt), BOATS.weights)


@pytest.mark.parametrize("factor", [0.80, 0.88, 1.12, 1.25])
def test_a_tachometer_that_reads_wrong_on_every_row_is_named(factor: float) -> None:
    found = judged(np.log(factor) + CLEAN)
    assert found.kind == "tachometer"
    assert found.size == pytest.approx(factor - 1.0, abs=0.03)
    assert found.factor > 20.0


@pytest.mark.parametrize(("factor", "larger"), [(0.5, True), (0.80, False), (1.25, False), (2.0, True)])
def test_a_fault_beyond_those_that_are_looked_at_may_be_larger_than_the_largest(factor: float, larger: bool) -> None:
    assert judged(np.log(factor) + CLEAN).may_be_larger is larger


@pytest.mark.parametrize("current_kn", [-1.0, 0.8])
def test_a_steady_current_is_named(current_kn: float) -> None:
    """The shaft turns for the speed through the water: logged speed less the current that helped."""
    found = judged(SLOPE * np.log(1.0 - current_kn * KNOT / SPEEDS) + CLEAN)
    assert found.kind == "current"
    assert found.size == pytest.approx(current_kn * KNOT, abs=0.15 * KNOT)
    assert not found.is_ambiguous


def test_a_clean_log_has_no_fault() -> None:
    found = judged(CLEAN)
    assert found.kind == "none"
    assert found.size == 0.0
    assert not found.is_ambiguous
    assert found.factor < 1.0


@pytest.mark.parametrize("row", range(4))
@pytest.mark.parametrize("error", [-0.3, -0.1, 0.1, 0.3])
def test_a_single_stray_row_is_no_fault_of_the_log(row: int, error: float) -> None:
    assert judged(CLEAN + error * (np.arange(4) == row)).kind == "none"


def test_one_reading_names_nothing() -> None:
    assert judged(np.array([0.3]), SPEEDS[:1]).kind == "none"


def test_two_readings_close_together_leave_it_open_which_fault() -> None:
    found = judged(np.log(1.2) + CLEAN[:2], np.array([5.4, 5.6]) * KNOT)
    assert found.kind != "none"
    assert found.is_ambiguous


def test_a_current_from_two_readings_is_never_certain() -> None:
    assert SteadyErrors("current", 0.4, 500.0, 30.0, 2).is_ambiguous
    assert not SteadyErrors("current", 0.4, 500.0, 30.0, 3).is_ambiguous


def test_a_log_no_boat_can_have_made_names_nothing() -> None:
    misfit = np.full((8, 3), np.nan)
    found = steady_errors(misfit, misfit, SPEEDS[:3], np.full(3, 0.02), np.full(8, 0.125))
    assert found.kind == "none"


def test_likelihood_is_a_density_and_nothing_where_the_boat_cannot_be() -> None:
    misfit = np.linspace(-3.0, 3.0, 60_001)
    density = np.exp(robust_log_likelihood(misfit, 0.02))
    assert np.trapezoid(density, misfit) == pytest.approx(1.0, abs=1e-6)
    assert robust_log_likelihood(np.array([np.nan]), 0.02)[0] == -np.inf


def test_the_evidence_of_many_logs_is_that_of_the_mixture() -> None:
    misfit = 0.3 * BOATS.scores[:, :3].T
    misfit[1, 7] = np.nan
    doubt = np.array([[0.02], [0.05], [0.1]])
    expected = log_evidence(robust_log_likelihood(misfit, doubt).sum(axis=0), BOATS.weights)
    likelihood = _Likelihood(doubt, misfit.shape)
    assert likelihood.evidence(misfit.copy(), BOATS.weights) == pytest.approx(float(expected), rel=1e-12)
    assert likelihood.evidence(np.full_like(misfit, np.nan), BOATS.weights) == -np.inf
    assert likelihood.evidence(np.full_like(misfit, 20.0), BOATS.weights) == -np.inf


def test_stray_probability_is_the_wide_parts_share() -> None:
    at_nothing = STRAY_SHARE / STRAY_SPREAD / (STRAY_SHARE / STRAY_SPREAD + (1.0 - STRAY_SHARE) / 0.02)
    assert stray_probability(np.array(0.0), 0.02) == pytest.approx(at_nothing, rel=1e-12)
    assert stray_probability(np.array([0.02, -0.4]), 0.02) == pytest.approx([0.0, 1.0], abs=0.02)


def test_a_doubt_of_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="doubt"):
        robust_log_likelihood(np.zeros(2), np.array([0.02, 0.0]))


def test_evidence_is_the_mean_even_where_numbers_would_run_out() -> None:
    logs = np.array([-2000.0, -2000.0 + np.log(3.0), -np.inf, -np.inf])
    assert log_evidence(logs, np.full(4, 0.25)) == pytest.approx(-2000.0, abs=1e-9)
    assert log_evidence(np.full(4, -np.inf), np.full(4, 0.25)) == -np.inf

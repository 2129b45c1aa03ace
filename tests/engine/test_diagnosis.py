"""Evidence for one fault or another, on boats whose answers are written down here."""

import numpy as np
import pytest

from engine.diagnosis import NOTHING, Diagnosis, Fault, diagnose
from engine.fleet import draw, thinned
from engine.numeric import Array

BOATS = 64
OFF = np.linspace(-0.05, 0.05, BOATS)
EVEN = np.full(BOATS, 1.0 / BOATS)
DOUBT = np.array([0.01, 0.01])


def sound() -> Array:
    """Two traces that differ from boat to boat by the same share."""
    return np.column_stack([OFF, OFF])


def faults() -> dict[str, Fault]:
    """One moves the first trace, the other both, in the logarithm as much as its size."""
    sizes = np.array([0.8, 1.0, 1.25])
    first, both = (
        Fault(sizes, np.stack([sound() + np.log(size) * np.array(way) for size in sizes]))
        for way in ((1.0, 0.0), (1.0, 1.0))
    )
    return {"first": first, "both": both}


def found(*observed: float) -> Diagnosis:
    return diagnose(np.array(observed), sound(), faults(), DOUBT, EVEN)


def test_a_fault_is_known_by_its_trace_and_its_size() -> None:
    one = found(0.15, 0.0)
    assert one.leader.cause == "first"
    assert one.is_clear
    assert one.leader.size == pytest.approx(np.expm1(0.15), abs=0.02)
    assert found(0.2, 0.2).leader.cause == "both"
    assert found(-0.15, 0.0).leader.size == pytest.approx(np.expm1(-0.15), abs=0.02)


def test_a_fault_as_large_as_was_looked_for_may_be_larger() -> None:
    assert not found(0.15, 0.0).leader.is_at_end
    for observed, end in ((0.25, 1.25), (-0.25, 0.8)):
        leader = found(observed, 0.0).leader
        assert (leader.cause, leader.is_at_end) == ("first", True)
        assert leader.size == pytest.approx(end - 1.0)


def test_what_the_boats_allow_is_no_fault() -> None:
    assert found(0.0, 0.0).leader.cause == NOTHING
    assert found(0.03, 0.03).leader.cause == NOTHING


def test_shares_make_a_whole_and_the_likeliest_is_first() -> None:
    shares = [suspect.share for suspect in found(0.04, 0.0).suspects]
    assert sum(shares) == pytest.approx(1.0)
    assert shares == sorted(shares, reverse=True)


def test_what_no_boat_can_do_is_told_of_none() -> None:
    never = diagnose(np.zeros(2), np.full((BOATS, 2), np.nan), faults(), DOUBT, EVEN)
    assert never.leader.cause != NOTHING
    every = found(np.nan, 0.0)
    assert [suspect.share for suspect in every.suspects] == pytest.approx([1.0 / 3.0] * 3)
    assert not every.is_clear


def test_a_fault_between_its_sizes_lies_between_their_traces() -> None:
    fault = faults()["both"]
    assert fault.at(np.log(fault.sizes)) == pytest.approx(fault.traces)
    middle = fault.at(np.array([0.5 * np.log(1.25)]))[0]
    assert middle == pytest.approx(0.5 * (fault.traces[1] + fault.traces[2]))


def test_a_thinned_fleet_says_what_the_fleet_says() -> None:
    fleet = draw(1024, 5)
    weights = np.exp(fleet.scores[:, 0])
    heavy = type(fleet)(fleet.scores, weights / weights.sum())
    few = thinned(heavy, 256)
    assert few.size == 256
    assert few.weights == pytest.approx(1.0 / 256.0)
    for column in range(5):  # exp(z) as weight moves the middle of z from 0 to 1, and leaves the others
        assert few.band(few.scores[:, column]).best == pytest.approx(1.0 if column == 0 else 0.0, abs=0.2)
    assert thinned(fleet, 4096) is fleet

"""Propeller against engine: light running, and the pitch that absorbs a power."""

import time

import numpy as np
import pytest

from engine.propeller.at_power import point_at_power
from engine.propeller.equilibrium import boat_speed_at_shaft_speed
from engine.propeller.hull_curve import HullCurve
from engine.propeller.matching import (
    Limit,
    PitchFound,
    light_running_margin,
    pitch_ratio_to_absorb,
    value_at_first_fall,
)
from engine.propeller.wageningen import WAGENINGEN_B

RHO = 1025.0
SPEEDS = np.linspace(0.0, 5.5, 60)
# an invented 9 t launch: thrust rising steeply past hull speed
HULL = HullCurve(SPEEDS, 60.0 * SPEEDS**2 + 2.2 * SPEEDS**5, 0.84, 1.0, RHO)
RATED_POWER, RATED_SPEED = 38e3, 17.3


def crossing(pitch_ratio, power=RATED_POWER):
    """Shaft speed at which the propeller takes a power."""
    return point_at_power(WAGENINGEN_B.cubics(pitch_ratio, 0.55, 3), 0.55, power, HULL).point.shaft_speed


def test_every_limit_has_words():
    assert len({limit.words for limit in Limit}) == 3
    assert len({answer.words for answer in PitchFound}) == 4


def test_the_pitch_found_takes_exactly_the_power_and_runs_with_no_margin():
    match = pitch_ratio_to_absorb(
        WAGENINGEN_B.family(0.55, 3), WAGENINGEN_B.pitch_ratio_grid(0.01), 0.55, RATED_POWER, RATED_SPEED, HULL
    )
    assert match.found == PitchFound.YES
    assert isinstance(match.pitch_ratio, float)
    assert match.delivered_power == pytest.approx(RATED_POWER, rel=1e-9)
    assert light_running_margin(crossing(match.pitch_ratio), RATED_SPEED) == pytest.approx(0.0, abs=1e-6)


def test_pitching_for_a_higher_speed_leaves_a_light_running_margin():
    match = pitch_ratio_to_absorb(
        WAGENINGEN_B.family(0.55, 3), WAGENINGEN_B.pitch_ratio_grid(0.01), 0.55, RATED_POWER, 1.04 * RATED_SPEED, HULL
    )
    assert light_running_margin(crossing(match.pitch_ratio), RATED_SPEED) == pytest.approx(0.04, abs=1e-6)


def test_what_is_spare_falls_to_nothing_on_the_line_between_two_speeds():
    speeds = np.array([2.0, 3.0, 5.0])
    spare = np.array([[2.0, 1.0, -3.0], [1.0, -1.0, -2.0], [1.0, 2.0, 3.0], [1.0, 0.0, -1.0]])
    np.testing.assert_allclose(value_at_first_fall(speeds, spare), [3.5, 2.5, np.nan, 3.0], rtol=1e-12)
    shifted = speeds + np.arange(4.0)[:, None]
    np.testing.assert_allclose(value_at_first_fall(shifted, spare), [3.5, 3.5, np.nan, 6.0], rtol=1e-12)


def test_rated_power_beyond_the_grid_is_not_crossed():
    assert np.isnan(crossing(0.75, 1e7))


def brute_force_pitch_ratio(diameter):
    """Halve the pitch ratio, and for each halve the boat speed, in plain scalar arithmetic."""

    def power_at(pitch_ratio):
        open_water = WAGENINGEN_B.cubics(pitch_ratio, 0.55, 3)
        low, high = 0.0, 5.5
        for _ in range(60):
            V = 0.5 * (low + high)
            J = 0.84 * V / (RATED_SPEED * diameter)
            thrust = open_water.thrust_coefficient(J) * RHO * RATED_SPEED**2 * diameter**4
            low, high = (V, high) if thrust > np.interp(V, SPEEDS, HULL.thrust) else (low, V)
        KQ = open_water.torque_coefficient(J)
        return 2 * np.pi * RATED_SPEED * KQ * RHO * RATED_SPEED**2 * diameter**5

    low, high = 0.5, 1.4
    for _ in range(45):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if power_at(middle) < RATED_POWER else (low, middle)
    return middle


def test_pitch_agrees_with_brute_force():
    diameters = np.array([0.50, 0.55, 0.60])
    match = pitch_ratio_to_absorb(
        WAGENINGEN_B.family(0.55, 3), WAGENINGEN_B.pitch_ratio_grid(0.01), diameters, RATED_POWER, RATED_SPEED, HULL
    )
    expected = [brute_force_pitch_ratio(diameter) for diameter in diameters]
    np.testing.assert_allclose(match.pitch_ratio, expected, rtol=1e-9)


def test_where_no_pitch_suits_the_reason_is_given():
    match = pitch_ratio_to_absorb(
        WAGENINGEN_B.family(0.55, 3),
        WAGENINGEN_B.pitch_ratio_grid(0.01),
        np.array([0.3, 0.55, 0.72]),
        RATED_POWER,
        RATED_SPEED,
        HULL,
    )
    assert [PitchFound(value) for value in match.found] == [
        PitchFound.COARSEST_ABSORBS_LESS,
        PitchFound.YES,
        PitchFound.FINEST_ABSORBS_MORE,
    ]
    assert np.isnan(match.pitch_ratio).tolist() == [True, False, True]
    assert np.isnan(match.boat_speed).tolist() == [True, False, True]


def test_a_short_resistance_curve_is_given_as_the_reason():
    short = HullCurve(SPEEDS[:25], HULL.thrust[:25], 0.84, 1.0, RHO)
    match = pitch_ratio_to_absorb(
        WAGENINGEN_B.family(0.55, 3), WAGENINGEN_B.pitch_ratio_grid(0.01), 0.55, RATED_POWER, RATED_SPEED, short
    )
    assert match.found == PitchFound.OUTSIDE_SPEEDS


def test_a_curve_that_ends_short_of_the_pitch_alone_is_given_as_the_reason_too():
    """With finer pitches than the answer the boat stays on the curve, and takes too little."""
    family, grid = WAGENINGEN_B.family(0.55, 3), WAGENINGEN_B.pitch_ratio_grid(0.01)
    whole = pitch_ratio_to_absorb(family, grid, 0.55, RATED_POWER, RATED_SPEED, HULL)
    last = int(np.searchsorted(SPEEDS, whole.boat_speed))
    short = HullCurve(SPEEDS[:last], HULL.thrust[:last], 0.84, 1.0, RHO)
    match = pitch_ratio_to_absorb(family, grid, 0.55, RATED_POWER, RATED_SPEED, short)
    finest = boat_speed_at_shaft_speed(family.at(grid[1]), 0.55, RATED_SPEED, short)
    assert finest.point.delivered_power < RATED_POWER
    assert match.found == PitchFound.OUTSIDE_SPEEDS


def test_a_larger_diameter_takes_a_finer_pitch_and_works_better_up_to_its_best():
    match = pitch_ratio_to_absorb(
        WAGENINGEN_B.family(0.55, 3),
        WAGENINGEN_B.pitch_ratio_grid(0.01),
        np.array([0.48, 0.52, 0.56]),
        RATED_POWER,
        RATED_SPEED,
        HULL,
    )
    assert np.all(np.diff(match.pitch_ratio) < 0)
    assert np.all(np.diff(match.efficiency) > 0)


def test_boats_and_diameters_broadcast():
    boats = HullCurve(SPEEDS, HULL.thrust * np.array([0.9, 1.1])[:, None, None], 0.84, 1.0, RHO)
    match = pitch_ratio_to_absorb(
        WAGENINGEN_B.family(0.55, 3),
        WAGENINGEN_B.pitch_ratio_grid(0.01),
        np.array([0.52, 0.55]),
        RATED_POWER,
        RATED_SPEED,
        boats,
    )
    assert match.pitch_ratio.shape == (2, 2)
    assert np.all(match.boat_speed[0] > match.boat_speed[1])
    assert np.all(match.pitch_ratio[0] > match.pitch_ratio[1])


def test_thirty_diameters_by_ninety_pitches_by_sixty_speeds_are_one_call(capsys):
    """The time is printed, not judged; the answer is checked at its ends against single calls."""
    diameters = np.linspace(0.47, 0.60, 30)
    start = time.perf_counter()
    match = pitch_ratio_to_absorb(
        WAGENINGEN_B.family(0.55, 3), WAGENINGEN_B.pitch_ratio_grid(0.01), diameters, RATED_POWER, RATED_SPEED, HULL
    )
    elapsed = time.perf_counter() - start
    with capsys.disabled():
        print(f" pitch search {1e3 * elapsed:.0f} ms")
    for place in (0, -1):
        alone = pitch_ratio_to_absorb(
            WAGENINGEN_B.family(0.55, 3),
            WAGENINGEN_B.pitch_ratio_grid(0.01),
            diameters[place],
            RATED_POWER,
            RATED_SPEED,
            HULL,
        )
        assert match.pitch_ratio[place] == pytest.approx(alone.pitch_ratio, rel=1e-9)

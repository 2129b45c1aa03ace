"""Behaviour of added resistance in waves, and one example worked by hand."""

from dataclasses import replace

import numpy as np
import pytest

from engine.hull.form import HullForm
from engine.hull.waves import (
    kreitner_outside,
    kreitner_resistance,
    stawave1_highest_wave,
    stawave1_outside,
    stawave1_resistance,
    usual_bow_length,
)
from engine.water import water

SEA = water("sea", 15.0)
BOAT = HullForm(
    waterline_length=11.0,
    waterline_beam=3.5,
    draft=0.9,
    volume=0.45 * 11.0 * 3.5 * 0.9,
    midship_coefficient=0.75,
    waterplane_coefficient=0.72,
    lcb_percent=-2.5,
)


class TestComputedIndependently:
    """11 m, beam 3.5 m, CB 0.45, bow length 4.5 m, waves of 0.5 m: 485 N and 800 N."""

    def test_stawave_1(self) -> None:
        # Whole newtons, and a thousandth for the density of the water.
        assert stawave1_resistance(BOAT, 0.5, 4.5, SEA) == pytest.approx(485.0, abs=1.0)

    def test_kreitner(self) -> None:
        # Quoted to the nearest ten or hundred newtons.
        assert kreitner_resistance(BOAT, 0.5, SEA) == pytest.approx(800.0, rel=0.01)


class TestWaves:
    def test_twice_the_height_is_four_times_the_resistance(self) -> None:
        heights = np.array([0.0, 0.3, 0.6])
        for resistance in (stawave1_resistance(BOAT, heights, 4.5, SEA), kreitner_resistance(BOAT, heights, SEA)):
            assert resistance[0] == 0.0
            assert resistance[2] == pytest.approx(4.0 * resistance[1])

    def test_a_finer_bow_and_fresh_water_take_less(self) -> None:
        assert stawave1_resistance(BOAT, 0.5, 5.0, SEA) < stawave1_resistance(BOAT, 0.5, 4.0, SEA)
        fresh = kreitner_resistance(BOAT, 0.5, water("fresh", 15.0)) / kreitner_resistance(BOAT, 0.5, SEA)
        assert fresh == pytest.approx(999.1 / 1026.0, abs=1e-4)

    def test_the_usual_bow_of_an_11_metre_boat_is_four_and_a_half_metres_long(self) -> None:
        assert usual_bow_length(BOAT) == pytest.approx(4.5, abs=0.05)

    def test_stawave_1_holds_up_to_three_quarters_of_a_metre_for_11_metres(self) -> None:
        assert stawave1_highest_wave(11.0) == pytest.approx(0.75, abs=0.005)
        assert stawave1_outside(BOAT, 0.74) == ()
        (record,) = stawave1_outside(BOAT, np.array([0.5, 0.76]))
        np.testing.assert_array_equal(record.where, [False, True])
        assert "0.75 m" in record.sentence()

    def test_kreitner_holds_up_to_one_and_a_half_metres(self) -> None:
        assert kreitner_outside(1.5) == ()
        (record,) = kreitner_outside(1.6)
        assert "1.5 to 2 m" in record.sentence()

    def test_a_fleet_and_wave_heights_broadcast(self) -> None:
        fleet = replace(BOAT, waterline_length=np.array([[11.0], [12.0]]))
        heights = np.array([0.2, 0.4, 0.8])
        assert np.shape(stawave1_resistance(fleet, heights, usual_bow_length(fleet), SEA)) == (2, 3)
        assert np.shape(kreitner_resistance(fleet, heights, SEA)) == (2, 3)
        (record,) = stawave1_outside(fleet, heights)
        np.testing.assert_array_equal(record.where, [[False, False, True], [False, False, True]])

    def test_impossible_waves_and_bows_are_refused(self) -> None:
        with pytest.raises(ValueError, match="wave height"):
            kreitner_resistance(BOAT, -0.1, SEA)
        with pytest.raises(ValueError, match="bow length"):
            stawave1_resistance(BOAT, 0.5, 0.0, SEA)

"""Behaviour of range, reserve, best speed, legs and tanks."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.constants import KNOT, NAUTICAL_MILE
from engine.machinery.range import (
    RESERVES,
    best_range_speed,
    cruising_range,
    endurance,
    fastest_speed_for_leg,
    fuel_per_distance,
    usable_fuel,
)
from engine.machinery.tanks import box_volume, horizontal_cylinder_volume, tapered_volume, wedge_volume

SPEEDS = np.linspace(2.0, 8.0, 25) * KNOT
RATES = 1e-5 * (SPEEDS / KNOT) ** 3 + 5e-5


class TestRange:
    @given(st.floats(-2.0, 2.0), st.floats(0.01, 1.0))
    def test_range_falls_as_head_current_rises(self, current: float, more: float) -> None:
        calm, harder = (cruising_range(300.0, 3.5, 1.5e-3, head_current=c) for c in (current, current + more))
        assert harder < calm

    def test_range_is_time_by_speed_over_ground(self) -> None:
        time = endurance(300.0, 1.5e-3, hotel_rate=0.5e-3, reserve=0.2)
        assert time == pytest.approx(300.0 * 0.8 / 2e-3)
        reach = cruising_range(300.0, 3.5, 1.5e-3, hotel_rate=0.5e-3, reserve=0.2, head_current=0.5)
        assert reach == pytest.approx(3.0 * np.asarray(time))

    def test_against_a_current_as_fast_as_she_is_she_gets_nowhere(self) -> None:
        assert cruising_range(300.0, 2.0, 1e-3, head_current=2.5) == 0.0
        assert fuel_per_distance(2.0, 1e-3, head_current=2.0) == np.inf

    def test_range_and_fuel_per_mile_agree(self) -> None:
        per_metre = fuel_per_distance(SPEEDS, RATES, hotel_rate=1e-4, head_current=0.3)
        reach = cruising_range(200.0, SPEEDS, RATES, hotel_rate=1e-4, head_current=0.3)
        assert np.asarray(per_metre) * np.asarray(reach) == pytest.approx(np.full(SPEEDS.shape, 200.0), rel=1e-9)

    def test_a_reserve_of_thirds_leaves_a_third(self) -> None:
        thirds = RESERVES["thirds"].fraction
        assert thirds == pytest.approx(1.0 / 3.0, rel=1e-15)
        full, kept = (cruising_range(300.0, 3.5, 1.5e-3, reserve=r) for r in (0.0, thirds))
        assert np.asarray(kept) / np.asarray(full) == pytest.approx(2.0 / 3.0)

    def test_usable_fuel_leaves_a_tenth_behind_by_default(self) -> None:
        assert usable_fuel(0.4, 840.0) == pytest.approx(302.4)

    @pytest.mark.parametrize(
        ("changes", "named"),
        [
            ({"rate": 0.0}, "rate"),
            ({"fuel": -1.0}, "fuel"),
            ({"reserve": 1.2}, "reserve"),
            ({"reserve": np.array([0.2, 1.2])}, "reserve"),
        ],
    )
    def test_impossible_arguments_are_refused_by_name(self, changes: dict[str, object], named: str) -> None:
        with pytest.raises(ValueError, match=named):
            endurance(**{"fuel": 300.0, "rate": 1e-3, **changes})


class TestBestSpeed:
    @pytest.mark.parametrize(("exponent", "hotel"), [(2, 2e-4), (3, 2e-4), (4, 2e-4)])
    def test_hotel_load_sets_the_slowest_sensible_speed(self, exponent: int, hotel: float) -> None:
        # With rate k V^n and hotel H the least lies at (H/(k (n-1)))^(1/n), by calculus.
        speeds = np.linspace(0.5, 6.0, 111)
        k = 1e-5
        best = best_range_speed(speeds, k * speeds**exponent, hotel_rate=hotel)
        assert best.speed == pytest.approx((hotel / (k * (exponent - 1))) ** (1.0 / exponent), rel=2e-3)
        assert best.at_edge is False

    def test_of_a_curve_that_is_a_parabola_it_finds_the_very_bottom(self) -> None:
        """Fuel per distance 2e-4 + 5e-5 (V - 3.1)^2, on speeds unevenly apart."""
        speeds = np.array([1.0, 2.2, 2.9, 4.0, 4.5, 6.0])
        best = best_range_speed(speeds, speeds * (2e-4 + 5e-5 * (speeds - 3.1) ** 2))
        assert best.speed == pytest.approx(3.1, rel=1e-9)
        assert best.fuel_per_distance == pytest.approx(2e-4, rel=1e-9)

    def test_a_bottom_beside_the_last_point_is_found_as_well(self) -> None:
        """Hotel 250 k against k V^3: V^3 = 250/2 gives 5 m/s, by the calculus; the parabola is out by 0.3 %."""
        speeds = np.array([3.5, 4.0, 4.6, 4.95, 5.3])
        best = best_range_speed(speeds, 1e-6 * speeds**3, hotel_rate=250e-6)
        assert best.speed == pytest.approx(5.0, rel=3e-3)
        assert best.at_edge is False

    def test_a_head_current_calls_for_more_speed(self) -> None:
        best = best_range_speed(SPEEDS, RATES, hotel_rate=3e-4, head_current=np.array([0.0, 0.5, 1.0, 1.5]))
        assert np.all(np.diff(best.speed) > 0.0)
        assert np.all(np.diff(best.fuel_per_distance) > 0.0)

    def test_without_hotel_or_current_the_least_lies_at_the_edge_and_it_says_so(self) -> None:
        best = best_range_speed(SPEEDS, 1e-5 * SPEEDS**3)
        assert best.speed == pytest.approx(SPEEDS[0])
        assert best.at_edge is True

    def test_where_a_great_hotel_load_calls_for_all_her_speed_the_edge_is_told_too(self) -> None:
        best = best_range_speed(SPEEDS, RATES, hotel_rate=1.0)
        assert best.speed == pytest.approx(SPEEDS[-1])
        assert best.fuel_per_distance == pytest.approx((RATES[-1] + 1.0) / SPEEDS[-1])
        assert best.at_edge is True

    def test_where_no_speed_makes_way_there_is_no_best_speed(self) -> None:
        best = best_range_speed(SPEEDS, RATES, head_current=np.array([0.0, 20.0]))
        assert list(np.isnan(best.speed)) == [False, True]
        assert best.fuel_per_distance[1] == np.inf  # type: ignore[index]

    def test_a_fleet_each_gets_its_own(self) -> None:
        rates = RATES * np.linspace(0.8, 1.2, 6)[:, None]
        best = best_range_speed(SPEEDS, rates, hotel_rate=1e-4)
        assert np.shape(best.speed) == (6,)
        one = best_range_speed(SPEEDS, rates[2], hotel_rate=1e-4)
        assert np.asarray(best.speed)[2] == pytest.approx(one.speed)

    def test_a_missing_boat_has_no_best_speed(self) -> None:
        rates = np.stack([RATES, np.full(RATES.shape, np.nan)])
        best = best_range_speed(SPEEDS, rates)
        assert list(np.isnan(best.speed)) == [False, True]

    def test_speeds_must_rise(self) -> None:
        for speeds in (SPEEDS[::-1], SPEEDS[:2]):
            with pytest.raises(ValueError, match="speeds"):
                best_range_speed(speeds, RATES[: speeds.size])


class TestLeg:
    def test_the_speed_found_uses_the_fuel_up_to_the_reserve(self) -> None:
        distance = 150 * NAUTICAL_MILE
        speed = fastest_speed_for_leg(SPEEDS, RATES, distance, 100.0, head_current=0.5, reserve=0.2)
        rate = np.interp(speed, SPEEDS, RATES)
        reach = cruising_range(100.0, speed, float(rate), head_current=0.5, reserve=0.2)
        assert reach == pytest.approx(distance, rel=5e-3)  # straight lines between points of a curve

    def test_a_short_leg_may_be_run_flat_out_and_a_far_one_not_at_all(self) -> None:
        distance = np.array([5.0, 5000.0]) * NAUTICAL_MILE
        speed = np.asarray(fastest_speed_for_leg(SPEEDS, RATES, distance, 100.0))
        assert speed[0] == pytest.approx(SPEEDS[-1])
        assert np.isnan(speed[1])

    def test_a_longer_leg_is_never_run_faster(self) -> None:
        distance = np.linspace(50.0, 400.0, 30) * NAUTICAL_MILE
        speed = np.asarray(fastest_speed_for_leg(SPEEDS, RATES, distance, 100.0))
        known = speed[np.isfinite(speed)]
        assert known.size > 5
        assert np.all(np.diff(known) <= 1e-12)

    def test_a_fleet_by_one_leg(self) -> None:
        rates = RATES * np.linspace(0.8, 1.2, 6)[:, None]
        speed = np.asarray(fastest_speed_for_leg(SPEEDS, rates, 150 * NAUTICAL_MILE, 100.0))
        assert speed.shape == (6,)
        assert np.all(np.diff(speed) <= 0.0)


class TestTanks:
    def test_full_tanks_hold_their_whole_volume(self) -> None:
        assert box_volume(1.0, 0.5, 0.4) == pytest.approx(0.2)
        assert wedge_volume(0.2, 0.4, 0.4) == pytest.approx(0.2)
        assert tapered_volume(1.0, 0.2, 0.6, 0.5, 0.5) == pytest.approx(1.0 * 0.5 * 0.4)
        assert horizontal_cylinder_volume(1.2, 0.3, 0.6) == pytest.approx(np.pi * 0.09 * 1.2)

    def test_half_a_lying_cylinder_is_half_full_and_half_a_wedge_a_quarter(self) -> None:
        assert horizontal_cylinder_volume(1.2, 0.3, 0.3) == pytest.approx(0.5 * np.pi * 0.09 * 1.2)
        assert wedge_volume(0.2, 0.2, 0.4) == pytest.approx(0.05)

    def test_a_tapered_tank_with_straight_sides_is_a_box_and_with_a_point_a_wedge(self) -> None:
        assert tapered_volume(1.0, 0.5, 0.5, 0.3, 0.6) == pytest.approx(np.asarray(box_volume(1.0, 0.5, 0.3)))
        full = tapered_volume(1.0, 0.0, 0.5, 0.6, 0.6)
        assert tapered_volume(1.0, 0.0, 0.5, 0.2, 0.6) == pytest.approx(np.asarray(wedge_volume(full, 0.2, 0.6)))

    def test_empty_tanks_are_empty(self) -> None:
        empty = [
            box_volume(1.0, 0.5, 0.0),
            wedge_volume(0.2, 0.0, 0.4),
            tapered_volume(1.0, 0.2, 0.6, 0.0, 0.5),
            horizontal_cylinder_volume(1.2, 0.3, 0.0),
        ]
        assert empty == pytest.approx([0.0] * 4)

    def test_a_reading_deeper_than_the_tank_is_refused(self) -> None:
        with pytest.raises(ValueError, match="depth"):
            wedge_volume(0.2, 0.5, 0.4)
        with pytest.raises(ValueError, match="depth"):
            tapered_volume(1.0, 0.2, 0.6, 0.6, 0.5)
        with pytest.raises(ValueError, match="depth"):
            horizontal_cylinder_volume(1.2, 0.3, 0.7)

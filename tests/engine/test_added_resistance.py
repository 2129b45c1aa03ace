"""Behaviour of wind, fouling, shallow water and sea margin."""

from dataclasses import replace

import numpy as np
import pytest

from engine.constants import GRAVITY, KNOT
from engine.hull.added_resistance import SEA_MARGINS, UPPERWORKS, air_resistance
from engine.hull.form import HullForm
from engine.hull.roughness import (
    FOULING_CLASSES,
    fouling_allowance,
    fouling_resistance,
    friction_coefficient_schoenherr,
    roughness_allowance,
)
from engine.hull.shallow_water import ShallowWarning, shallow_water
from engine.water import water

SEA = water("sea", 15.0)
BOAT = HullForm(
    waterline_length=11.0,
    waterline_beam=3.5,
    draft=0.9,
    volume=15.0,
    midship_coefficient=0.75,
    waterplane_coefficient=0.72,
    lcb_percent=-2.5,
)


class TestAir:
    def test_head_wind_of_20_knots_at_7_knots(self) -> None:
        # Exact arithmetic of the formula: 12 m2, CD 0.9, 1.225 kg/m3.
        still = air_resistance(12.0, 0.9, 7.0 * KNOT)
        head = air_resistance(12.0, 0.9, 7.0 * KNOT, wind_speed=20.0 * KNOT)
        assert (still, head) == pytest.approx((85.8, 1276.3), abs=0.1)

    def test_a_following_wind_faster_than_the_boat_pushes(self) -> None:
        push = air_resistance(12.0, 0.9, 3.0, wind_speed=8.0, wind_angle_deg=180.0)
        assert push == pytest.approx(-0.5 * 1.225 * 0.9 * 12.0 * 25.0)

    def test_a_beam_wind_leaves_the_still_air_drag(self) -> None:
        assert air_resistance(12.0, 0.9, 3.0, wind_speed=8.0, wind_angle_deg=90.0) == pytest.approx(
            air_resistance(12.0, 0.9, 3.0)
        )

    def test_defaults_lie_in_their_ranges_and_say_where_they_come_from(self) -> None:
        assert UPPERWORKS["unknown"].drag_coefficient == 0.8
        for kind in UPPERWORKS.values():
            assert kind.low <= kind.drag_coefficient <= kind.high
            assert kind.status in ("from memory", "ours")


class TestFouling:
    def test_a_clean_hull_and_a_boat_at_rest_add_nothing(self) -> None:
        clean, *fouled = FOULING_CLASSES
        assert fouling_allowance(clean, 3.5, 10.0, SEA) == 0.0
        assert all(fouling_allowance(name, 0.0, 10.0, SEA) == 0.0 for name in fouled)

    def test_each_class_adds_more_than_the_one_before(self) -> None:
        rises = [fouling_allowance(name, 3.5, 10.0, SEA) for name in FOULING_CLASSES]
        assert np.all(np.diff(rises) > 0.0)

    def test_smooth_line_solves_its_own_equation(self) -> None:
        reynolds = np.geomspace(1e5, 1e9, 9)
        friction = np.asarray(friction_coefficient_schoenherr(reynolds))
        np.testing.assert_allclose(0.242 / np.sqrt(friction), np.log10(reynolds * friction), rtol=1e-8)

    def test_rough_friction_solves_its_own_equation(self) -> None:
        speed, height = 3.5, 1e-3
        reynolds = speed * 10.0 / SEA.kinematic_viscosity
        smooth = friction_coefficient_schoenherr(reynolds)
        rough = smooth + roughness_allowance(height, speed, 10.0, SEA)
        shift = 1.0 + 0.26 * np.sqrt(rough / 2.0) * speed * height / SEA.kinematic_viscosity
        assert friction_coefficient_schoenherr(reynolds / shift) == pytest.approx(rough, rel=1e-8)

    def test_resistance_is_the_friction_rise_over_hull_and_appendages(self) -> None:
        assert fouling_resistance(1e-3, 40.0, 3.0, SEA) == pytest.approx(0.5 * 1026.021 * 9.0 * 40.0 * 1e-3)

    def test_an_unknown_class_is_refused_naming_the_classes(self) -> None:
        with pytest.raises(ValueError, match="heavy slime"):
            fouling_allowance("jungle", 3.0, 10.0, SEA)

    def test_a_frigate_loses_friction_in_the_proportion_of_published_power(self) -> None:
        """Schultz (2007), from memory: a 124 m frigate at 15 kn needs 11, 21, 35, 54, 86 % more shaft power.

        With friction a little under half of her power, the friction rises must be near 2.1 to 2.5 times that.
        """
        published = np.array([0.11, 0.21, 0.35, 0.54, 0.86])
        fouled = list(FOULING_CLASSES.values())[1:]
        speed, length = 15.0 * KNOT, 124.0
        smooth = friction_coefficient_schoenherr(speed * length / SEA.kinematic_viscosity)
        rise = np.array([roughness_allowance(one.roughness_height, speed, length, SEA) for one in fouled]) / smooth
        ratio = rise / published
        assert np.all((ratio > 2.0) & (ratio < 2.6))


class TestShallowWater:
    def test_deep_water_takes_nothing(self) -> None:
        result = shallow_water(BOAT, 3.5, 50.0)
        assert not result.is_shallow
        assert result.speed_loss == 0.0
        assert result.warnings == ()
        assert result.deep_water_speed(3.5) == 3.5

    def test_a_boat_at_rest_loses_nothing(self) -> None:
        assert shallow_water(BOAT, 0.0, 1.5).speed_loss == 0.0

    def test_loss_is_lackenbys_formula(self) -> None:
        speed, depth = 2.5, 2.0
        area = 3.5 * 0.9 * 0.75
        expected = 0.1242 * (area / depth**2 - 0.05) + 1.0 - np.sqrt(np.tanh(GRAVITY * depth / speed**2))
        result = shallow_water(BOAT, speed, depth)
        assert result.speed_loss == pytest.approx(expected, rel=1e-12)
        assert result.deep_water_speed(speed) > speed

    def test_shallower_water_takes_more(self) -> None:
        losses = shallow_water(BOAT, 3.0, np.array([1.5, 2.0, 3.0, 4.0, 30.0])).speed_loss
        assert np.all(np.diff(losses) < 0.0)

    def test_near_the_critical_speed_the_owner_is_warned(self) -> None:
        result = shallow_water(BOAT, 8.0 * KNOT, 2.0)
        assert result.depth_froude_number == pytest.approx(0.929, abs=1e-3)
        assert set(result.warnings) == {ShallowWarning.NEAR_CRITICAL, ShallowWarning.BEYOND_FORMULA}

    @pytest.mark.parametrize(("depth", "critical_kn"), [(2.0, 8.6), (3.0, 10.5), (5.0, 13.6)])
    def test_critical_speed_is_that_of_the_fastest_wave(self, depth, critical_kn) -> None:
        # sqrt(g h), in tenths of a knot.
        assert shallow_water(BOAT, 1.0, depth).critical_speed / KNOT == pytest.approx(critical_kn, abs=0.05)

    def test_a_boat_aground_is_refused(self) -> None:
        with pytest.raises(ValueError, match="water under the hull"):
            shallow_water(replace(BOAT, draft=1.6), 2.0, 1.5)

    def test_boats_and_depths_broadcast(self) -> None:
        result = shallow_water(BOAT, np.array([0.0, 1.0, 3.0]), np.array([[1.5], [3.0]]))
        assert np.shape(result.speed_loss) == np.shape(result.is_shallow) == (2, 3)


def test_sea_margins_grow_with_exposure() -> None:
    assert [margin.fraction for margin in SEA_MARGINS.values()] == pytest.approx([0.15, 0.25, 0.425])

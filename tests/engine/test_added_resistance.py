"""Behaviour of wind, roughness, shallow water and sea margin, and of all of them together."""

from dataclasses import fields, replace

import numpy as np
import pytest

from engine.constants import GRAVITY, KNOT
from engine.hull.added_resistance import (
    UPPERWORKS,
    ServiceConditions,
    ServiceParts,
    air_resistance,
    service_resistance,
)
from engine.hull.form import HullForm
from engine.hull.roughness import (
    FOULING_CLASSES,
    fouling_allowance,
    fouling_resistance,
    friction_coefficient_schoenherr,
    roughness_allowance,
)
from engine.hull.shallow_water import ShallowWarning, in_shallow_water, shallow_water, squat
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


@pytest.mark.parametrize("kind", UPPERWORKS)
def test_what_stands_above_the_water_drags_like_a_blunt_body(kind: str) -> None:
    """Between 0.5, which the ITTC's procedure 7.5-02-03-01.4 has as the least of ships (from memory), and the 1.2 of a
    long cylinder across the stream."""
    works = UPPERWORKS[kind]
    assert 0.5 <= works.low <= works.drag_coefficient <= works.high <= 1.2


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

    def test_a_boat_at_rest_loses_nothing(self) -> None:
        assert shallow_water(BOAT, 0.0, 1.5).speed_loss == 0.0

    def test_loss_is_lackenbys_formula(self) -> None:
        speed, depth = 2.5, 2.0
        area = 3.5 * 0.9 * 0.75
        expected = 0.1242 * (area / depth**2 - 0.05) + 1.0 - np.sqrt(np.tanh(GRAVITY * depth / speed**2))
        result = shallow_water(BOAT, speed, depth)
        assert result.speed_loss == pytest.approx(expected, rel=1e-12)

    def test_shallower_water_takes_more(self) -> None:
        losses = shallow_water(BOAT, 3.0, np.array([1.5, 2.0, 3.0, 4.0, 30.0])).speed_loss
        assert np.all(np.diff(losses) < 0.0)

    def test_the_bottom_is_felt_from_2_75_times_the_square_of_speed_over_gravity(self) -> None:
        """ITTC 7.5-04-01-01; at 4 m/s that is 4.487 m, where 3 sqrt(B T) is 5.32 m, and 3.64 m for a shallow boat."""
        depths = np.array([4.47, 4.50])
        assert shallow_water(BOAT, 4.0, depths).is_shallow.tolist() == [True, True]
        shallow = replace(BOAT, draft=0.42, volume=4.0)
        assert shallow_water(shallow, 4.0, depths).is_shallow.tolist() == [True, False]

    def test_the_formula_ends_at_a_depth_froude_number_of_0_7(self) -> None:
        speed = np.array([0.69, 0.71]) * np.sqrt(GRAVITY * 2.5)
        assert shallow_water(BOAT, speed, 2.5).is_beyond.tolist() == [False, True]

    def test_near_the_critical_speed_the_owner_is_warned(self) -> None:
        result = shallow_water(BOAT, 8.0 * KNOT, 2.0)
        assert result.depth_froude_number == pytest.approx(0.929, abs=1e-3)
        assert set(result.warnings) == {ShallowWarning.NEAR_CRITICAL, ShallowWarning.BEYOND_FORMULA}

    @pytest.mark.parametrize(("depth", "critical_kn"), [(2.0, 8.6), (3.0, 10.5), (5.0, 13.6)])
    def test_critical_speed_is_that_of_the_fastest_wave(self, depth, critical_kn) -> None:
        # sqrt(g h), in tenths of a knot.
        assert shallow_water(BOAT, 1.0, depth).critical_speed / KNOT == pytest.approx(critical_kn, abs=0.05)

    def test_she_settles_by_barrass_rule_and_twice_as_far_in_a_canal(self) -> None:
        block = BOAT.block_coefficient
        assert squat(BOAT, 5.0 * KNOT, confined=False) == pytest.approx(block * 25.0 / 100.0)
        assert squat(BOAT, 5.0 * KNOT, confined=True) == pytest.approx(block * 25.0 / 50.0)

    def test_a_boat_aground_is_refused(self) -> None:
        with pytest.raises(ValueError, match="water under the hull"):
            shallow_water(replace(BOAT, draft=1.6), 2.0, 1.5)

    def test_boats_and_depths_broadcast(self) -> None:
        result = shallow_water(BOAT, np.array([0.0, 1.0, 3.0]), np.array([[1.5], [3.0]]))
        shapes = {np.shape(getattr(result, name)) for name in ("speed_loss", "is_shallow", "is_beyond")}
        assert shapes == {np.shape(result.depth_froude_number)} == {(2, 3)}

    def test_boats_of_a_fleet_and_speeds_broadcast(self) -> None:
        fleet = replace(BOAT, midship_coefficient=np.array([[0.65], [0.75], [0.85]]))
        result = shallow_water(fleet, np.array([1.0, 3.0]), 2.0)
        assert (
            np.shape(result.speed_loss) == np.shape(result.is_beyond) == np.shape(result.depth_froude_number) == (3, 2)
        )
        assert result.speed_loss[1, 1] == shallow_water(BOAT, 3.0, 2.0).speed_loss

    @pytest.mark.parametrize(("midship", "step"), [(0.75, 0.0083), (1.0, 0.0117)])
    def test_the_rule_sets_in_with_a_step_of_about_one_percent_of_speed(self, midship, step) -> None:
        # A boat of 10 m at the depth and the speed where both limits meet: the step is the largest there is.
        boat = HullForm(
            waterline_length=10.0,
            waterline_beam=3.2,
            draft=0.8,
            volume=12.0,
            midship_coefficient=midship,
            waterplane_coefficient=0.72,
            lcb_percent=-2.5,
        )
        depth = 3.0 * np.sqrt(3.2 * 0.8)
        speed = np.sqrt(GRAVITY * depth / 2.75)
        losses = shallow_water(boat, 0.9999 * speed, depth * np.array([0.9999, 1.0001])).speed_loss
        assert losses == pytest.approx([step, 0.0], abs=1e-4)


class TestInShallowWater:
    GRID = np.array([0.0, 1.0, 2.0, 4.0, 5.0])
    CURVE = np.array([0.0, 10.0, 40.0, 160.0, 250.0])

    def test_no_loss_leaves_the_curve_as_it_is(self) -> None:
        np.testing.assert_array_equal(in_shallow_water(self.GRID, self.CURVE, np.zeros(5)), self.CURVE)

    def test_the_curve_is_read_at_the_deep_water_speed(self) -> None:
        loss = np.array([0.0, 0.0, 1.0 / 11.0, 0.05, 0.0])
        result = in_shallow_water(self.GRID, self.CURVE, loss)
        assert result[2] == pytest.approx(40.0 + 0.1 * (160.0 - 40.0))
        assert result[3] == pytest.approx(160.0 + (4.0 / 0.95 - 4.0) * 90.0)

    def test_there_is_no_value_beyond_the_grid_nor_beyond_the_formula(self) -> None:
        loss = np.array([0.0, 0.16, np.nan, 0.1, 0.01])
        np.testing.assert_array_equal(
            np.isnan(in_shallow_water(self.GRID, self.CURVE, loss)), [False, True, True, False, True]
        )

    def test_each_boat_of_a_fleet_reads_its_own_curve(self) -> None:
        loss = np.array([[0.0], [0.05]]) * np.array([0.0, 1.0, 1.0, 1.0, 0.0])
        fleet = np.array([[1.0], [3.0]]) * self.CURVE
        result = in_shallow_water(self.GRID, fleet, loss)
        for boat in range(2):
            np.testing.assert_array_equal(result[boat], in_shallow_water(self.GRID, fleet[boat], loss[boat]))

    def test_a_grid_that_does_not_rise_is_refused(self) -> None:
        with pytest.raises(ValueError, match="must rise"):
            in_shallow_water(np.array([0.0, 2.0, 1.0]), np.zeros(3), np.zeros(3))


class TestService:
    SPEED = np.linspace(0.0, 5.0, 21)
    CALM = 60.0 * SPEED**3
    HARD = ServiceConditions(
        friction_rise=1.2e-3,
        depth=3.0,
        frontal_area=12.0,
        drag_coefficient=0.9,
        wind_speed=8.0,
        wave_resistance=485.0,
    )

    def parts(self, conditions: ServiceConditions) -> ServiceParts:
        return service_resistance(BOAT, self.SPEED, self.CALM, 40.0, SEA, conditions)

    def test_nothing_asked_adds_nothing(self) -> None:
        parts = self.parts(ServiceConditions())
        np.testing.assert_array_equal(parts.total, self.CALM)

    def test_each_part_is_what_its_own_formula_gives(self) -> None:
        parts = self.parts(self.HARD)
        hull = self.CALM + np.asarray(fouling_resistance(1.2e-3, 40.0, self.SPEED, SEA))
        loss = shallow_water(BOAT, self.SPEED, 3.0).speed_loss
        np.testing.assert_allclose(parts.calm + parts.fouling, hull)
        np.testing.assert_allclose(hull + parts.shallow, in_shallow_water(self.SPEED, hull, loss))
        np.testing.assert_allclose(parts.wind, air_resistance(12.0, 0.9, self.SPEED, wind_speed=8.0))
        np.testing.assert_array_equal(parts.waves, np.full(21, 485.0))
        np.testing.assert_array_equal(parts.margin[:-2], np.zeros(19))
        assert np.all(parts.shallow[1:-2] > 0.0)

    @pytest.mark.parametrize("sea_margin", [0.0, 0.25])
    def test_the_parts_make_the_total(self, sea_margin: float) -> None:
        parts = self.parts(replace(self.HARD, sea_margin=sea_margin))
        lines = [getattr(parts, field.name) for field in fields(parts) if field.name != "total"]
        np.testing.assert_allclose(sum(lines), parts.total)

    def test_the_margin_is_taken_on_the_foul_hull_over_the_bottom_and_not_on_the_wind(self) -> None:
        parts = self.parts(replace(self.HARD, wave_resistance=0.0, sea_margin=0.25))
        np.testing.assert_allclose(parts.margin, 0.25 * (parts.calm + parts.fouling + parts.shallow))

    def test_where_the_depth_has_no_answer_the_total_has_none(self) -> None:
        parts = self.parts(self.HARD)
        # The two highest speeds of the grid would be read beyond it.
        np.testing.assert_array_equal(np.isnan(parts.total), np.arange(21) > 18)

    def test_a_fleet_gets_every_part_for_every_boat_and_speed(self) -> None:
        fleet = replace(BOAT, draft=np.array([[0.9], [1.0], [1.1]]))
        conditions = replace(
            self.HARD, depth=np.array([[3.0], [4.0], [40.0]]), sea_margin=np.array([[0.0], [0.1], [0.2]])
        )
        parts = service_resistance(fleet, self.SPEED, self.CALM, np.array([[38.0], [40.0], [42.0]]), SEA, conditions)
        assert {np.shape(getattr(parts, field.name)) for field in fields(parts)} == {(3, 21)}
        np.testing.assert_array_equal(parts.shallow[2, :10], np.zeros(10))

    @pytest.mark.parametrize("name", ["friction_rise", "frontal_area", "wave_resistance", "sea_margin"])
    def test_negative_additions_are_refused_by_name(self, name) -> None:
        with pytest.raises(ValueError, match=name.replace("_", " ")):
            self.parts(replace(self.HARD, **{name: -0.1}))

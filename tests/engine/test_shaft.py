"""Behaviour of the shaft rules, materials, stock sizes and ends."""

from math import nan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.constants import INCH, RPM
from engine.findings import Verdict
from engine.machinery.shaft import (
    SAFETY_FACTORS,
    allowable_shaft_power,
    check_iacs_m68,
    judge_safety_factor,
    key_crushing_stress,
    key_shear_stress,
    propeller_divisor,
    safety_factor_of_shaft,
    shaft_diameter_iacs_m68,
    shaft_diameter_small_craft,
    shaft_torque,
)
from engine.machinery.shaft_ends import (
    next_standard_diameter,
    standard_diameters,
    taper_for,
)
from engine.machinery.shaft_materials import MATERIALS, check_material_diameter, shaft_material

POWERS = st.floats(1e3, 1e6)
SPEEDS = st.floats(2.0, 60.0)
YIELDS = st.floats(5e7, 8e8)
FACTORS = st.floats(1.0, 10.0)


class TestSmallCraftRule:
    @given(POWERS, SPEEDS, YIELDS, FACTORS)
    def test_diameter_and_safety_factor_turn_each_other_round(
        self, power: float, speed: float, shear_yield: float, factor: float
    ) -> None:
        diameter = shaft_diameter_small_craft(power, speed, shear_yield, factor)
        assert safety_factor_of_shaft(diameter, power, speed, shear_yield) == pytest.approx(factor, rel=1e-9)
        assert allowable_shaft_power(diameter, speed, shear_yield, factor) == pytest.approx(power, rel=1e-9)

    @given(POWERS, SPEEDS, YIELDS, FACTORS)
    def test_more_of_anything_moves_the_diameter_the_right_way(
        self, power: float, speed: float, shear_yield: float, factor: float
    ) -> None:
        diameter = shaft_diameter_small_craft(power, speed, shear_yield, factor)
        assert shaft_diameter_small_craft(1.01 * power, speed, shear_yield, factor) > diameter
        assert shaft_diameter_small_craft(power, speed, shear_yield, 1.01 * factor) > diameter
        assert shaft_diameter_small_craft(power, 1.01 * speed, shear_yield, factor) < diameter
        assert shaft_diameter_small_craft(power, speed, 1.01 * shear_yield, factor) < diameter

    def test_the_same_power_through_a_deeper_gear_lowers_the_old_shafts_factor_in_proportion(self) -> None:
        shallow = safety_factor_of_shaft(0.03, 40e3, 3000 * RPM / 2.0, 137e6)
        deep = safety_factor_of_shaft(0.03, 40e3, 3000 * RPM / 3.0, 137e6)
        assert deep / shallow == pytest.approx(2.0 / 3.0)

    def test_tensile_yield_in_place_of_shear_yield_would_overstate_a_steel_shaft_by_half(self) -> None:
        duplex = MATERIALS["S32205"]
        right = safety_factor_of_shaft(0.03, 40e3, 20.0, duplex.shear_yield)
        wrong = safety_factor_of_shaft(0.03, 40e3, 20.0, duplex.tensile_yield)
        assert wrong / right == pytest.approx(1.5)

    def test_a_fleet_by_speeds_gives_its_broadcast_shape_and_scalars_a_float(self) -> None:
        powers, speeds = np.full((5, 1), 40e3), np.linspace(10.0, 20.0, 4)
        assert np.shape(shaft_diameter_small_craft(powers, speeds, 137e6, 3.0)) == (5, 4)
        assert isinstance(shaft_diameter_small_craft(40e3, 15.0, 137e6, 3.0), float)

    def test_a_missing_boat_stays_missing(self) -> None:
        found = np.asarray(shaft_diameter_small_craft(np.array([40e3, nan]), 15.0, 137e6, 3.0))
        assert list(np.isnan(found)) == [False, True]

    def test_no_power_needs_no_shaft(self) -> None:
        assert shaft_diameter_small_craft(0.0, 15.0, 137e6, 3.0) == 0.0

    @pytest.mark.parametrize(
        ("arguments", "named"),
        [
            ((-1.0, 1.0, 1e8, 3.0), "power"),
            ((1.0, 0.0, 1e8, 3.0), "shaft_speed"),
            ((1.0, 1.0, 0.0, 3.0), "shear_yield"),
            ((1.0, 1.0, 1e8, 0.0), "safety_factor"),
        ],
    )
    def test_impossible_arguments_are_refused_by_name(self, arguments: tuple[float, ...], named: str) -> None:
        with pytest.raises(ValueError, match=named):
            shaft_diameter_small_craft(*arguments)

    def test_a_factor_is_judged_against_the_use_and_the_floor(self) -> None:
        assert judge_safety_factor(3.4, 3.0).verdict is Verdict.FITS
        assert judge_safety_factor(3.0, 3.0).verdict is Verdict.FITS
        assert judge_safety_factor(2.6, 3.0).verdict is Verdict.LOOK
        assert judge_safety_factor(1.9, 3.0).verdict is Verdict.STOP

    def test_suggested_factors_rise_with_the_weight_of_the_use(self) -> None:
        assert [factor.value for factor in SAFETY_FACTORS.values()] == [3.0, 4.0, 5.0, 7.5, 8.0]
        assert all(factor.status for factor in SAFETY_FACTORS.values())


class TestClassRule:
    def test_a_stronger_metal_than_the_ceiling_earns_no_smaller_shaft_and_it_says_so(self) -> None:
        at_cap = shaft_diameter_iacs_m68(58e3, 17.0, 600e6)
        assert shaft_diameter_iacs_m68(58e3, 17.0, 931e6) == at_cap
        assert check_iacs_m68(550e6) == ()
        assert "400 to 600" in check_iacs_m68(931e6)[0].sentence()

    def test_a_small_bore_counts_as_solid_and_a_large_one_does_not(self) -> None:
        solid = shaft_diameter_iacs_m68(58e3, 17.0, 500e6)
        assert shaft_diameter_iacs_m68(58e3, 17.0, 500e6, bore_ratio=0.4) == solid
        bored = shaft_diameter_iacs_m68(58e3, 17.0, 500e6, bore_ratio=0.6)
        assert bored / solid == pytest.approx((1.0 / (1.0 - 0.6**4)) ** (1.0 / 3.0))

    def test_it_asks_for_a_thicker_shaft_than_the_small_craft_rule_at_factor_three(self) -> None:
        for key in ("S31600", "S20910 high strength"):
            metal = MATERIALS[key]
            small = shaft_diameter_small_craft(58.2e3, 1040 * RPM, metal.shear_yield, 3.0)
            assert 1.1 < shaft_diameter_iacs_m68(58.2e3, 1040 * RPM, metal.tensile_strength) / small < 1.75

    def test_an_unknown_fit_or_a_bore_of_the_whole_shaft_is_refused(self) -> None:
        with pytest.raises(ValueError, match="keyless or flange"):
            shaft_diameter_iacs_m68(58e3, 17.0, 500e6, "glued")
        with pytest.raises(ValueError, match="bore_ratio"):
            shaft_diameter_iacs_m68(58e3, 17.0, 500e6, bore_ratio=1.0)


def test_quick_rule_knows_no_five_blades_and_no_wood() -> None:
    with pytest.raises(ValueError, match="blades"):
        propeller_divisor(5, "weaker metals")
    with pytest.raises(ValueError, match="metal"):
        propeller_divisor(3, "wood")


def test_key_stresses_follow_from_the_force_at_the_shafts_surface() -> None:
    torque, diameter, width, height, length = 500.0, 0.03, 0.008, 0.007, 0.05
    force = torque / (diameter / 2.0)
    assert key_shear_stress(torque, diameter, width, length) == pytest.approx(force / (width * length))
    assert key_crushing_stress(torque, diameter, height, length) == pytest.approx(force / (0.5 * height * length))


class TestMaterials:
    def test_every_material_is_physically_plausible(self) -> None:
        for metal in MATERIALS.values():
            assert 0.45 < metal.shear_yield / metal.tensile_yield < 0.68, metal.key
            assert metal.tensile_yield < metal.tensile_strength, metal.key
            assert 7500.0 < metal.density < 8900.0, metal.key
            assert metal.status, metal.key

    def test_metals_that_pit_when_idle_say_so_in_their_note(self) -> None:
        pitting = {key for key, metal in MATERIALS.items() if metal.pits_when_idle}
        assert pitting == {"S31600", "S31603", "S17400", "S43100"}
        assert all("corro" in MATERIALS[key].note for key in pitting)

    def test_materials_are_found_by_either_designation(self) -> None:
        assert shaft_material("1.4462").uns == "S32205"
        assert shaft_material("S31803").uns == "S32205"
        assert shaft_material(" s31600 ").en == "1.4401"

    def test_a_metal_in_two_conditions_is_not_guessed(self) -> None:
        with pytest.raises(ValueError, match="S20910 high strength or S20910 annealed"):
            shaft_material("S20910")

    def test_an_unknown_metal_names_the_nearest(self) -> None:
        with pytest.raises(ValueError, match="S31603"):
            shaft_material("S31604")
        with pytest.raises(ValueError, match="no shaft material"):
            shaft_material("")

    def test_a_metal_is_named_by_both_numbers_that_it_is_sold_under(self) -> None:
        assert MATERIALS["S32205"].words == "S32205 or S31803, EN 1.4462 (duplex stainless)"
        assert MATERIALS["S20910 annealed"].words.startswith("S20910 (nitrogen-strengthened")

    def test_strength_beyond_the_bar_it_was_measured_on_is_reported(self) -> None:
        strong = MATERIALS["S20910 high strength"]
        assert check_material_diameter(strong, 0.050) == ()
        assert "certificate" in check_material_diameter(strong, 0.060)[0].sentence()
        assert check_material_diameter(MATERIALS["S20910 annealed"], 0.060) == ()


class TestStockSizes:
    @given(st.floats(0.005, 0.080))
    def test_the_next_metric_size_is_never_thinner_and_never_a_step_too_thick(self, diameter: float) -> None:
        chosen = next_standard_diameter(diameter, "metric")
        sizes = standard_diameters("metric")
        assert chosen >= diameter * (1.0 - 1e-6)
        assert not np.any((sizes >= diameter) & (sizes < chosen))

    def test_a_stock_size_is_its_own_next_size(self) -> None:
        sizes = standard_diameters("inch")
        assert next_standard_diameter(sizes, "inch") == pytest.approx(sizes)

    def test_beyond_the_table_there_is_no_number_and_it_says_so(self) -> None:
        assert np.isnan(next_standard_diameter(0.0889 * 1.001, "inch"))

    def test_a_caller_cannot_spoil_the_table(self) -> None:
        standard_diameters("metric")[:] = 0.0
        assert standard_diameters("metric")[0] == pytest.approx(0.020)

    def test_an_unknown_system_is_refused(self) -> None:
        with pytest.raises(ValueError, match="system"):
            next_standard_diameter(0.03, "cubits")


class TestTapers:
    def test_threads_are_marked_as_from_memory(self) -> None:
        end = taper_for(1.5 * INCH, "inch")
        assert end.thread == "1 1/8-7"
        assert "from memory" in end.thread_status

    def test_keyway_is_about_half_as_deep_as_wide_up_to_2_3_4_inch(self) -> None:
        for size in standard_diameters("inch")[:12]:
            end = taper_for(float(size), "inch")
            assert end.keyway_width is not None
            assert end.keyway_depth is not None
            assert end.keyway_depth / end.keyway_width == pytest.approx(0.5, abs=0.01)

    def test_the_2_1_4_inch_keyway_carries_its_warning(self) -> None:
        assert "0.500 in" in taper_for(2.25 * INCH, "inch").note

    @pytest.mark.parametrize(
        ("diameter", "system", "taper"),
        [
            (0.040, "metric", 0.1),
            (0.200, "metric", None),
            (4.0 * INCH, "inch", 1 / 16),
            (7.0 * INCH, "inch", 1 / 12),
            (5.75 * INCH, "inch", None),
            (0.5 * INCH, "inch", None),
        ],
    )
    def test_sizes_not_in_the_table_get_the_taper_at_most_and_no_dimension(
        self, diameter: float, system: str, taper: float | None
    ) -> None:
        end = taper_for(diameter, system)
        assert end.taper == (None if taper is None else pytest.approx(taper))
        assert (end.length, end.small_end_diameter, end.keyway_width, end.thread) == (None, None, None, None)
        assert "maker" in end.note


def test_torque_is_power_over_angular_speed() -> None:
    assert shaft_torque(1e3, 1 * RPM) == pytest.approx(9549.30, abs=0.005)

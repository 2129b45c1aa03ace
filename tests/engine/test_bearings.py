"""Behaviour of bearing spacing, whirling, clearances and alignment."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from engine.constants import INCH, RPM
from engine.findings import Verdict
from engine.machinery.bearings import (
    END_FIXITY,
    aft_bearing_length,
    bare_shaft_critical_speed,
    bearing_clearance_new,
    bearing_spacing_allowed,
    bearing_spacing_zero_margin,
    bearing_wear_limit,
    coupling_alignment_limit,
    hub_gap_limit,
    intermediate_bearing_length,
    judge_bearing_spacing,
    judge_shaft_angle,
)
from engine.machinery.whirling import (
    PropellerInWater,
    blade_rate_is_clear,
    judge_whirling,
    propeller_in_water,
    propeller_polar_inertia,
    whirling_critical_speed,
    whirling_inertia,
)

STEEL = (193e9, 8000.0)


class TestSpacing:
    @given(st.floats(0.019, 0.1), st.floats(5.0, 50.0))
    def test_the_formula_puts_the_first_critical_speed_exactly_on_running_speed(self, d: float, n: float) -> None:
        span = bearing_spacing_zero_margin(d, n, *STEEL)
        assert bare_shaft_critical_speed(span, d, *STEEL) == pytest.approx(n, rel=1e-9)

    def test_the_margin_is_a_margin_of_critical_speed_when_forty_diameters_does_not_rule(self) -> None:
        diameter, speed = 0.030, 3000 * RPM
        span = bearing_spacing_allowed(diameter, speed, *STEEL, margin=0.30)
        assert span < 40 * diameter
        assert bare_shaft_critical_speed(span, diameter, *STEEL) == pytest.approx(1.30 * speed, rel=1e-9)

    def test_a_slow_shaft_is_held_to_forty_diameters(self) -> None:
        assert bearing_spacing_allowed(0.030, 600 * RPM, *STEEL) == pytest.approx(1.2)

    @pytest.mark.parametrize(
        ("diameters", "verdict"),
        [
            (15, Verdict.LOOK),
            (20, Verdict.FITS),
            (35, Verdict.FITS),
            (38, Verdict.LOOK),
            (40, Verdict.LOOK),
            (41, Verdict.STOP),
        ],
    )
    def test_spans_are_judged_by_twenty_and_forty(self, diameters: float, verdict: Verdict) -> None:
        assert judge_bearing_spacing(0.03 * diameters, 0.03, 1.2).verdict is verdict

    def test_the_span_allowed_is_the_formulas_over_1_095(self) -> None:
        """A margin of 20 % of speed is its square root in length; 30 % would be 1.140. Here 40 D is more."""
        run = (0.030, 3000 * RPM, *STEEL)
        ceiling = float(bearing_spacing_zero_margin(*run))
        assert bearing_spacing_allowed(*run) == pytest.approx(ceiling / 1.095, rel=5e-4)
        assert bearing_spacing_allowed(*run, margin=0.30) == pytest.approx(ceiling / 1.140, rel=5e-4)
        assert bearing_spacing_allowed(*run) < 40.0 * 0.030

    def test_a_fast_shaft_is_stopped_before_forty_diameters(self) -> None:
        finding = judge_bearing_spacing(0.03 * 36, 0.03, 0.03 * 33)
        assert finding.verdict is Verdict.STOP
        assert "more than 33 is too long" in finding.text
        assert "P-6" in finding.source

    def test_a_slow_shaft_is_stopped_by_forty_diameters_and_the_rule_is_named(self) -> None:
        """The allowed span is forty diameters at most, so the formula is not what stops it."""
        allowed = float(bearing_spacing_allowed(0.030, 600 * RPM, *STEEL))
        finding = judge_bearing_spacing(0.03 * 43, 0.03, allowed)
        assert finding.verdict is Verdict.STOP
        assert "more than 40 is too long" in finding.text
        assert "twenty-forty" in finding.source

    def test_a_span_just_under_the_limit_is_not_told_as_the_limit_itself(self) -> None:
        """40 was said to be near 40."""
        finding = judge_bearing_spacing(0.03 * 39.8, 0.03, 0.03 * 50)
        assert finding.verdict is Verdict.LOOK
        assert finding.text.startswith("The bearings stand 39.8 shaft diameters apart: near the limit of 40.")

    def test_a_span_just_over_the_limit_is_not_told_as_the_limit_itself(self) -> None:
        text = judge_bearing_spacing(0.03 * 40.3, 0.03, 0.03 * 50).text
        assert "40.3 shaft diameters apart; more than 40.0 is too long" in text

    def test_stiffer_ends_raise_the_critical_speed_in_order(self) -> None:
        order = ["cantilever", "simply supported", "fixed and pinned", "fixed at both ends"]
        speeds = [bare_shaft_critical_speed(1.5, 0.03, *STEEL, ends=ends) for ends in order]
        assert set(order) == set(END_FIXITY)
        assert speeds == sorted(speeds)

    def test_unknown_ends_and_impossible_spans_are_refused(self) -> None:
        with pytest.raises(ValueError, match="ends"):
            bare_shaft_critical_speed(1.5, 0.03, *STEEL, ends="glued")
        with pytest.raises(ValueError, match="span"):
            bare_shaft_critical_speed(0.0, 0.03, *STEEL)

    def test_spacing_broadcasts(self) -> None:
        assert np.shape(bearing_spacing_allowed(np.full((3, 1), 0.03), np.linspace(10, 40, 5), *STEEL)) == (3, 5)


class TestWhirling:
    def test_without_propeller_or_overhang_it_is_the_bare_shaft(self) -> None:
        bare = bare_shaft_critical_speed(1.6, 0.04, *STEEL)
        assert whirling_critical_speed(1.6, 0.0, 0.04, *STEEL, 0.0, 0.0) == pytest.approx(bare, rel=1e-9)

    @given(st.floats(0.5, 3.0), st.floats(0.05, 0.3), st.floats(1.0, 60.0))
    def test_mass_overhang_and_span_each_lower_it(self, span: float, overhang: float, mass: float) -> None:
        inertia = 0.01 * mass
        speed = whirling_critical_speed(span, overhang, 0.04, *STEEL, mass, inertia)
        assert whirling_critical_speed(1.05 * span, overhang, 0.04, *STEEL, mass, inertia) < speed
        assert whirling_critical_speed(span, 1.05 * overhang, 0.04, *STEEL, mass, inertia) < speed
        assert whirling_critical_speed(span, overhang, 0.04, *STEEL, 1.05 * mass, inertia) < speed

    def test_the_overhang_counts_by_the_sag_of_each_of_its_slices(self) -> None:
        """A slice at x sags by x^2 (x + L)/(3 EI) for each newton on it; the slices are added up by quadrature."""
        span, overhang, diameter = 0.6, 0.9, 0.03
        stiffness, per_metre = 193e9 * np.pi * diameter**4 / 64.0, 8000.0 * np.pi * diameter**2 / 4.0
        slices, _ = quad(lambda x: per_metre * x**2 * (x + span) / (3.0 * stiffness), 0.0, overhang)
        bare = (2.0 * np.pi * bare_shaft_critical_speed(span, diameter, *STEEL)) ** -2.0
        found = whirling_critical_speed(span, overhang, diameter, *STEEL, 0.0, 0.0)
        assert (2.0 * np.pi * found) ** -2.0 == pytest.approx(bare + slices, rel=1e-9)

    def test_a_disc_tilts_the_shaft_by_its_couple(self) -> None:
        """A couple on the end turns it by (L/3 + b)/(EI): the textbook's beam on two supports with an overhang."""
        span, overhang, diameter, inertia = 0.8, 0.15, 0.03, 0.4
        stiffness = 193e9 * np.pi * diameter**4 / 64.0
        bare = whirling_critical_speed(span, overhang, diameter, *STEEL, 0.0, 0.0)
        found = whirling_critical_speed(span, overhang, diameter, *STEEL, 0.0, inertia)
        added = (2.0 * np.pi * np.array([found, bare])) ** -2.0
        assert added[0] - added[1] == pytest.approx(inertia * (span / 3.0 + overhang) / stiffness, rel=1e-9)

    def test_a_light_shaft_with_a_point_mass_is_a_spring_and_a_mass(self) -> None:
        span, overhang, diameter, modulus, mass = 1.0, 0.2, 0.03, 200e9, 20.0
        stiffness = 3.0 * modulus * np.pi * diameter**4 / 64.0 / (overhang**2 * (overhang + span))
        found = whirling_critical_speed(span, overhang, diameter, modulus, 1e-6, mass, 0.0)
        assert found == pytest.approx(np.sqrt(stiffness / mass) / (2.0 * np.pi), rel=1e-6)

    def test_a_disc_so_heavy_in_gyroscopic_effect_never_whirls_forward(self) -> None:
        propeller = PropellerInWater(mass=1.0, diametral_inertia=5.0, polar_inertia=10.0)
        inertia = whirling_inertia(propeller, "forward synchronous")
        speed = whirling_critical_speed(1.0, 0.1, 0.04, *STEEL, propeller.mass, inertia)
        assert speed == np.inf
        assert judge_whirling(float(speed), 20.0).verdict is Verdict.FITS

    def test_water_adds_to_every_part_of_the_propeller(self) -> None:
        wet = propeller_in_water(10.0, 0.2)
        assert (wet.mass, wet.diametral_inertia, wet.polar_inertia) == pytest.approx((13.0, 0.16, 0.25))

    def test_inertia_goes_with_mass_and_diameter_squared(self) -> None:
        assert propeller_polar_inertia(14.0, 0.6) == pytest.approx(14.0 * 0.126**2)

    def test_blade_modes_need_the_number_of_blades(self) -> None:
        wet = propeller_in_water(10.0, 0.2)
        with pytest.raises(ValueError, match="blades"):
            whirling_inertia(wet, "blade forward")
        backward, forward = whirling_inertia(wet, "blade backward", 3), whirling_inertia(wet, "blade forward", 3)
        assert forward < whirling_inertia(wet) < backward

    def test_margins_are_judged_at_twenty_and_thirty_percent(self) -> None:
        found = [judge_whirling(20.0 * ratio, 20.0).verdict for ratio in (0.9, 1.1, 1.25, 1.35)]
        assert found == [Verdict.STOP, Verdict.STOP, Verdict.LOOK, Verdict.FITS]

    @pytest.mark.parametrize(
        ("speed", "words"), [(21.0, "begins to whirl 5 % above"), (25.0, "begins to whirl 25 % above"), (30.0, "50 %")]
    )
    def test_the_margin_is_told_in_per_cent_of_full_speed(self, speed: float, words: str) -> None:
        assert words in judge_whirling(speed, 20.0).text

    def test_below_full_speed_both_speeds_are_told(self) -> None:
        assert "whirls at 1080 rpm, below its full speed of 1200 rpm" in judge_whirling(18.0, 20.0).text

    def test_blade_rate_keeps_out_of_its_band(self) -> None:
        clear = np.asarray(blade_rate_is_clear(3 * np.array([16.0, 17.0, 20.0, 24.0, 25.0]), 3, 20.0))
        assert list(clear) == [True, False, False, False, True]
        assert blade_rate_is_clear(60.0, 3, 20.0) is False


class TestFitting:
    def test_printed_clearance_of_a_1_25_inch_shaft_lies_within_the_rule(self) -> None:
        low, high = bearing_clearance_new(1.25 * INCH)
        assert np.less_equal(low, 0.003 * INCH)
        assert np.greater_equal(high, 0.007 * INCH)

    def test_wear_limit_is_the_smaller_of_two(self) -> None:
        assert np.asarray(bearing_wear_limit(np.array([0.020, 0.050]))) == pytest.approx([0.6e-3, 0.8e-3])
        assert np.greater(bearing_wear_limit(0.02), bearing_clearance_new(0.02)[1])

    def test_alignment_limit_is_the_smaller_of_two(self) -> None:
        assert np.asarray(coupling_alignment_limit(np.array([0.06, 0.125]))) == pytest.approx([0.06e-3, 0.08e-3])

    def test_lengths_go_by_the_shaft(self) -> None:
        assert hub_gap_limit(0.03) == pytest.approx(0.03)
        assert aft_bearing_length(0.03) == pytest.approx(0.12)
        assert intermediate_bearing_length(0.03) == pytest.approx(0.06)

    def test_shaft_angles_are_judged_at_twelve_and_fifteen_degrees(self) -> None:
        assert [judge_shaft_angle(a).verdict for a in (8, 13, 16)] == [Verdict.FITS, Verdict.LOOK, Verdict.LOOK]
        assert "makers" in judge_shaft_angle(16).text
        assert "2.2 %" in judge_shaft_angle(12).text

    def test_what_the_slope_takes_off_the_thrust_ahead_is_not_told_as_what_pushes_up(self) -> None:
        """Statics: of a thrust along a shaft at 12 degrees cos 12 = 0.978 pushes ahead, and sin 12 = 0.208 up."""
        text = judge_shaft_angle(12).text
        assert "takes 2.2 % off the thrust ahead" in text
        assert " up " not in text

"""Behaviour of the Holtrop methods and of the register of methods, on small craft."""

from dataclasses import fields, replace

import numpy as np
import pytest

from engine.constants import GRAVITY, KNOT
from engine.hull.form import HullForm
from engine.hull.friction import friction_coefficient_ittc57
from engine.hull.holtrop_1982 import form_factor_1982
from engine.hull.holtrop_form import half_entrance_angle
from engine.hull.methods import METHODS, PARAMETERS, range_report
from engine.hull.resistance import Resistance
from engine.water import Water, water

SEA = water("sea", 15.0)
LAUNCH = HullForm(
    waterline_length=12.0,
    waterline_beam=12.0 / 3.6,
    draft=0.6,
    volume=9000.0 / 1026.021,
    midship_coefficient=0.65,
    waterplane_coefficient=0.69,
    lcb_percent=-2.0,
    appendage_area=8.0,
    appendage_factor=1.7,
)
HOLTROP = (METHODS["holtrop_1982"], METHODS["holtrop_1984"])
methods = pytest.mark.parametrize("method", HOLTROP, ids=lambda method: method.name)


@methods
def test_a_boat_at_rest_has_no_resistance_and_a_finite_friction_coefficient(method) -> None:
    result = method.resistance(LAUNCH, 0.0, SEA)
    assert result.total == 0.0
    assert 0.0 < result.friction_coefficient < 0.05


@methods
def test_very_slow_speeds_raise_no_warning_and_resistance_rises_from_zero(method) -> None:
    speeds = np.concatenate([[0.0], np.geomspace(1e-9, 3.0, 200)])
    total = np.asarray(method.resistance(LAUNCH, speeds, SEA).total)
    assert np.all(np.isfinite(total))
    assert np.all(np.diff(total) > 0.0)


@methods
def test_a_negative_speed_is_refused(method) -> None:
    with pytest.raises(ValueError, match="speed must not be negative"):
        method.resistance(LAUNCH, -1.0, SEA)


@methods
def test_scalars_give_floats(method) -> None:
    result = method.resistance(LAUNCH, 3.0, SEA)
    assert all(isinstance(getattr(result, field.name), float) for field in fields(Resistance))
    assert isinstance(result.total, float)


@methods
def test_a_fleet_at_many_speeds_gives_what_each_boat_gives_alone(method) -> None:
    volumes = np.array([8.0, 9.0, 10.0])
    speeds = np.array([5.0, 6.0, 7.0, 8.0, 9.0]) * KNOT
    fleet = method.resistance(replace(LAUNCH, volume=volumes[:, None]), speeds, SEA)
    parts = ("friction", "form", "appendages", "correlation")
    names = (*parts, *(field.name for field in fields(Resistance)))
    assert np.broadcast_shapes(*(np.shape(getattr(fleet, name)) for name in names)) == (3, 5)
    assert np.shape(fleet.total) == (3, 5)
    alone = [
        [method.resistance(replace(LAUNCH, volume=float(volume)), float(speed), SEA).total for speed in speeds]
        for volume in volumes
    ]
    np.testing.assert_allclose(fleet.total, alone, rtol=1e-12)


@methods
def test_parts_add_up_to_the_total(method) -> None:
    full = replace(LAUNCH, transom_area=0.3, bulb_area=0.02, bulb_height=0.2)
    result = method.resistance(full, 3.0, SEA)
    names = ("friction", "form", "appendages", "wave", "bulb", "transom", "correlation")
    parts = [getattr(result, name) for name in names]
    assert min(parts) > 0.0
    assert result.total == pytest.approx(sum(parts), rel=1e-12)


@methods
def test_wave_resistance_scales_with_weight_at_equal_froude_number(method) -> None:
    """Froude's law: hulls of one shape have the same wave resistance per weight."""
    double = replace(
        LAUNCH, waterline_length=24.0, waterline_beam=24.0 / 3.6, draft=1.2, volume=8.0 * float(LAUNCH.volume)
    )
    small = method.resistance(LAUNCH, 4.0, SEA).wave
    large = method.resistance(double, 4.0 * np.sqrt(2.0), SEA).wave
    assert large == pytest.approx(8.0 * small, rel=1e-9)


@methods
def test_a_measured_wetted_surface_replaces_the_regression(method) -> None:
    plain_hull = method.resistance(LAUNCH, 3.0, SEA)
    measured = method.resistance(replace(LAUNCH, wetted_surface=40.0), 3.0, SEA)
    assert measured.wetted_surface == 40.0
    assert measured.friction / plain_hull.friction == pytest.approx(40.0 / plain_hull.wetted_surface, rel=1e-12)


def test_a_given_entrance_angle_replaces_the_regression() -> None:
    assert half_entrance_angle(replace(LAUNCH, half_entrance_angle_deg=18.0)) == 18.0
    assert 10.0 < half_entrance_angle(LAUNCH) < 40.0


def test_a_finer_entrance_makes_smaller_waves() -> None:
    angles = np.array([14.0, 18.0, 22.0, 30.0])
    wave = METHODS["holtrop_1984"].resistance(replace(LAUNCH, half_entrance_angle_deg=angles), 3.5, SEA).wave
    assert np.all(np.diff(wave) > 0.0)


def test_1984_wave_resistance_is_continuous_where_its_formulas_join() -> None:
    joints = np.array([0.40, 0.55]) * np.sqrt(GRAVITY * 12.0)
    wave = METHODS["holtrop_1984"].resistance
    below, above = wave(LAUNCH, joints * (1 - 1e-9), SEA).wave, wave(LAUNCH, joints * (1 + 1e-9), SEA).wave
    np.testing.assert_allclose(below, above, rtol=1e-6)


def test_1984_has_no_value_above_its_slow_range_for_a_hull_of_twice_its_beam_and_less() -> None:
    stubby = replace(LAUNCH, waterline_beam=6.0, draft=0.35)
    speeds = np.array([0.30, 0.40, 0.45, 0.60]) * np.sqrt(GRAVITY * 12.0) * (1 - 1e-12)
    total = np.asarray(METHODS["holtrop_1984"].resistance(stubby, speeds, SEA).total)
    assert np.isfinite(total).tolist() == [True, True, False, False]


def test_1982_form_factor_has_no_value_for_a_nearly_prismatic_hull() -> None:
    box = replace(LAUNCH, volume=12.0 * (12.0 / 3.6) * 0.6 * 0.65 * 0.96)
    assert np.isnan(form_factor_1982(box))


def test_friction_line_has_no_value_at_its_pole() -> None:
    assert np.isnan(friction_coefficient_ittc57(100.0))
    assert np.isnan(friction_coefficient_ittc57(0.0))


class TestRangeReport:
    def test_a_wide_boat_is_told_she_is_outside_the_sample(self) -> None:
        (finding,) = range_report(METHODS["holtrop_1984"], replace(LAUNCH, midship_coefficient=0.62), 3.0)
        assert finding.limit.parameter == "length_beam_ratio"
        assert finding.distance == pytest.approx(3.6 - 3.9)
        assert finding.share == 1.0
        assert "3.6, below the range of 3.9 to 6.3" in finding.sentence

    def test_a_coaster_within_the_sample_has_no_findings(self) -> None:
        coaster = replace(LAUNCH, waterline_beam=2.6, draft=0.9, midship_coefficient=0.52)
        assert 0.55 < coaster.prismatic_coefficient < 0.65
        for method in HOLTROP:
            assert range_report(method, coaster, 3.0) == ()

    def test_above_froude_number_0_40_the_owner_is_told_how_low_1984_runs(self) -> None:
        speed = 0.45 * np.sqrt(GRAVITY * 12.0)
        findings = range_report(METHODS["holtrop_1984"], LAUNCH, speed)
        (finding,) = [f for f in findings if f.limit.parameter == "froude_number"]
        assert finding.value == pytest.approx(0.45)
        assert "29 % low at 0.425 and 43 % low at 0.45" in finding.sentence

    def test_a_fleet_is_told_the_share_outside_and_the_case_farthest_out(self) -> None:
        lengths = np.array([12.0, 13.5, 14.0, 15.0])
        findings = range_report(METHODS["holtrop_1982"], replace(LAUNCH, waterline_length=lengths), 1.0)
        (finding,) = [f for f in findings if f.limit.parameter == "length_beam_ratio"]
        assert finding.share == 0.25
        assert finding.is_outside.tolist() == [True, False, False, False]
        assert "is 3.6," in finding.sentence

    def test_both_ends_belong_to_the_range(self) -> None:
        limit = METHODS["holtrop_1982"].ranges[0]
        assert limit.distance(np.array([limit.low, limit.high])).tolist() == [0.0, 0.0]
        assert limit.distance(limit.high + 0.1) == pytest.approx(0.1)

    @methods
    def test_every_range_names_a_known_parameter_and_its_source_status(self, method) -> None:
        for limit in method.ranges:
            assert limit.parameter in PARAMETERS
            assert limit.low < limit.high
            assert limit.status


def test_denser_water_raises_every_force_in_proportion() -> None:
    heavy = Water(density=2.0 * float(SEA.density), kinematic_viscosity=SEA.kinematic_viscosity)
    for method in HOLTROP:
        assert method.resistance(LAUNCH, 3.0, heavy).total == pytest.approx(
            2.0 * method.resistance(LAUNCH, 3.0, SEA).total, rel=1e-12
        )

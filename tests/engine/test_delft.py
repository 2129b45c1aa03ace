"""Behaviour of the Delft methods, of the keel's resistance, and of the curve between tabulated Froude numbers."""

from dataclasses import fields, replace

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator

from engine.constants import GRAVITY
from engine.hull.curves import monotone_cubic
from engine.hull.delft_1992 import tabulated_shares_1992
from engine.hull.delft_1998 import tabulated_shares_1998
from engine.hull.delft_2008 import tabulated_shares_2008
from engine.hull.delft_keel import keel_residuary_resistance
from engine.hull.delft_parts import coefficient_table, interpolate_shares
from engine.hull.form import HullForm
from engine.hull.friction import friction_coefficient_ittc57
from engine.hull.holtrop_parts import correlation_allowance
from engine.hull.methods import METHODS, range_report
from engine.hull.resistance import Resistance
from engine.water import water

SEA = water("sea", 15.0)
YACHT = HullForm(
    waterline_length=10.0,
    waterline_beam=3.1,
    draft=0.55,
    volume=6.5,
    midship_coefficient=0.72,
    waterplane_coefficient=0.68,
    lcb_percent=-3.2,
    appendage_area=5.0,
    appendage_factor=1.4,
)
FIN = replace(YACHT, keel_volume=0.25, keel_draft=1.9)
ROOT = np.sqrt(GRAVITY * 10.0)
DELFT = ["delft_1992", "delft_1998", "delft_2008"]
BARE = ["delft_1998", "delft_2008"]
SHARES = {
    "delft_1992": tabulated_shares_1992,
    "delft_1998": tabulated_shares_1998,
    "delft_2008": tabulated_shares_2008,
}
delft = pytest.mark.parametrize("name", DELFT)


def resistance(name: str, form: HullForm, speed) -> Resistance:
    return METHODS[name].resistance(form, speed, SEA)


@delft
def test_a_boat_at_rest_has_no_resistance_and_it_rises_with_speed_without_a_gap(name: str) -> None:
    speeds = np.concatenate([[0.0], np.geomspace(1e-9, 0.01, 20), np.linspace(0.02, 0.6 * (1 - 1e-12), 200) * ROOT])
    total = np.asarray(resistance(name, YACHT, speeds).total)
    assert total[0] == 0.0
    assert np.all(np.diff(total) > 0.0)


@delft
def test_scalars_give_floats_and_a_negative_speed_is_refused(name: str) -> None:
    result = resistance(name, YACHT, 3.0)
    assert all(isinstance(getattr(result, field.name), float) for field in fields(Resistance))
    with pytest.raises(ValueError, match="speed must not be negative"):
        resistance(name, YACHT, -1.0)


@delft
def test_it_is_never_extrapolated_past_the_last_tabulated_froude_number(name: str) -> None:
    last = METHODS[name].highest_froude_number
    total = np.asarray(resistance(name, YACHT, np.array([last - 1e-9, last + 1e-9]) * ROOT).total)
    assert np.isfinite(total).tolist() == [True, False]


@delft
def test_residuary_resistance_is_smooth_at_the_tabulated_froude_numbers(name: str) -> None:
    grid = coefficient_table(name)[0][1:-1]
    speeds = (grid[:, None] + np.array([-2e-6, -1e-6, 1e-6, 2e-6])) * ROOT
    wave = np.asarray(resistance(name, YACHT, speeds).wave)
    np.testing.assert_allclose(wave[:, 1], wave[:, 2], rtol=1e-4)
    slope = np.asarray(YACHT.volume) * SEA.density * GRAVITY * 0.05
    np.testing.assert_allclose(
        (wave[:, 1] - wave[:, 0]) / 1e-6, (wave[:, 3] - wave[:, 2]) / 1e-6, rtol=1e-2, atol=1e-3 * slope
    )


@delft
def test_a_fleet_at_many_speeds_gives_what_each_boat_gives_alone(name: str) -> None:
    volumes, speeds = np.array([5.8, 6.5, 7.0]), np.linspace(0.0, 7.0, 15)
    fleet = resistance(name, replace(FIN, volume=volumes[:, None], keel_volume=np.array([[0.0], [0.2], [0.3]])), speeds)
    parts = ("friction", "form", "appendages", "correlation")
    names = (*parts, *(field.name for field in fields(Resistance)))
    assert np.broadcast_shapes(*(np.shape(getattr(fleet, name)) for name in names)) == (3, 15)
    assert np.shape(fleet.total) == (3, 15)
    alone = [
        [resistance(name, replace(FIN, volume=volume, keel_volume=keel), float(speed)).total for speed in speeds]
        for volume, keel in zip(volumes.tolist(), [0.0, 0.2, 0.3], strict=True)
    ]
    np.testing.assert_allclose(fleet.total, alone, rtol=1e-10)


@delft
def test_friction_is_on_seven_tenths_of_the_length_and_the_allowance_is_the_standard_one(name: str) -> None:
    result = resistance(name, replace(YACHT, wetted_surface=23.0), 3.0)
    pressure = 0.5 * SEA.density * 9.0
    line = friction_coefficient_ittc57(0.7 * 10.0 * 3.0 / SEA.kinematic_viscosity)
    assert result.friction == pytest.approx(pressure * 23.0 * line, rel=1e-12)
    assert result.appendages == pytest.approx(pressure * 5.0 * 1.4 * line, rel=1e-12)
    assert result.correlation == pytest.approx(pressure * 28.0 * correlation_allowance(YACHT), rel=1e-12)
    assert (result.form, result.bulb, result.transom) == (0.0, 0.0, 0.0)


@delft
def test_the_three_analyses_of_one_series_agree_near_hull_speed(name: str) -> None:
    """Within a quarter of each other's mean; 1992 has keel and rudder in it."""
    all_three = [resistance(one, YACHT, 0.40 * ROOT).wave for one in DELFT]
    assert resistance(name, YACHT, 0.40 * ROOT).wave == pytest.approx(np.mean(all_three), rel=0.25)


@delft
def test_a_yacht_lies_in_the_ranges_and_a_tug_does_not(name: str) -> None:
    assert range_report(METHODS[name], YACHT, 0.3 * ROOT) == ()
    tug = replace(YACHT, draft=1.3, volume=20.0, waterplane_coefficient=0.8)
    outside = {one.limit.parameter for one in range_report(METHODS[name], tug, 0.3 * ROOT)}
    assert {"slenderness", "beam_draft_ratio"} <= outside


@pytest.mark.parametrize("name", BARE)
def test_a_centre_of_flotation_not_given_lies_1_5_percent_aft_of_that_of_buoyancy(name: str) -> None:
    given = replace(YACHT, lcf_percent=-4.7)
    assert resistance(name, given, 3.0).wave == resistance(name, YACHT, 3.0).wave
    assert resistance(name, replace(YACHT, lcf_percent=-6.5), 3.0).wave != resistance(name, YACHT, 3.0).wave


def test_slow_negatives_of_a_regression_become_zero_and_fast_ones_stay() -> None:
    grid, shares = np.array([0.10, 0.20, 0.30, 0.40]), np.array([-0.001, -0.002, -0.003, 0.02])
    found = interpolate_shares(grid, shares, np.array([0.0, 0.05, 0.10, 0.20, 0.30, 0.40, 0.41]))
    np.testing.assert_allclose(found, [0.0, 0.0, 0.0, 0.0, -0.003, 0.02, np.nan], atol=1e-15)


class TestKeel:
    @pytest.mark.parametrize("name", BARE)
    def test_a_fin_keel_adds_to_the_bare_hull_up_to_the_end_of_its_table(self, name: str) -> None:
        speeds = np.array([0.0, 0.25, 0.35, 0.45, 0.60 - 1e-9]) * ROOT
        more = np.asarray(resistance(name, FIN, speeds).wave) - np.asarray(resistance(name, YACHT, speeds).wave)
        assert more[0] == 0.0
        assert np.all(np.diff(more) > 0.0)
        assert np.isnan(resistance(name, FIN, 0.601 * ROOT).total)

    def test_the_1992_models_had_one_already(self) -> None:
        assert resistance("delft_1992", FIN, 3.0).total == resistance("delft_1992", YACHT, 3.0).total

    def test_it_is_never_negative(self) -> None:
        keel = keel_residuary_resistance(
            np.linspace(0.0, 0.6, 61),
            keel_volume=np.array([[0.02], [0.5], [2.0]]),
            total_draft=0.7,
            hull_draft=0.5,
            buoyancy_depth=0.1,
            beam=4.0,
            hull_volume=np.array([[1.0], [6.0], [60.0]]),
            water_density=SEA.density,
            gravity=GRAVITY,
        )
        assert np.all(np.asarray(keel) >= 0.0)
        assert np.any(np.asarray(keel) > 0.0)

    @pytest.mark.parametrize("draft", [None, 0.5])
    def test_a_keel_volume_without_a_depth_to_hold_it_is_refused(self, draft: float | None) -> None:
        with pytest.raises(ValueError, match="needs a keel draft"):
            replace(YACHT, keel_volume=0.2, keel_draft=draft)


class TestMonotoneCubic:
    grid = np.array([0.0, 0.12, 0.15, 0.30, 0.50, 0.60])
    values = np.random.default_rng(7).normal(size=(50, 6))
    values[0, 2:4] = values[0, 1]
    x = np.linspace(0.0, 0.6, 241)

    def test_it_is_scipys(self) -> None:
        expected = [PchipInterpolator(self.grid, curve)(self.x) for curve in self.values]
        np.testing.assert_allclose(monotone_cubic(self.grid, self.values[:, None, :], self.x), expected, atol=1e-12)

    def test_shapes_broadcast_and_outside_there_is_no_value(self) -> None:
        assert isinstance(monotone_cubic(self.grid, self.values[0], 0.2), float)
        assert np.shape(monotone_cubic(self.grid, self.values, 0.2)) == (50,)
        assert np.shape(monotone_cubic(self.grid, self.values, np.full(50, 0.2))) == (50,)
        assert np.shape(monotone_cubic(self.grid, self.values[0], self.x)) == (241,)
        assert np.all(np.isnan(monotone_cubic(self.grid, self.values, 0.61)))
        assert np.all(np.isnan(monotone_cubic(self.grid, self.values, -0.01)))


@delft
def test_tabulated_values_are_met_at_their_froude_numbers(name: str) -> None:
    grid = coefficient_table(name)[0]
    shares = SHARES[name](YACHT)[: grid.size]
    weight = YACHT.volume * SEA.density * GRAVITY
    beyond_scatter = grid > 0.20
    wave = np.asarray(resistance(name, YACHT, grid * (1 - 1e-12) * ROOT).wave)
    np.testing.assert_allclose(wave[beyond_scatter], (weight * shares)[beyond_scatter], rtol=1e-8)

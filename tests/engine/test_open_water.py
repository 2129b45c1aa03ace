"""Open-water series: shapes, monotone curves, ranges, and what a further series needs."""

from dataclasses import replace

import numpy as np
import pytest

from engine.propeller.geometry import developed_area_ratio
from engine.propeller.open_water import OpenWater
from engine.propeller.series import SERIES
from engine.propeller.wageningen import TESTED_AREA_RATIOS, WAGENINGEN_B

TESTED = [(blades, area) for blades, areas in TESTED_AREA_RATIOS.items() for area in areas]


def test_a_single_geometry_gives_floats():
    open_water = WAGENINGEN_B.cubics(0.8, 0.5, 3)
    assert open_water.thrust_cubic.shape == (4,)
    assert isinstance(open_water.thrust_coefficient(0.4), float)
    assert isinstance(open_water.zero_thrust_advance_ratio, float)


def test_geometries_and_advance_ratios_broadcast():
    pitch_ratio = np.array([0.6, 0.8, 1.0])
    grid = WAGENINGEN_B.cubics(pitch_ratio[:, None], np.array([0.5, 0.6]), np.array([[3], [4], [5]]))
    assert grid.torque_cubic.shape == (3, 2, 4)
    one = WAGENINGEN_B.cubics(0.8, 0.6, 4)
    assert grid.torque_coefficient(0.45)[1, 1] == pytest.approx(one.torque_coefficient(0.45), rel=1e-12)
    J = np.linspace(0, 0.5, 7)
    wide = grid.with_trailing_axis().thrust_coefficient(J)
    assert wide.shape == (3, 2, 7)
    np.testing.assert_allclose(wide[1, 1], one.thrust_coefficient(J), rtol=1e-12)


@pytest.mark.parametrize(("blades", "area"), TESTED)
def test_thrust_and_torque_fall_with_advance_inside_the_tested_areas(blades, area):
    for pitch_ratio in np.linspace(0.5, 1.4, 10):
        open_water = WAGENINGEN_B.cubics(pitch_ratio, area, blades)
        J = np.linspace(0.0, open_water.zero_thrust_advance_ratio, 80)
        assert np.all(np.diff(open_water.thrust_coefficient(J)) < 0)
        assert np.all(np.diff(open_water.torque_coefficient(J)) < 0)
        assert np.all(np.asarray(open_water.torque_coefficient(J)) > 0)


def test_thrust_is_zero_where_it_says_so():
    open_water = WAGENINGEN_B.cubics(np.linspace(0.5, 1.4, 19), 0.55, 4)
    J = open_water.zero_thrust_advance_ratio
    np.testing.assert_allclose(open_water.thrust_coefficient(J), 0.0, atol=1e-13)
    assert np.all(np.diff(J) > 0)


@pytest.mark.parametrize("name", SERIES)
def test_the_first_advance_ratio_without_thrust_is_the_cubics_lowest_root(name):
    """Against numpy.roots, by the eigenvalues of a companion matrix."""
    series = SERIES[name]
    count, (low, high) = series.blades[-1], series.pitch_ratio
    cubics = series.cubics(np.linspace(low, high, 25), np.array(series.area_ratio[count])[:, None], count)
    bent = np.array([[0.3, -0.4, 0.2, -0.5], [0.3, -0.4, 0.15, -0.001], [0.3, -0.4, -0.2, 0.1], [0.3, -0.4, 0.0, 0.0]])
    for cubic in (cubics.thrust_cubic.reshape(-1, 4), bent):
        found = np.asarray(OpenWater(cubic, cubic).zero_thrust_advance_ratio)
        for row, J in zip(cubic, found, strict=True):
            roots = np.roots(row[::-1])
            real = roots[(abs(roots.imag) < 1e-9) & (roots.real > 0.0) & (roots.real < 3.0)].real
            assert pytest.approx(real.min(), rel=1e-9) == J if real.size else np.isnan(J)


def test_a_propeller_that_never_thrusts_has_no_zero_thrust_advance_ratio():
    dead = OpenWater(np.array([-0.1, -0.1, 0.0, 0.0]), np.array([0.01, 0.0, 0.0, 0.0]))
    assert np.isnan(dead.zero_thrust_advance_ratio)


def test_efficiency_is_nothing_at_rest_and_undefined_when_dragged():
    open_water = WAGENINGEN_B.cubics(0.8, 0.5, 3)
    assert open_water.efficiency(0.0) == 0.0
    assert np.isnan(open_water.efficiency(open_water.zero_thrust_advance_ratio + 0.02))


def test_inside_the_tested_range_nothing_is_reported():
    assert WAGENINGEN_B.outside(0.8, 0.55, np.array([3, 4, 5]), 0.4) == ()


def test_outside_ranges_are_named_with_their_place():
    records = WAGENINGEN_B.outside(np.array([0.45, 0.8]), np.array([0.9, 0.9]), np.array([3, 4]), -0.1)
    assert {record.quantity: record.where.tolist() for record in records} == {
        "pitch ratio": [True, False],
        "blade area ratio": [True, False],
        "advance ratio": True,
    }
    text = " ".join(record.sentence() for record in records)
    assert "The pitch ratio in 1 of 2 cases is outside 0.5 to 1.4" in text
    assert "with 3 blades" in text


def test_too_many_blades_are_reported():
    assert [record.quantity for record in WAGENINGEN_B.outside(0.8, 0.6, 9)] == ["number of blades"]


def test_area_may_go_a_little_past_the_tested_models():
    assert WAGENINGEN_B.outside(0.8, 0.31, 3) == ()
    assert len(WAGENINGEN_B.outside(0.8, 0.29, 3)) == 1


def test_a_series_written_in_developed_area_takes_expanded_area_too():
    developed = replace(WAGENINGEN_B, area_basis="developed")
    expected = WAGENINGEN_B.cubics(0.8, developed_area_ratio(0.6, 3), 3)
    np.testing.assert_allclose(developed.cubics(0.8, 0.6, 3).thrust_cubic, expected.thrust_cubic, rtol=1e-12)


def test_the_pitch_grid_covers_the_series():
    grid = WAGENINGEN_B.pitch_ratio_grid(0.01)
    assert (grid[0], grid[-1], len(grid)) == (0.5, 1.4, 91)

"""Sizes, areas, clearances and stock sizes of propellers."""

import numpy as np
import pytest

from engine.constants import INCH, RPM
from engine.propeller.geometry import (
    Propeller,
    developed_area_ratio,
    developed_ratio_from_mean_width,
    expanded_area_ratio,
    expanded_ratio_from_projected,
    largest_diameter_in_space,
    mean_width_ratio_from_developed,
    projected_area_ratio,
    projected_ratio_handbook,
    stock_diameters,
    stock_pitches,
    tip_clearance_fraction,
)


def test_a_propeller_knows_its_pitch_ratio_and_area():
    propeller = Propeller(diameter=0.6, pitch=0.45, blades=3, area_ratio=0.5)
    assert propeller.pitch_ratio == pytest.approx(0.75)
    assert propeller.expanded_area == pytest.approx(0.5 * np.pi * 0.09, rel=1e-12)


def test_mean_width_ratio_of_stock_wheels_gives_their_disc_area_ratio():
    """Three blades of mean-width ratio 0.33 are sold as disc-area ratio 0.50 to 0.55 (trade, from memory)."""
    assert 0.50 <= developed_ratio_from_mean_width(0.33, 3) <= 0.55
    # by geometry, hub 0.2 D: Z MWR D (D - 0.2 D)/2 over pi D2/4
    assert developed_ratio_from_mean_width(0.33, 3) == pytest.approx(3 * 0.33 * 0.4 / (np.pi / 4), rel=2e-3)


def test_area_conversions_are_each_others_inverse():
    area, blades = np.linspace(0.3, 1.1, 9), 3
    np.testing.assert_allclose(developed_area_ratio(expanded_area_ratio(area, blades), blades), area, rtol=1e-12)
    np.testing.assert_allclose(expanded_ratio_from_projected(projected_area_ratio(area, 0.8), 0.8), area, rtol=1e-12)
    widths = mean_width_ratio_from_developed(area, blades)
    np.testing.assert_allclose(developed_ratio_from_mean_width(widths, blades), area, rtol=1e-12)


def test_developed_area_follows_the_published_inverse():
    """Radojcic (1988): AD/A0 = [sqrt(121 Z2 + 3200 Z (AE/A0)/17) - 11 Z]/8."""
    printed = (np.sqrt(121 * 9 + 3200 * 3 * 0.6 / 17) - 33) / 8
    assert developed_area_ratio(0.6, 3) == pytest.approx(printed, rel=1e-12)


def test_expanded_and_developed_area_differ_little():
    area = np.linspace(0.4, 1.1, 8)
    assert np.all(np.abs(np.asarray(expanded_area_ratio(area, 3)) / area - 1) < 0.07)


def test_both_projected_area_rules_agree_at_pitch_ratio_one():
    """0.85 by the handbook, 0.838 by Taylor."""
    assert projected_ratio_handbook(1.0, 1.0) == pytest.approx(0.85, abs=1e-9)
    assert projected_area_ratio(1.0, 1.0) == pytest.approx(0.838, abs=1e-9)


@pytest.mark.parametrize(
    ("speed_length_ratio", "rpm", "fraction"),
    [(1.0, 250, 0.08), (1.3, 250, 0.10), (1.1, 900, 0.10), (2.0, 1500, 0.10), (2.7, 1500, 0.15), (3.2, 1500, 0.20)],
)
def test_faster_boats_need_more_room_at_the_tips(speed_length_ratio, rpm, fraction):
    assert tip_clearance_fraction(speed_length_ratio, rpm * RPM) == fraction


def test_diameter_and_gap_fill_the_height():
    """0.36 m above the shaft is half a diameter of 0.6 m and a tenth of it for the gap."""
    assert largest_diameter_in_space(0.36, 0.10) == pytest.approx(0.6, rel=1e-12)


def test_stock_sizes_are_whole_inches_with_half_inch_pitch_when_small():
    np.testing.assert_allclose(stock_diameters(18 * INCH, 21 * INCH) / INCH, [18, 19, 20, 21])
    np.testing.assert_allclose(stock_pitches(14 * INCH, 9.2 * INCH, 10.5 * INCH) / INCH, [9.5, 10.0, 10.5])
    np.testing.assert_allclose(stock_pitches(20 * INCH, 12.5 * INCH, 14 * INCH) / INCH, [13, 14])
    np.testing.assert_allclose(stock_pitches(34 * INCH, 21 * INCH, 26 * INCH) / INCH, [22, 24, 26])


def test_metric_stock_sizes_go_by_ten_millimetres():
    np.testing.assert_allclose(stock_diameters(0.445, 0.48, "metric"), [0.45, 0.46, 0.47, 0.48])
    np.testing.assert_allclose(stock_pitches(0.45, 0.30, 0.32, "metric"), [0.30, 0.31, 0.32])

"""Sizes, areas, clearances and stock pitches of propellers."""

import numpy as np
import pytest

from engine.constants import INCH, RPM
from engine.propeller.geometry import (
    developed_area_ratio,
    developed_ratio_from_mean_width,
    expanded_area_ratio,
    expanded_ratio_from_projected,
    mean_width_ratio_from_developed,
    projected_area_ratio,
    stock_pitch_step,
    tip_clearance_fraction,
)


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
    assert np.all(np.abs(np.asarray(expanded_area_ratio(area, 3)) / area - 1) < 0.06)


def test_projected_area_at_pitch_ratio_one():
    """By Taylor; the trade's rule, 1.0125 - 0.1 P/D - 0.0625 (P/D)2 from memory, says 0.85."""
    assert projected_area_ratio(1.0, 1.0) == pytest.approx(0.838, abs=1e-9)


@pytest.mark.parametrize(
    ("speed_length_ratio", "rpm", "fraction"),
    [(1.0, 250, 0.08), (1.3, 250, 0.10), (1.1, 900, 0.10), (2.0, 1500, 0.10), (2.7, 1500, 0.15), (3.2, 1500, 0.20)],
)
def test_faster_boats_need_more_room_at_the_tips(speed_length_ratio, rpm, fraction):
    assert tip_clearance_fraction(speed_length_ratio, rpm * RPM) == fraction


@pytest.mark.parametrize(
    ("speed_length_ratio", "rpm", "fraction"),
    [(1.0, 300, 0.10), (1.2, 250, 0.10), (2.5, 1500, 0.10), (2.7, 1000, 0.10), (3.0, 1500, 0.15)],
)
def test_at_the_ends_of_the_table_the_row_is_the_one_that_names_them(speed_length_ratio, rpm, fraction):
    """300 to 1800 rpm and 1.2 to 2.5 are 10 %; over 1000 rpm and over 2.5 are 15 %, over 3 is 20 %."""
    assert tip_clearance_fraction(speed_length_ratio, rpm * RPM) == fraction


@pytest.mark.parametrize(("diameter_in", "step_in"), [(14, 0.5), (16, 1.0), (20, 1.0), (30, 1.0), (34, 2.0)])
def test_pitches_are_kept_in_half_inches_when_small_and_in_two_inches_when_large(diameter_in, step_in):
    assert stock_pitch_step(diameter_in * INCH) == pytest.approx(step_in * INCH)

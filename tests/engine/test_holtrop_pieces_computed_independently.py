"""Coefficients of Holtrop & Mennen (1982) and Holtrop (1984) that come in pieces, which the worked examples see one of.

That the pieces meet is not said in the papers; with their constants they do, to the digits printed, so a constant that
is wrong in either tears them apart. Values between the joints are worked out by hand from the papers' formulas: they
guard against slips of programming and are no evidence about the outside world; that is in tests/published.
"""

from dataclasses import replace

import numpy as np
import pytest

from engine.hull import holtrop_1982, holtrop_form, holtrop_parts
from engine.hull.form import HullForm
from engine.water import Water

WATER = Water(1025.0, 1.18831e-6)
SIDES = np.array([1.0 - 1e-9, 1.0 + 1e-9])
SHIP = HullForm(
    waterline_length=100.0,
    waterline_beam=16.0,
    draft=5.0,
    volume=4000.0,
    midship_coefficient=0.90,
    waterplane_coefficient=0.75,
    lcb_percent=-1.0,
    half_entrance_angle_deg=20.0,
)


@pytest.mark.parametrize("joint", [0.11, 0.25])
def test_c7_is_beam_over_length_at_both_its_joints(joint: float) -> None:
    found = holtrop_form.beam_length_coefficient_c7(replace(SHIP, waterline_beam=100.0 * joint * SIDES))
    assert found == pytest.approx([joint, joint], abs=5e-6)  # 0.229577 and 0.33333 have five and six digits


def test_c7_of_a_wide_boat_flattens_out() -> None:
    """0.5 - 0.0625 L/B, L/B 2.5."""
    wide = replace(SHIP, waterline_beam=40.0, draft=2.0)
    assert holtrop_form.beam_length_coefficient_c7(wide) == pytest.approx(0.34375, abs=1e-12)


@pytest.mark.parametrize(("joint", "value"), [(0.02, 0.479948), (0.05, 0.5130)])
def test_the_pieces_of_c12_meet(joint: float, value: float) -> None:
    found = holtrop_1982.draft_length_coefficient_c12(replace(SHIP, draft=100.0 * joint * SIDES, volume=1000.0))
    assert found == pytest.approx([value, value], abs=1e-4)  # of 48.20 four digits


def test_c12_between_its_joints_and_below_them() -> None:
    """48.20 (0.035 - 0.02)^2.078 + 0.479948; constant for a draft under a fiftieth of the length."""
    found = holtrop_1982.draft_length_coefficient_c12(replace(SHIP, draft=np.array([3.5, 1.0]), volume=800.0))
    assert found == pytest.approx([0.487764, 0.479948], abs=1e-6)


def test_the_pieces_of_c15_meet_and_lie_on_a_line_between() -> None:
    """-1.69385 up to L^3/volume 512, nought from 1727 on, and -1.69385 + 2/2.36 at 1000."""
    cubes = np.array([100.0, *(512.0 * SIDES), 1000.0, *(1727.0 * SIDES), 3000.0])
    found = holtrop_form.slenderness_coefficient_c15(replace(SHIP, volume=1e6 / cubes, draft=8.0))
    expected = [-1.69385, -1.69385, -1.69385, -0.846392, 0.0, 0.0, 0.0]
    assert found == pytest.approx(expected, abs=3e-4)  # 2.36 has three digits


def test_the_pieces_of_c16_meet_at_a_prismatic_coefficient_of_0_80() -> None:
    volumes = 100.0 * 16.0 * 5.0 * 0.90 * 0.80 * SIDES
    found = holtrop_form.prismatic_polynomial_c16(replace(SHIP, volume=volumes))
    assert found == pytest.approx([1.16478, 1.16478], abs=1e-5)


def test_c16_of_a_full_ship() -> None:
    """1.73014 - 0.7067 CP, at 0.90."""
    full = replace(SHIP, volume=100.0 * 16.0 * 5.0 * 0.90 * 0.90)
    assert holtrop_form.prismatic_polynomial_c16(full) == pytest.approx(1.09411, abs=1e-9)


def test_the_wave_length_stays_from_a_length_of_twelve_beams_on() -> None:
    """lambda = 1.446 CP - 0.03 L/B, then 1.446 CP - 0.36; here CP 0.60."""
    beams = 100.0 / np.array([10.0, *(12.0 * SIDES), 15.0])
    slim = replace(SHIP, waterline_beam=beams, volume=100.0 * beams * 5.0 * 0.90 * 0.60)
    found = holtrop_form.wave_coefficients(slim).wave_length
    assert found == pytest.approx([0.5676, 0.5076, 0.5076, 0.5076], abs=1e-8)


def test_the_transom_runs_dry_at_a_froude_number_of_five() -> None:
    """c6 = 0.2 (1 - 0.2 FnT): half of 0.2 at 2.5, a tenth at 4.5, nothing from 5 on.
    V = FnT sqrt(2 g AT/(B + B CWP)).
    """
    ship = replace(SHIP, transom_area=4.0)
    speed = np.array([2.5, 4.5, *(5.0 * SIDES), 7.0]) * np.sqrt(2.0 * 9.81 * 4.0 / 28.0)
    found = holtrop_parts.transom_resistance(ship, speed, WATER, gravity=9.81)
    assert found / (0.5 * 1025.0 * speed**2 * 4.0) == pytest.approx([0.1, 0.02, 0.0, 0.0, 0.0], abs=1e-8)


def test_the_correlation_allowance_of_a_shallow_ship_goes_by_her_draft() -> None:
    """CB 0.5 and L 100 m: 0.006 200^-0.16 - 0.00205 = 0.00052032; at a draft of a fiftieth of the length
    0.003 sqrt(100/7.5) 0.5^4 (0.04 - 0.02) = 0.00001369 more, from a twenty-fifth on nothing."""
    drafts = np.array([2.0, *(4.0 * SIDES), 5.0])
    shallow = replace(SHIP, draft=drafts, volume=0.5 * 1600.0 * drafts)
    found = holtrop_parts.correlation_allowance(shallow)
    assert found == pytest.approx([0.00053401, 0.00052032, 0.00052032, 0.00052032], abs=5e-9)


def test_a_bulb_takes_from_the_allowance_of_a_shallow_ship_what_it_takes_from_her_waves() -> None:
    """c3 = 0.56 4^1.5/(16 2 (0.31 2 + 2 - 1)) = 0.086420, c2 = exp(-1.89 sqrt(c3)) = 0.573719."""
    ship = replace(SHIP, draft=2.0, volume=1600.0, bulb_area=4.0, bulb_height=1.0)
    assert holtrop_parts.correlation_allowance(ship) == pytest.approx(0.00052032 + 0.573719 * 1.36931e-5, abs=5e-9)

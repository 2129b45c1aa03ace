"""Holtrop's propulsion factors worked out by hand, or held to where their pieces meet, from the papers' formulas.

They guard against slips of programming and are no evidence about the outside world; that is in tests/published.
"""

from dataclasses import replace

import pytest

from engine.propeller.holtrop_interaction import (
    thrust_deduction_single_1982,
    thrust_deduction_single_1984,
    wake_fraction_single_1982,
    wake_fraction_single_1984,
)
from tests.published.test_holtrop_interaction import SHIP_1982, WETTED_1982


def test_the_single_screw_forms_of_1984_worked_out_by_hand_for_the_1982_ship():
    """t = 0.25014 (32/205)^0.28956 (sqrt(320)/8)^0.2624/0.399825^0.01762 + 0.015 = 0.146091 1.235108/0.983977 + 0.015.
    w = 14.500 1.15 0.001963 20.5 (0.050776 + 0.93405 1.25 0.001963/0.45234) + 0.27915 1.15 sqrt(32/(205 0.45234))
    + 1.15 (0.12997/0.378354 - 0.11056/0.3667) = 0.037472 + 0.188582 + 0.048316."""
    assert thrust_deduction_single_1984(SHIP_1982) == pytest.approx(0.198376, abs=1e-6)
    assert wake_fraction_single_1984(SHIP_1982, 0.001963, WETTED_1982) == pytest.approx(0.274370, abs=5e-6)


def test_the_wake_of_1984_of_a_full_ship_goes_by_her_midship_section():
    """c19 from CP 0.70 on: 0.18567/(1.3571 - CM) - 0.71276 + 0.38648 CP; 0.08617 more from CM 0.90 to 0.98. With
    CP 0.75, by hand: 0.041374 for the friction, 0.276364 for the beam,
    1.15 (0.492363 - 0.71276 + 0.28986) for c19."""
    slight, full = (replace(SHIP_1982, prismatic_coefficient=0.75, midship_coefficient=CM) for CM in (0.90, 0.98))
    wakes = [wake_fraction_single_1984(stern, 0.001963, WETTED_1982) for stern in (slight, full)]
    more = 0.18567 / 0.3771 - 0.18567 / 0.4571
    assert more == pytest.approx(0.08617, abs=5e-6)
    assert wakes[1] - wakes[0] == pytest.approx(1.15 * more, rel=1e-9)
    assert wakes[1] == pytest.approx(0.397620, abs=5e-6)


def test_the_pieces_of_c10_meet_at_a_length_of_5_2_beams():
    def at_ratio(length_beam):
        return thrust_deduction_single_1982(replace(SHIP_1982, beam=205.0 / length_beam))

    assert at_ratio(5.2 - 1e-9) == pytest.approx(at_ratio(5.2 + 1e-9), abs=1e-6)


def test_c9_flattens_out_from_28_on():
    """c8 is B S/(L D TA), here S over 512.5; c9 = 32 - 16/(c8 - 24), 31 at 40. The wake goes straight with c9."""

    def at_c8(c8):
        return wake_fraction_single_1982(SHIP_1982, 0.001963, 512.5 * c8)

    per_unit = (at_c8(20.0) - at_c8(10.0)) / 10.0
    assert at_c8(28.0 - 1e-9) == pytest.approx(at_c8(28.0 + 1e-9), abs=1e-9)
    assert at_c8(40.0) - at_c8(10.0) == pytest.approx(21.0 * per_unit, rel=1e-9)

"""Holtrop's propulsion factors against the two printed worked examples."""

from dataclasses import replace

import numpy as np
import pytest

from engine.propeller.holtrop_interaction import (
    HoltropStern,
    relative_rotative_efficiency_single,
    relative_rotative_efficiency_twin,
    thrust_deduction_single_1982,
    thrust_deduction_single_1984,
    thrust_deduction_twin,
    viscous_resistance_coefficient,
    wake_fraction_single_1982,
    wake_fraction_single_1984,
    wake_fraction_twin,
)

KNOT = 1852 / 3600

# J. Holtrop & G. G. J. Mennen (1982), "An approximate power prediction method", section 5
SHIP_1982 = HoltropStern(
    length=205.0,
    beam=32.0,
    draft=10.0,
    draft_aft=10.0,
    diameter=8.0,
    block_coefficient=37500.0 / (205.0 * 32.0 * 10.0),
    prismatic_coefficient=0.5833,
    midship_coefficient=0.98,
    buoyancy_centre_percent=-0.75,
    stern_coefficient=10.0,
)
WETTED_1982 = 7381.45 + 50.0

# J. Holtrop (1984), "A statistical re-analysis of resistance and propulsion data"
SHIP_1984 = HoltropStern(
    length=50.0,
    beam=12.0,
    draft=3.2,
    draft_aft=3.3,
    diameter=3.231,
    block_coefficient=900.0 / (50.0 * 12.0 * 3.2),
    prismatic_coefficient=900.0 / (50.0 * 12.0 * 3.2) / 0.78,
    midship_coefficient=0.78,
    buoyancy_centre_percent=-4.5,
)


def viscous_coefficient_1982() -> float:
    """From the printed parts: friction with form factor, appendages, correlation."""
    viscous = 869.63e3 * 1.156 + 8.83e3 + 221.98e3
    return float(viscous_resistance_coefficient(viscous, 25 * KNOT, WETTED_1982, 1025.0))


class TestSingleScrewExampleOf1982:
    """Printed values recalled from memory and then reproduced; tolerance half a unit of the last printed digit."""

    def test_viscous_coefficient(self):
        assert viscous_coefficient_1982() == pytest.approx(0.001963, abs=1e-6)

    def test_wake_fraction(self):
        assert wake_fraction_single_1982(SHIP_1982, 0.001963, WETTED_1982) == pytest.approx(0.2584, abs=5e-5)

    def test_wake_fraction_needs_the_appendages_in_the_wetted_area(self):
        """The bare hull's area alone leaves the wake 0.00025 short of the printed value."""
        assert 0.2584 - wake_fraction_single_1982(SHIP_1982, 0.001963, 7381.45) > 2e-4

    def test_thrust_deduction_and_thrust(self):
        t = thrust_deduction_single_1982(SHIP_1982)
        assert t == pytest.approx(0.1747, abs=5e-5)
        assert 1793.26 / (1 - t) == pytest.approx(2172.75, rel=1e-4)  # printed t has four digits

    def test_relative_rotative_efficiency(self):
        assert relative_rotative_efficiency_single(SHIP_1982, 0.7393) == pytest.approx(0.9931, abs=5e-5)


class TestTwinScrewExampleOf1984:
    """Printed w 0.039, t 0.054, eta_R 0.980 are from memory; tolerance half a unit of their last digit."""

    def viscous_coefficient(self) -> float:
        """At 25 kn: the printed total less wave and transom resistance, on hull and appendages."""
        viscous = (662.0 - 475.0 - 25.0) * 1e3
        return float(viscous_resistance_coefficient(viscous, 25 * KNOT, 584.9 + 50.0, 1025.0))

    def test_wake_fraction(self):
        assert wake_fraction_twin(SHIP_1984, self.viscous_coefficient()) == pytest.approx(0.039, abs=5e-4)

    def test_thrust_deduction(self):
        assert thrust_deduction_twin(SHIP_1984) == pytest.approx(0.054, abs=5e-4)

    def test_relative_rotative_efficiency_subtracts_the_pitch_term(self):
        """A copy in circulation adds the pitch term, which would give 1.123."""
        assert relative_rotative_efficiency_twin(SHIP_1984, 1.136) == pytest.approx(0.980, abs=5e-4)
        without_pitch = relative_rotative_efficiency_twin(SHIP_1984, 0.0)
        assert without_pitch + 0.06325 * 1.136 == pytest.approx(1.123, abs=1e-3)


def test_the_two_single_screw_forms_agree_on_the_1982_ship():
    """Two regressions of overlapping samples: no printed value, 0.05 apart at most."""
    old = wake_fraction_single_1982(SHIP_1982, 0.001963, WETTED_1982)
    assert wake_fraction_single_1984(SHIP_1982, 0.001963, WETTED_1982) == pytest.approx(old, abs=0.05)
    assert thrust_deduction_single_1984(SHIP_1982) == pytest.approx(thrust_deduction_single_1982(SHIP_1982), abs=0.05)


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


def test_coefficients_join_at_the_ends_of_their_branches():
    def at_draft(draft_aft):
        stern = HoltropStern(205.0, 32.0, 10.0, draft_aft, 8.0, 0.5716, 0.5833, 0.98, -0.75)
        return wake_fraction_single_1982(stern, 0.001963, WETTED_1982)

    assert at_draft(16.0 - 1e-9) == pytest.approx(at_draft(16.0 + 1e-9), abs=1e-5)  # TA/D = 2
    assert at_draft(6.4 - 1e-9) == pytest.approx(at_draft(6.4 + 1e-9), abs=1e-5)  # B/TA = 5


def test_c9_flattens_out_from_28_on():
    """c8 is B S/(L D TA), here S over 512.5; c9 = 32 - 16/(c8 - 24), 31 at 40. The wake goes straight with c9."""

    def at_c8(c8):
        return wake_fraction_single_1982(SHIP_1982, 0.001963, 512.5 * c8)

    per_unit = (at_c8(20.0) - at_c8(10.0)) / 10.0
    assert at_c8(28.0 - 1e-9) == pytest.approx(at_c8(28.0 + 1e-9), abs=1e-9)
    assert at_c8(40.0) - at_c8(10.0) == pytest.approx(21.0 * per_unit, rel=1e-9)


def test_a_boat_is_reported_as_outside_the_ships():
    boat = HoltropStern(11.0, 3.4, 0.9, 0.9, 0.55, 0.40, np.array([0.52, 0.58]), 0.70, -2.0)
    records = boat.outside()
    assert [record.quantity for record in records] == ["length-beam ratio", "prismatic coefficient"]
    assert records[1].where.tolist() == [True, False]
    assert SHIP_1982.outside() == ()
    assert np.shape(thrust_deduction_single_1984(boat)) == (2,)

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


def test_coefficients_join_at_the_ends_of_their_branches():
    def at_draft(draft_aft):
        stern = HoltropStern(205.0, 32.0, 10.0, draft_aft, 8.0, 0.5716, 0.5833, 0.98, -0.75)
        return wake_fraction_single_1982(stern, 0.001963, WETTED_1982)

    assert at_draft(16.0 - 1e-9) == pytest.approx(at_draft(16.0 + 1e-9), abs=1e-5)  # TA/D = 2
    assert at_draft(6.4 - 1e-9) == pytest.approx(at_draft(6.4 + 1e-9), abs=1e-5)  # B/TA = 5


def test_a_boat_is_reported_as_outside_the_ships():
    """L/B 3.9 to 15 and CP 0.55 to 0.85, from memory."""
    boat = HoltropStern(11.0, 3.4, 0.9, 0.9, 0.55, 0.40, np.array([0.545, 0.555, 0.845, 0.855]), 0.70, -2.0)
    records = boat.outside()
    assert [record.quantity for record in records] == ["length-beam ratio", "prismatic coefficient"]
    assert records[1].where.tolist() == [True, False, False, True]
    lengths = replace(boat, length=3.4 * np.array([3.85, 3.95, 14.9, 15.1]), prismatic_coefficient=0.6)
    assert lengths.outside()[0].where.tolist() == [True, False, False, True]
    assert SHIP_1982.outside() == ()
    assert np.shape(thrust_deduction_single_1984(boat)) == (4,)

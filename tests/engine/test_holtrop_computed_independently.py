"""Regression guards computed by our own independent script: not evidence that the methods are right."""

from dataclasses import replace

import numpy as np
import pytest

from engine.constants import KNOT
from engine.hull import holtrop_1984, holtrop_form
from engine.hull.form import HullForm
from engine.hull.holtrop_parts import correlation_allowance
from engine.hull.methods import METHODS
from engine.hull.roughness import FOULING_CLASSES, roughness_allowance
from engine.water import Water, water
from tests.published.ship_of_1984 import SHIP, WATER

VESSEL = HullForm(
    waterline_length=13.0,
    waterline_beam=4.3,
    draft=1.45,
    volume=41.208362,
    midship_coefficient=0.82,
    waterplane_coefficient=0.75,
    lcb_percent=-2.0,
    half_entrance_angle_deg=25.0,
)


class TestComputedIndependently:
    def test_holtrop_1984_of_a_13_metre_vessel(self) -> None:
        froude = np.array([0.15, 0.20, 0.25, 0.30, 0.35, 0.40, 0.45, 0.50])
        speed = froude * np.sqrt(9.81 * 13.0)
        result = METHODS["holtrop_1984"].resistance(VESSEL, speed, Water(1025.98, 1.1892e-6))
        # Whole newtons; standard gravity here against 9.81 there, 0.2 % near the steepest rise.
        expected = [405.0, 702.0, 1172.0, 2253.0, 3936.0, 8233.0, 15116.0, 22065.0]
        np.testing.assert_allclose(result.total, expected, rtol=4e-3)

    @pytest.mark.parametrize(
        ("name", "at_6_knots", "at_8_knots"),
        [
            ("clean, fresh antifouling", 0.00023, 0.00027),
            ("light slime or aged coating", 0.00058, 0.00065),
            ("heavy slime", 0.00115, 0.00124),
            ("small shell or weed", 0.00211, 0.00221),
            ("medium shell", 0.00341, 0.00352),
            ("heavy shell", 0.00558, 0.00568),
        ],
    )
    def test_friction_rise_of_fouling_classes_for_a_10_metre_length(self, name, at_6_knots, at_8_knots) -> None:
        height = FOULING_CLASSES[name].roughness_height
        rise = roughness_allowance(height, np.array([6.0, 8.0]) * KNOT, 10.0, water("sea", 15.0))
        # Five decimals: half a unit of the last, and a tenth of a unit for the water.
        np.testing.assert_allclose(rise, [at_6_knots, at_8_knots], atol=0.6e-5, rtol=0)


class TestShipOfThe1984Example:
    """Her coefficients by that script; what the paper prints of her is in tests/published/test_holtrop_1984.py."""

    SPEED = 25.0 * KNOT

    def test_coefficients(self) -> None:
        ship, froude = SHIP, SHIP.froude_number(self.SPEED, gravity=9.81)
        found = [
            ship.prismatic_coefficient,
            correlation_allowance(ship),
            holtrop_form.transom_wave_reduction_c5(ship),
            holtrop_form.wave_coefficients(ship).wave_length,
            holtrop_1984.fast_amplitude_c17(ship),
            holtrop_1984.fast_decay_m3(ship),
            holtrop_1984.interference_m4(ship, froude),
        ]
        expected = [0.600962, 0.00064139, 0.732906, 0.743990, 1.41331, -2.02978, -0.552917]
        assert found == pytest.approx(expected, rel=1e-5)  # five or six digits

    def test_wave_resistance_lies_on_a_line_from_froude_number_0_40_to_0_55(self) -> None:
        """From 0.55 on it is 1.41331 0.732906 weight exp{-2.02978 Fn^-0.9 + m4 cos(0.743990 Fn^-2)}, with m4
        -0.67754 exp(-0.034 Fn^-3.29): 437.816 kN there, 451.425 kN at 0.56."""
        froude = np.array([0.40, 0.45, 0.50, 0.55, 0.56])
        speed = froude * np.sqrt(9.81 * 50.0)
        wave = np.asarray(holtrop_1984.wave_resistance_1984(SHIP, speed, WATER, gravity=9.81))
        np.testing.assert_allclose(np.diff(wave[:4], n=2) / wave[3], 0.0, atol=1e-12)
        np.testing.assert_allclose(wave[3:], [437.816e3, 451.425e3], rtol=2e-5)

    def test_entrance_angle_of_the_regression(self) -> None:
        """The example fixes 25 degrees."""
        assert holtrop_form.half_entrance_angle(replace(SHIP, half_entrance_angle_deg=None)) == pytest.approx(
            26.40, abs=5e-3
        )

    def test_friction_and_viscous_coefficient_at_25_knots(self) -> None:
        result = holtrop_1984.resistance_holtrop_1984(SHIP, self.SPEED, WATER, gravity=9.81)
        assert result.friction == pytest.approx(82.024e3, rel=1e-5)
        viscous = result.friction + result.form + result.appendages + result.correlation
        assert viscous / (result.pressure * result.total_wetted_surface) == pytest.approx(0.0030088, abs=5e-8)


def test_correlation_allowance_of_boats_with_a_draft_over_a_twenty_fifth_of_their_length() -> None:
    lengths = np.array([7.0, 11.1, 15.0, 25.0])
    boats = HullForm(
        waterline_length=lengths,
        waterline_beam=0.3 * lengths,
        draft=0.06 * lengths,
        volume=0.008 * lengths**3,
        midship_coefficient=0.75,
        waterplane_coefficient=0.75,
        lcb_percent=-2.0,
    )
    expected = [0.000791, 0.000774, 0.000758, 0.000721]
    assert correlation_allowance(boats) == pytest.approx(expected, abs=5.1e-7, rel=0)

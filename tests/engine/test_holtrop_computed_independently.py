"""Regression guards computed by our own independent script: not evidence that the methods are right."""

import numpy as np
import pytest

from engine.constants import KNOT
from engine.hull.form import HullForm
from engine.hull.methods import METHODS
from engine.hull.roughness import FOULING_CLASSES, roughness_allowance
from engine.water import Water, water

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

"""A 13 m vessel by van Oortmerssen, from a script of our own: a guard against change, not validation."""

import numpy as np

from engine.hull.form import HullForm
from engine.hull.van_oortmerssen_1971 import resistance_van_oortmerssen_1971, wave_coefficients
from engine.water import Water

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
FROUDE_NUMBERS = np.array([0.15, 0.20, 0.25, 0.30, 0.35, 0.40, 0.45, 0.50])


def test_coefficients_of_the_wave_terms() -> None:
    expected = [0.00191591, 0.21627661, -0.07423217, 0.04987488]
    # Eight decimals there; the volume is given to eight figures and moves the last of ours by one.
    np.testing.assert_allclose(wave_coefficients(VESSEL), expected, atol=2e-8, rtol=0)


def test_resistance_at_eight_froude_numbers() -> None:
    speed = FROUDE_NUMBERS * (1 - 1e-14) * np.sqrt(9.81 * 13.0)
    result = resistance_van_oortmerssen_1971(VESSEL, speed, Water(1025.98, 1.1892e-6), gravity=9.81)
    # Whole newtons: half a unit.
    residuary = [105.0, 258.0, 494.0, 1765.0, 2448.0, 9177.0, 17035.0, 19944.0]
    viscous = [297.0, 507.0, 769.0, 1081.0, 1443.0, 1853.0, 2312.0, 2817.0]
    total = [401.0, 765.0, 1263.0, 2846.0, 3891.0, 11030.0, 19347.0, 22761.0]
    np.testing.assert_allclose(result.wave, residuary, atol=0.51, rtol=0)
    air = 0.00008 * 0.5 * 1025.98 * speed**2 * result.wetted_surface  # in the script, as in the paper; not with us
    np.testing.assert_allclose(result.friction + result.correlation + air, viscous, atol=0.51, rtol=0)
    np.testing.assert_allclose(result.total + air, total, atol=0.51, rtol=0)
    np.testing.assert_allclose(result.wetted_surface, 62.708248, atol=1e-5, rtol=0)

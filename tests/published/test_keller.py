"""Keller's blade area: the worked example of Holtrop & Mennen (1982), section 5."""

import pytest

from engine.propeller.cavitation import keller_allowance, keller_area_ratio


def test_the_1982_example_needs_an_area_ratio_of_0_7393():
    """D 8 m, 4 blades, thrust 2172.75 kN; shaft 5.8 m deep, p0 - pv 99 047 Pa at the surface. Printed 0.7393."""
    pressure = 99047.0 + 1025.0 * 9.81 * 5.8
    needed = keller_area_ratio(2172.75e3, 8.0, 4, pressure)
    assert needed == pytest.approx(0.7393, abs=2e-4)  # thrust and depth are rounded in the paper


def test_twin_screws_are_let_off_a_tenth_of_the_disc():
    single, twin = (keller_area_ratio(6e3, 0.6, 4, 110e3, keller_allowance(screws)) for screws in (1, 2))
    assert single - twin == pytest.approx(0.1, abs=1e-12)

"""Best propeller of a series: against brute force, and at the ends of what the series can do."""

import numpy as np
import pytest

from engine.constants import TWO_PI
from engine.propeller.design import (
    optimum_for_power_at_diameter,
    optimum_for_power_at_shaft_speed,
    optimum_for_thrust_at_diameter,
    optimum_for_thrust_at_shaft_speed,
)
from engine.propeller.wageningen import WAGENINGEN_B

RHO = 1025.0


def test_no_diameter_on_a_fine_grid_does_better():
    """Every diameter and pitch ratio of a grid that gives the thrust at the shaft speed, in plain arithmetic."""
    best = optimum_for_thrust_at_shaft_speed(
        WAGENINGEN_B, 3, 0.55, thrust=5000.0, shaft_speed=16.0, advance_speed=3.4, density=RHO
    )
    D = np.linspace(0.45, 0.9, 451)[:, None]
    open_water = WAGENINGEN_B.cubics(np.linspace(0.5, 1.4, 361), 0.55, 3)
    J = 3.4 / (16.0 * D)
    gives = open_water.thrust_coefficient(J) * RHO * 16.0**2 * D**4
    fits = np.abs(gives / 5000.0 - 1.0) < 0.004
    assert fits.any()
    brute = np.max(open_water.efficiency(J)[fits])
    assert best.efficiency == pytest.approx(brute, abs=0.002)  # the grid lets thrust miss by 0.4 %


def test_routes_agree_with_each_other():
    """The best at a shaft speed absorbs a power; asking for the best at that power gives the same propeller."""
    by_thrust = optimum_for_thrust_at_diameter(
        WAGENINGEN_B, 4, 0.6, thrust=5000.0, diameter=0.6, advance_speed=3.4, density=RHO
    )
    by_power = optimum_for_power_at_diameter(
        WAGENINGEN_B, 4, 0.6, power=by_thrust.delivered_power, diameter=0.6, advance_speed=3.4, density=RHO
    )
    assert by_power.thrust == pytest.approx(5000.0, rel=1e-4)
    assert by_power.efficiency == pytest.approx(by_thrust.efficiency, abs=1e-5)


def test_efficiency_thrust_and_power_are_consistent():
    best = optimum_for_power_at_shaft_speed(
        WAGENINGEN_B, 3, 0.5, power=40e3, shaft_speed=np.array([12.0, 16.0, 20.0]), advance_speed=3.5, density=RHO
    )
    np.testing.assert_allclose(best.thrust * 3.5, best.efficiency * best.delivered_power, rtol=1e-9)
    assert np.all(np.diff(best.diameter) < 0)
    assert np.all(np.diff(best.efficiency) < 0)
    KQ = 40e3 / (TWO_PI * RHO * best.shaft_speed**3 * best.diameter**5)
    open_water = WAGENINGEN_B.cubics(best.pitch_ratio, 0.5, 3)
    np.testing.assert_allclose(open_water.torque_coefficient(best.advance_ratio), KQ, rtol=1e-9)


def test_an_optimum_at_the_end_of_the_series_is_marked():
    light = optimum_for_thrust_at_diameter(
        WAGENINGEN_B, 3, 0.5, thrust=np.array([300.0, 5000.0]), diameter=0.6, advance_speed=6.0, density=RHO
    )
    assert light.at_series_end.tolist() == [True, False]
    assert light.pitch_ratio[0] == pytest.approx(1.4)


def test_a_loading_no_pitch_can_carry_gives_nan():
    none = optimum_for_thrust_at_diameter(
        WAGENINGEN_B, 3, 0.5, thrust=-100.0, diameter=0.6, advance_speed=3.5, density=RHO
    )
    assert np.isnan([none.pitch_ratio, none.efficiency, none.shaft_speed, none.delivered_power]).all()

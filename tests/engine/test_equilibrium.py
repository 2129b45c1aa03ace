"""Equilibrium of a propeller with what is asked of it."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.propeller.equilibrium import (
    SpeedFound,
    advance_ratio_for_loading,
    boat_speed_at_shaft_speed,
    shaft_speed_at_boat_speed,
    shaft_speed_for_thrust,
)
from engine.propeller.hull_curve import HullCurve, hull_curve
from engine.propeller.interaction import interaction
from engine.propeller.wageningen import WAGENINGEN_B

RHO = 1025.0
PROPELLER = WAGENINGEN_B.cubics(0.8, 0.55, 3)
SPEEDS = np.linspace(0.0, 5.0, 51)
HULL = HullCurve(SPEEDS, 20.0 * SPEEDS**2 + 6.0 * SPEEDS**4, 0.85, 1.0, RHO)


@pytest.mark.parametrize("curve", ["thrust", "torque"])
@pytest.mark.parametrize("power", [2, 3, 4, 5])
def test_the_root_of_every_route_is_found_again(curve, power):
    pitch_ratio = np.linspace(0.5, 1.4, 10)[:, None]
    open_water = WAGENINGEN_B.cubics(pitch_ratio, 0.55, 4)
    J = np.linspace(0.001, 0.999, 40) * open_water.zero_thrust_advance_ratio
    K = open_water.thrust_coefficient(J) if curve == "thrust" else open_water.torque_coefficient(J)
    found = advance_ratio_for_loading(open_water, curve, K / J**power, power)
    np.testing.assert_allclose(found, J, rtol=1e-9)


def test_no_loading_is_the_advance_ratio_of_zero_thrust():
    found = advance_ratio_for_loading(PROPELLER, "thrust", 0.0, 2)
    assert found == pytest.approx(PROPELLER.zero_thrust_advance_ratio, rel=1e-12)


def test_endless_loading_is_no_advance_and_a_negative_one_has_no_answer():
    found = advance_ratio_for_loading(PROPELLER, "thrust", np.array([np.inf, 1e12, -1.0, np.nan]), 2)
    assert found[0] == 0.0
    assert found[1] == pytest.approx(np.sqrt(PROPELLER.thrust_coefficient(0.0) / 1e12), rel=1e-5)
    assert np.isnan(found[2:]).all()


def test_too_little_torque_to_keep_thrust_has_no_answer():
    J = PROPELLER.zero_thrust_advance_ratio
    dragged = PROPELLER.torque_coefficient(J) / J**5
    assert np.isnan(advance_ratio_for_loading(PROPELLER, "torque", 0.9 * dragged, 5))
    assert advance_ratio_for_loading(PROPELLER, "torque", 1.1 * dragged, 5) < J


@given(
    pitch_ratio=st.floats(0.5, 1.4),
    blades=st.sampled_from([3, 4, 5]),
    diameter=st.floats(0.25, 1.2),
    shaft_speed=st.floats(3.0, 40.0),
    share=st.floats(0.0, 0.999),
)
def test_thrust_of_a_turning_propeller_gives_back_its_shaft_speed(pitch_ratio, blades, diameter, shaft_speed, share):
    open_water = WAGENINGEN_B.cubics(pitch_ratio, 0.6, blades)
    J = share * open_water.zero_thrust_advance_ratio
    thrust = open_water.thrust_coefficient(J) * RHO * shaft_speed**2 * diameter**4
    point = shaft_speed_for_thrust(open_water, diameter, thrust, J * shaft_speed * diameter, RHO)
    assert point.shaft_speed == pytest.approx(shaft_speed, rel=1e-9)
    assert point.thrust == pytest.approx(thrust, rel=1e-9)
    useful = point.thrust * J * shaft_speed * diameter
    assert useful == pytest.approx(point.efficiency * point.delivered_power, rel=1e-9, abs=1e-6)


def test_at_the_bollard_thrust_alone_sets_the_shaft_speed():
    point = shaft_speed_for_thrust(PROPELLER, 0.6, 4000.0, 0.0, RHO)
    KT = PROPELLER.thrust_coefficient(0.0)
    assert point.shaft_speed == pytest.approx(np.sqrt(4000.0 / (RHO * KT * 0.6**4)), rel=1e-12)
    assert (point.advance_ratio, point.efficiency) == (0.0, 0.0)


def test_thrust_of_nothing_windmills_or_stands_still():
    point = shaft_speed_for_thrust(PROPELLER, 0.6, 0.0, np.array([3.0, 0.0]), RHO)
    assert point.advance_ratio[0] == pytest.approx(PROPELLER.zero_thrust_advance_ratio, rel=1e-12)
    assert point.shaft_speed[1] == 0.0
    assert point.delivered_power[1] == 0.0
    assert np.all(np.isfinite(point.efficiency))


def test_negative_thrust_or_speed_has_no_answer():
    point = shaft_speed_for_thrust(PROPELLER, 0.6, np.array([-5.0, 500.0, -5.0]), np.array([2.0, -2.0, 0.0]), RHO)
    assert np.isnan(point.shaft_speed).all()


def test_relative_rotative_efficiency_divides_torque_only():
    plain, aided = (shaft_speed_for_thrust(PROPELLER, 0.6, 3000.0, 3.0, RHO, e) for e in (1.0, 1.02))
    assert aided.shaft_speed == plain.shaft_speed
    assert aided.torque * 1.02 == pytest.approx(plain.torque, rel=1e-12)


def test_boat_speed_and_shaft_speed_are_each_others_inverse():
    speed = SPEEDS[20]  # on the grid the hull curve is exact
    shaft = shaft_speed_for_thrust(PROPELLER, 0.6, HULL.thrust[20], 0.85 * speed, RHO)
    run = boat_speed_at_shaft_speed(PROPELLER, 0.6, shaft.shaft_speed, HULL)
    assert run.found == SpeedFound.YES
    assert run.speed == pytest.approx(speed, rel=1e-9)
    assert run.point.torque == pytest.approx(shaft.torque, rel=1e-9)


def test_between_grid_speeds_thrust_meets_the_straight_line():
    n = np.linspace(4.0, 14.0, 23)
    run = boat_speed_at_shaft_speed(PROPELLER, 0.6, n, HULL)
    np.testing.assert_allclose(run.point.thrust, np.interp(run.speed, SPEEDS, HULL.thrust), rtol=1e-9)
    assert np.all(np.diff(run.speed) > 0)


def test_outside_the_speed_grid_nothing_is_clipped():
    late = HullCurve(SPEEDS[20:], HULL.thrust[20:], 0.85, 1.0, RHO)
    run = boat_speed_at_shaft_speed(PROPELLER, 0.6, np.array([1.0, 10.0, 40.0]), late)
    assert run.found.tolist() == [SpeedFound.BELOW_GRID, SpeedFound.YES, SpeedFound.ABOVE_GRID]
    for value in (run.speed, run.point.delivered_power, run.point.shaft_speed):
        assert np.isnan(value).tolist() == [True, False, True]


def test_a_boat_coming_up_from_rest_stops_at_the_hump():
    """A second speed at which thrust is enough lies beyond one at which it is not."""
    thrust = np.interp(SPEEDS, [0.0, 2.0, 2.5, 3.5, 5.0], [0.0, 3000.0, 6000.0, 500.0, 9000.0])
    run = boat_speed_at_shaft_speed(PROPELLER, 0.6, 10.0, HullCurve(SPEEDS, thrust, 0.85, 1.0, RHO))
    assert run.speed < 2.5


def test_boats_propellers_and_shaft_speeds_broadcast():
    boats = HullCurve(SPEEDS, HULL.thrust * np.array([[[0.9]], [[1.1]]]), np.array([[0.9], [0.8]]), 1.0, RHO)
    run = boat_speed_at_shaft_speed(WAGENINGEN_B.cubics(np.array([0.7, 0.8, 0.9]), 0.55, 3), 0.6, 9.0, boats)
    assert np.shape(run.speed) == (2, 3)
    heavy = HullCurve(SPEEDS, HULL.thrust * 1.1, 0.8, 1.0, RHO)
    assert run.speed[1, 1] == pytest.approx(boat_speed_at_shaft_speed(PROPELLER, 0.6, 9.0, heavy).speed, rel=1e-10)


def test_two_propellers_share_the_resistance():
    factors = interaction("twin_struts", 0.42)
    one, two = (hull_curve(SPEEDS, HULL.thrust, factors, RHO, propellers=count) for count in (1, 2))
    np.testing.assert_allclose(two.thrust * 2, one.thrust, rtol=1e-12)
    np.testing.assert_allclose(one.thrust * (1 - factors.thrust_deduction), HULL.thrust, rtol=1e-12)


def test_an_inclined_shaft_must_push_harder_in_slower_water():
    factors = interaction("strut", 0.42)
    level = hull_curve(SPEEDS, HULL.thrust, factors, RHO)
    steep = hull_curve(SPEEDS, HULL.thrust, factors, RHO, shaft_angle=np.radians(12))
    cosine = np.cos(np.radians(12))
    np.testing.assert_allclose(steep.thrust * cosine, level.thrust, rtol=1e-12)
    assert steep.advance_fraction == pytest.approx(level.advance_fraction * cosine, rel=1e-12)


class TestShaftSpeedAtBoatSpeed:
    def test_it_is_the_inverse_of_the_boat_speed_at_a_shaft_speed(self) -> None:
        speeds = np.linspace(0.0, 6.0, 61)
        hull = HullCurve(speeds, 120.0 * speeds**2.5, 0.85, 1.0, 1025.0)
        open_water = WAGENINGEN_B.cubics(0.75, 0.55, 3)
        asked = np.array([1.03, 2.5, 3.71])
        point = shaft_speed_at_boat_speed(open_water, 0.5, asked, hull)
        back = boat_speed_at_shaft_speed(open_water, 0.5, point.shaft_speed, hull)
        assert back.speed == pytest.approx(asked, rel=1e-9)

    def test_a_fleet_of_hulls_keeps_its_axis_ahead_of_the_speeds(self) -> None:
        speeds = np.linspace(0.0, 5.0, 11)
        hull = HullCurve(speeds, np.array([[1.0], [2.0]]) * speeds**2, 0.85, 1.0, 1025.0)
        assert hull.thrust_at(np.array([0.5, 2.25])) == pytest.approx(np.array([[0.25, 5.125], [0.5, 10.25]]))

    def test_outside_the_grid_there_is_no_answer(self) -> None:
        hull = HullCurve(np.array([0.0, 1.0]), np.array([0.0, 10.0]), 1.0, 1.0, 1025.0)
        assert np.isnan(hull.thrust_at(np.array([-0.1, 1.1]))).all()

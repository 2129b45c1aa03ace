"""The point at which a propeller takes a power on a hull."""

import numpy as np
import pytest
from scipy.optimize import brentq

from engine.propeller.at_power import point_at_power, reaches_shaft_speed
from engine.propeller.equilibrium import SpeedFound, boat_speed_at_shaft_speed
from engine.propeller.hull_curve import HullCurve
from engine.propeller.open_water import OpenWater
from engine.propeller.wageningen import WAGENINGEN_B

RHO = 1025.0
SPEEDS = np.linspace(0.0, 6.0, 49)
THRUST = 40.0 * SPEEDS**2 * (1.0 + (SPEEDS / 4.0) ** 4) / 0.8
HULL = HullCurve(SPEEDS, THRUST, 0.78, 1.02, RHO)
HEAVIER = np.array([0.7, 1.0, 1.4])
BOATS = HullCurve(SPEEDS, THRUST * HEAVIER[:, None], np.array([0.75, 0.78, 0.8]), np.array([1.0, 1.02, 0.98]), RHO)
PITCH_RATIOS = np.array([0.6, 0.75, 0.9, 1.1])
DIAMETERS = np.array([0.5, 0.55, 0.48, 0.52])
WHEELS = WAGENINGEN_B.cubics(PITCH_RATIOS, 0.55, 3)
ON_BOATS = WAGENINGEN_B.cubics(PITCH_RATIOS[:, None] * np.array([0.98, 1.0, 1.03]), 0.55, 3)
POWER = 30e3


def one_boat(index):
    return HullCurve(
        SPEEDS, BOATS.thrust[index], BOATS.advance_fraction[index], BOATS.relative_rotative_efficiency[index], RHO
    )


def on_boat(index):
    return OpenWater(ON_BOATS.thrust_cubic[:, index], ON_BOATS.torque_cubic[:, index])


@pytest.mark.parametrize("power", [500.0, 6e3, POWER, 90e3])
def test_power_and_thrust_are_those_asked(power):
    run = point_at_power(WHEELS, DIAMETERS, power, HULL)
    np.testing.assert_allclose(run.point.delivered_power, power, rtol=1e-9)
    np.testing.assert_allclose(run.point.thrust, np.interp(run.speed, SPEEDS, THRUST), rtol=1e-9)
    np.testing.assert_allclose(run.point.advance_ratio, 0.78 * run.speed / (run.point.shaft_speed * DIAMETERS))
    in_open_water = run.point.thrust * 0.78 * run.speed / (1.02 * power)
    np.testing.assert_allclose(run.point.efficiency, in_open_water, rtol=1e-9)
    assert (run.found == SpeedFound.YES).all()


def test_the_shaft_speed_found_gives_back_the_boat_speed():
    run = point_at_power(WHEELS, DIAMETERS, POWER, HULL)
    back = boat_speed_at_shaft_speed(WHEELS, DIAMETERS, run.point.shaft_speed, HULL)
    np.testing.assert_allclose(back.speed, run.speed, rtol=1e-9)
    np.testing.assert_allclose(back.point.delivered_power, POWER, rtol=1e-9)


def test_it_agrees_with_a_search_over_the_boats_speed():
    run = point_at_power(WHEELS, DIAMETERS, POWER, HULL)
    for index, diameter in enumerate(DIAMETERS):
        kt, kq = WHEELS.thrust_cubic[index], WHEELS.torque_cubic[index]

        def at(speed, diameter=diameter, kt=kt):
            """Shaft speed that gives the thrust asked at a boat speed."""
            asked = np.interp(speed, SPEEDS, THRUST)
            return brentq(
                lambda n: np.polyval(kt[::-1], 0.78 * speed / (n * diameter)) * RHO * n**2 * diameter**4 - asked,
                0.78 * speed / (1.3 * diameter),
                100.0,
                xtol=1e-13,
            )

        def spare(speed, diameter=diameter, kq=kq, at=at):
            n = at(speed)
            torque = np.polyval(kq[::-1], 0.78 * speed / (n * diameter)) * RHO * n**2 * diameter**5 / 1.02
            return POWER - 2.0 * np.pi * n * torque

        speed = brentq(spare, 0.5, 6.0, xtol=1e-13)
        assert run.speed[index] == pytest.approx(speed, rel=1e-9)
        assert run.point.shaft_speed[index] == pytest.approx(at(speed), rel=1e-9)


def test_wheels_on_boats_are_each_wheel_on_each_boat():
    output = np.array([0.95, 1.0, 1.05]) * POWER
    all_at_once = point_at_power(ON_BOATS, DIAMETERS[:, None], output, BOATS)
    assert all_at_once.speed.shape == all_at_once.found.shape == (4, 3)
    for boat in range(3):
        one_hull = point_at_power(on_boat(boat), DIAMETERS, output[boat], one_boat(boat))
        np.testing.assert_allclose(all_at_once.speed[:, boat], one_hull.speed, rtol=1e-10)
        np.testing.assert_allclose(all_at_once.point.shaft_speed[:, boat], one_hull.point.shaft_speed, rtol=1e-10)
    one_wheel = point_at_power(WAGENINGEN_B.cubics(0.75, 0.55, 3), 0.55, output, BOATS)
    single = point_at_power(WAGENINGEN_B.cubics(0.75, 0.55, 3), 0.55, float(output[2]), one_boat(2))
    assert one_wheel.speed.shape == (3,)
    assert isinstance(single.speed, float)
    assert isinstance(single.point.efficiency, float)
    assert one_wheel.speed[2] == pytest.approx(single.speed, rel=1e-10)


def test_an_upper_bound_of_the_zero_thrust_advance_ratio_gives_the_same_point():
    bound = 1.06 * np.asarray(WHEELS.zero_thrust_advance_ratio)
    given = point_at_power(WHEELS, DIAMETERS, POWER, HULL, bound)
    np.testing.assert_allclose(given.speed, point_at_power(WHEELS, DIAMETERS, POWER, HULL).speed, rtol=1e-10)


def test_outside_the_hulls_speeds_there_is_no_point():
    short = HullCurve(SPEEDS[16:25], THRUST[16:25], 0.78, 1.02, RHO)  # 2 to 3 m/s
    run = point_at_power(WHEELS, DIAMETERS, np.array([[200.0], [1500.0], [90e3], [0.0], [np.nan]]), short)
    assert (run.found[0] == SpeedFound.BELOW_GRID).all()
    assert (run.found[1] == SpeedFound.YES).all()
    assert (run.found[2] == SpeedFound.ABOVE_GRID).all()
    fields = (run.speed, run.point.shaft_speed, run.point.thrust, run.point.delivered_power, run.point.efficiency)
    for values in fields:
        assert np.isnan(values[[0, 2, 3, 4]]).all()
        assert np.isfinite(values[1]).all()


def test_a_hull_held_by_its_hump_is_not_sent_beyond_the_grid():
    """Past 5 m/s the thrust asked falls a little, as behind the hump of a hull that starts to plane; with 30 kW she
    does not get there. By the definitions the thrust given is there the thrust asked."""
    humped = HullCurve(SPEEDS, np.where(SPEEDS <= 5.0, THRUST, THRUST[40] * (1.6 - 0.12 * SPEEDS)), 0.78, 1.02, RHO)
    run = point_at_power(WHEELS, DIAMETERS, 30e3, humped)
    assert (run.found == SpeedFound.YES).all()
    assert (np.asarray(run.speed) < 5.0).all()
    np.testing.assert_allclose(run.point.thrust, np.interp(run.speed, SPEEDS, THRUST), rtol=1e-9)


def test_beyond_the_grid_the_thrust_asked_never_falls():
    falling = HullCurve(SPEEDS, np.where(SPEEDS <= 5.0, THRUST, THRUST[40] * (1.6 - 0.12 * SPEEDS)), 0.78, 1.02, RHO)
    end = falling.thrust[-1]
    asked, rise = falling.lines.at(np.array([5.5, 6.0, 9.0, 60.0, np.nan]))
    np.testing.assert_allclose(asked, [np.interp(5.5, SPEEDS, falling.thrust), end, 1.5 * end, 10.0 * end, np.nan])
    assert (rise[2:4] == end / 6.0).all()
    steep, rise = HULL.lines.at(np.array([7.0]))  # by its last line, which rises faster
    np.testing.assert_allclose(steep, THRUST[-1] + (THRUST[-1] - THRUST[-2]) / (SPEEDS[-1] - SPEEDS[-2]))
    assert rise > THRUST[-1] / 6.0


def test_reaching_a_shaft_speed_is_taking_the_power_at_no_less():
    run = point_at_power(ON_BOATS, DIAMETERS[:, None], POWER, BOATS)
    zero_thrust = np.asarray(ON_BOATS.zero_thrust_advance_ratio).max(axis=1)[:, None]
    for share in (0.3, 0.8, 0.95, 1.0 - 1e-7, 1.0 + 1e-7, 1.05, 1.3, 3.0):
        asked = share * run.point.shaft_speed
        reached = reaches_shaft_speed(ON_BOATS, DIAMETERS[:, None], POWER, asked, BOATS, zero_thrust)
        assert reached.shape == (4, 3)
        assert (reached == (share < 1.0)).all()


def test_a_boat_on_the_last_line_of_the_hulls_speeds_is_said_to_reach():
    zero_thrust = np.asarray(WHEELS.zero_thrust_advance_ratio)
    run = point_at_power(WHEELS, DIAMETERS, POWER, HULL)
    for index, speed in enumerate(np.asarray(run.speed)):
        count = int(np.searchsorted(SPEEDS, speed)) + 1
        just = HullCurve(SPEEDS[:count], THRUST[:count], 0.78, 1.02, RHO)
        asked = (1.0 - 1e-6) * np.asarray(run.point.shaft_speed)[index]
        reached = reaches_shaft_speed(WHEELS, DIAMETERS, POWER, asked, just, zero_thrust)
        assert reached[index]


def test_a_boat_beyond_the_hulls_speeds_is_not_said_to_reach():
    short = HullCurve(SPEEDS[:9], THRUST[:9], 0.78, 1.02, RHO)
    zero_thrust = np.asarray(WHEELS.zero_thrust_advance_ratio)
    at = point_at_power(WHEELS, DIAMETERS, POWER, HULL).point.shaft_speed
    assert not reaches_shaft_speed(WHEELS, DIAMETERS, POWER, 0.99 * at, short, zero_thrust).any()
    assert not reaches_shaft_speed(WHEELS, DIAMETERS, np.nan, at, HULL, zero_thrust).any()

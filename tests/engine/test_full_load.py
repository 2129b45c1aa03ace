"""An engine's full load as a propeller meets it."""

import numpy as np
import pytest

from engine.constants import RPM, TWO_PI
from engine.machinery.diesel import DieselEngine, full_load_power
from engine.machinery.electric import ElectricMotor, motor_full_load_power
from engine.propeller.at_power import point_at_full_load
from engine.propeller.full_load import FullLoad
from engine.propeller.hull_curve import HullCurve
from engine.propeller.wageningen import WAGENINGEN_B

RATED = 3000.0 * RPM
DIESEL = DieselEngine(rated_power=40e3, rated_speed=RATED, kind="indirect injection")
MOTOR = ElectricMotor(rated_power=40e3, rated_speed=RATED)


def of_diesel(speed: np.ndarray) -> np.ndarray:
    return np.asarray(full_load_power(DIESEL, speed))


def of_motor(speed: np.ndarray) -> np.ndarray:
    return np.asarray(motor_full_load_power(MOTOR, speed))


@pytest.mark.parametrize(
    ("power", "engine", "error"), [(of_diesel, DIESEL, 1e-9), (of_motor, MOTOR, 5e-5)], ids=["diesel", "motor"]
)
def test_the_speed_at_a_torque_over_its_square_gives_that_torque(power, engine, error):
    full_load = FullLoad.of(power, 0.01 * RATED, engine.no_load_speed, engine.full_load_corners)
    speed = np.linspace(0.3 * RATED, 0.999 * engine.no_load_speed, 200)
    found, exponent = full_load.speed_at(power(speed) / (TWO_PI * speed**3))
    np.testing.assert_allclose(found, speed, rtol=error)
    step = 1e-6
    up, _ = full_load.speed_at(power(speed) / (TWO_PI * speed**3) * (1.0 + step))
    np.testing.assert_allclose(np.log(up / found) / np.log1p(step), exponent, rtol=1e-3, atol=1e-6)


def test_a_motor_is_held_at_its_highest_speed():
    full_load = FullLoad.of(of_motor, 0.01 * RATED, MOTOR.no_load_speed, MOTOR.full_load_corners)
    found, _ = full_load.speed_at(full_load.per_square[-2] * np.array([0.9, 0.5, 0.01]))
    np.testing.assert_allclose(found, MOTOR.no_load_speed, rtol=2e-6)
    assert full_load.covers(found).all()


def test_a_torque_that_rises_faster_than_the_speed_is_not_taken():
    assert FullLoad.of(lambda n: n**2.5, 1.0, 60.0) is None
    assert FullLoad.of(lambda n: n**2.0, 1.0, 60.0) is not None
    assert FullLoad.of(np.zeros_like, 1.0, 60.0) is None


def test_thrust_and_torque_balance_with_the_throttle_wide_open():
    """Torque by the engine's own curve, thrust by straight lines, KT and KQ by the polynomials."""
    speeds, ratio, losses, D = np.linspace(0.0, 6.0, 49), 2.0, 0.95, 0.45
    hull = HullCurve(speeds, 60.0 * speeds**2 + 20.0 * speeds**4, 0.8, 1.02, 1025.0)
    wheels = WAGENINGEN_B.cubics(np.linspace(0.55, 1.1, 12), 0.55, 3)
    full_load = FullLoad.of(of_diesel, 0.01 * RATED, DIESEL.no_load_speed, DIESEL.full_load_corners)
    found = point_at_full_load(wheels, D, full_load, ratio, losses, hull)
    n, J = np.asarray(found.point.shaft_speed), np.asarray(found.point.advance_ratio)
    assert (n * ratio).max() > RATED > 1.1 * (n * ratio).min()
    thrust = np.asarray(wheels.thrust_coefficient(J)) * 1025.0 * n**2 * D**4
    np.testing.assert_allclose(thrust, np.interp(found.speed, speeds, hull.thrust), rtol=1e-9)
    np.testing.assert_allclose(J, found.speed * 0.8 / (n * D), rtol=1e-12)
    taken = np.asarray(wheels.torque_coefficient(J)) * TWO_PI * 1025.0 * n**3 * D**5 / 1.02
    np.testing.assert_allclose(taken, losses * of_diesel(n * ratio), rtol=1e-9)

"""One propeller on many boats at once: full throttle, and what it does over shaft speeds."""

from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest

from engine.machinery.electric import ElectricMotor
from engine.propeller.hull_curve import HullCurve
from engine.propeller.open_water import OpenWater
from engine.propeller.wageningen import WAGENINGEN_B
from engine.stages.drive import Drive
from engine.stages.full_throttle import (
    curves_over_shaft_speed,
    each_thrust_at,
    speed_at_full_throttle,
    try_on_boats,
)
from engine.stages.propulsion import boats_points

SPEEDS = np.linspace(0.0, 5.0, 41)
CALM = 20.0 * SPEEDS**2 + 6.0 * SPEEDS**4
HUMP = np.interp(SPEEDS, [0.0, 1.0, 1.55, 1.8, 2.1, 3.2, 5.0], [0.0, 60.0, 700.0, 790.0, 760.0, 330.0, 3500.0])
HEAVIER = np.linspace(0.8, 1.3, 16)[:, None]
DIAMETER = 0.45


@dataclass(frozen=True)
class SteadyPower(Drive):
    """The same power at any speed, so that what full throttle comes to can be told by hand."""

    power: float = 0.0

    def full_load(self, engine_speed: Any) -> np.ndarray:
        return np.full(np.shape(engine_speed), self.power)


@dataclass(frozen=True)
class LateTorque(Drive):
    """Little power up to a speed, and then all of it within an eighth more."""

    power: float = 0.0
    steep_from: float = 0.0

    def full_load(self, engine_speed: Any) -> np.ndarray:
        speeds = [0.0, self.steep_from, 1.125 * self.steep_from, 20.0, 21.0]
        return np.interp(engine_speed, speeds, self.power * np.array([0.0, 0.1, 0.9, 1.0, 0.0]))


def hull(thrust: np.ndarray) -> HullCurve:
    return HullCurve(SPEEDS, thrust, np.full(len(thrust), 0.85), np.ones(len(thrust)), 1025.0)


def wheels(count: int) -> OpenWater:
    return WAGENINGEN_B.cubics(np.full((count, 1), 0.7), 0.55, 3)


def outputs(count: int) -> np.ndarray:
    return np.linspace(0.97, 1.03, count)[:, None]


@pytest.mark.parametrize("power", [300.0, *np.linspace(1.5e3, 3.6e3, 43), 8e3, 20e3])
@pytest.mark.parametrize("curve", [CALM, HUMP, CALM + 150.0, HUMP + 100.0], ids=["calm", "hump", "wind", "both"])
def test_full_throttle_is_where_the_demand_first_meets_the_full_load(power: float, curve: np.ndarray) -> None:
    side, wheel = hull(HEAVIER * curve), wheels(16)
    motor = ElectricMotor(rated_power=power, rated_speed=20.0)
    drive = SteadyPower(motor, 1.0, 1.0, 1.0, power)
    trial = try_on_boats(wheel, DIAMETER, side, drive, 1.0, outputs(16))
    dense = np.linspace(0.0, 5.0, 40 * 200 + 1)
    point = boats_points(wheel, DIAMETER, side, dense)
    demand = np.asarray(point.delivered_power)
    first = np.argmax(demand > power * outputs(16), axis=1)
    for found in (trial.boat_speed, speed_at_full_throttle(wheel, DIAMETER, side, drive, 1.0, outputs(16))):
        assert found == pytest.approx(dense[first], abs=0.03)  # a step of the grid is 0.125 m/s
    taking = np.asarray(point.shaft_speed)[np.arange(16), first]  # the first shaft speed at which the wheel takes it
    assert trial.light_running == pytest.approx(taking / motor.rated_speed - 1.0, abs=0.005)


@pytest.mark.parametrize("rated_speed", np.linspace(9.0, 13.0, 9))
def test_a_boat_held_by_her_hump_is_not_told_to_reach_rated_speed_beside_one_that_is_not_known(
    rated_speed: float,
) -> None:
    """Past the hump there is thrust to spare at rated speed; she does not get there. The other leaves the grid."""
    motor = ElectricMotor(rated_power=2.25e3, rated_speed=rated_speed)
    drive = SteadyPower(motor, 1.0, 1.0, 1.0, 2.25e3)
    trial = try_on_boats(wheels(2), DIAMETER, hull(np.stack([HUMP, 0.02 * CALM])), drive, 1.0, np.ones((2, 1)))
    assert np.isnan(trial.light_running).tolist() == [False, True]
    assert trial.reaches_rated.tolist() == [trial.light_running[0] >= 0.0, True]


@pytest.mark.parametrize("curve", [CALM, HUMP, CALM + 150.0], ids=["calm", "hump", "wind"])
@pytest.mark.parametrize("steep_from", [4.0, 8.0, 11.0, 13.0, 15.0])
def test_an_engine_that_is_weak_at_first_is_stopped_short(curve: np.ndarray, steep_from: float) -> None:
    """Her full load rises faster than the square of the speed: what the boat passed can have stopped her."""
    side, wheel = hull(HEAVIER * curve), wheels(16)
    motor = ElectricMotor(rated_power=4e3, rated_speed=20.0)
    drive = LateTorque(motor, 1.0, 1.0, 1.0, 4e3, steep_from)
    trial = try_on_boats(wheel, DIAMETER, side, drive, 1.0, outputs(16))
    point = boats_points(wheel, DIAMETER, side, SPEEDS[1:])
    spare = drive.full_load(np.asarray(point.shaft_speed)) * outputs(16) - np.asarray(point.delivered_power)
    fall = (spare[:, :-1] > 0.0) & (spare[:, 1:] <= 0.0)
    step, meets = 1 + np.argmax(fall, axis=1), fall.any(axis=1)
    for found in (trial.boat_speed, speed_at_full_throttle(wheel, DIAMETER, side, drive, 1.0, outputs(16))):
        assert (np.isfinite(found) == meets).all()
        assert ((SPEEDS[step] <= found) & (found <= SPEEDS[step + 1]))[meets].all()


def test_over_shaft_speeds_it_goes_by_straight_lines() -> None:
    side = hull(HEAVIER * (CALM + 40.0))
    running = boats_points(wheels(16), DIAMETER, side)
    asked = np.linspace(0.5, 30.0, 60)
    curves = curves_over_shaft_speed(running, SPEEDS, asked)
    for boat in range(16):
        turning = np.asarray(running.shaft_speed)[boat]
        assert (np.diff(turning) > 0.0).all()
        for found, values in (
            (curves.boat_speed, SPEEDS),
            (curves.delivered_power, np.asarray(running.delivered_power)[boat]),
        ):
            np.testing.assert_allclose(found[boat], np.interp(asked, turning, values, right=np.nan), rtol=1e-12)


def test_over_a_hump_the_first_speed_at_which_the_shaft_turns_so_fast_counts() -> None:
    side = hull(HUMP[None, :])
    running = boats_points(wheels(1), DIAMETER, side)
    turning = np.asarray(running.shaft_speed)[0]
    top = int(np.argmax(turning[:20]))
    assert turning[top + 1] < turning[top]
    asked = turning[top] * np.array([0.99, 1.0 - 1e-9, 1.01])
    speed = curves_over_shaft_speed(running, SPEEDS, asked).boat_speed[0]
    assert speed[0] < speed[1] == pytest.approx(SPEEDS[top])
    assert speed[2] > SPEEDS[top + 1]


def test_a_boat_whose_resistance_is_not_known_goes_at_no_speed() -> None:
    force = HEAVIER * (CALM + 40.0)
    force[3] = np.nan
    running = boats_points(wheels(16), DIAMETER, hull(force))
    curves = curves_over_shaft_speed(running, SPEEDS, np.linspace(0.5, 30.0, 60))
    for values in (curves.boat_speed, curves.delivered_power):
        assert np.isnan(values[3]).all()
        assert np.isfinite(values[[2, 4], :5]).all()


def test_the_thrust_of_each_boat_is_read_at_a_speed_of_her_own() -> None:
    side, asked = hull(HEAVIER * CALM), np.append(np.linspace(0.0, 5.0, 15), 5.1)
    expected = [np.interp(at, SPEEDS, row) for at, row in zip(asked, side.thrust, strict=True)]
    np.testing.assert_allclose(each_thrust_at(side, asked)[:-1], expected[:-1], rtol=1e-12)
    assert np.isnan(each_thrust_at(side, asked)[-1])

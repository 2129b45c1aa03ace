"""One propeller tried with the drive on each of the plausible boats."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.numeric import Array, Real
from engine.propeller.at_power import point_at_power, reaches_shaft_speed
from engine.propeller.equilibrium import OperatingPoint
from engine.propeller.hull_curve import HullCurve
from engine.propeller.matching import light_running_margin
from engine.propeller.open_water import OpenWater
from engine.propeller.roots import bracketed_root, first_fall, pick
from engine.stages.boats import Boats, each_boat
from engine.stages.drive import Drive
from engine.stages.propulsion import boats_points


@dataclass(frozen=True, eq=False)
class BoatsTrial:
    """Every array has one value for each boat, NaN where full throttle cannot be worked out.

    shaft_speed: at full throttle [rev/s].   boat_speed: there [m/s].   light_running: over rated speed, where the wheel
    takes rated power.   reaches_rated: whether it leaves the engine its rated speed, told also where light_running
    lies beyond the speeds worked out.   running: what the wheel does at the hull curves' own speeds, fields (N, S).
    """

    shaft_speed: Array
    boat_speed: Array
    light_running: Array
    reaches_rated: NDArray[np.bool_]
    running: OperatingPoint


def try_on_boats(
    open_water: OpenWater, diameter: Real, hull: HullCurve, drive: Drive, ratio: float, boats: Boats
) -> BoatsTrial:
    """Full throttle of one propeller on each boat: where its demand first meets the engine's full load, droop included.

    open_water: columns (N, 1), the wheel as each boat gets it.   hull: curves of the boats (N, S).
    """
    running = boats_points(open_water, diameter, hull)
    speed = hull.speed[1:]  # at rest there is no power to compare
    turning, demand = (np.asarray(values)[:, 1:] for values in (running.shaft_speed, running.delivered_power))
    output = each_boat(boats.engine_output, len(turning))
    spare = output[:, None] * drive.full_load_at_propeller(turning, ratio) - demand
    meeting = _Step.of_first_fall(spare, turning, demand, speed)

    def spare_at(share: Array) -> Array:
        full_load = output * drive.full_load_at_propeller(meeting.shaft_speed(share), ratio)
        return np.asarray(full_load - meeting.power(share))

    share = bracketed_root(spare_at, meeting.start, meeting.start + 1.0, *meeting.ends(spare))
    each = OpenWater(open_water.thrust_cubic[:, 0], open_water.torque_cubic[:, 0])
    dragged, power, rated = each.zero_thrust_advance_ratio, output * drive.power_at_propeller, drive.engine.rated_speed
    crossing = point_at_power(each, diameter, power, hull, dragged).point.shaft_speed
    return BoatsTrial(
        meeting.shaft_speed(share),
        meeting.boat_speed(share),
        np.asarray(light_running_margin(crossing, rated / ratio)),
        reaches_shaft_speed(each, diameter, power, rated / ratio, hull, dragged),
        running,
    )


@dataclass(frozen=True, eq=False)
class _Step:
    """For each boat the step of her curve in which something happens; a share of 0 to 1 goes along it.

    start: 0, NaN where nothing happens.   Power goes with a power of the shaft speed between the ends of a step.
    """

    index: NDArray[np.intp]
    start: Array
    low_turning: Array
    high_turning: Array
    low_power: Array
    high_power: Array
    speed: Array

    @classmethod
    def of_first_fall(cls, spare: Array, turning: Array, demand: Array, speed: Array) -> "_Step":
        index, meets = first_fall(spare)
        start = np.where(meets, 0.0, np.nan)
        turns, takes = ((pick(values, index), pick(values, index + 1)) for values in (turning, demand))
        return cls(index, start, *turns, *takes, speed)

    def ends(self, values: Array) -> tuple[Array, Array]:
        """Values (N, S) at both ends of the step."""
        return pick(values, self.index), pick(values, self.index + 1)

    def power(self, share: Array) -> Array:
        return np.asarray(self.low_power * (self.high_power / self.low_power) ** share)

    def shaft_speed(self, share: Array) -> Array:
        return np.asarray(self.low_turning * (self.high_turning / self.low_turning) ** share)

    def boat_speed(self, share: Array) -> Array:
        return np.asarray(self.speed[self.index] + share * (self.speed[self.index + 1] - self.speed[self.index]))


@dataclass(frozen=True, eq=False)
class BoatsCurves:
    """Over shaft speeds (M,), for each boat (N, M); NaN where her speeds do not reach.

    boat_speed: [m/s].   delivered_power: of one propeller [W].
    """

    boat_speed: Array
    delivered_power: Array


def curves_over_shaft_speed(running: OperatingPoint, speed: Array, shaft_speed: Array) -> BoatsCurves:
    """What one propeller does on each boat over shaft speeds (M,) [rev/s], by straight lines between her speeds.

    running: what it does at boat speeds (S,) [m/s], fields (N, S).
    """
    turning, delivered = np.asarray(running.shaft_speed), np.asarray(running.delivered_power)
    speed, power = (
        np.array([np.interp(shaft_speed, row, of, right=np.nan) for row, of in zip(turning, values, strict=True)])
        for values in (np.broadcast_to(speed, turning.shape), delivered)
    )
    return BoatsCurves(speed, power)


def each_thrust_at(hull: HullCurve, speed: Array) -> Array:
    """Thrust asked of one propeller [N] of each boat at a speed of her own [m/s], both (N,)."""
    return np.array([np.interp(at, hull.speed, row) for at, row in zip(speed, hull.thrust, strict=True)])

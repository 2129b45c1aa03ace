"""One propeller tried with the drive on each of the plausible boats."""

from dataclasses import dataclass, fields, replace

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
from engine.stages.propulsion import boats_points_for

_STRIDE = 4
"""Steps of the speed grid gone at once while full throttle is sought; ours."""
_NEAR = 0.15
"""Where less than this share of the full load is to spare, the speeds on either side are looked at one by one; ours."""


@dataclass(frozen=True, eq=False)
class BoatsTrial:
    """Every array has one value for each boat, NaN where full throttle cannot be worked out.

    shaft_speed: at full throttle [rev/s].   boat_speed: there [m/s].   light_running: over rated speed, where the wheel
    takes rated power.   reaches_rated: whether it leaves the engine its rated speed, told also where light_running
    lies beyond the speeds worked out.
    """

    shaft_speed: Array
    boat_speed: Array
    light_running: Array
    reaches_rated: NDArray[np.bool_]


def try_on_boats(
    open_water: OpenWater, diameter: Real, hull: HullCurve, drive: Drive, ratio: float, boats: Boats
) -> BoatsTrial:
    """Full throttle of one propeller on each boat: where its demand first meets the engine's full load, droop included.

    open_water: columns (N, 1), the wheel as each boat gets it.   hull: curves of the boats (N, S).
    """
    output = each_boat(boats.engine_output, len(hull.thrust))
    meeting = _Running(open_water, diameter, hull, drive, ratio, output).first_meeting()

    def spare_at(share: Array) -> Array:
        full_load = output * drive.full_load_at_propeller(meeting.shaft_speed(share), ratio)
        return np.asarray(full_load - meeting.power(share))

    share = bracketed_root(spare_at, meeting.start, meeting.start + 1.0, meeting.low_spare, meeting.high_spare)
    each = OpenWater(open_water.thrust_cubic[:, 0], open_water.torque_cubic[:, 0])
    dragged = np.asarray(open_water.zero_thrust_advance_ratio)[:, 0]
    power, rated = output * drive.power_at_propeller, drive.engine.rated_speed
    crossing = point_at_power(each, diameter, power, hull, dragged).point.shaft_speed
    return BoatsTrial(
        meeting.shaft_speed(share),
        meeting.boat_speed(share),
        np.asarray(light_running_margin(crossing, rated / ratio)),
        reaches_shaft_speed(each, diameter, power, rated / ratio, hull, dragged),
    )


@dataclass(frozen=True, eq=False)
class _Running:
    """One propeller and its engine on boats, all or some; arguments as `try_on_boats`."""

    open_water: OpenWater
    diameter: Real
    hull: HullCurve
    drive: Drive
    ratio: float
    output: Array

    def first_meeting(self) -> "_Step":
        """The first step of each boat's curve over which her demand passes the full load.

        Sought in strides, then step by step in the stride where it happens and the one before. A boat that comes near
        her full load earlier than that is gone through step by step.
        """
        last = len(self.hull.speed) - 1
        stops = np.append(np.arange(1, last, _STRIDE), last)  # at rest there is no power to compare
        *_, demand, spare = self._at(stops[None, :])
        stride, meets = first_fall(spare)
        first = np.where(meets, np.maximum(stride - 1, 0), 0)
        found = self._step_among(np.minimum(stops[first][:, None] + np.arange(2 * _STRIDE + 1), last))
        is_near = (spare > 0.0) & (spare < _NEAR * (spare + demand))
        came_near = is_near & (~meets[:, None] | (np.arange(stops.size) <= first[:, None]))
        doubtful = np.asarray(came_near.any(axis=1))
        if not doubtful.any():
            return found
        return found.with_rows(doubtful, self._only(doubtful)._step_among(np.arange(1, last + 1)[None, :]))

    def _step_among(self, index: NDArray[np.intp]) -> "_Step":
        """The first meeting among the grid speeds with an index, (N, M) or (1, M)."""
        values = self._at(index)
        step, meets = first_fall(values[-1])
        ends = (pick(value, place) for value in values for place in (step, step + 1))
        return _Step(np.where(meets, 0.0, np.nan), *ends)

    def _at(self, index: NDArray[np.intp]) -> tuple[Array, Array, Array, Array]:
        """Boat speed, shaft speed, power demanded and power to spare at grid speeds, each (N, M)."""
        speed = self.hull.speed[index]
        each = np.broadcast_to(index, (len(self.output), index.shape[1]))
        thrust = np.take_along_axis(self.hull.thrust.T, each.T, axis=0).T  # lies speed by speed, as the curves do
        point = boats_points_for(self.open_water, self.diameter, self.hull, speed, thrust)
        turning, demand = np.asarray(point.shaft_speed), np.asarray(point.delivered_power)
        full_load = self.output[:, None] * self.drive.full_load_at_propeller(turning, self.ratio)
        return np.broadcast_to(speed, turning.shape), turning, demand, full_load - demand

    def _only(self, which: NDArray[np.bool_]) -> "_Running":
        hull, each = self.hull, np.asarray(self.hull.advance_fraction)[which]
        rotative = np.asarray(hull.relative_rotative_efficiency)[which]
        return replace(
            self,
            open_water=OpenWater(self.open_water.thrust_cubic[which], self.open_water.torque_cubic[which]),
            hull=replace(hull, thrust=hull.thrust[which], advance_fraction=each, relative_rotative_efficiency=rotative),
            output=self.output[which],
        )


@dataclass(frozen=True, eq=False)
class _Step:
    """For each boat the step of her curve in which something happens; a share of 0 to 1 goes along it.

    start: 0, NaN where nothing happens.   Power goes with a power of the shaft speed between the ends of a step.
    """

    start: Array
    low_speed: Array
    high_speed: Array
    low_turning: Array
    high_turning: Array
    low_power: Array
    high_power: Array
    low_spare: Array
    high_spare: Array

    def with_rows(self, which: NDArray[np.bool_], other: "_Step") -> "_Step":
        """The same with the boats of some rows as in another, which has only them."""
        mine, theirs = ([getattr(step, item.name) for item in fields(_Step)] for step in (self, other))
        for values, new in zip(mine, theirs, strict=True):
            values[which] = new
        return _Step(*mine)

    def power(self, share: Array) -> Array:
        return np.asarray(self.low_power * (self.high_power / self.low_power) ** share)

    def shaft_speed(self, share: Array) -> Array:
        return np.asarray(self.low_turning * (self.high_turning / self.low_turning) ** share)

    def boat_speed(self, share: Array) -> Array:
        return np.asarray(self.low_speed + share * (self.high_speed - self.low_speed))


@dataclass(frozen=True, eq=False)
class BoatsCurves:
    """Over shaft speeds (M,), for each boat (N, M); NaN where her speeds do not reach.

    boat_speed: [m/s].   delivered_power: of one propeller [W].
    """

    boat_speed: Array
    delivered_power: Array


def curves_over_shaft_speed(running: OperatingPoint, speed: Array, shaft_speed: Array) -> BoatsCurves:
    """What one propeller does on each boat over shaft speeds (M,) [rev/s], by straight lines between her speeds.

    running: what it does at boat speeds (S,) [m/s], fields (N, S).   shaft_speed: rising.
    Where a hump lets the shaft slow as the boat gathers way, the first speed at which it turns so fast counts.
    """
    turning, power = np.asarray(running.shaft_speed), np.asarray(running.delivered_power)
    boats, steps = turning.shape
    # at how many of a boat's speeds the shaft has not turned faster yet: counted where they fall, then summed
    fastest_yet = np.maximum.accumulate(turning, axis=1)
    place = np.searchsorted(shaft_speed, fastest_yet) + (shaft_speed.size + 1) * np.arange(boats)[:, None]
    counts = np.bincount(place.ravel(), minlength=boats * (shaft_speed.size + 1)).reshape(boats, -1)
    slower = np.cumsum(counts, axis=1)[:, :-1]
    low = np.clip(slower - 1, 0, steps - 2)
    ahead = low + steps * np.arange(boats)[:, None]

    def ends(values: Array) -> tuple[Array, Array]:
        return values.ravel().take(ahead), values.ravel().take(ahead + 1)

    below, above = ends(turning)
    share = np.where(slower == 0, 0.0, (shaft_speed - below) / (above - below))
    share = np.where(share > 1.0, np.nan, share)
    (slow, fast), (less, more) = (speed[low], speed[low + 1]), ends(power)
    return BoatsCurves(slow + share * (fast - slow), less + share * (more - less))


def each_thrust_at(hull: HullCurve, speed: Array) -> Array:
    """Thrust asked of one propeller [N] of each boat at a speed of her own [m/s], both (N,); NaN beyond the grid."""
    thrust, _ = hull.lines.at(speed)
    return np.where((speed >= hull.speed[0]) & (speed <= hull.speed[-1]), thrust, np.nan)

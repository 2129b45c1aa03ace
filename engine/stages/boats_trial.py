"""One propeller tried with the drive on each of the plausible boats."""

from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray

from engine.constants import TWO_PI
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

_BELOW = 3
"""How many speeds of the grid below the one where the wheel takes rated power are looked at first; ours."""
_SAMPLES = 100
"""Engine speeds at which the fall of the full load is looked at; ours."""
_ROUNDING = 1e-9


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

    def rows(self, rows: slice) -> "BoatsTrial":
        """The same of some of the boats."""
        return BoatsTrial(*(getattr(self, item.name)[rows] for item in fields(self)))


def try_on_boats(
    open_water: OpenWater, diameter: Real, hull: HullCurve, drive: Drive, ratio: Real, boats: Boats
) -> BoatsTrial:
    """Full throttle of a propeller on each boat: where its demand first meets the engine's full load, droop included.

    open_water: columns (N, 1), the wheel as each boat gets it.   hull: curves of the boats (N, S).
    diameter [m], ratio [-]: of one wheel and gear, or columns (N, 1).
    """
    each = OpenWater(open_water.thrust_cubic[:, 0], open_water.torque_cubic[:, 0])
    dragged = np.asarray(open_water.zero_thrust_advance_ratio)[:, 0]
    D, reduction, output = (each_boat(value, len(hull.thrust)) for value in (diameter, ratio, boats.engine_output))
    power, rated = output * drive.power_at_propeller, drive.engine.rated_speed / reduction
    at_rated_power = point_at_power(each, D, power, hull, dragged)
    running = _Running(open_water, D, hull, drive, reduction, output)
    turning, speed = running.full_throttle(running.first_meeting(np.asarray(at_rated_power.speed)))
    return BoatsTrial(
        turning,
        speed,
        np.asarray(light_running_margin(at_rated_power.point.shaft_speed, rated)),
        reaches_shaft_speed(each, D, power, rated, hull, dragged),
    )


@dataclass(frozen=True, eq=False)
class _Running:
    """A propeller and its engine on boats, all or some, with a value for each: diameter, ratio, output (N,)."""

    open_water: OpenWater
    diameter: Array
    hull: HullCurve
    drive: Drive
    ratio: Array
    output: Array

    def first_meeting(self, at_rated_power: Array) -> "_Step":
        """The first step of each boat's curve over which her demand passes the full load.

        at_rated_power: boat speed at which the wheel takes rated power, NaN where it is not known [m/s].
        Sought just below that speed; where it is not sure to be the first there, among all speeds.
        """
        last = len(self.hull.speed) - 1
        above = np.minimum(np.searchsorted(self.hull.speed, at_rated_power), last)  # NaN goes behind all
        found = self._step_among(np.maximum(above[:, None] + np.arange(-_BELOW, 1), 1))  # no power to compare at rest
        doubtful = ~self._is_first(found)
        if not doubtful.any():
            return found
        return found.with_rows(doubtful, self._only(doubtful)._step_among(np.arange(1, last + 1)[None, :]))

    def _is_first(self, found: "_Step") -> NDArray[np.bool_]:
        """Whether there is power to spare at all the grid's speeds below a step, told from the thrusts alone.

        Where full load over n2 does not rise with n, there is power to spare at n' < n if n'/n KQ'/KQ <= 1. Where the
        propeller is loaded more than at the start of the step KT' is larger, so n'/n <= sqrt(T'/T); and KQ'/KQ is at
        most KT'/KT, so at most (T'/V'2)/(T/V2), and never above KQ(0)/KQ. Where it is loaded less both are below 1.
        Valid: KT, KQ and KT/KQ fall with J, as in the working range of a propeller. Ours.
        """
        if not self._falls_with_the_square():
            return np.zeros(found.start.shape, dtype=bool)
        limit = found.low_thrust * np.sqrt(found.low_thrust) / found.low_speed**2
        with np.errstate(divide="ignore", invalid="ignore"):
            most = found.low_thrust / self._still_over(found) ** 2
            passed = self.hull.thrust * np.sqrt(self.hull.thrust) / self.hull.speed**2
        above = self.hull.speed >= found.low_speed[:, None]
        spares = (passed <= limit[:, None] * (1.0 + _ROUNDING)) | (self.hull.thrust <= most[:, None])
        return np.asarray((spares | above)[:, 1:].all(axis=1) & np.isfinite(found.start))

    def _still_over(self, found: "_Step") -> Array:
        """KQ with no way on over that at the start of a step [-]."""
        rho, rotative = self.hull.density, np.asarray(self.hull.relative_rotative_efficiency)
        KQ = found.low_power * rotative / (TWO_PI * rho * found.low_turning**3 * self.diameter**5)
        return np.asarray(self.open_water.torque_cubic[:, 0, 0] / KQ)

    def _falls_with_the_square(self) -> bool:
        """Whether full load over the square of the speed nowhere rises with it, from idling speed on."""
        engine = self.drive.engine
        speed = np.linspace(engine.idle_speed or 0.0, engine.no_load_speed, _SAMPLES + 1)[1:]
        return bool(
            (np.diff(self.drive.full_load(speed) / speed**2) <= _ROUNDING * engine.crankshaft_rated_power).all()
        )

    def full_throttle(self, step: "_Step") -> tuple[Array, Array]:
        """Shaft speed and boat speed of each boat where her demand meets the full load within a step."""

        def spare_at(share: Array) -> Array:
            full_load = self.output * self.drive.full_load_at_propeller(step.shaft_speed(share), self.ratio)
            return np.asarray(full_load - step.power(share))

        # the governor bends the full load at rated speed; on either side of it a few steps find the root
        bend = step.share_at(self.drive.engine.rated_speed / self.ratio)
        spare = spare_at(bend)
        has_spare = spare > 0.0
        share = bracketed_root(
            spare_at,
            np.where(has_spare, bend, step.start),
            np.where(has_spare, step.start + 1.0, bend),
            np.where(has_spare, spare, step.low_spare),
            np.where(has_spare, step.high_spare, spare),
        )
        return step.shaft_speed(share), step.boat_speed(share)

    def _step_among(self, index: NDArray[np.intp]) -> "_Step":
        """The first meeting among the grid speeds with an index, (N, M) or (1, M)."""
        values = self._at(index)
        step, meets = first_fall(values[-1])
        ends = (pick(value, place) for value in values for place in (step, step + 1))
        return _Step(np.where(meets, 0.0, np.nan), *ends)

    def _at(self, index: NDArray[np.intp]) -> tuple[Array, Array, Array, Array, Array]:
        """Boat speed, thrust, shaft speed, power demanded and power to spare at grid speeds, each (N, M)."""
        speed = self.hull.speed[index]
        each = np.broadcast_to(index, (len(self.output), index.shape[1]))
        place = each.T * len(self.output) + np.arange(len(self.output))
        thrust = self.hull.thrust.T.ravel().take(place).T  # lies speed by speed, as the curves do
        point = boats_points_for(self.open_water, self.diameter[:, None], self.hull, speed, thrust)
        turning, demand = np.asarray(point.shaft_speed), np.asarray(point.delivered_power)
        full_load = self.output[:, None] * self.drive.full_load_at_propeller(turning, self.ratio[:, None])
        return np.broadcast_to(speed, turning.shape), thrust, turning, demand, full_load - demand

    def _only(self, which: NDArray[np.bool_]) -> "_Running":
        return replace(
            self,
            open_water=OpenWater(self.open_water.thrust_cubic[which], self.open_water.torque_cubic[which]),
            diameter=self.diameter[which],
            hull=self.hull.rows(np.flatnonzero(which)),
            ratio=self.ratio[which],
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
    low_thrust: Array
    high_thrust: Array
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

    def share_at(self, turning: Array) -> Array:
        """The share at which the shaft turns a speed [rev/s], that of the nearer end where it lies outside."""
        with np.errstate(divide="ignore", invalid="ignore"):
            share = np.log(turning / self.low_turning) / np.log(self.high_turning / self.low_turning)
        return np.clip(share, self.start, self.start + 1.0)


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
    fastest_yet = np.array(turning, order="F")
    for step in range(1, steps):  # ten times quicker than to accumulate along the rows
        np.maximum(fastest_yet[:, step], fastest_yet[:, step - 1], out=fastest_yet[:, step])
    place = np.searchsorted(shaft_speed, fastest_yet) + (shaft_speed.size + 1) * np.arange(boats)[:, None]
    counts = np.bincount(place.ravel(), minlength=boats * (shaft_speed.size + 1)).reshape(boats, -1)
    slower = np.cumsum(counts, axis=1)[:, :-1]
    low = np.clip(slower - 1, 0, steps - 2)
    ahead = low * boats + np.arange(boats)[:, None]

    def ends(values: Array) -> tuple[Array, Array]:
        lying = values.T.ravel()  # speed by speed
        return lying.take(ahead), lying.take(ahead + boats)

    below, above = ends(turning)
    share = np.where(slower == 0, 0.0, (shaft_speed - below) / (above - below))
    share = np.where(share > 1.0, np.nan, share)
    (slow, fast), (less, more) = (speed[low], speed[low + 1]), ends(power)
    return BoatsCurves(slow + share * (fast - slow), less + share * (more - less))


def each_thrust_at(hull: HullCurve, speed: Array) -> Array:
    """Thrust asked of one propeller [N] of each boat at a speed of her own [m/s], both (N,); NaN beyond the grid."""
    thrust, _ = hull.lines.at(speed)
    return np.where((speed >= hull.speed[0]) & (speed <= hull.speed[-1]), thrust, np.nan)

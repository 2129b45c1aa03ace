"""One propeller at full throttle on each of the plausible boats, and over the speeds of its shaft."""

from collections.abc import Callable
from dataclasses import dataclass, fields
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from engine.numeric import Array, Real
from engine.propeller.at_power import point_at_full_load, point_at_power, reaches_shaft_speed
from engine.propeller.equilibrium import OperatingPoint, SelfPropulsion, SpeedFound
from engine.propeller.hull_curve import HullCurve
from engine.propeller.matching import light_running_margin
from engine.propeller.open_water import OpenWater
from engine.propeller.roots import bracketed_root, first_fall, pick
from engine.stages.boats import each_boat
from engine.stages.drive import Drive
from engine.stages.propulsion import boats_points_for

_ROUNDING = 1e-9


@dataclass(frozen=True, eq=False)
class FullThrottle:
    """A propeller at full throttle; arrays have one value for each boat, NaN where that cannot be worked out.

    shaft_speed: at full throttle [rev/s].   boat_speed: there [m/s].   light_running: over rated speed, where the wheel
    takes rated power.   reaches_rated: whether it leaves the engine its rated speed, told also where light_running
    lies beyond the speeds worked out.   advance_share: J over that of zero thrust where the wheel takes rated power.
    """

    shaft_speed: Array
    boat_speed: Array
    light_running: Array
    reaches_rated: NDArray[np.bool_]
    advance_share: Array

    def rows(self, rows: slice) -> "FullThrottle":
        """The same of some of the boats."""
        return FullThrottle(*(getattr(self, item.name)[rows] for item in fields(self)))


def try_on_boats(
    open_water: OpenWater,
    diameter: Real,
    hull: HullCurve,
    drive: Drive,
    ratio: Real,
    output: Real,
    near: Array | None = None,
) -> FullThrottle:
    """Full throttle of a propeller on each boat: where its demand first meets the engine's full load, droop included.

    open_water: columns (N, 1), the wheel as each boat gets it.   hull: curves of the boats (N, S).
    diameter [m], ratio [-]: of one wheel and gear, or columns (N, 1).   output: factor on the engine's power on each
    boat, a column (N, 1) [-].
    near: the advance_share of a like propeller on these boats, from which the search then starts.
    """
    running = _running(open_water, diameter, hull, drive, ratio, output)
    each, D, dragged = running.open_water, running.diameter, running.dragged
    power, rated = running.output * drive.power_at_propeller, drive.engine.rated_speed / running.ratio
    taking, advance_ratio = running.taking(power, None if near is None else near * dragged)
    turning, speed = running.full_throttle(advance_ratio)
    light_running = np.asarray(light_running_margin(taking, rated))
    reaches, is_unknown = light_running >= 0.0, np.isnan(light_running)
    if is_unknown.any():
        reaches = np.where(is_unknown, reaches_shaft_speed(each, D, power, rated, hull, dragged), reaches)
    return FullThrottle(turning, speed, light_running, reaches, advance_ratio / dragged)


def speed_at_full_throttle(
    open_water: OpenWater, diameter: Real, hull: HullCurve, drive: Drive, ratio: Real, output: Real
) -> Array:
    """Boat speed at full throttle on each boat [m/s], that of `try_on_boats` without the rest: half the time."""
    running = _running(open_water, diameter, hull, drive, ratio, output)
    return running.full_throttle(np.full(running.dragged.shape, np.nan))[1]


def _running(
    open_water: OpenWater, diameter: Real, hull: HullCurve, drive: Drive, ratio: Real, output: Real
) -> "_Running":
    each = OpenWater(open_water.thrust_cubic[:, 0], open_water.torque_cubic[:, 0])
    dragged = np.asarray(open_water.zero_thrust_advance_ratio)[:, 0]
    D, reduction, factor = (each_boat(value, len(hull.thrust)) for value in (diameter, ratio, output))
    return _Running(each, D, hull, drive, reduction, factor, dragged)


@dataclass(frozen=True, eq=False)
class _Running:
    """A propeller and its engine on boats, all or some; geometry, diameter, ratio, output and dragged, the J of zero
    thrust, have a value for each."""

    open_water: OpenWater
    diameter: Array
    hull: HullCurve
    drive: Drive
    ratio: Array
    output: Array
    dragged: Array

    def taking(self, power: Array, near: Array | None) -> tuple[Array, Array]:
        """Shaft speed at which each boat's propeller first takes a power (N,) [W], and a J near there.

        near: a J near the answer, from which it is sought; where a hump may lie before what is found, speed by speed.
        """
        found = point_at_power(self.open_water, self.diameter, power, self.hull, self.dragged, near)
        turning, advance_ratio = np.array(found.point.shaft_speed), np.asarray(found.point.advance_ratio)
        rows = np.flatnonzero(self._may_have_passed_a_hump(found))
        if rows.size:
            step = self._only(rows).first_meeting(lambda _: power[rows, None])
            earlier = np.isfinite(step.start) & ~step.holds(np.asarray(found.speed)[rows])
            turning[rows[earlier]] = step.rows(earlier).turning_at(power[rows[earlier]])
        return turning, advance_ratio

    def _may_have_passed_a_hump(self, found: SelfPropulsion) -> NDArray[np.bool_]:
        """Whether a boat asks for more thrust at a lower speed than at a point found, or that lies beyond the grid.

        For no more thrust at a lower speed a propeller takes less power. Valid: KT, KQ and KT/KQ fall with J.
        """
        is_beyond = found.found == SpeedFound.ABOVE_GRID
        thrust = np.where(is_beyond, -np.inf, found.point.thrust)
        speed = np.where(is_beyond, np.inf, found.speed)
        passed = slice(1, np.searchsorted(self.hull.speed, np.fmax.reduce(speed, initial=0.0)))
        lower, asked = self.hull.speed[passed, None], self.hull.thrust.T[passed]
        return np.asarray(((asked > thrust) & (lower < speed)).any(axis=0))

    def full_throttle(self, near: Array) -> tuple[Array, Array]:
        """Shaft speed and boat speed of each boat where her demand first meets the full load.

        near: a J near the answer, from which it is sought, NaN where none is known; where what is found is not sure to
        be the first, speed by speed.
        """
        turning, speed = np.full((2, *near.shape), np.nan)
        is_first = np.zeros(near.shape, dtype=bool)
        full_load = self.drive.full_load_torque
        if full_load is not None:
            share = self.output * (self.drive.power_at_propeller / self.drive.usable_power)
            run = point_at_full_load(
                self.open_water, self.diameter, full_load, self.ratio, share, self.hull, self.dragged, near
            )
            is_covered = full_load.covers(np.asarray(run.point.shaft_speed) * self.ratio)
            turning, speed = (np.where(is_covered, each, np.nan) for each in (run.point.shaft_speed, run.speed))
            is_first = self._is_first(run.point, speed)
        if not is_first.all():
            rows = np.flatnonzero(~is_first)
            some = self._only(rows)
            step = some.first_meeting(some._full_load)
            others = ~step.holds(speed[rows])
            if others.any():
                elsewhere = rows[others]
                turning[elsewhere], speed[elsewhere] = self._only(elsewhere).meeting(step.rows(others))
        return turning, speed

    def _is_first(self, point: OperatingPoint, speed: Array) -> NDArray[np.bool_]:
        """Whether there is power to spare at all the grid's speeds below a point of full load, told from the thrusts.

        Where full load over n2 does not rise with n, there is power to spare at n' < n if n'/n KQ'/KQ <= 1. Where the
        propeller is loaded more than at the point KT' is larger, so n'/n <= sqrt(T'/T); and KQ'/KQ is at most KT'/KT,
        so at most (T'/V'2)/(T/V2), and never above KQ(0)/KQ. Where it is loaded less both are below 1.
        Valid: KT, KQ and KT/KQ fall with J, as in the working range of a propeller. Ours.
        """
        thrust = np.asarray(point.thrust)
        KQ = point.open_water.torque_coefficient(point.advance_ratio)
        with np.errstate(divide="ignore", invalid="ignore"):
            limit = np.square(thrust * np.sqrt(thrust) / np.square(speed)) * (1.0 + _ROUNDING)
            most = thrust * np.square(KQ / point.open_water.torque_cubic[:, 0])
        passed = slice(1, np.searchsorted(self.hull.speed, np.fmax.reduce(speed, initial=0.0)))
        lower, asked = self.hull.speed[passed, None], self.hull.thrust.T[passed]  # speed by speed, as they lie
        cubed = asked * asked
        cubed *= asked
        spares = (cubed <= limit * lower**4) | (asked <= most) | (lower >= speed)
        return np.asarray(spares.all(axis=0) & (speed >= self.hull.speed[1]))

    def _full_load(self, turning: Array) -> Array:
        """Power at the propeller [W] with the throttle wide open at shaft speeds (N, M) [rev/s]."""
        return np.asarray(self.output[:, None] * self.drive.full_load_at_propeller(turning, self.ratio[:, None]))

    def first_meeting(self, available: Callable[[Array], Array]) -> "_Step":
        """The first step of each boat's curve over which her demand passes a power [W].

        available: that power at shaft speeds (N, M) [rev/s].
        """
        values = self._over_speeds(available)
        step, meets = first_fall(values[-1])
        ends = (pick(value, place) for value in values for place in (step, step + 1))
        return _Step(np.where(meets, 0.0, np.nan), *ends)

    def meeting(self, step: "_Step") -> tuple[Array, Array]:
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

    def _over_speeds(self, available: Callable[[Array], Array]) -> tuple[Array, Array, Array, Array]:
        """Boat speed, shaft speed, power demanded and power to spare at the grid's speeds but rest, each (N, S - 1)."""
        speed, thrust = self.hull.speed[1:], self.hull.thrust[:, 1:]  # at rest there is no power to compare
        columns = self.open_water.with_trailing_axis()
        point = boats_points_for(columns, self.diameter[:, None], self.hull, speed, thrust)
        turning, demand = np.asarray(point.shaft_speed), np.asarray(point.delivered_power)
        return np.broadcast_to(speed, turning.shape), turning, demand, available(turning) - demand

    def _only(self, rows: NDArray[np.intp]) -> "_Running":
        return _Running(
            OpenWater(self.open_water.thrust_cubic[rows], self.open_water.torque_cubic[rows]),
            self.diameter[rows],
            self.hull.rows(rows),
            self.drive,
            self.ratio[rows],
            self.output[rows],
            self.dragged[rows],
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

    def rows(self, which: NDArray[np.bool_]) -> "_Step":
        """The same of some of the boats."""
        return _Step(*(getattr(self, item.name)[which] for item in fields(self)))

    def holds(self, speed: Array) -> NDArray[np.bool_]:
        """Whether a boat speed lies on the step."""
        return np.asarray((self.low_speed <= speed) & (speed <= self.high_speed) & np.isfinite(self.start))

    def power(self, share: Array) -> Array:
        return np.asarray(self.low_power * (self.high_power / self.low_power) ** share)

    def shaft_speed(self, share: Array) -> Array:
        return np.asarray(self.low_turning * (self.high_turning / self.low_turning) ** share)

    def boat_speed(self, share: Array) -> Array:
        return np.asarray(self.low_speed + share * (self.high_speed - self.low_speed))

    def turning_at(self, power: Array) -> Array:
        """Shaft speed at which a power [W] between the ends of the step is taken [rev/s]."""
        return self.shaft_speed(np.log(power / self.low_power) / np.log(self.high_power / self.low_power))

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
    Where a hump lets the shaft slow as the boat gathers way, the first speed at which it turns so fast counts. NaN of a
    boat whose shaft speeds are not known.
    """
    # speed by speed, as they lie: (S, N) and (M, N)
    turning, power = np.asarray(running.shaft_speed).T, np.asarray(running.delivered_power).T
    steps, boats = turning.shape
    fastest_yet = np.array(turning)
    for before, after in pairwise(fastest_yet):  # ten times quicker than to accumulate
        np.maximum(before, after, out=after)
    # slower: at how many of a boat's speeds the shaft has not yet turned faster than a shaft speed asked for, (M, N)
    place = np.searchsorted(shaft_speed, fastest_yet) * boats + np.arange(boats)
    counts = np.bincount(place.ravel(), minlength=boats * (shaft_speed.size + 1)).reshape(-1, boats)
    slower = np.cumsum(counts[:-1], axis=0)
    low = np.minimum(np.maximum(slower - 1, 0), steps - 2)
    ahead = low * boats + np.arange(boats)

    def ends(values: Array) -> tuple[Array, Array]:
        return values.take(ahead), values.take(ahead + boats)

    below, above = ends(turning)
    share = (shaft_speed[:, None] - below) / (above - below)
    np.copyto(share, 0.0, where=(slower == 0) & ~np.isnan(below))
    np.copyto(share, np.nan, where=share > 1.0)
    (slow, fast), (less, more) = (speed[low], speed[low + 1]), ends(power)
    return BoatsCurves((slow + share * (fast - slow)).T, (less + share * (more - less)).T)


def each_thrust_at(hull: HullCurve, speed: Array) -> Array:
    """Thrust asked of one propeller [N] of each boat at a speed of her own [m/s], both (N,); NaN beyond the grid."""
    thrust, _ = hull.lines.at(speed)
    return np.where((speed >= hull.speed[0]) & (speed <= hull.speed[-1]), thrust, np.nan)

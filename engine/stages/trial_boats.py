"""The boats that a sea trial is laid beside: what they do with the propeller that was fitted, and with a fault."""

from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from engine.fleet import Fleet
from engine.hull.consensus import Consensus
from engine.numeric import Array
from engine.plan import Plan
from engine.propeller.equilibrium import OperatingPoint
from engine.propeller.hull_curve import HullCurve
from engine.propeller.open_water import OpenWater
from engine.stages.boats import Boats
from engine.stages.drive import Drive
from engine.stages.full_throttle import BoatsCurves, FullThrottle, curves_over_shaft_speed, each_thrust_at, try_on_boats
from engine.stages.hull import HullAnswers
from engine.stages.logged_drive import LoggedDrive, logged_resistance
from engine.stages.propulsion import boats_hull_curve, boats_points, boats_points_for


@dataclass(frozen=True, eq=False)
class Tried:
    """A propeller with its drive on the boats; what is asked of it is worked out then.

    open_water: as each boat has it, columns (N, 1).   diameter: [m].   hull: curves of the boats (N, S).
    known_full_throttle, known_points: full throttle, and what it does at the curves' speeds, where that is known.
    """

    open_water: OpenWater
    diameter: float
    hull: HullCurve
    drive: Drive
    ratio: float
    boats: Boats
    known_full_throttle: FullThrottle | None = None
    known_points: OperatingPoint | None = None

    @cached_property
    def _full(self) -> FullThrottle:
        if self.known_full_throttle is not None:
            return self.known_full_throttle
        return try_on_boats(self.open_water, self.diameter, self.hull, self.drive, self.ratio, self.boats.engine_output)

    @property
    def full_throttle(self) -> Array:
        """Engine speed of each boat (N,) [rev/s]."""
        return self._full.shaft_speed * self.ratio

    @property
    def light_running(self) -> Array:
        """Of each boat (N,): over rated speed, where the propeller takes rated power, less one [-]."""
        return self._full.light_running

    @cached_property
    def _points(self) -> OperatingPoint:
        return self.known_points or boats_points(self.open_water, self.diameter, self.hull)

    @property
    def at_full_throttle(self) -> BoatsCurves:
        """What each boat does at her own full throttle, fields (N, 1)."""
        top = self._full.boat_speed
        thrust = each_thrust_at(self.hull, top)[:, None]
        point = boats_points_for(self.open_water, self.diameter, self.hull, top[:, None], thrust)
        return BoatsCurves(top[:, None], np.asarray(point.delivered_power))

    def over(self, engine_speed: Array) -> BoatsCurves:
        """What each boat does over rising engine speeds (M,) [rev/s], fields (N, M)."""
        return curves_over_shaft_speed(self._points, self.hull.speed, engine_speed / self.ratio)

    def at(self, boat_speed: Array) -> tuple[Array, Array]:
        """Engine speed [rev/s] of each boat at boat speeds (R,) [m/s], and what one engine takes there, as
        Drive.consumption: each (N, R)."""
        point = boats_points(self.open_water, self.diameter, self.hull, boat_speed)
        turning = np.asarray(point.shaft_speed) * self.ratio
        return turning, self.drive.consumption(point.delivered_power, turning)


@dataclass(frozen=True, eq=False)
class TrialBoats:
    """Boats as they were at the trial, with the gear and propeller that were fitted.

    speed: (S,) [m/s].   resistance: of each boat there, growth and still air included, (N, S) [N].
    """

    plan: Plan
    fleet: Fleet
    boats: Boats
    density: float
    speed: Array
    resistance: Array
    fitted: LoggedDrive
    drive: Drive
    _tried: dict[tuple[float, float, float], Tried] = field(default_factory=dict, repr=False)

    @classmethod
    def of(
        cls,
        plan: Plan,
        hull: HullAnswers,
        opinion: Consensus,
        fitted: LoggedDrive,
        drive: Drive,
        fleet: Fleet,
        boats: Boats,
    ) -> "TrialBoats":
        """The boats of a fleet at the trial, over the speeds of an opinion of the boat as described."""
        resistance = logged_resistance(plan, fitted, boats, hull.form, opinion, hull.water)
        return cls(plan, fleet, boats, float(hull.water.density), opinion.speed, resistance, fitted, drive)

    @property
    def as_fitted(self) -> Tried:
        """The propeller as it was ordered, and nothing wrong."""
        return self.tried()

    def reaching(self, engine_speed: float) -> "TrialBoats":
        """The same boats with just the output that holds each of them at an engine speed [rev/s] at full throttle.

        An engine that gives less and a propeller or hull that takes more, by one factor, come to the same there.
        """
        at = np.array([engine_speed])
        demand = self.as_fitted.over(at).delivered_power
        output = demand / self.drive.full_load_at_propeller(at / self.fitted.ratio, self.fitted.ratio)
        return replace(self, boats=replace(self.boats, engine_output=output), _tried={})

    def tried(self, *, hull: float = 1.0, pitch: float = 1.0, engine: float = 1.0) -> Tried:
        """The propeller with faults by factors on resistance, pitch and output, worked out once for each."""
        fault = hull, pitch, engine
        if fault not in self._tried:
            boats = replace(self.boats, engine_output=np.asarray(self.boats.engine_output) * engine)
            self._tried[fault] = Tried(
                self.fitted.on_boats(self.boats, pitch),
                self.fitted.diameter,
                self._curve(hull),
                self.drive,
                self.fitted.ratio,
                boats,
            )
        return self._tried[fault]

    def _curve(self, factor: float) -> HullCurve:
        return boats_hull_curve(self.plan, self.boats, self.speed, factor * self.resistance, self.density)

"""The boats that a sea trial is laid beside: what they do with the propeller that was fitted, and with a fault."""

from dataclasses import dataclass, field, replace

import numpy as np

from engine.fleet import Fleet
from engine.hull.consensus import consensus
from engine.numeric import Array
from engine.plan import Plan
from engine.propeller.hull_curve import HullCurve
from engine.stages.boats import Boats
from engine.stages.boats_trial import BoatsCurves, BoatsTrial, curves_over_shaft_speed, try_on_boats
from engine.stages.drive import Drive
from engine.stages.hull import HullAnswers
from engine.stages.logged_drive import LoggedDrive, logged_resistance
from engine.stages.propulsion import boats_hull_curve
from engine.stages.resistance import methods_in_use
from engine.stages.speed import SpeedAnswers


@dataclass(frozen=True, eq=False)
class Tried:
    """A propeller on the boats.

    trial: full throttle.   speed: boat speeds (S,) [m/s] of `trial.running`.   ratio: of the gear.
    """

    trial: BoatsTrial
    speed: Array
    ratio: float
    drive: Drive

    @property
    def full_throttle(self) -> Array:
        """Engine speed of each boat (N,) [rev/s]."""
        return self.trial.shaft_speed * self.ratio

    def over(self, engine_speed: Array) -> BoatsCurves:
        """What each boat does over engine speeds (M,) [rev/s], fields (N, M)."""
        return curves_over_shaft_speed(self.trial.running, self.speed, engine_speed / self.ratio)

    def engine_speed_at(self, boat_speed: Array) -> Array:
        """Engine speed of each boat at boat speeds (R,) [m/s], (N, R) [rev/s]."""
        return _between(self.speed, np.asarray(self.trial.running.shaft_speed), boat_speed) * self.ratio

    def consumption_at(self, boat_speed: Array) -> Array:
        """What one engine takes at boat speeds (R,), (N, R): litres or kilowatts, as Drive.consumption."""
        power = _between(self.speed, np.asarray(self.trial.running.delivered_power), boat_speed)
        return self.drive.consumption(power, self.engine_speed_at(boat_speed))


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
        speed: SpeedAnswers,
        fitted: LoggedDrive,
        drive: Drive,
        fleet: Fleet,
        boats: Boats,
    ) -> "TrialBoats":
        """The boats of a fleet at the trial, over the speeds of the plan."""
        grid = speed.curve.speed
        opinion = consensus(hull.form, grid, hull.water, methods_in_use(plan))
        resistance = logged_resistance(plan, fitted, boats, hull.form, opinion, hull.water)
        return cls(plan, fleet, boats, float(hull.water.density), grid, resistance, fitted, drive)

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
            open_water = self.fitted.on_boats(self.boats, pitch)
            ratio, diameter = self.fitted.ratio, self.fitted.diameter
            trial = try_on_boats(open_water, diameter, self._curve(hull), self.drive, ratio, boats)
            self._tried[fault] = Tried(trial, self.speed, ratio, self.drive)
        return self._tried[fault]

    def _curve(self, factor: float) -> HullCurve:
        return boats_hull_curve(self.plan, self.boats, self.speed, factor * self.resistance, self.density)


def _between(speed: Array, values: Array, at: Array) -> Array:
    """Values (N, S) over boat speeds (S,) at others (R,), by straight lines, (N, R); NaN outside."""
    above = np.clip(np.searchsorted(speed, at), 1, speed.size - 1)
    share = (at - speed[above - 1]) / (speed[above] - speed[above - 1])
    found = values[:, above - 1] * (1.0 - share) + values[:, above] * share
    return np.where((at >= speed[0]) & (at <= speed[-1]), found, np.nan)

"""How a drive is loaded at the boat's speeds, with a propeller that lets it reach its rated speed."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from engine.bands import Band
from engine.constants import KNOT
from engine.fleet import Fleet
from engine.numeric import Array, Real
from engine.propeller.matching import value_at_first_fall
from engine.stages.boats import each_boat
from engine.stages.cases import Case, Cases
from engine.stages.demand import Demand
from engine.stages.drive import Drive
from engine.stages.hull import HullAnswers
from engine.stages.propulsion import boats_points
from engine.stages.speed import SpeedAnswers


@dataclass(frozen=True, eq=False)
class Loading:
    """One drive in the boats.

    cruise, cruise_service, cruise_head_wind, top: shares of the usable power of each boat (N,) [-]; NaN into a head
    wind that cannot be reckoned.
    reachable, reachable_service: boat speed at which all of it is used, in calm water and in service (N,) [m/s].
    """

    drive: Drive
    demand: Demand
    fleet: Fleet
    cruise: Array
    cruise_service: Array
    cruise_head_wind: Array
    top: Array
    reachable: Array
    reachable_service: Array

    @cached_property
    def reachable_best(self) -> float:
        """Of the middle of the fleet [m/s]."""
        return float(self.fleet.median(self.reachable))

    @property
    def reserve(self) -> Band:
        """Share of the power left at cruise, with the margin for wind and sea."""
        return self.fleet.band(1.0 - self.cruise_service)

    @cached_property
    def engine_per_shaft_speed(self) -> float:
        """Engine speed over that of the reference propeller, so that full power and rated speed come together [-]."""
        return self.drive.engine.rated_speed / float(self._shaft_speed(self.reachable_best, service=False))

    def engine_speed(self, speed: float) -> float:
        """Engine speed in calm water [rev/s] at a boat speed [m/s]."""
        return self.engine_per_shaft_speed * float(self._shaft_speed(speed, service=False))

    def _shaft_speed(self, speed: Real, *, service: bool) -> Array:
        point = self.demand.service_propeller if service else self.demand.propeller
        return np.asarray(np.interp(speed, self.demand.resistance.speed, np.asarray(point.shaft_speed)))

    def rate(self, speed: Real, *, service: bool = False) -> Array:
        """What all engines of each boat take at boat speeds () or (M,) [m/s], (N,) or (N, M) [kg/s] or [W]."""
        each = self.demand.each_delivered_power(speed, service=service) / self.demand.screws
        engine_speed = self.engine_per_shaft_speed * self._shaft_speed(speed, service=service)
        return self.drive.rate(each, engine_speed) * self.demand.screws


def loading_of(drive: Drive, hull: HullAnswers, speed: SpeedAnswers, demand: Demand, cases: Cases) -> Loading:
    """How a drive is loaded at the speeds of a plan."""
    output = each_boat(hull.boats.engine_output, hull.fleet.rows)
    available = output * drive.power_at_propeller * demand.screws
    cruise, top = speed.cruise_kn * KNOT, speed.top_kn * KNOT
    return Loading(
        drive=drive,
        demand=demand,
        fleet=hull.fleet,
        cruise=demand.each_delivered_power(cruise) / available,
        cruise_service=demand.each_delivered_power(cruise, service=True) / available,
        cruise_head_wind=_delivered(hull, demand, cases.head_wind, cruise) / available,
        top=demand.each_delivered_power(top) / available,
        reachable=value_at_first_fall(demand.resistance.speed, available[:, None] - demand.delivered),
        reachable_service=value_at_first_fall(demand.resistance.speed, available[:, None] - demand.service_delivered),
    )


def _delivered(hull: HullAnswers, demand: Demand, case: Case | None, speed: float) -> Array:
    """Power at all reference propellers of each boat in a case (N,) [W]; NaN without one."""
    if case is None:
        return np.full(hull.fleet.rows, np.nan)
    point = boats_points(demand.reference.after(case.months), demand.boats_diameter, case.boats, np.array([speed]))
    return each_boat(point.delivered_power, hull.fleet.rows) * demand.screws

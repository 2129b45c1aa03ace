"""A year under power: hours at each speed, and what the chosen drive takes in them."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from engine.constants import HOUR, KNOT
from engine.defaults import amount_or_none
from engine.machinery.economics import ASSUMED_HOURS_PER_YEAR, spent_over_profile
from engine.numeric import Array
from engine.plan import Plan
from engine.sections.costs import HoursAtSpeed
from engine.stages.running import Running
from engine.stages.voyage import Voyage
from engine.stages.wheel import Wheel

STEP_KN = 0.5


def hours_in_a_year(plan: Plan) -> float:
    """Hours under power in a year [h]: the sum of those at each speed, else as given on the costs page, else on the
    engine page, else what is assumed."""
    rows = sum(time for _, time in timed_rows(plan))
    if rows > 0.0:
        return rows / HOUR
    given = amount_or_none(plan.costs, "hours_per_year") or amount_or_none(plan.engine, "hours_per_year")
    return ASSUMED_HOURS_PER_YEAR if given is None else given / HOUR


def timed_rows(plan: Plan) -> Iterator[tuple[float, float]]:
    """(speed [m/s], time [s]) of the rows that have both, and some time."""
    for row in plan.costs.hours:
        if not lacks_part(row) and row.speed is not None and row.hours is not None and row.hours.si > 0.0:
            yield row.speed.si, row.hours.si


def lacks_part(row: HoursAtSpeed) -> bool:
    """Whether hours at a speed wait for one of the two."""
    return row.speed is None or row.hours is None


@dataclass(frozen=True, eq=False)
class Year:
    """Hours at each of S speeds, and the drive that makes them.

    asked: speeds as the owner gave them [m/s].   time: at each of them [s].
    slowest, fastest: the ends of the range page's curve [m/s]; hours beyond them count as at the nearer end.
    """

    wheel: Wheel
    voyage: Voyage
    asked: Array
    time: Array
    slowest: float
    fastest: float

    @property
    def speed(self) -> Array:
        """Speeds that the hours are counted at [m/s]."""
        return np.clip(self.asked, self.slowest, self.fastest)

    @property
    def distance(self) -> float:
        """Distance through the water in a year [m]."""
        return float(np.sum(self.speed * self.time))

    @cached_property
    def rate(self) -> Array:
        """What the boat takes at each speed (N, S) [kg/s] or [W]."""
        return self.rate_at(self.speed)

    @property
    def spent(self) -> Array:
        """What a year takes (N,) [kg] or [J]."""
        return np.asarray(spent_over_profile(self.rate, self.time))

    def rate_at(self, speed: Array) -> Array:
        """What the boat takes at speeds [m/s], with what else is used under way (N, S) [kg/s] or [W]."""
        return Running.at(self.wheel, speed).rate + self.voyage.hotel

    @cached_property
    def slower(self) -> "Year":
        """The same miles, each half a knot slower as far as the curve reaches."""
        speed = np.clip(self.speed - STEP_KN * KNOT, self.slowest, self.fastest)
        time = self.time * self.speed / speed
        return Year(self.wheel, self.voyage, speed, time, self.slowest, self.fastest)

    @property
    def steps(self) -> Array:
        """Half knots between the slowest and the fastest speed; these two where there is no room for steps [m/s]."""
        step = STEP_KN * KNOT
        first, last = np.ceil(self.slowest / step - 1e-9), np.floor(self.fastest / step + 1e-9)
        return step * np.arange(first, last + 1.0) if last > first else np.array([self.slowest, self.fastest])

    @cached_property
    def at_steps(self) -> Array:
        """What the miles of a year take at one speed throughout, for each half knot (N, S) [kg] or [J]."""
        return self.rate_at(self.steps) * (self.distance / self.steps)


def year_of(plan: Plan, wheel: Wheel, voyage: Voyage, cruise: float, ends: tuple[float, float]) -> Year:
    """The hours of each speed that the owner gave, else all of them at the cruising speed [m/s].

    ends: slowest and fastest speed of the range page's curve [m/s].
    """
    rows = tuple(timed_rows(plan)) or ((cruise, hours_in_a_year(plan) * HOUR),)
    speed, time = np.array(rows).T
    return Year(wheel, voyage, speed, time, *ends)

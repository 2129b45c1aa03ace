"""The chosen drive and propeller on the boats in service, over boat speed."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from engine.bands import Band, Money
from engine.constants import HOUR, KILOWATT_HOUR, KNOT, LITRE, NAUTICAL_MILE, RPM
from engine.machinery.fuel import DIESEL
from engine.numeric import Array
from engine.stages.drive import Drive
from engine.stages.range_answers import RangeRow
from engine.stages.serial import Serial
from engine.stages.voyage import Voyage
from engine.stages.wheel import Wheel

_ROUNDING = 1e-9


@dataclass(frozen=True, eq=False)
class Running:
    """Engines and propellers of the boats in service over boat speed (S,) [m/s]; fields (N, S).

    engine_speed: [rev/s].   load: of one engine [-].   rate: of all engines [kg/s] or [W].
    """

    wheel: Wheel
    speed: Array
    engine_speed: Array
    load: Array
    rate: Array

    @classmethod
    def at(cls, wheel: Wheel, speed: Array) -> "Running":
        """Work it out at boat speeds [m/s]."""
        setting = wheel.setting
        demand, drive, boats = setting.demand, setting.drive, setting.hull.boats
        point = wheel.at(setting.cases.service, speed)
        engine_speed = np.asarray(point.shaft_speed) * setting.ratio
        power = drive.at_crankshaft(point.delivered_power)
        rate = drive.rate(point.delivered_power, engine_speed) * demand.screws
        return cls(wheel, speed, engine_speed, power / (drive.usable_power * np.asarray(boats.engine_output)), rate)

    @property
    def drive(self) -> Drive:
        """The chosen drive."""
        return self.wheel.setting.drive

    def from_idle(self) -> "Running":
        """Without the speeds at which the engine would turn slower than it idles, as far as three are left."""
        turns = self.wheel.setting.hull.fleet.median(self.engine_speed)
        kept = turns >= self.drive.slowest
        if np.count_nonzero(kept) < 3:
            return self
        return Running(self.wheel, self.speed[kept], self.engine_speed[:, kept], self.load[:, kept], self.rate[:, kept])

    @cached_property
    def _over_boats(self) -> tuple[tuple[Band, ...], tuple[Band, ...], Array, list[float]]:
        """Bands of engine speed [rev/min] and of load, (S,); best, low and high of the rate, (3, S), that give those of
        whatever rises or falls with it alone; share of the boats that make each speed, (S,).

        Kept: none of it changes with what is aboard to go on.
        """
        fleet = self.wheel.setting.hull.fleet
        engine_speed, load = fleet.each_band(self.engine_speed / RPM), fleet.each_band(self.load)
        return engine_speed, load, np.stack(fleet.bands(self.rate)), self.reached().tolist()

    def reached(self) -> Array:
        """Share of the boats that make each speed (S,): it is not over theirs at full throttle or, where that cannot be
        worked out, it takes no more than the usable power. Of the others load and rate are what it would take."""
        setting = self.wheel.setting
        top = self.wheel.full_throttle(setting.cases.service).boat_speed[:, None]
        makes_it = np.where(np.isnan(top), self.load <= 1.0, self.speed <= top * (1.0 + _ROUNDING))
        return np.asarray(setting.hull.fleet.weights @ makes_it)

    def rows(self, voyage: Voyage, serial: Serial | None) -> tuple[RangeRow, ...]:
        """One row for each boat speed, whole boat."""
        fleet, drive = self.wheel.setting.hull.fleet, self.drive
        engine_speed, load, rate, reached = self._over_boats
        per_mile = voyage.per_distance(self.speed, rate) * NAUTICAL_MILE
        cost = voyage.cost(per_mile)
        taken, distance, time, spent = (
            _bands_of(values)
            for values in (
                drive.per_hour(rate + voyage.hotel),
                voyage.distance(self.speed, rate) / NAUTICAL_MILE,
                voyage.time(rate) / HOUR,
                per_mile,
            )
        )
        costs = None if cost is None else _bands_of(cost)
        further = None
        if serial is not None:
            further = fleet.each_band(serial.distance(voyage, self.speed, self.rate) / NAUTICAL_MILE)
        return tuple(
            RangeRow(
                speed_kn=float(self.speed[i]) / KNOT,
                engine_rpm=engine_speed[i],
                load_fraction=load[i],
                reached_fraction=reached[i],
                burn_l_per_h=drive.if_fuel(taken[i]),
                drawn_kw=drive.if_electric(taken[i]),
                range_nmi=distance[i],
                endurance_h=time[i],
                generator_range_nmi=None if further is None else further[i],
                fuel_per_mile_l=drive.if_fuel(spent[i].scaled(1.0 / DIESEL.density / LITRE)),
                energy_per_mile_kwh=drive.if_electric(spent[i].scaled(1.0 / KILOWATT_HOUR)),
                cost_per_mile_money=None if costs is None else Money.of(costs[i], voyage.currency),
            )
            for i in range(len(self.speed))
        )


def _bands_of(values: Array) -> tuple[Band, ...]:
    """Bands (S,) from values at the best, low and high of what they rise or fall with, (3, S); unknown where any has
    no bounds."""
    best, one, other = np.where(np.isfinite(values).all(axis=0), values, np.nan)
    ends = zip(best.tolist(), np.minimum(one, other).tolist(), np.maximum(one, other).tolist(), strict=True)
    return tuple(Band(*each) for each in ends)

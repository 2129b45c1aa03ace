"""The log of the present engine as evidence: each row through the equilibrium of the present propeller."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from engine.constants import KNOT, MONTH, TWO_PI
from engine.data import table
from engine.defaults import amount, amount_or_none, word
from engine.evidence import FaultOdds, SteadyErrors, impossible_slip, steady_errors
from engine.fleet import Conditioned, Fleet, conditioned
from engine.hull.consensus import Consensus, consensus
from engine.hull.form import HullForm
from engine.machinery.fuel import DIESEL, G_PER_KWH
from engine.numeric import Array, Real
from engine.plan import Plan
from engine.propeller.equilibrium import OperatingPoint
from engine.propeller.market import Blades
from engine.propeller.open_water import OpenWater
from engine.sections.present import LogRow
from engine.stages.blades import fouled, present_blades
from engine.stages.boats import Boats, boats_of
from engine.stages.propulsion import boats_hull_curve, boats_points, shaft_angle
from engine.stages.resistance import (
    bare_resistance,
    fouling_force,
    methods_in_use,
    still_air,
)
from engine.stages.unknowns import as_described, scores_of
from engine.water import Water

_READING = table("doubt")["reading"]
_CONSUMPTION: float = table("fuel")["default_consumption"]["indirect injection"]["g_per_kwh"] * G_PER_KWH
"""Of an old engine that is not known; the doubt about it is wide."""
_NUDGE = 1.02
"""Speeds this far apart give the slope of shaft speed over boat speed."""
_MOST_OF_RATED = 1.3
"""No engine is loaded with more than this share of its rated power: what is beyond its output's doubt (ours)."""


@dataclass(frozen=True, eq=False)
class Reading:
    """One row that can be read.

    index: of the row in the plan.   engine_speed: [rev/s].   speed: [m/s].   fuel_flow: of one engine [m3/s].
    measured: how the speed was taken.
    """

    index: int
    engine_speed: float
    speed: float
    fuel_flow: float | None
    measured: str

    @property
    def speed_kn(self) -> float:
        return self.speed / KNOT

    @property
    def speed_doubt(self) -> float:
        """Standard deviation of the speed [m/s]."""
        return float(_READING["speed_kn"][self.measured]) * KNOT

    @classmethod
    def of(cls, index: int, row: LogRow) -> "Reading | None":
        """The reading in a row; None while rpm or speed is missing."""
        if row.engine_speed is None or row.speed is None:
            return None
        flow = amount_or_none(row, "fuel_flow")
        return cls(index, row.engine_speed.si, row.speed.si, flow, word(row, "measured"))


@dataclass(frozen=True, eq=False)
class PresentDrive:
    """The gear and propeller that are in the boat when the log is taken.

    diameter, pitch: [m].   months: of growth on the blades.
    """

    ratio: float
    diameter: float
    pitch: float
    kind: Blades
    months: float

    @classmethod
    def of(cls, plan: Plan) -> "PresentDrive | None":
        """What is in her now; None while ratio, diameter or pitch is missing or no series was tested at the pitch."""
        present, kind = plan.present, present_blades(plan)
        ratio, diameter, pitch = present.gear_ratio, present.propeller_diameter, present.propeller_pitch
        if ratio is None or diameter is None or pitch is None or kind is None:
            return None
        return cls(ratio.si, diameter.si, pitch.si, kind, amount(present, "time_since_cleaning") / MONTH)

    def open_water(self, pitch_factor: Real = 1.0) -> OpenWater:
        """Its curves with the growth on its blades, and with another pitch by a factor."""
        pitch_ratio = self.pitch / self.diameter * np.asarray(pitch_factor)
        clean = self.kind.series.cubics(pitch_ratio, self.kind.area_ratio, self.kind.blades)
        return fouled(clean, self.diameter, pitch_ratio, self.kind, self.months)

    def absorbed_power(self, reading: "Reading", advance_fraction: float, density: float) -> float:
        """What it takes at a logged speed and rpm [W].   advance_fraction: speed of advance over boat speed [-]."""
        n = reading.engine_speed / self.ratio
        advance = reading.speed * advance_fraction / (n * self.diameter)
        return TWO_PI * float(self.open_water().torque_coefficient(advance)) * density * n**3 * self.diameter**5


@dataclass(frozen=True, eq=False)
class Logbook:
    """What the log came to.

    readings: the rows that could be read.   left_out: index of a row -> why it does not count.   fuel_left_out: indexes
    of rows whose fuel flow alone does not count.
    steady: a fault common to all rows, if any.   conditioned: the fleet after the log; None when no row counts.
    """

    readings: tuple[Reading, ...]
    left_out: dict[int, str]
    fuel_left_out: tuple[int, ...]
    steady: SteadyErrors | None
    conditioned: Conditioned | None

    @property
    def used(self) -> int:
        """How many rows count."""
        return len(self.readings) - len(self.left_out) if self.conditioned else 0


EMPTY = Logbook((), {}, (), None, None)
_NO_BOAT = "no boat like this one can be worked out at that speed with the present propeller"


def read_log(plan: Plan, prior: Fleet, described: HullForm, water: Water) -> Logbook:
    """The log of a plan laid on the fleet; EMPTY when there is none, or nothing to read it with."""
    drive = PresentDrive.of(plan)
    found = (Reading.of(index, row) for index, row in enumerate(plan.present.log))
    readings = tuple(reading for reading in found if reading is not None)
    if drive is None or not readings or plan.hull.propeller_place is None:
        return EMPTY
    left_out = dict(_impossible_rows(plan, drive, readings, water))
    log = _Log(plan, drive, readings, described, water).without(left_out)
    if log.readings:
        left_out |= _unpredictable_rows(log)
        log = log.without(left_out)
    return _weighed(log, prior, readings, left_out)


def _weighed(log: "_Log", prior: Fleet, readings: tuple[Reading, ...], left_out: dict[int, str]) -> Logbook:
    """The readings of a log that can be predicted, laid on the fleet, with what is wrong with them."""
    if not log.readings:
        return Logbook(readings, left_out, (), None, None)
    first, slope = log.misfit_and_slope(prior.scores)
    is_known: list[bool] = np.any(np.isfinite(slope), axis=0).tolist()
    lost = {reading.index: _NO_BOAT for reading, known in zip(log.readings, is_known, strict=True) if not known}
    if lost:
        return _weighed(log.without(lost), prior, readings, left_out | lost)
    doubt, rows = log.doubt(slope), len(log.readings)
    odds = _fault_odds(log.plan, log.readings)
    steady = steady_errors(first[:, :rows], slope, log.speed, doubt[:rows], prior.weights, odds)
    if steady.kind != "none":
        return Logbook(readings, left_out | log.all_with(_steady_words(steady)), (), steady, None)
    after = conditioned(prior, lambda scores: first if scores is prior.scores else log.misfit(scores), doubt)
    if after.contradictory:
        return Logbook(readings, left_out | log.all_with("the rows contradict each other"), (), steady, None)
    why = "it does not agree with the other rows, or with any boat like this one"
    stray_rows, stray_fuel = np.split(after.stray, [rows])
    stray = {reading.index: why for reading, is_stray in zip(log.readings, stray_rows, strict=True) if is_stray}
    dry = tuple(log.readings[place].index for place, is_stray in zip(log.fuelled, stray_fuel, strict=True) if is_stray)
    return Logbook(readings, left_out | stray, dry, steady, None if after.stray.all() else after)


def _unpredictable_rows(log: "_Log") -> dict[int, str]:
    """Rows at speeds, or just above, for which the methods in use give no resistance, and why."""
    total = log.nudged_opinion.total
    why = "the resistance method has no value at that speed"
    return {reading.index: why for reading, force in zip(log.readings, total, strict=True) if not np.isfinite(force)}


def _fault_odds(plan: Plan, readings: tuple[Reading, ...]) -> FaultOdds:
    """Of a tachometer that has not been checked, and of a current when some speed is that of a single run."""
    odds = _READING["fault_odds"]
    return FaultOdds(
        tachometer=odds["tachometer"][word(plan.present, "tachometer")],
        current=max(odds["current"][reading.measured] for reading in readings),
    )


def _impossible_rows(
    plan: Plan, drive: PresentDrive, readings: tuple[Reading, ...], water: Water
) -> Iterator[tuple[int, str]]:
    """Rows that no boat can have made with this propeller and engine, and why."""
    advance_fraction = (1.0 - float(boats_of(plan, water, as_described).wake_fraction)) * math.cos(shaft_angle(plan))
    for reading in readings:
        if impossible_slip(reading.speed, drive.pitch, reading.engine_speed / drive.ratio):
            yield reading.index, "the boat outruns her propeller: check pitch, ratio, tachometer and current"
        elif plan.present.engine_power is not None:
            power = drive.absorbed_power(reading, advance_fraction, float(water.density)) / _losses(plan)
            if power > _MOST_OF_RATED * plan.present.engine_power.si:
                why = (
                    "it would take more power than the present engine has: check ratio, diameter, pitch and tachometer"
                )
                yield reading.index, why


def _losses(plan: Plan) -> float:
    """Power at the propeller over power at the crankshaft [-]."""
    return amount(plan.gear, "shaft_efficiency") * amount(plan.gear, "efficiency")


def _steady_words(steady: SteadyErrors) -> str:
    if steady.kind == "tachometer":
        sense = "high" if steady.size > 0.0 else "low"
        return f"the tachometer seems to read {abs(steady.size):.0%} {sense} in every row".replace("%", " %")
    sense = "helped" if steady.size > 0.0 else "hindered"
    return f"a current of about {abs(steady.size) / KNOT:.1f} kn seems to have {sense} in every row"


@dataclass(frozen=True, eq=False)
class _Log:
    """The readings with all that is needed to predict them: first the rows' shaft speeds, then their fuel."""

    plan: Plan
    drive: PresentDrive
    readings: tuple[Reading, ...]
    described: HullForm
    water: Water

    def without(self, left_out: Mapping[int, str]) -> "_Log":
        """The log with some rows taken out, by their index in the plan."""
        return replace(self, readings=tuple(each for each in self.readings if each.index not in left_out))

    def all_with(self, why: str) -> dict[int, str]:
        """Index of every row -> why none of them counts."""
        return {reading.index: why for reading in self.readings}

    @property
    def speed(self) -> Array:
        return np.array([reading.speed for reading in self.readings])

    @property
    def fuelled(self) -> tuple[int, ...]:
        """Places of the readings that have a fuel flow."""
        return tuple(i for i, reading in enumerate(self.readings) if reading.fuel_flow is not None)

    def misfit(self, scores: Array) -> Array:
        """ln(logged / predicted) for boats (N, K): (N, readings and fuel flows)."""
        boats = boats_of(self.plan, self.water, scores_of(scores))
        return self._misfit(boats, self._point(boats, self.opinion))

    def misfit_and_slope(self, scores: Array) -> tuple[Array, Array]:
        """The misfit, and d ln(shaft speed) / d ln(boat speed) for boats, (N, readings); NaN without a resistance."""
        boats = boats_of(self.plan, self.water, scores_of(scores))
        point, nudged = (self._point(boats, opinion) for opinion in (self.opinion, self.nudged_opinion))
        rise = np.log(np.asarray(nudged.shaft_speed) / np.asarray(point.shaft_speed))
        return self._misfit(boats, point), np.asarray(rise / math.log(_NUDGE))

    @cached_property
    def opinion(self) -> Consensus:
        """The methods in use at the logged speeds, on the boat as described."""
        return consensus(self.described, self.speed, self.water, methods_in_use(self.plan))

    @cached_property
    def nudged_opinion(self) -> Consensus:
        """The same at speeds a little higher."""
        return consensus(self.described, _NUDGE * self.speed, self.water, methods_in_use(self.plan))

    def _point(self, boats: Boats, opinion: Consensus) -> OperatingPoint:
        return present_point(self.plan, self.drive, boats, self.described, opinion, self.water)

    def _misfit(self, boats: Boats, point: OperatingPoint) -> Array:
        predicted = np.asarray(point.shaft_speed) * self.drive.ratio * boats.tachometer
        logged = np.array([reading.engine_speed for reading in self.readings])
        return np.hstack([np.log(logged / predicted), self._fuel_misfit(point)])

    def _fuel_misfit(self, point: OperatingPoint) -> Array:
        columns = list(self.fuelled)
        power = np.asarray(point.delivered_power)[:, columns] / _losses(self.plan)
        flows = [reading.fuel_flow for reading in self.readings if reading.fuel_flow is not None]
        return np.asarray(np.log(np.array(flows) * DIESEL.density / (power * _CONSUMPTION)))

    def doubt(self, slope: Array) -> Array:
        """Standard deviation of each column of the misfit."""
        speeds = np.array([reading.speed_doubt for reading in self.readings]) / self.speed
        rows = np.hypot(_READING["engine_speed"], np.nanmedian(slope, axis=0) * speeds)
        return np.append(rows, np.full(len(self.fuelled), _READING["specific_consumption"]))


def present_point(
    plan: Plan, drive: PresentDrive, boats: Boats, described: HullForm, opinion: Consensus, water: Water
) -> OperatingPoint:
    """What the present propeller does when it drives each of the boats at the speeds of an opinion: fields (N, R).

    The boats are as they were when the log was taken, fouling and still air included.
    """
    resistance = (
        bare_resistance(boats, described, opinion, water)
        + fouling_force(plan, boats, opinion.speed, water, drive.months)
        + still_air(plan, boats, opinion.speed)
    )
    hull = boats_hull_curve(plan, boats, opinion.speed, resistance, water.density)
    return boats_points(drive.open_water(boats.present_propeller_pitch), drive.diameter, hull)

"""Logs as evidence, of the present engine and of the sea trial: each row through the equilibrium of its propeller."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from engine.conditioning import Conditioned, conditioned
from engine.constants import KNOT
from engine.data import table
from engine.defaults import amount
from engine.evidence import FaultOdds, SteadyErrors, steady_errors
from engine.fleet import Fleet
from engine.hull.consensus import Consensus
from engine.hull.form import HullForm
from engine.machinery.fuel import DIESEL
from engine.numeric import Array
from engine.plan import Plan
from engine.plan_defaults import gear_efficiency
from engine.propeller.equilibrium import OperatingPoint
from engine.sections.electric import Motor
from engine.stages.boats import Boats, boats_of
from engine.stages.logged_drive import LoggedDrive, Reading, logged_point
from engine.stages.propulsion import shaft_angle
from engine.stages.resistance import opinion_of
from engine.stages.unknowns import as_described, scores_of
from engine.stages.wording import percent
from engine.water import Water

_READING = table("doubt")["reading"]
_NUDGE = 1.02
"""Speeds this far apart give the slope of shaft speed over boat speed."""
_MOST_OF_RATED = 1.3
"""No engine is loaded with more than this share of its rated power: what is beyond its output's doubt (ours)."""
STRAY = "it does not agree with the other rows, or with any boat like this one"
"""Why a row is left out that a current, a gust or a slip of the pen may have spoilt."""
NO_RESISTANCE = "the resistance method has no value at that speed"
"""Why a row is left out that no new reading mends."""
_NO_BOAT = "no boat like this one can be worked out at that speed with that propeller"
_NOTHING: Array = np.zeros((1, 0))
"""Misfits and doubts of a log without rows."""


@dataclass(frozen=True, eq=False)
class Logbook:
    """What the log came to.

    readings: the rows that could be read.   left_out: index of a row -> why it does not count.   fuel_left_out: indexes
    of rows whose fuel flow alone does not count.
    steady: a fault common to all rows, or None.   conditioned: the fleet after the log; None when no row counts.
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

    @property
    def steady_fault(self) -> str:
        """What all rows that could count seem to be read with, as left_out has it; "" for nothing."""
        return "" if self.steady is None else _steady_words(self.steady)


EMPTY = Logbook((), {}, (), None, None)


@dataclass(frozen=True, eq=False)
class Logs:
    """Both logs of a plan.   before_trial: the fleet after the log of the present engine alone, where both count."""

    present: Logbook
    trial: Logbook
    before_trial: Conditioned | None

    @property
    def conditioned(self) -> Conditioned | None:
        """The fleet after all that counts; None when nothing does."""
        return self.present.conditioned if self.trial.conditioned is None else self.trial.conditioned


def read_logs(plan: Plan, prior: Fleet, boats: Boats, described: HullForm, water: Water) -> Logs:
    """The log of the present engine and that of the sea trial, laid on the fleet together.

    boats: of the prior.
    Where they contradict each other the trial counts alone: it tells how she is now. Each is EMPTY when there is none,
    or nothing to read it with.
    """
    fitted = LoggedDrive.fitted(plan, water) if plan.trial.run else None
    first, second = (
        _vetted(drive, plan, prior, boats, described, water) for drive in (LoggedDrive.present(plan), fitted)
    )
    (alone,) = _together(prior, (first,))
    if not second.is_sound:
        return Logs(alone, second.book, None)
    if alone.conditioned is None:
        (trial,) = _together(prior, (second,))
        return Logs(alone, trial, None)
    present, trial = _together(prior, (first, second))
    if trial.conditioned is None or present.conditioned is None:
        (trial,) = _together(prior, (second,))
        if trial.conditioned is not None:
            unused = first.all_with("it does not agree with the sea trial, which tells how she is now")
            return Logs(unused, trial, alone.conditioned)
        return Logs(alone, trial, None)
    return Logs(present, trial, alone.conditioned)


@dataclass(frozen=True, eq=False)
class _Vetted:
    """A log by itself: its rows that can be predicted, and why the others do not count.

    book: what is said of it while it is not laid on the fleet.   misfit: of the prior's boats (N, columns).   doubt:
    of each column.
    """

    log: "_Log | None"
    book: Logbook
    misfit: Array
    doubt: Array

    @property
    def is_sound(self) -> bool:
        """Whether it has rows that can be laid on the fleet."""
        return self.log is not None

    def all_with(self, why: str) -> Logbook:
        """The log with the same said of every row that would count."""
        lost = {} if self.log is None else self.log.all_with(why)
        return replace(self.book, left_out=self.book.left_out | lost)


def _vetted(
    drive: LoggedDrive | None, plan: Plan, prior: Fleet, boats: Boats, described: HullForm, water: Water
) -> _Vetted:
    """The log that was taken with a drive."""
    readings = () if drive is None else drive.readings(plan)
    if drive is None or not readings or plan.hull.propeller_place is None:
        return _Vetted(None, EMPTY, _NOTHING, _NOTHING)
    left_out = dict(_impossible_rows(plan, drive, readings, water))
    log = _Log(plan, drive, _in_order(readings), described, water).without(left_out)
    if log.readings:
        left_out |= _unpredictable_rows(log)
        log = log.without(left_out)
    return _predicted(log, prior, boats, readings, left_out)


def _in_order(readings: Iterable[Reading]) -> tuple[Reading, ...]:
    """By what was read, so that the same log draws the same boats in whatever order its rows were entered."""
    return tuple(
        sorted(readings, key=lambda each: (each.engine_speed, each.speed, each.fuel_flow or 0.0, each.measured))
    )


def _predicted(
    log: "_Log", prior: Fleet, boats: Boats, readings: tuple[Reading, ...], left_out: dict[int, str]
) -> _Vetted:
    """The readings of a log that the prior's boats can have made, and whether a steady fault is in them."""
    if not log.readings:
        return _Vetted(None, Logbook(readings, left_out, (), None, None), _NOTHING, _NOTHING)
    first, slope = log.misfit_and_slope(boats)
    is_known: list[bool] = np.any(np.isfinite(slope), axis=0).tolist()
    lost = {reading.index: _NO_BOAT for reading, known in zip(log.readings, is_known, strict=True) if not known}
    if lost:
        return _predicted(log.without(lost), prior, boats, readings, left_out | lost)
    doubt, rows = log.doubt(slope), len(log.readings)
    odds = _fault_odds(log.drive, log.readings)
    steady = steady_errors(first[:, :rows], slope, log.speed, doubt[:rows], prior.weights, odds)
    if steady.kind != "none":
        unused = left_out | log.all_with(_steady_words(steady))
        return _Vetted(None, Logbook(readings, unused, (), steady, None), _NOTHING, _NOTHING)
    return _Vetted(log, Logbook(readings, left_out, (), None, None), first, doubt)


def _together(prior: Fleet, vetted: Sequence[_Vetted]) -> tuple[Logbook, ...]:
    """Logs laid on the fleet at once, each with what is wrong with it; those with nothing to lay as they are."""
    sound = [each for each in vetted if each.log is not None]
    logs = [each.log for each in sound if each.log is not None]
    if not logs:
        return tuple(each.book for each in vetted)
    first = np.hstack([each.misfit for each in sound])

    def misfit(scores: Array) -> Array:
        return first if scores is prior.scores else np.hstack([log.misfit(scores) for log in logs])

    after = conditioned(prior, misfit, np.concatenate([each.doubt for each in sound]))
    ends = np.cumsum([each.doubt.size for each in sound])[:-1]
    strays = iter(np.split(after.stray, ends))
    return tuple(each.book if each.log is None else _judged(each, after, next(strays)) for each in vetted)


def _judged(vetted: _Vetted, after: Conditioned, stray: NDArray[np.bool_]) -> Logbook:
    """One of the logs laid on the fleet.   stray: of its own columns."""
    log, book = vetted.log, vetted.book
    assert log is not None, "it has been laid on the fleet"
    if after.contradictory:
        return vetted.all_with("the rows contradict each other")
    stray_rows, stray_fuel = np.split(stray, [len(log.readings)])
    lost = {reading.index: STRAY for reading, is_stray in zip(log.readings, stray_rows, strict=True) if is_stray}
    dry = tuple(log.readings[place].index for place, is_stray in zip(log.fuelled, stray_fuel, strict=True) if is_stray)
    counts = None if stray_rows.all() else after
    return replace(book, left_out=book.left_out | lost, fuel_left_out=dry, conditioned=counts)


def _unpredictable_rows(log: "_Log") -> dict[int, str]:
    """Rows at speeds, or just above, for which the methods in use give no resistance, and why."""
    total = log.nudged_opinion.total[len(log.readings) :]
    return {
        reading.index: NO_RESISTANCE
        for reading, force in zip(log.readings, total, strict=True)
        if not np.isfinite(force)
    }


def _fault_odds(drive: LoggedDrive, readings: tuple[Reading, ...]) -> FaultOdds:
    """Of a tachometer that has not been checked, and of a current when some speed is that of a single run."""
    odds = _READING["fault_odds"]
    return FaultOdds(
        tachometer=odds["tachometer"][drive.tachometer],
        current=max(odds["current"][reading.measured] for reading in readings),
    )


def _impossible_rows(
    plan: Plan, drive: LoggedDrive, readings: tuple[Reading, ...], water: Water
) -> Iterator[tuple[int, str]]:
    """Rows that no boat can have made with this propeller and engine, and why."""
    advance_fraction = (1.0 - float(boats_of(plan, water, as_described).wake_fraction)) * math.cos(shaft_angle(plan))
    for reading in readings:
        if drive.is_outrun(reading, advance_fraction):
            yield reading.index, "the boat outruns her propeller: check pitch, ratio, tachometer and current"
        elif drive.rated_power is not None:
            power = drive.absorbed_power(reading, advance_fraction, float(water.density)) / _losses(plan, drive)
            if power > _MOST_OF_RATED * drive.rated_power:
                is_motor = drive.is_new and isinstance(plan.engine.selected, Motor)
                whose = "new motor" if is_motor else "new engine" if drive.is_new else "present engine"
                why = f"it would take more power than the {whose} has: check ratio, diameter, pitch and tachometer"
                yield reading.index, why


def _losses(plan: Plan, drive: LoggedDrive) -> float:
    """Power at the propeller over power at the crankshaft [-]. The present engine has a gear, whatever the new one
    has."""
    chosen = plan.engine.selected if drive.is_new else None
    gear = amount(plan.gear, "efficiency") if chosen is None else gear_efficiency(plan, chosen)
    return amount(plan.gear, "shaft_efficiency") * gear


def _steady_words(steady: SteadyErrors) -> str:
    if steady.kind == "tachometer":
        sense = "high" if steady.size > 0.0 else "low"
        least = "at least " if steady.may_be_larger else ""
        return f"the tachometer seems to read {least}{percent(abs(steady.size))} {sense} in every row"
    sense = "helped" if steady.size > 0.0 else "hindered"
    least = "at least" if steady.may_be_larger else "about"
    return f"a current of {least} {abs(steady.size) / KNOT:.1f} kn seems to have {sense} in every row"


@dataclass(frozen=True, eq=False)
class _Log:
    """The readings with all that is needed to predict them: first the rows' shaft speeds, then their fuel."""

    plan: Plan
    drive: LoggedDrive
    readings: tuple[Reading, ...]
    described: HullForm
    water: Water

    def without(self, left_out: Mapping[int, str]) -> "_Log":
        """The log with some rows taken out, by their index in the plan; itself when there are none to take out."""
        if not left_out:
            return self
        return replace(self, readings=tuple(each for each in self.readings if each.index not in left_out))

    def all_with(self, why: str) -> dict[int, str]:
        """Index of every row -> why none of them counts."""
        return {reading.index: why for reading in self.readings}

    @property
    def speed(self) -> Array:
        return np.array([reading.speed for reading in self.readings])

    @property
    def fuelled(self) -> tuple[int, ...]:
        """Places of the readings that have a fuel flow of an engine that burns some."""
        if self.drive.consumption is None:
            return ()
        return tuple(i for i, reading in enumerate(self.readings) if reading.fuel_flow is not None)

    def misfit(self, scores: Array) -> Array:
        """ln(logged / predicted) for boats (N, K): (N, readings and fuel flows)."""
        boats = boats_of(self.plan, self.water, scores_of(scores))
        point = self._point(boats, self.opinion)
        return self._misfit(boats, np.asarray(point.shaft_speed), np.asarray(point.delivered_power))

    def misfit_and_slope(self, boats: Boats) -> tuple[Array, Array]:
        """The misfit, and d ln(shaft speed) / d ln(boat speed) for boats, (N, readings); NaN without a resistance."""
        point = self._point(boats, self.nudged_opinion)
        turning, power, rows = np.asarray(point.shaft_speed), np.asarray(point.delivered_power), len(self.readings)
        slope = np.log(turning[:, rows:] / turning[:, :rows]) / math.log(_NUDGE)
        return self._misfit(boats, turning[:, :rows], power[:, :rows]), np.asarray(slope)

    @cached_property
    def opinion(self) -> Consensus:
        """The methods in use at the logged speeds, on the boat as described."""
        return self.nudged_opinion.at_first(len(self.readings))

    @cached_property
    def nudged_opinion(self) -> Consensus:
        """The same, and behind them at speeds a little higher, worked out at once."""
        speeds = np.append(self.speed, _NUDGE * self.speed)
        return opinion_of(self.plan, self.described, speeds, self.water)

    def _point(self, boats: Boats, opinion: Consensus) -> OperatingPoint:
        return logged_point(self.plan, self.drive, boats, self.described, opinion, self.water)

    def _misfit(self, boats: Boats, shaft_speed: Array, delivered_power: Array) -> Array:
        predicted = shaft_speed * self.drive.ratio * self.drive.tachometer_of(boats)
        logged = np.array([reading.engine_speed for reading in self.readings])
        return np.hstack([np.log(logged / predicted), self._fuel_misfit(delivered_power)])

    def _fuel_misfit(self, delivered_power: Array) -> Array:
        columns, consumption = list(self.fuelled), self.drive.consumption or math.nan
        power = delivered_power[:, columns] / _losses(self.plan, self.drive)
        flows = [self.readings[place].fuel_flow or math.nan for place in columns]
        return np.asarray(np.log(np.array(flows) * DIESEL.density / (power * consumption)))

    def doubt(self, slope: Array) -> Array:
        """Standard deviation of each column of the misfit."""
        speeds = np.array([reading.speed_doubt for reading in self.readings]) / self.speed
        rows = np.hypot(_READING["engine_speed"], np.nanmedian(slope, axis=0) * speeds)
        # the engine burns the same share too much in every row: all say as much as one
        alike = len(self.fuelled) ** 0.5
        return np.append(rows, np.full(len(self.fuelled), _READING["specific_consumption"] * alike))

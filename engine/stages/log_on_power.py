"""The log beside the power curve: each row as a reading of shaft power, and what the log as a whole has changed."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from engine.answers import answer, maybe
from engine.bands import Band
from engine.constants import KNOT, MONTH, RPM
from engine.defaults import amount, whole
from engine.findings import Finding, Outcome, fits, look
from engine.hull.form import HullForm
from engine.numeric import Array
from engine.plan import Plan
from engine.propeller.market import Blades
from engine.showing import numbered
from engine.stages.blades import present_blades
from engine.stages.boats import Boats, room_share
from engine.stages.demand import Demand, ReferencePropeller
from engine.stages.hull import HullAnswers
from engine.stages.logbook import Logbook
from engine.stages.logged_drive import LoggedDrive, Reading, fitted_blades, logged_point
from engine.stages.propulsion import boats_hull_curve, boats_points
from engine.stages.resistance import bare_resistance, opinion_of, still_air
from engine.stages.wording import Wording, at_the_shafts, capitalised, listed, months_of, more_or_less_than, percent
from engine.water import Water

_LOG_OFF = 0.25
"""A reading of the log further than this from the plan wants a second look (ours)."""
_REFUSED = "no"


@dataclass(frozen=True, kw_only=True)
class LoggedPoint:
    """A row of the owner's log, read through the present propeller, beside what the plan expects at that speed."""

    speed_kn: float = answer("Speed")
    engine_rpm: float = answer("Engine speed", digits=4)
    slip_fraction: float = answer("Apparent slip")
    shaft_power_kw: float = answer("Shaft power read from the log")
    expected_shaft_power_kw: Band = answer("Shaft power expected", spread=True)
    grown_shaft_power_kw: Band | None = maybe("Expected with the growth of then", spread=True, only_known=True)
    counts: str = answer("Counts")


def logged_points(plan: Plan, hull: HullAnswers, demand: Demand) -> Iterator[LoggedPoint]:
    """Each row that can be read, by the middle of the fleet; the power is of all engines."""
    drive = LoggedDrive.present(plan)
    if drive is None:
        return
    advance_fraction, density = float(demand.calm.advance_fraction), float(hull.water.density)
    to_shaft = amount(plan.gear, "shaft_efficiency")
    readings = hull.logbook.readings
    grown = _each_grown_power(plan, hull, drive, readings) if readings and drive.months > 0.0 else None
    for place, reading in enumerate(readings):
        power = math.nan  # of a propeller that is dragged: it reads no power of an engine
        if not drive.is_outrun(reading, advance_fraction):
            power = drive.absorbed_power(reading, advance_fraction, density) * demand.screws
            power /= float(demand.calm.relative_rotative_efficiency)
        expected = demand.each_delivered_power(reading.speed) / to_shaft / 1e3
        yield LoggedPoint(
            speed_kn=reading.speed_kn,
            engine_rpm=reading.engine_speed / RPM,
            slip_fraction=1.0 - reading.speed * drive.ratio / (drive.pitch * reading.engine_speed),
            shaft_power_kw=power / to_shaft / 1e3,
            expected_shaft_power_kw=hull.fleet.band(expected),
            grown_shaft_power_kw=None if grown is None else hull.fleet.band(grown[:, place] / 1e3),
            counts=_counts(hull.logbook, reading),
        )


def _each_grown_power(plan: Plan, hull: HullAnswers, drive: LoggedDrive, readings: tuple[Reading, ...]) -> Array:
    """Shaft power of each boat, grown over as then, with the log's propeller at the readings' speeds, (N, R) [W]."""
    speeds = np.array([reading.speed for reading in readings])
    opinion = opinion_of(plan, hull.form, speeds, hull.water)
    point = logged_point(plan, drive, hull.boats, hull.form, opinion, hull.water)
    return np.asarray(point.delivered_power) * whole(plan.hull, "screws") / amount(plan.gear, "shaft_efficiency")


def _counts(logbook: Logbook, reading: Reading) -> str:
    return _REFUSED if reading.index in logbook.left_out or logbook.conditioned is None else "yes"


@dataclass(frozen=True)
class BeforeLog:
    """What was expected before the log.   cruise_kw: shaft power at cruise, calm; None where no log counts."""

    cruise_kw: Band | None


def assess_before_log(
    plan: Plan, hull: HullAnswers, cruise_kn: float, reference: ReferencePropeller
) -> Outcome[BeforeLog]:
    """Shaft power at cruise of the boats as they were plausible before the log."""
    if hull.before_log is None:
        return Outcome(BeforeLog(None))
    fleet, boats = hull.before_log
    power = each_shaft_power(plan, boats, hull.form, hull.water, reference, cruise_kn * KNOT)
    return Outcome(BeforeLog(fleet.band(power / 1e3)))


def each_shaft_power(
    plan: Plan, boats: Boats, described: HullForm, water: Water, reference: ReferencePropeller, speed: float
) -> Array:
    """Shaft power of each boat at a boat speed [m/s], clean and calm, through the reference propeller, (N,) [W]."""
    opinion = opinion_of(plan, described, np.array([speed]), water)
    calm = bare_resistance(boats, described, opinion, water) + still_air(plan, boats, opinion.speed)
    curve = boats_hull_curve(plan, boats, opinion.speed, calm, water.density)
    diameter = reference.diameter * np.asarray(room_share(plan, boats.room))
    point = boats_points(reference.open_water, diameter, curve)
    delivered = np.asarray(point.delivered_power)[:, 0] * whole(plan.hull, "screws")
    return delivered / amount(plan.gear, "shaft_efficiency")


def reading_source(kind: Blades | None) -> str:
    """What a log is read by: the series that stands for the propeller it was taken with."""
    return "" if kind is None else f"{kind.series.label} at the logged speeds, {kind.series.source}"


def change_by_log(plan: Plan, hull: HullAnswers, before: Band, after: Band) -> Finding:
    """What log and sea trial have changed, as far as it can be said; at least one of them counts."""
    say, log, trial = Wording(plan.units), hull.logbook, hull.trial
    readings = (
        (log.used, f"the log ({numbered(log.used, 'row')})", present_blades(plan), "present.log"),
        (trial.used, f"the sea trial ({numbered(trial.used, 'run')})", fitted_blades(plan), "trial.run"),
    )
    counted = [(words, reading_source(kind), path) for used, words, kind, path in readings if used]
    subject = capitalised(listed([words for words, _, _ in counted]))
    source, path = "; ".join(dict.fromkeys(source for _, source, _ in counted)), counted[0][2]
    are_many = len(counted) > 1
    if not (before.is_known and after.is_known):
        text = (
            f"{subject} {'count' if are_many else 'counts'}, but by how much shaft power at cruise is moved cannot be "
            f"said: {'with' if before.is_known else 'without'} {'them' if are_many else 'it'} fewer than half of the "
            "plausible boats have one."
        )
        return look(text, source, path)
    narrower = 1.0 - (after.high - after.low) / (before.high - before.low)
    moved = after.best / before.best - 1.0
    sense = "up" if moved > 0.0 else "down"
    width = f"{percent(narrower)} narrower" if narrower > 0.0 else f"{percent(-narrower)} wider"
    return fits(
        f"{subject} {'move' if are_many else 'moves'} shaft power at cruise {sense} by "
        f"{percent(abs(moved))}, from {say.band(before)} to {say.band(after)}; the band is {width}.",
        f"{source}; the plausible boats weighed by how well each explains what was logged",
        path,
    )


def _gap(point: LoggedPoint, expected: Band) -> float:
    """How much more the log reads than is expected [-]."""
    return point.shaft_power_kw / expected.best - 1.0


def log_finding(plan: Plan, point: LoggedPoint) -> Finding:
    """A row of the log beside what the plan expects."""
    say, source = Wording(plan.units), reading_source(present_blades(plan))
    at = f"The log at {point.engine_rpm:.0f} rpm and {point.speed_kn:.1f} kn"
    is_refused_with_no_slip = point.slip_fraction < 0.0 and point.counts == _REFUSED
    if is_refused_with_no_slip or math.isnan(point.shaft_power_kw):
        text = f"{at} has the boat outrunning her propeller. Check pitch, ratio, tachometer and current."
        return look(text, source, "present.log")
    if not point.expected_shaft_power_kw.is_known:
        return look(f"{at} is beyond the speeds that were worked out; the plan has nothing beside it.", source)
    clean, grown, then = _gap(point, point.expected_shaft_power_kw), point.grown_shaft_power_kw, ""
    gap = clean
    if grown is not None and grown.is_known:
        gap, months = _gap(point, grown), amount(plan.present, "time_since_cleaning") / MONTH
        then = f", and {more_or_less_than(gap, f'of her as she was, {months_of(months)} without cleaning')}"
    where = at_the_shafts(whole(plan.hull, "screws"))
    expected = more_or_less_than(clean, "the plan expects of the clean boat")
    text = (
        f"{at} reads as {say.power(point.shaft_power_kw)} {where}, {expected}{then}."
        f"{' It does not count; the hull page says why.' if point.counts == _REFUSED else ''}"
    )
    return fits(text, source) if abs(gap) <= _LOG_OFF else look(text, source, "present.log")

"""The log over the seasons: engine speed for a boat speed against the months, growth, wear, and when cleaning pays."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from engine.bands import Band
from engine.constants import DAY, HOUR, KNOT, LITRE, MONTH, RPM
from engine.data import table
from engine.defaults import amount, amount_or_none, word
from engine.findings import Finding, fits, look
from engine.machinery.electric import CHARGER_EFFICIENCY
from engine.machinery.upkeep import Trend, cleaning_interval, trend
from engine.numeric import Array
from engine.plan import Plan
from engine.sections.electric import Motor
from engine.sections.trial import BOTH_CLEANED, BOTTOM_CLEANED, PROPELLER_CLEANED, READING, SeasonEntry
from engine.showing import numbered
from engine.stages.drive import DieselDrive
from engine.stages.trial_answers import SeasonRow
from engine.stages.trial_boats import TrialBoats
from engine.stages.unknowns import TENTH
from engine.stages.wording import more_or_less, percent
from engine.stages.year import hours_in_a_year

_SEASON = table("trial")["season"]
_TELLING: float = _SEASON["telling"]
_ROW_DOUBT: float = table("doubt")["reading"]["engine_speed"]
_CLEANED = (BOTTOM_CLEANED, BOTH_CLEANED, PROPELLER_CLEANED)
_DRAGS = 1.3
"""A resistance this many times the clean one tells how fuel goes with engine speed at the same boat speed (ours)."""
_IN_MONTHS = 2
"""Intervals from so many months on are told in months (ours)."""
_LINE = (
    "straight line through the readings by least squares, each beside the clean boat's engine speed at that boat "
    "speed; give or take is one standard error"
)
_PAYS = "cleaning at the interval at which its price and the extra fuel together cost least (ours)"


@dataclass(frozen=True)
class SeasonReading:
    """One reading.   months: since the last cleaning, None while none before it is entered or told with the trial.

    years: since the first reading.   rise: ln(engine speed / that of the clean boat at the same boat speed).
    """

    entry: SeasonEntry
    day: date
    months: float | None
    years: float
    engine_speed: float
    speed: float
    clean: Band
    rise: float


@dataclass(frozen=True, eq=False)
class Seasons:
    """What the readings come to.

    growth: rise a month, and its error, beside the wear where that shows; None while the readings cannot tell.
    with_wear: also the rise a year that no cleaning took away.
    fuel_exponent: d ln(consumption) / d ln(engine speed) at the same boat speed [-].
    """

    readings: tuple[SeasonReading, ...]
    incomplete: int
    growth: Trend | None
    with_wear: Trend | None
    fuel_exponent: float

    @property
    def is_growing(self) -> bool:
        """Whether growth shows beyond what chance would do."""
        return self.growth is not None and self.growth.slopes[0] > _TELLING * self.growth.errors[0]

    @property
    def is_wearing(self) -> bool:
        """Whether something gets worse that cleaning does not mend."""
        return _shows_wear(self.with_wear)

    @property
    def longest(self) -> float:
        """The most months since a cleaning at which there is a reading; 0 without one."""
        return max((reading.months or 0.0 for reading in self.readings), default=0.0)

    @property
    def rise(self) -> Band | None:
        """More rpm for the same speed, a month uncleaned."""
        if self.growth is None or not np.isfinite(self.growth.errors[0]):
            return None
        slope, error = self.growth.slopes[0], TENTH * self.growth.errors[0]
        return Band(slope, slope - error, slope + error)


def _shows_wear(with_wear: Trend | None) -> bool:
    return with_wear is not None and with_wear.slopes[1] > _TELLING * with_wear.errors[1]


def seasons_of(plan: Plan, clean: TrialBoats) -> Seasons | None:
    """The log over the seasons; None while it has no entry.   clean: the boats after the trial, without growth."""
    entries = sorted((row for row in plan.trial.season if row.day is not None), key=lambda row: row.day or date.min)
    if not entries:
        return None
    asked = [row for row in entries if word(row, "what") == READING]
    full = [row for row in asked if row.engine_speed is not None and row.speed is not None]
    readings = tuple(_readings(clean, full, _cleaned_on(plan, entries)))
    growth, with_wear = _trends([each for each in readings if each.months is not None and np.isfinite(each.rise)])
    return Seasons(readings, len(asked) - len(full), growth, with_wear, _fuel_exponent(clean, readings))


def _cleaned_on(plan: Plan, entries: list[SeasonEntry]) -> list[date]:
    """The days on which bottom or propeller was cleaned, by the log and by the trial."""
    days = [row.day for row in entries if word(row, "what") in _CLEANED and row.day is not None]
    if plan.trial.day is not None:
        days.append(plan.trial.day - timedelta(days=round(amount(plan.trial, "time_since_cleaning") / DAY)))
    return days


def _readings(clean: TrialBoats, rows: list[SeasonEntry], cleaned: list[date]) -> Iterator[SeasonReading]:
    if not rows:
        return
    speeds = np.array([row.speed.si for row in rows if row.speed is not None])
    needs, _ = clean.as_fitted.at(speeds)
    for row, band in zip(rows, clean.fleet.each_band(needs), strict=True):
        assert row.day is not None, "looked at before"
        assert row.engine_speed is not None, "looked at before"
        assert row.speed is not None, "looked at before"
        before = [day for day in cleaned if day <= row.day]
        months = (row.day - max(before)).days * DAY / MONTH if before else None
        first = rows[0].day or row.day
        years = (row.day - first).days / 365.25
        rise = float(np.log(row.engine_speed.si / band.best))
        yield SeasonReading(row, row.day, months, years, row.engine_speed.si, row.speed.si, band, rise)


def _trends(dated: list[SeasonReading]) -> tuple[Trend | None, Trend | None]:
    """The rise over the months since cleaning, and over months and years; None while there are too few readings.

    Where the years tell, both are the latter: a line over the months alone would take part of the wear for growth.
    """
    months = np.array([each.months for each in dated])
    years = np.array([each.years for each in dated])
    rises = np.array([each.rise for each in dated])
    if len(dated) < _SEASON["least_readings"] or np.ptp(months) < _SEASON["least_months"]:
        return None, None
    growth = trend(months[:, None], rises, _ROW_DOUBT)
    if len(dated) < _SEASON["wear_readings"]:
        return growth, None
    with_wear = trend(np.column_stack([months, years]), rises, _ROW_DOUBT)
    return (with_wear if _shows_wear(with_wear) else growth), with_wear


def _fuel_exponent(clean: TrialBoats, readings: tuple[SeasonReading, ...]) -> float:
    """At the middle of the speeds that were read; NaN without one."""
    if not readings:
        return float("nan")
    at: Array = np.array([float(np.median([reading.speed for reading in readings]))])
    light, heavy = clean.as_fitted.at(at), clean.tried(hull=_DRAGS).at(at)
    turns, burns = (
        float(clean.fleet.median(np.log(after / before))[0]) for before, after in zip(light, heavy, strict=True)
    )
    return burns / turns


def season_rows(seasons: Seasons) -> Iterator[SeasonRow]:
    """The readings, by day."""
    for reading in seasons.readings:
        yield SeasonRow(
            day=reading.day.isoformat(),
            months=reading.months,
            engine_rpm=reading.engine_speed / RPM,
            speed_kn=reading.speed / KNOT,
            clean_rpm=reading.clean.scaled(1.0 / RPM),
            rise_fraction=float(np.expm1(reading.rise)),
            since_first_months=12.0 * reading.years,
        )


@dataclass(frozen=True)
class Cleaning:
    """When cleaning pays.   months: between cleanings; None while it cannot be told.   missing: what is not given."""

    months: float | None
    missing: tuple[tuple[str, str], ...] = ()


def cleaning_of(plan: Plan, seasons: Seasons, clean: TrialBoats, cruise: float, screws: int) -> Cleaning:
    """The interval at which cleaning pays, from the growth that the log shows.

    cruise: speed [m/s].   screws: engines that burn.
    """
    is_diesel = isinstance(clean.drive, DieselDrive)
    taken, field = ("fuel", "price") if is_diesel else ("electricity", "electricity_price")
    cleaning, price = amount_or_none(plan.costs, "cleaning"), amount_or_none(plan.range, field)
    missing = []
    if not cleaning:
        missing.append(("the price of a cleaning, on the costs page", "costs.cleaning"))
    if price is None:
        missing.append((f"the price of {taken}, on the range page", f"range.{field}"))
    if not cleaning or price is None or seasons.growth is None or not seasons.is_growing:
        return Cleaning(None, tuple(missing))
    per_hour = screws * float(clean.fleet.median(clean.as_fitted.at(np.array([cruise]))[1])[0])
    unit = LITRE if is_diesel else 1e3 * HOUR / CHARGER_EFFICIENCY  # what the battery gives took more from the plug
    hours_a_month = hours_in_a_year(plan) / 12.0
    monthly = hours_a_month * per_hour * unit * price
    rate = monthly * seasons.fuel_exponent * seasons.growth.slopes[0]
    if not rate > 0.0:
        return Cleaning(None)
    return Cleaning(cleaning_interval(cleaning, rate))


def season_findings(plan: Plan, seasons: Seasons, cleaning: Cleaning) -> Iterator[Finding]:
    """What the log over the seasons says."""
    if seasons.incomplete:
        lack, are = ("lacks", "is") if seasons.incomplete == 1 else ("lack", "are")
        yield look(
            f"{seasons.incomplete} of the readings over the seasons {lack} engine speed or boat speed and {are} left "
            "out.",
            _LINE,
            "trial.season",
        )
    undated = sum(reading.months is None for reading in seasons.readings)
    if undated:
        have, them, their = ("has", "it", "its") if undated == 1 else ("have", "them", "their")
        known = plan.trial.day is not None
        yield look(
            f"{undated} of the readings {have} no cleaning before {them}, so that {their} months are not known. Enter "
            f"the day of the {'' if known else 'trial, or of the '}cleaning before.",
            _LINE,
            "trial.season" if known else "trial.day",
        )
    growth, taken = seasons.growth, "electricity" if isinstance(plan.engine.selected, Motor) else "fuel"
    if growth is None:
        yield fits(
            f"The log over the seasons wants {_SEASON['least_readings']} readings, {_SEASON['least_months']:.0f} "
            "months of growth apart, before it says something: the same boat speed each time, calm, both ways.",
            _LINE,
            "trial.season",
        )
        return
    monthly, error = growth.slopes[0], growth.errors[0]
    if not seasons.is_growing:
        yield fits(
            f"Growth does not show yet: {more_or_less(monthly, 1)} rpm a month for the same speed, give or take "
            f"{percent(error, 1)}.",
            _LINE,
        )
    else:
        yield look(
            f"Growth shows: {percent(monthly, 1)} more rpm a month for the same speed, give or take "
            f"{percent(error, 1)}; in six months {percent(np.expm1(6.0 * monthly))} more rpm and "
            f"{percent(np.expm1(6.0 * monthly * seasons.fuel_exponent))} more {taken}.",
            _LINE,
            "trial.season",
        )
        yield from _cleaning_findings(plan, cleaning, seasons.longest, taken)
    if seasons.is_wearing and seasons.with_wear is not None:
        yearly, doubt = seasons.with_wear.slopes[1], seasons.with_wear.errors[1]
        yield look(
            f"Something gets worse that cleaning does not mend: {percent(yearly, 1)} more rpm a year, give or take "
            f"{percent(doubt, 1)}. Look at the blades for bends, nicks and pitting, at her weight, and at paint that "
            "is rough.",
            _LINE,
            "trial.season",
        )


def _interval(months: float) -> str:
    """So many months; less than two of them in days."""
    if round(months) >= _IN_MONTHS:
        return numbered(f"{months:.0f}", "month")
    return numbered(max(round(months * MONTH / DAY), 1), "day")


def _cleaning_findings(plan: Plan, cleaning: Cleaning, longest: float, taken: str) -> Iterator[Finding]:
    """longest: months to which the readings reach.   taken: what more of it costs, fuel or electricity."""
    if cleaning.months is not None:
        hours = hours_in_a_year(plan)
        months = numbered(f"{longest:.0f}", "month")
        reach = (
            f" The readings reach to {months} after a cleaning; beyond that the line is only drawn on."
            if cleaning.months > longest
            else ""
        )
        yield fits(
            f"With {hours:.0f} h under power in a year, a cleaning every {_interval(cleaning.months)} costs least: "
            f"then its price is what the extra {taken} has cost. Clean earlier when speed or a coming passage matters."
            f"{reach}",
            _PAYS,
            "costs.cleaning",
        )
    elif cleaning.missing:
        wanted = " and ".join(words for words, _ in cleaning.missing)
        yield fits(f"Give {wanted}, and this page says when cleaning pays.", _PAYS, cleaning.missing[0][1])

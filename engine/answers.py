"""How one answer of a stage is described: its label and the units to show it in.

An answer's name ends in the unit it is in ("wetted_surface_m2", "cruise_kn"), so a reader of the JSON needs no table.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, fields, replace
from functools import cache
from math import isfinite
from typing import Any, TypeVar

from engine.bands import Band, Money
from engine.showing import (
    OF_BOATS,
    band_text,
    decimals_of,
    money_number,
    round_number,
    share_of_boats,
    show,
    without_unit,
)
from engine.units import Dimension, convert, unit_named

_SUFFIXES: dict[str, tuple[str, Dimension, str, str]] = {
    # ending of the name: (unit it is in, dimension, metric unit to show, imperial unit to show)
    "_m": ("m", Dimension.LENGTH, "m", "ft"),
    "_m2": ("m2", Dimension.AREA, "m2", "ft2"),
    "_m3": ("m3", Dimension.VOLUME, "m3", "ft3"),
    "_cm3": ("cm3", Dimension.VOLUME, "cm3", "in3"),
    "_l": ("L", Dimension.VOLUME, "L", "US gal"),
    "_kg": ("kg", Dimension.MASS, "kg", "lb"),
    "_n": ("N", Dimension.FORCE, "N", "lbf"),
    "_nm": ("N m", Dimension.TORQUE, "N m", "lb ft"),
    "_kw": ("kW", Dimension.POWER, "kW", "hp"),
    "_g_per_kwh": ("g/kWh", Dimension.CONSUMPTION, "g/kWh", "g/kWh"),
    "_kwh": ("kWh", Dimension.ENERGY, "kWh", "kWh"),
    "_kn": ("kn", Dimension.SPEED, "kn", "kn"),
    "_m_per_s": ("m/s", Dimension.SPEED, "m/s", "ft/s"),
    "_rpm": ("rpm", Dimension.ROTATION, "rpm", "rpm"),
    "_kpa": ("kPa", Dimension.PRESSURE, "kPa", "in Hg"),
    "_c": ("C", Dimension.TEMPERATURE, "C", "F"),
    "_a": ("A", Dimension.ELECTRIC_CURRENT, "A", "A"),
    "_v": ("V", Dimension.VOLTAGE, "V", "V"),
    "_deg": ("deg", Dimension.ANGLE, "deg", "deg"),
    "_years": ("years", Dimension.DURATION, "years", "years"),
    "_h": ("h", Dimension.DURATION, "h", "h"),
    "_nmi": ("nmi", Dimension.DISTANCE, "nmi", "nmi"),
    "_l_per_h": ("L/h", Dimension.FLOW, "L/h", "US gal/h"),
    "_l_per_min": ("L/min", Dimension.FLOW, "L/min", "US gal/min"),
    "_m3_per_min": ("m3/min", Dimension.FLOW, "m3/min", "cfm"),
    "_fraction": ("", Dimension.FRACTION, "%", "%"),
    "_kw_per_100_rpm": ("kW per 100 rpm", Dimension.GEAR_RATING, "kW per 100 rpm", "hp per 100 rpm"),
}

_PLACES_OF_SHARE = 3
"""A share is shown to the tenth of a per cent: less is not known of the boats, nor of anything measured."""
_WHOLE_RPM = 10.0
"""From here on an engine or a shaft is told in whole rpm: no tachometer shows tenths."""
_ENGINE = re.compile(r"(?<!present )(?<!old )\b(?:(a)n )?(e)ngine(?! room)|\bcrankshaft\b", re.IGNORECASE)
"""The engine that is planned; not the one that comes out, nor the room."""


@dataclass(frozen=True)
class Label:
    """How an answer is shown: its words, and other units than usual for its dimension ("mm", "in").

    spread: in a table, a band is shown with its low and high, not by its best alone.
    only_known: the line is left out while there is no value.
    over_boats: a band is over the plausible boats; else its ends are what the formula leaves open.
    of_boats: a share of the plausible boats, told as so many of 1,000 like in the findings.
    to_one: the ratio of a gear, told as it is typed and as on the gear's plate, "2.5:1".
    """

    text: str
    metric: str = ""
    imperial: str = ""
    digits: int = 3
    spread: bool = False
    only_known: bool = False
    over_boats: bool = True
    of_boats: bool = False
    to_one: bool = False


def answer(text: str, **more: Any) -> Any:
    """A field of an answers class that is shown to the owner and written to the JSON: a number, a band, a text.

    more: of its Label.
    """
    return field(metadata={"label": Label(text, **more)})


def table(text: str, *, on_page: bool = True) -> Any:
    """A field that holds rows: a tuple of dataclass objects whose own fields are answers.

    on_page: whether it is shown on the stage's page; one that is not is for the report and the JSON.
    """
    return field(default=(), metadata={"table": text, "on_page": on_page})


def detail(text: str, column: str = "") -> Any:
    """A field of a row that is written to the JSON but has no column of its own on a page: a table inside the row.

    column: what its columns are called in CSV, if not as the field.
    """
    return field(metadata={"detail": text, "column": column})


def maybe(text: str, **more: Any) -> Any:
    """An answer that may be missing (None).   more: of its Label."""
    return field(default=None, metadata={"label": Label(text, **more)})


@cache
def unit_of(name: str) -> tuple[str, Dimension, str, str] | None:
    """(unit, dimension, metric unit, imperial unit) from the ending of an answer's name; None for a bare number."""
    endings = sorted((ending for ending in _SUFFIXES if name.endswith(ending)), key=len)
    return _SUFFIXES[endings[-1]] if endings else None


def said_of_motor(text: str) -> str:
    """A label or a sentence on the engine, as it is said when a motor turns the propeller."""
    return _ENGINE.sub(_motor, text).replace("its motor shaft", "its shaft").replace("governor", "controller")


def _motor(found: re.Match[str]) -> str:
    article, first = found.groups()
    if first is None:
        return "motor shaft"
    return f"{article} motor" if article else "Motor" if first == "E" else "motor"


def labels(answers: Any, *, of_motor: bool = False) -> Iterator[tuple[str, Label]]:
    """(name, label) of every shown answer of an answers object or class, in order; of an object without those that are
    only shown when known, and are not.   of_motor: as `Outcome.of_motor`."""
    for item in fields(answers):
        label = item.metadata.get("label")
        if label and (isinstance(answers, type) or not (label.only_known and getattr(answers, item.name) is None)):
            yield item.name, replace(label, text=said_of_motor(label.text)) if of_motor else label


def row_tables(answers: Any, *, on_page: bool = False) -> Iterator[tuple[str, str, tuple[Any, ...]]]:
    """(name, title, rows) of every table in an answers object, in order; only those for its page if asked."""
    for item in fields(answers):
        if "table" in item.metadata and (item.metadata["on_page"] or not on_page):
            yield item.name, item.metadata["table"], getattr(answers, item.name)


def shown_unit(name: str, units: str, label: Label | None = None) -> str:
    """The unit in which an answer of this name is shown to an owner who thinks in `units`; "" for a bare number."""
    known = unit_of(name)
    if known is None:
        return ""
    _, _, metric, imperial = known
    own = label or Label("")
    if own.of_boats:
        return OF_BOATS
    return (own.imperial or imperial) if units == "imperial" else (own.metric or metric)


Known = TypeVar("Known")


def first_known(*values: Known | None) -> Known:
    """The first value there is. Raises: LookupError when there is none."""
    for value in values:
        if value is not None:
            return value
    raise LookupError("none of the values is known")


def best_of(value: float | Band) -> float:
    """The number itself, or the best of a band."""
    return value.best if isinstance(value, Band) else value


def in_owners_units(name: str, value: float | Band, units: str) -> float:
    """The number of an answer, of a band its best, in the unit in which it is shown; a bare number as it is."""
    known = unit_of(name)
    value = best_of(value)
    if known is None:
        return float(value)
    unit, dimension, _, _ = known
    return convert(unit_named(unit, dimension).to_si(float(value)), shown_unit(name, units), dimension)


def shown(name: str, label: Label, value: Any, units: str) -> str:
    """One answer as text in the owner's units; "-" when there is none."""
    if value is None:
        return "-"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    if isinstance(value, Band):
        return _shown_band(name, label, value, units)
    if name.endswith("_money"):
        return money_number(float(value), label.digits)
    known = unit_of(name)
    if known is None:
        text = str(value) if isinstance(value, int) else round_number(float(value), label.digits)
        return f"{text}:1" if label.to_one else text
    unit, dimension, _, _ = known
    if label.of_boats:
        return share_of_boats(value)
    si = unit_named(unit, dimension).to_si(float(value))
    if dimension is Dimension.FRACTION:
        si = _to_places(si, _PLACES_OF_SHARE, label.digits)
    if dimension is Dimension.ROTATION and abs(value) >= _WHOLE_RPM:
        si = unit_named(unit, dimension).to_si(_to_places(float(value), 0, label.digits))
    return show(si, shown_unit(name, units, label), dimension, label.digits)


def _to_places(number: float, places: int, digits: int) -> float:
    """Rounded to so many decimal places, but for one whose digits end before them: rounded twice, 2234.8 would be
    2235, and then 2240."""
    is_longer = isfinite(number) and number != 0.0 and decimals_of(number, digits) > places
    return round(number, places) if is_longer else number


def _shown_band(name: str, label: Label, band: Band, units: str) -> str:
    """Best with its unit, then low and high: "14.2 hp (12.1 to 17)", "EUR 5,300 (4,370 to 6,580)"; without them when
    they read alike."""
    to_the_cent = (lambda amount: round(amount, 2)) if isinstance(band, Money) else float
    best, low, high = (shown(name, label, to_the_cent(value), units) for value in (band.best, band.low, band.high))
    is_alone = low == best == high or not band.is_known
    if isinstance(band, Money) and best != "-":
        best = f"{band.currency} {best}".strip()
    if is_alone:
        return best
    unit = _unit_in_heading(name, label, units)
    low, high = (without_unit(text, unit) for text in (low, high))
    return band_text(best, low, high)


def columns(rows: Sequence[Any], units: str, *, of_motor: bool = False) -> list[tuple[str, str]]:
    """(name, heading with its unit) of the columns of a table; one that is only shown when known needs one row that
    knows it.   of_motor: as `Outcome.of_motor`."""
    known = {name for row in rows for name, _ in labels(row)}
    return [
        (name, _heading(label, _unit_in_heading(name, label, units) or _currency_in(rows, name)))
        for name, label in labels(type(rows[0]), of_motor=of_motor)
        if name in known
    ]


def cell(row: Any, name: str, units: str) -> str:
    """One cell of a table as text; its unit stands in the heading. Of a band the best alone, or all in brackets where
    the label asks for it."""
    label, value = label_of(type(row), name), getattr(row, name)
    if isinstance(value, Band) and label.spread:
        return _band_cell(name, label, value, units)
    text = shown(name, label, best_of(value) if isinstance(value, Band) else value, units)
    return without_unit(text, _unit_in_heading(name, label, units))


def label_of(kind: Any, name: str) -> Label:
    """How one answer of a class of answers, or one column of a class of rows, is shown."""
    return _labels_of(kind)[name]


@cache
def _labels_of(kind: Any) -> dict[str, Label]:
    return dict(labels(kind))


def _band_cell(name: str, label: Label, band: Band, units: str) -> str:
    best, low, high = (
        without_unit(shown(name, label, value, units), _unit_in_heading(name, label, units))
        for value in (band.best, band.low, band.high)
    )
    if not band.is_known:
        return best
    return band_text(best, low, high) if low.startswith("-") else f"{best} ({low}-{high})"


def _heading(label: Label, unit: str) -> str:
    return f"{label.text}, {unit}" if unit else label.text


def _currency_in(rows: Sequence[Any], name: str) -> str:
    """The currency of a column of amounts; "" of any other, and where none was given."""
    values = (getattr(row, name) for row in rows)
    return next((value.currency for value in values if isinstance(value, Money)), "")


def _unit_in_heading(name: str, label: Label, units: str) -> str:
    """Feet stay in the cells, where they are written with inches."""
    unit = shown_unit(name, units, label)
    return "" if unit == "ft" else unit

"""Numbers of the answers in the owner's units, for the axes of a plot."""

from collections.abc import Iterable
from typing import Any

from engine.answers import unit_of
from engine.units import convert, unit_named


def unit_for(name: str, units: str) -> str:
    """The unit in which an answer of this name is plotted; "" for a bare number."""
    known = unit_of(name)
    if known is None:
        return ""
    return known[3] if units == "imperial" else known[2]


def in_units(name: str, value: float, units: str) -> float:
    """One answer in the owner's units."""
    known = unit_of(name)
    if known is None:
        return float(value)
    si = unit_named(known[0], known[1]).to_si(float(value))
    return convert(si, unit_for(name, units), known[1])


def column(rows: Iterable[Any], name: str, units: str) -> tuple[float, ...]:
    """One column of a table of answers in the owner's units; a missing value becomes not-a-number."""
    values = (getattr(row, name) for row in rows)
    return tuple(float("nan") if value is None else in_units(name, value, units) for value in values)


def axis(words: str, name: str, units: str) -> str:
    """A label for an axis: "Shaft power, kW"."""
    unit = unit_for(name, units)
    return f"{words}, {unit}" if unit else words

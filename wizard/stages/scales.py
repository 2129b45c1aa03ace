"""Numbers of the answers in the owner's units, for the axes of a plot."""

from collections.abc import Iterable
from typing import Any

from engine.answers import in_owners_units, shown_unit


def column(rows: Iterable[Any], name: str, units: str) -> tuple[float, ...]:
    """One column of a table of answers in the owner's units; a missing value becomes not-a-number."""
    values = (getattr(row, name) for row in rows)
    return tuple(float("nan") if value is None else in_owners_units(name, value, units) for value in values)


def axis(words: str, name: str, units: str) -> str:
    """A label for an axis: "Shaft power, kW"."""
    unit = shown_unit(name, units)
    return f"{words}, {unit}" if unit else words

"""Numbers of the answers in the owner's units, for the axes of a plot."""

from collections.abc import Iterable
from typing import Any, Literal

from engine.answers import in_owners_units, shown_unit
from engine.bands import Band
from wizard.charts import Series

Part = Literal["best", "low", "high"]


def column(rows: Iterable[Any], name: str, units: str, part: Part = "best") -> tuple[float, ...]:
    """One column of a table of answers in the owner's units; a missing value becomes not-a-number.

    part: of a band its best, low or high; a plain number is all three.
    """
    values = (getattr(row, name) for row in rows)
    picked = (getattr(value, part) if isinstance(value, Band) else value for value in values)
    return tuple(float("nan") if value is None else in_owners_units(name, value, units) for value in picked)


def best_and_band(words: str, rows: Iterable[Any], x: str, y: str, units: str) -> tuple[Series, Series]:
    """A line through the best of a column of bands, and the dotted low and high that belong to it."""
    rows = tuple(rows)
    across = column(rows, x, units)
    ends = column(rows, y, units, "low") + column(rows, y, units, "high")
    return (
        Series(words, across, column(rows, y, units)),
        Series("its band", across + across, ends, is_line=False, is_band=True),
    )


def axis(words: str, name: str, units: str) -> str:
    """A label for an axis: "Shaft power, kW"."""
    unit = shown_unit(name, units)
    return f"{words}, {unit}" if unit else words

"""The curves and tables of the answers as CSV, for a spreadsheet: one table a file, or one after the other."""

import csv
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields
from io import StringIO
from math import isfinite
from typing import Any

from engine.answers import row_tables
from engine.assessment import Assessment
from engine.bands import Band
from engine.findings import Outcome
from engine.plan import STAGES
from engine.quoting import visible

_FORMULAS = ("=", "+", "-", "@", "\t", "\r")
_ENDS = ("low", "best", "high")


@dataclass(frozen=True)
class Curve:
    """One table.   name: of its file, "power_curve".   title: in words.   text: its rows as CSV, the names first."""

    name: str
    title: str
    text: str


def curves(assessment: Assessment, market: Outcome[Any] | None = None) -> Iterator[Curve]:
    """Every table that has rows, in the order of the stages. Names end in the unit, as in the JSON; of a band there are
    low, best and high; an empty cell is a value that there is none of."""
    found = {stage: assessment.outcomes[stage].answers for stage in STAGES}
    found["market"] = None if market is None else market.answers
    for stage, answers in found.items():
        for name, title, rows in () if answers is None else row_tables(answers):
            if rows:
                yield Curve(f"{stage}_{name}", title, _csv(rows))


def render_csv(assessment: Assessment, market: Outcome[Any] | None = None) -> str:
    """All tables one after the other, each under a line with its name and title."""
    return "\n".join(f"# {curve.name}: {curve.title}\n{curve.text}" for curve in curves(assessment, market))


def _csv(rows: Sequence[Any]) -> str:
    flat = [dict(_cells(row)) for row in rows]
    heads = list(dict.fromkeys(name for row in flat for name in row))
    written = StringIO()
    writer = csv.DictWriter(written, heads, restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows(flat)
    return written.getvalue()


def _cells(row: Any) -> Iterator[tuple[str, Any]]:
    """The columns of one row: a band takes three, a table inside the row one for each of its names."""
    for item in fields(row):
        if "label" not in item.metadata and "detail" not in item.metadata:
            continue
        value = getattr(row, item.name)
        if isinstance(value, Mapping):
            head = item.metadata.get("column") or item.name
            yield from ((f"{head}: {visible(name)}", _plain(one)) for name, one in value.items())
        elif isinstance(value, Band) or (value is None and "Band" in str(item.type)):
            yield from ((f"{item.name}_{end}", _plain(getattr(value, end, None))) for end in _ENDS)
        else:
            yield item.name, _plain(value)


def _plain(value: Any) -> Any:
    """A cell; what is not a finite number is left empty."""
    if isinstance(value, str):
        return _harmless(visible(value))
    if value is None or isinstance(value, bool | int):
        return "" if value is None else value
    return float(value) if isfinite(value) else ""


def _harmless(text: str) -> str:
    """Words that a spreadsheet would take for a formula, with a mark before them that makes them words."""
    return f"'{text}" if len(text) > 1 and text.startswith(_FORMULAS) else text

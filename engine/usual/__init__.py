"""The usual range of a field for boats like this one, from what the plan already says: a guide to slips, not a limit.

Fixed ranges stand in engine/data/typical.toml; the others are worked out by the rules of boat.py and
machinery.py, from the numbers there and in the tables that it names.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import isfinite
from typing import Any

from engine.data import table
from engine.entries import Entry
from engine.plan import Plan, entry_at
from engine.sections.electric import Motor
from engine.usual.asked import Asked, Ends, Rule, goes_above_hull_speed, read
from engine.usual.boat import BOAT_RULES
from engine.usual.machinery import MACHINERY_RULES

RULES: Mapping[str, Rule] = {**BOAT_RULES, **MACHINERY_RULES}


@dataclass(frozen=True)
class Typical:
    """What is usual: low and high in SI, who says so, and the words before it."""

    low: float
    high: float
    source: str
    called: str = "Most boats like yours"


def typical(plan: Plan, path: str) -> Typical | None:
    """The usual range of a field, cut to what the field can hold.

    path: of the field, "hull.waterline_beam", "engine.candidate.0.weight".
    Returns: the range, or None where none is known or what it depends on is empty, not understood or absurd.
    Raises: nothing.   Source: the entry of the field in engine/data/typical.toml, as `source` says.
    """
    name = ".".join(part for part in path.split(".") if not part.isdigit())
    data = table("typical").get(name)
    if not isinstance(data, Mapping):
        return None
    try:
        entry, asked = entry_at(path), Asked(plan, _row(plan, path), data, name.rpartition(".")[2])
        low, high = _fixed(entry, data) if "between" in data else RULES[name](asked)
    except LookupError:
        return None
    least, most = entry.limits or (low, high)
    low, high = max(low, least), min(high, most)
    if not (isfinite(low) and isfinite(high) and low < high):
        return None
    return Typical(low, high, _source(asked), str(data.get("called", Typical.called)))


def _row(plan: Plan, path: str) -> Any:
    """The section, or the row of a table, that a field stands in. Raises: LookupError when there is no such row."""
    section, *rest = path.split(".")
    holder = getattr(plan, section)
    return getattr(holder, rest[0])[int(rest[1])] if len(rest) == 3 else holder


def _source(asked: Asked) -> str:
    if "source_electric" in asked.data and isinstance(asked.plan.engine.selected, Motor):
        return str(asked.data["source_electric"])
    above = "source_above" in asked.data and goes_above_hull_speed(asked.plan)
    return str(asked.data["source_above" if above else "source"])


def _fixed(entry: Entry, data: Mapping[str, Any]) -> Ends:
    low, high = (read(entry, text) for text in data["between"])
    return low, high

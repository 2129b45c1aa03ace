"""How each answer is worked out, in words for the owner: formula, what goes into it, source, where it holds.

The texts stand in engine/data/workings_<stage>.toml, one entry for each answer and each column of a table on a page.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from engine.data import table

CHOSEN = "chosen"
"""Stands for the chosen candidate in the path of a field: "chosen.rated_power"."""


@dataclass(frozen=True)
class Working:
    """How one number is worked out.

    formula: in words and the trade's symbols.   where: what the symbols mean.   source: who says so.
    valid: where it holds, and how wrong it can be.   fields: paths of the plan's fields that go into it.
    answers: "stage.name" of the answers that go into it.   beside: answers that say the same by another method.
    """

    formula: str
    where: str
    source: str
    valid: str
    fields: tuple[str, ...] = ()
    answers: tuple[str, ...] = ()
    beside: tuple[str, ...] = ()


@cache
def workings(stage: str) -> Mapping[str, Working]:
    """The workings of a stage by the name of the answer: "cruise_resistance_n", in a table "curve.resistance_n"."""
    found: dict[str, Any] = {}
    for name, entry in table(f"workings_{stage}").items():
        if isinstance(entry, Mapping):
            found |= {name: entry} if _is_entry(entry) else {f"{name}.{column}": row for column, row in entry.items()}
    return {name: _working(found, entry) for name, entry in found.items()}


def _is_entry(entry: Mapping[str, Any]) -> bool:
    return "formula" in entry or "same_as" in entry


def _working(found: Mapping[str, Any], entry: Mapping[str, Any]) -> Working:
    """The working of an entry; one that is the same as another gives only what differs."""
    entry = {**found[entry["same_as"]], **entry} if "same_as" in entry else entry
    lists = {key: tuple(entry.get(key, ())) for key in ("fields", "answers", "beside")}
    return Working(entry["formula"], entry.get("where", ""), entry["source"], entry["valid"], **lists)

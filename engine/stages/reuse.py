"""What a stage took from the plan, so that its outcome can stand when a later plan has the same there."""

from collections.abc import Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from functools import cache
from typing import Any, TypeVar

import numpy as np

from engine.findings import Outcome
from engine.plan import SECTIONS, Plan

_Part = TypeVar("_Part")


@cache
def _watching(kind: Any) -> Any:
    """A kind of plan or section that notes in its `taken` which of its fields are read.

    A plan does not note its sections: they note for themselves, from when the first of their fields is asked for.
    """
    names = frozenset(kind.__dataclass_fields__)
    sections = SECTIONS.keys() if kind is Plan else ()  # a section can have a field of such a name: the engine's price

    def read(self: object, name: str) -> Any:
        value = object.__getattribute__(self, name)
        if name in names:
            held = object.__getattribute__(self, "__dict__")
            if "taken" in held:  # not in a copy with a change, whose fields have all been read to make it
                if name not in sections:
                    held["taken"].add(held["place"] + name)
                elif "taken" not in value.__dict__:
                    value = held[name] = _watched(value, f"{name}.", held["taken"])
        return value

    return type(f"Watched{kind.__name__}", (kind,), {"__getattribute__": read})


def _watched(part: _Part, place: str, taken: set[str]) -> _Part:
    kind: Any = type(part)
    copy: _Part = object.__new__(_watching(kind))
    copy.__dict__.update(part.__dict__, place=place, taken=taken)
    return copy


@dataclass(frozen=True, eq=False)
class Worked:
    """The outcome of a stage as it came from its function, what it was handed, and what of the plan it took.

    taken: "units", "hull.displacement". Answers that hold the plan must have read all they need of it when their stage
    is done: a field that a later page is the first to read through them is not in here, and may be an older plan's.
    """

    plan: Plan
    taken: set[str]
    handed: Mapping[str, Any]
    outcome: Outcome[Any]

    def stands_for(self, plan: Plan, handed: Mapping[str, Any]) -> bool:
        """Whether the stage would say the same of another plan: handed the same, and equal where it took something.

        The answers of a stage are the same when they are the very same, see `with_same_answers`; parts when equal.
        """
        for need, theirs in handed.items():
            if not (is_same(self.handed[need], theirs) if "." in need else self.handed[need] is theirs):
                return False
        return all(_at(self.plan, place) == _at(plan, place) for place in self.taken)

    def with_same_answers(self, outcome: Outcome[Any]) -> Outcome[Any]:
        """A newer outcome of the stage; with the very answers of this one when they are the same, so that what later
        stages made of them still stands."""
        before = self.outcome.answers
        is_kept = before is not None and is_same(before, outcome.answers)
        return replace(outcome, answers=before) if is_kept else outcome


def is_same(one: Any, other: Any) -> bool:
    """Whether two values hold the same numbers, texts and arrays all the way down; NaN is the same as NaN.

    Of a plan that is kept in them counts what was taken from it. A function is the same as itself alone. Arrays are
    compared byte by byte, so that +0 is another number than -0, which does no harm.
    """
    if one is other:
        return True
    if type(one) is not type(other):
        return False
    if "taken" in getattr(one, "__dict__", ()):
        return _is_same_where_taken(one, other)
    if is_dataclass(one):
        return all(is_same(getattr(one, item.name), getattr(other, item.name)) for item in fields(one))
    if isinstance(one, np.ndarray):
        alike = one.shape == other.shape and one.dtype == other.dtype
        return bool(alike and one.tobytes() == other.tobytes())
    if isinstance(one, tuple | list):
        return len(one) == len(other) and all(map(is_same, one, other))
    if isinstance(one, Mapping):
        return list(one) == list(other) and all(is_same(one[key], other[key]) for key in one)
    return bool(one == other) or (isinstance(one, float) and one != one and other != other)


def watched(plan: Plan) -> tuple[Plan, set[str]]:
    """The same plan for a stage to read, and the places that have been read."""
    taken: set[str] = set()
    return _watched(plan, "", taken), taken


def _at(plan: Plan, place: str) -> Any:
    section, _, name = place.partition(".")
    return getattr(getattr(plan, section), name) if name else getattr(plan, section)


def _is_same_where_taken(one: object, other: object) -> bool:
    """Of two watched plans, or sections of one: whether they have the same where a stage took something from either.
    This looks past the watching, and so notes nothing."""
    mine, theirs = vars(one), vars(other)
    for place in mine["taken"] | theirs["taken"]:
        if place.startswith(mine["place"]):
            section, _, name = place.removeprefix(mine["place"]).rpartition(".")
            held, others = (vars(part[section]) if section else part for part in (mine, theirs))
            if held[name] != others[name]:
                return False
    return True

"""Keys of a plan file that mean nothing here: each with the nearest that does."""

from collections.abc import Iterable, Mapping
from difflib import get_close_matches
from typing import Any

from engine.entries import entries, tables
from engine.plan import SECTIONS, UNITS, Plan, Problem

_HEAD = ("format", "name", "stage", "units", "notes", "variant")
_LIKE_ENOUGH = 0.7
"""How alike two keys must be, as difflib reckons it, for one to be the nearest of the other; ours, by trying slips."""


def odd_keys(plan: Plan) -> list[Problem]:
    """What the file of a plan holds besides the plan. It is kept and written back; the sentence says what was meant."""
    return [
        Problem(f"{at}.{key}".lstrip("."), _sentence(plan, at, key)) for at, held in plan.extra.items() for key in held
    ]


def _sentence(plan: Plan, at: str, key: str) -> str:
    value = _short(plan.extra[at][key])
    if not at and key in ("name", "stage", "units", "notes"):
        stands = getattr(plan, key) or "nothing"
        meant = f" Write {' or '.join(UNITS)}." if key == "units" else ""
        return f"{key}: {value} was not understood, so {stands!r} stands.{meant}"
    if key in (tables(_kind_at(at)) if at else (*SECTIONS, "variant")):
        return f"{key}: {value} is not the table that belongs there. It is kept until one is."
    near = _nearest(at, key)
    named = f" The nearest key that does is {near}." if near else ""
    what = "table" if isinstance(plan.extra[at][key], Mapping) else "key"
    return f"the {what} {key if key.isidentifier() else _short(key)} means nothing here and is kept.{named}"


def _short(value: object) -> str:
    """As it stands in the file, with an escape for what cannot be seen, so that it can be found there."""
    text = repr(value)
    return text if len(text) <= 40 else f"{text[:37]}..."


def _nearest(at: str, key: str) -> str:
    """The key that was meant: one of the same table, one of that name elsewhere, or one of the head; else ""."""
    if at:
        like = get_close_matches(key.lower(), _keys_of(at), 1, _LIKE_ENOUGH)
        if like:
            return like[0]
    same = [f"{section}.{key}" for section, kind in SECTIONS.items() if key in (*entries(kind), *tables(kind))]
    if same:
        return same[0]
    like = get_close_matches(key.lower(), _keys_of(""), 1, _LIKE_ENOUGH)
    return like[0] if like else ""


def _keys_of(at: str) -> Iterable[str]:
    return (*entries(_kind_at(at)), *tables(_kind_at(at))) if at else (*_HEAD, *SECTIONS)


def _kind_at(at: str) -> type[Any]:
    """What stands in a section, "engine", or in a row, "engine.candidate.0"."""
    section, *rest = at.split(".")
    return tables(SECTIONS[section])[rest[0]] if rest else SECTIONS[section]

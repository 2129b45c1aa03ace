"""The plan as a TOML document and back: what is understood, what waits to be mended, and what means nothing here.

A quantity stands in the document as the owner wrote it. What cannot be understood, and keys that mean nothing here, are
kept and written back.
"""

from collections.abc import Mapping
from datetime import date
from typing import Any

from engine.entries import NOT_KNOWN, Entry, Kind, Value, entries, is_given, says_not_known, tables
from engine.migrations import FORMAT, migrated
from engine.plan import PAGES, SECTIONS, SPREAD_KEYS, UNITS, Plan, Variant
from engine.reading import read_quantity, with_spread
from engine.toml_lines import are_rows
from engine.units import Quantity

_HEAD_DEFAULTS = {key: getattr(Plan(), key) for key in ("name", "stage", "units", "notes")}


class FormatError(ValueError):
    """A document that is no plan, or one of a newer program; its text is the end of a sentence about the file."""


def plan_from_document(document: Mapping[str, Any]) -> Plan:
    """A plan out of parsed TOML; an older format is brought up to the newest first.

    Raises: FormatError when its format is missing or newer than this program.
    """
    found = document.get("format")
    if not isinstance(found, int) or isinstance(found, bool) or found < 1:
        raise FormatError(f"is not a plan: it has no line 'format = {FORMAT}'")
    if found > FORMAT:
        raise FormatError(
            f"is of format {found}, and this program knows formats up to {FORMAT}. Open it with a newer program"
        )
    document = migrated(document, found)
    reader = _Reader("imperial" if document.get("units") == "imperial" else "metric")
    plan_fields: dict[str, Any] = {}
    for key, value in document.items():
        if key == "format":
            continue
        if key in SECTIONS and isinstance(value, Mapping):
            plan_fields[key] = reader.section(SECTIONS[key], value, key)
        elif _is_head_value(key, value):
            plan_fields[key] = value
        elif key == "variant" and _are_variants(value):
            plan_fields["variants"] = tuple(Variant(row["name"], dict(row["choices"])) for row in value)
        else:
            reader.keep("", key, value)
    return Plan(**plan_fields, unread=reader.unread, not_known=frozenset(reader.not_known), extra=reader.extra)


def _is_head_value(key: str, value: Any) -> bool:
    if key in ("name", "notes"):
        return isinstance(value, str)
    return (key == "stage" and value in PAGES) or (key == "units" and value in UNITS)


def _are_variants(value: Any) -> bool:
    """Whether each has a name, and texts for its choices, and nothing else."""
    return are_rows(value) and all(
        set(row) == {"name", "choices"}
        and isinstance(row["name"], str)
        and isinstance(row["choices"], Mapping)
        and all(isinstance(text, str) for text in row["choices"].values())
        for row in value
    )


class _Reader:
    """Reads sections; gathers what could not be understood, is not known, or means nothing here, under its path."""

    def __init__(self, units: str) -> None:
        self.units = units
        self.unread: dict[str, Any] = {}
        self.not_known: set[str] = set()
        self.extra: dict[str, dict[str, Any]] = {}

    def keep(self, at: str, key: str, value: Any) -> None:
        """Keep what means nothing here, with the section or row that it stands in; "" is the head of the file."""
        self.extra.setdefault(at, {})[key] = value

    def section(self, kind: type[Any], given: Mapping[str, Any], at: str) -> Any:
        known, inner = entries(kind), tables(kind)
        values: dict[str, Any] = {}
        for key, value in given.items():
            path = f"{at}.{key}"
            if key in inner and (are_rows(value) or isinstance(value, Mapping)):
                found = [value] if isinstance(value, Mapping) else value
                values[key] = tuple(self.section(inner[key], row, f"{path}.{i}") for i, row in enumerate(found))
            elif key in known and known[key].can_be_unknown and isinstance(value, str) and says_not_known(value):
                self.not_known.add(path)
            elif key in known:
                try:
                    values[key] = self.value(known[key], value)
                except ValueError:
                    self.unread[path] = value
            else:
                self.keep(at, key, value)
        return kind(**values)

    def value(self, entry: Entry, given: Any) -> Value:
        if isinstance(given, bool):
            raise ValueError("a field of a plan is never just true or false")
        if entry.kind is Kind.QUANTITIES and not isinstance(given, str):
            return tuple(self.quantity(entry, item) for item in (given if isinstance(given, list) else [given]))
        if entry.kind is Kind.QUANTITY:
            return self.quantity(entry, given)
        if entry.kind is Kind.COUNT and not isinstance(given, int | str):
            raise ValueError("not a whole number")
        if entry.kind in (Kind.TEXT, Kind.CHOICE) and not isinstance(given, str):
            raise ValueError("not text")
        read = entry.read(str(given), self.units)
        return given if isinstance(given, str) and entry.kind is Kind.TEXT else read

    def quantity(self, entry: Entry, given: Any) -> Quantity:
        if isinstance(given, Mapping):
            if set(given) != set(SPREAD_KEYS):
                raise ValueError("an unsure value has best, low and high")
            best, low, high = (self.quantity(entry, given[key]) for key in SPREAD_KEYS)
            return with_spread(best, low, high)
        if not isinstance(given, str | int | float):
            raise ValueError("not a quantity")
        return read_quantity(str(given), entry.dimension, entry.unit(self.units), entry.limits)


def document_from_plan(plan: Plan) -> dict[str, Any]:
    """The TOML document of a plan, in the order in which a person would read it aloud."""
    document: dict[str, Any] = {"format": FORMAT, "name": plan.name, "stage": plan.stage, "units": plan.units}
    if plan.notes:
        document["notes"] = plan.notes
    document |= {key: value for key, value in plan.extra.get("", {}).items() if _is_still_odd(plan, key)}
    for name, kind in SECTIONS.items():
        section = _section_document(kind, getattr(plan, name), name, plan)
        if section:
            document[name] = section
    if plan.variants:
        document["variant"] = [{"name": each.name, "choices": dict(each.choices)} for each in plan.variants]
    return document


def _is_still_odd(plan: Plan, key: str) -> bool:
    """False for a word of the head that was not understood, once the owner has put another in its place."""
    return key not in _HEAD_DEFAULTS or getattr(plan, key) == _HEAD_DEFAULTS[key]


def _section_document(kind: type[Any], holder: Any, at: str, plan: Plan) -> dict[str, Any]:
    section: dict[str, Any] = {}
    for name in entries(kind):
        value = getattr(holder, name)
        if f"{at}.{name}" in plan.unread:
            section[name] = plan.unread[f"{at}.{name}"]
        elif f"{at}.{name}" in plan.not_known:
            section[name] = NOT_KNOWN
        elif is_given(value):
            section[name] = _plain(value)
    section |= plan.extra.get(at, {})
    for name, row_kind in tables(kind).items():
        rows = getattr(holder, name)
        if rows:
            section[name] = [_section_document(row_kind, row, f"{at}.{name}.{i}", plan) for i, row in enumerate(rows)]
    return section


def _plain(value: Value) -> Any:
    if isinstance(value, Quantity):
        if value.low is None or value.high is None:
            return value.text
        return {"best": value.text, "low": value.low.text, "high": value.high.text}
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    if isinstance(value, date):
        return value.isoformat()
    return value

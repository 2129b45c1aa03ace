"""The plan as a TOML file: read it, check it, save it so that nothing in it is ever lost.

A quantity stands in the file as the owner wrote it. What cannot be understood, and keys that mean nothing here, are
kept and written back. Reading never changes the file; saving replaces it in one step or not at all.
"""

import os
import tempfile
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from engine.entries import NOT_KNOWN, Entry, Kind, Value, entries, is_given, says_not_known, tables
from engine.plan import PAGES, SECTIONS, UNITS, Plan, Variant
from engine.reading import read_quantity, with_spread
from engine.units import Quantity

FORMAT = 1
_SPREAD_KEYS = {"best", "low", "high"}


class PlanFileError(Exception):
    """A plan file that cannot be read or written; its text is one plain sentence for the owner."""


def load_plan(path: str | Path) -> Plan:
    """Read a plan.

    Raises: PlanFileError when the file cannot be read, is not TOML, or is of a newer format.
    Values that cannot be understood do not raise: they are in `plan.unread`, to be mended.
    """
    path = Path(path)
    try:
        raw = path.read_bytes()
    except FileNotFoundError:
        raise PlanFileError(f"There is no plan at {path}.") from None
    except IsADirectoryError:
        raise PlanFileError(f"{path} is a folder, not a plan. Name a plan file that ends in .toml.") from None
    except OSError as error:
        raise PlanFileError(f"The plan at {path} cannot be read: {error.strerror}.") from None
    try:
        document = tomllib.loads(raw.decode("utf-8"))
    except UnicodeDecodeError:
        raise PlanFileError(f"{path} is not a plan: it is not text in UTF-8. The file is left as it is.") from None
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise PlanFileError(f"{path} is not a readable plan: {error}. The file is left as it is.") from None
    return plan_from_document(document, str(path))


def plan_from_document(document: Mapping[str, Any], where: str = "the plan") -> Plan:
    """A plan out of parsed TOML. Raises: PlanFileError when its format is missing or newer than this program."""
    found = document.get("format")
    if not isinstance(found, int) or isinstance(found, bool):
        raise PlanFileError(f"{where} is not a plan: it has no line 'format = {FORMAT}'. The file is left as it is.")
    if found > FORMAT:
        raise PlanFileError(
            f"{where} is of format {found}, and this program knows formats up to {FORMAT}. "
            "Open it with a newer program; the file is left as it is."
        )
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
            reader.extra[key] = value
    return Plan(**plan_fields, unread=reader.unread, not_known=frozenset(reader.not_known), extra=reader.extra)


def _is_head_value(key: str, value: Any) -> bool:
    if key in ("name", "notes"):
        return isinstance(value, str)
    return (key == "stage" and value in PAGES) or (key == "units" and value in UNITS)


def _are_variants(value: Any) -> bool:
    """Whether each has a name, and texts for its choices, and nothing else."""
    return _is_rows(value) and all(
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
        self.extra: dict[str, Any] = {}

    def section(self, kind: type[Any], given: Mapping[str, Any], at: str) -> Any:
        known, inner = entries(kind), tables(kind)
        values: dict[str, Any] = {}
        for key, value in given.items():
            path = f"{at}.{key}"
            if key in inner and _is_rows(value):
                values[key] = tuple(self.section(inner[key], row, f"{path}.{i}") for i, row in enumerate(value))
            elif key in known and known[key].can_be_unknown and isinstance(value, str) and says_not_known(value):
                self.not_known.add(path)
            elif key in known:
                try:
                    values[key] = self.value(known[key], value)
                except ValueError:
                    self.unread[path] = value
            else:
                self.extra[path] = value
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
        return given if isinstance(given, str) and entry.kind is Kind.TEXT else entry.read(str(given), self.units)

    def quantity(self, entry: Entry, given: Any) -> Quantity:
        if isinstance(given, Mapping):
            if set(given) != _SPREAD_KEYS:
                raise ValueError("an unsure value has best, low and high")
            best, low, high = (self.quantity(entry, given[key]) for key in ("best", "low", "high"))
            return with_spread(best, low, high)
        if not isinstance(given, str | int | float):
            raise ValueError("not a quantity")
        return read_quantity(str(given), entry.dimension, entry.unit(self.units), entry.limits)


def document_from_plan(plan: Plan) -> dict[str, Any]:
    """The TOML document of a plan, in the order in which a person would read it aloud."""
    document: dict[str, Any] = {"format": FORMAT, "name": plan.name, "stage": plan.stage, "units": plan.units}
    if plan.notes:
        document["notes"] = plan.notes
    document |= {key: value for key, value in plan.extra.items() if "." not in key}
    for name, kind in SECTIONS.items():
        section = _section_document(kind, getattr(plan, name), name, plan)
        if section:
            document[name] = section
    if plan.variants:
        document["variant"] = [{"name": each.name, "choices": dict(each.choices)} for each in plan.variants]
    return document


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
    for path, value in plan.extra.items():
        head, _, key = path.rpartition(".")
        if head == at:
            section[key] = value
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
    return value


def plan_text(plan: Plan) -> str:
    """The text of the plan file: the head, then section by section, each row of a table under a heading of its own."""
    import tomli_w

    document = document_from_plan(plan)
    variants = document.pop("variant", []) if plan.variants else []
    head = {key: value for key, value in document.items() if key not in SECTIONS}
    parts = [tomli_w.dumps(head)]
    for name, kind in SECTIONS.items():
        section = document.get(name, {})
        rows = {table: section.pop(table) for table in tables(kind) if _is_rows(section.get(table))}
        if section:
            parts.append(tomli_w.dumps({name: section}))
        parts += [_row_text(name, table, row) for table, lines in rows.items() for row in lines]
    parts += [f"[{tomli_w.dumps({'variant': row}).replace('[variant]', '[variant]]', 1)}" for row in variants]
    return "\n".join(parts)


def _is_rows(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(row, Mapping) for row in value)


def _row_text(section: str, table: str, row: Mapping[str, Any]) -> str:
    """One row as [[section.table]], as people write it; the library alone would squeeze short rows into one line."""
    import tomli_w

    heading = f"[{section}.{table}]\n"
    text = tomli_w.dumps({section: {table: row}})
    return f"[{heading.rstrip()}]\n{text.removeprefix(heading)}"


def save_plan(plan: Plan, path: str | Path) -> None:
    """Save a plan: the file holds the old plan or the new one, never a part of either.

    Raises: PlanFileError when it cannot be written; the old file is then untouched.
    """
    target = Path(os.path.realpath(path))
    text = plan_text(plan)
    temporary: str | None = None
    try:
        handle, temporary = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.", suffix=".part")
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        if target.exists():
            os.chmod(temporary, target.stat().st_mode & 0o777)
        else:
            os.chmod(temporary, 0o644)
        os.replace(temporary, target)
        temporary = None
        _sync_folder(target.parent)
    except OSError as error:
        raise PlanFileError(f"The plan could not be saved at {target}: {error.strerror}.") from None
    finally:
        if temporary is not None and os.path.exists(temporary):
            os.unlink(temporary)


def _sync_folder(folder: Path) -> None:
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError as error:
        if error.errno != 22:  # EINVAL: some network file systems cannot sync a folder
            raise
    finally:
        os.close(handle)

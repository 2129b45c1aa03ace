"""The plan as a TOML file: read it, check it, save it so that nothing in it is ever lost.

Reading never changes the file. Saving replaces it in one step or not at all, and carries the comments over that people
wrote into it.
"""

import os
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from engine.disk import Disk, encoded, replace_file, why
from engine.entries import tables
from engine.plan import SECTIONS, Plan
from engine.plan_document import FormatError, document_from_plan, plan_from_document
from engine.quoting import UNSEEN, visible
from engine.toml_comments import with_comments
from engine.toml_lines import are_rows

LARGEST = 1_000_000
"""Bytes. A plan has some thousands; what is larger is something else, and would only keep the owner waiting."""
_DEEPEST = 20
"""Tables and lists inside one another; a plan has four."""
_DISK = Disk()


class PlanFileError(Exception):
    """A plan file that cannot be read or written; its text is one plain sentence for the owner."""


class PlanMissingError(PlanFileError):
    """There is no file at that path."""


class NoFileError(PlanFileError):
    """There is a folder, or a device, at that path: what to do about it depends on who named it."""


def load_plan(path: str | Path, disk: Disk = _DISK) -> Plan:
    """Read a plan.

    Raises: PlanFileError when the file cannot be read, is not TOML, or is of a newer format.
    Values that cannot be understood do not raise: they are in `plan.unread`, to be mended.
    """
    return plan_from_text(read_plan_file(Path(path), disk), shown(path))


def read_plan_file(path: Path, disk: Disk = _DISK) -> bytes:
    """The content of a plan's file. Raises: PlanFileError when there is none that could be a plan."""
    name = shown(path)
    try:
        found = disk.look(path)
        if found.is_folder:
            raise NoFileError(f"{name} is a folder, not the file of a plan.")
        if not found.is_file:
            raise NoFileError(f"{name} is not a file, so not that of a plan.")
        if found.size > LARGEST:
            raise PlanFileError(
                f"{name} is not a plan: it has {found.size / 1e6:.3g} MB, and a plan has a few thousandths of that. "
                "The file is left as it is."
            )
        return disk.read(path)
    except FileNotFoundError:
        raise PlanMissingError(f"There is no plan at {name}.") from None
    except OSError as error:
        raise PlanFileError(f"The plan at {name} cannot be read: {why(error)}.") from None


def plan_from_text(content: bytes, name: str) -> Plan:
    """A plan out of the content of its file.   name: what sentences call the file.

    Raises: PlanFileError when it is no plan, or one that could not be written back whole.
    """
    try:
        document = tomllib.loads(decoded(content))
        if _depth(document) > _DEEPEST:
            raise PlanFileError(f"{name} is not a plan: it nests too deeply. The file is left as it is.")
        plan = plan_from_document(document)
        plan_text(plan)
    except UnicodeDecodeError:
        raise PlanFileError(f"{name} is not a plan: it is not text in UTF-8. The file is left as it is.") from None
    except FormatError as error:
        raise PlanFileError(f"{name} {error}. The file is left as it is.") from None
    except tomllib.TOMLDecodeError as error:
        raise PlanFileError(
            f"{name} is not a readable plan: {toml_trouble(error)}. The file is left as it is."
        ) from None
    except RecursionError:
        raise PlanFileError(f"{name} is not a plan: it nests too deeply. The file is left as it is.") from None
    except ValueError:  # a number of thousands of digits, which Python neither reads nor writes
        raise PlanFileError(f"{name} is not a plan: a number in it is too long. The file is left as it is.") from None
    return plan


def toml_trouble(error: tomllib.TOMLDecodeError) -> str:
    """What is wrong with a text that is not TOML; in our words where the library names a sign that nobody sees."""
    return str(error).replace(r"Illegal character '\n'", "A text begins with a quote and has none at its end")


def decoded(content: bytes) -> str:
    """The text of a file; the mark that some editors put before it is left out."""
    return content.decode("utf-8-sig")


def shown(path: str | Path) -> str:
    """A path for a sentence, on one line, with a sign for whatever in it is no text."""
    return visible(os.fsencode(path).decode("utf-8", "replace")).replace("\n", UNSEEN)


def _depth(value: Any) -> int:
    """How deeply tables and lists lie inside one another."""
    deepest, todo = 0, [(value, 0)]
    while todo:
        inner, depth = todo.pop()
        deepest = max(deepest, depth)
        children = inner.values() if isinstance(inner, Mapping) else inner if isinstance(inner, list) else ()
        todo += [(child, depth + 1) for child in children]
    return deepest


def plan_text(plan: Plan) -> str:
    """The text of the plan file: the head, then section by section, each row of a table under a heading of its own."""
    import tomli_w

    document = document_from_plan(plan)
    variants = document.pop("variant", []) if plan.variants else []
    sections = {name: document.pop(name) for name in SECTIONS if isinstance(document.get(name), Mapping)}
    parts = [tomli_w.dumps(document)]
    for name, kind in SECTIONS.items():
        section = sections.get(name, {})
        rows = {table: section.pop(table) for table in tables(kind) if are_rows(section.get(table))}
        if section:
            parts.append(tomli_w.dumps({name: section}))
        parts += [_row_text(name, table, row) for table, lines in rows.items() for row in lines]
    parts += [f"[{tomli_w.dumps({'variant': row}).replace('[variant]', '[variant]]', 1)}" for row in variants]
    return "\n".join(parts)


def _row_text(section: str, table: str, row: Mapping[str, Any]) -> str:
    """One row as [[section.table]], as people write it; the library alone would squeeze short rows into one line."""
    import tomli_w

    heading = f"[{section}.{table}]\n"
    text = tomli_w.dumps({section: {table: row}})
    return f"[{heading.rstrip()}]\n{text.removeprefix(heading)}"


def save_plan(plan: Plan, path: str | Path, disk: Disk = _DISK) -> None:
    """Save a plan: the file holds the old plan or the new one, never a part of either.

    Comments in the old file are carried over.   Raises: PlanFileError when it cannot be written; the old file is then
    untouched.
    """
    target = Path(os.path.realpath(path))
    try:
        old = read_plan_file(target, disk)
    except PlanFileError:
        old = b""
    put_plan(content_of(plan, old), target, disk)


def put_plan(content: bytes, target: Path, disk: Disk) -> None:
    """Put the content of a plan's file in its place.   target: a path without links.

    Raises: PlanFileError when it cannot be written; the old file is then untouched, or the new one is there but may not
    outlive a loss of power.
    """
    try:
        replace_file(disk, target, content)
    except OSError as error:
        raise not_saved(error, target) from None


def not_saved(error: OSError, target: Path) -> PlanFileError:
    """Why a plan is not in its file."""
    return PlanFileError(f"The plan could not be saved: {why(error)} ({shown(target)}).")


def content_of(plan: Plan, old: bytes = b"") -> bytes:
    """The content of the file of a plan.   old: an earlier one, whose comments are carried over."""
    text = plan_text(plan)
    try:
        commented = with_comments(text, decoded(old))
        # a plan is worth more than comments on it
        if commented != text and str(tomllib.loads(commented)) == str(tomllib.loads(text)):
            text = commented
    except (ValueError, RecursionError):  # the old file was no TOML: comments in it cannot be told from junk
        pass
    return encoded(text)

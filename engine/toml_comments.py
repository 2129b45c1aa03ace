"""Carries the comments that people wrote into a TOML file over to a newer text of the same document."""

import tomllib
from collections.abc import Iterator, Sequence
from typing import Any

from engine.toml_lines import Path, Statement, are_rows, lines_of

_GONE = -1
"""The place of a row that is no longer there."""


def with_comments(new: str, old: str) -> str:
    """The new text with the comments of the old one, each at the key or heading at which it stood.

    A row of a list of tables is known by its place and, once the list is shorter, by its "name". What stood at
    something that is gone moves to the heading of its table, else to the end. Comments between the lines of a value
    move above it.   Raises: ValueError when either is not TOML.
    """
    before = lines_of(old) if "#" in old else None  # most files have none, and this is done at every save
    if before is None or not (before.tail or any(each.above or each.aside for each in before.statements)):
        return new
    moved = dict(_rows_moved(tomllib.loads(old), tomllib.loads(new)))
    after = lines_of(new)
    places = {statement.path: number for number, statement in enumerate(after.statements)}
    above: dict[int, list[str]] = {}
    aside: dict[int, str] = {}
    tail = list(before.tail)
    for statement in before.statements:
        path = _moved_path(statement.path, moved)
        place = places.get(path)
        if place is not None and not (statement.aside and place in aside):
            above.setdefault(place, []).extend(statement.above)
            if statement.aside:
                aside[place] = statement.aside
            continue
        heading = next((places[path[:n]] for n in range(len(path) - 1, 0, -1) if path[:n] in places), None)
        orphans = [*statement.above, *([statement.aside] if statement.aside else [])]
        (tail if heading is None else above.setdefault(heading, [])).extend(orphans)
    return _woven(new, after.statements, above, aside, tail)


def _woven(
    text: str, statements: Sequence[Statement], above: dict[int, list[str]], aside: dict[int, str], tail: Sequence[str]
) -> str:
    lines = text.removesuffix("\n").split("\n")
    by_line = {statement.line: above[number] for number, statement in enumerate(statements) if number in above}
    by_last = {statement.last: aside[number] for number, statement in enumerate(statements) if number in aside}
    woven: list[str] = []
    for number, line in enumerate(lines, 1):
        woven += by_line.get(number, [])
        woven.append(f"{line}  {by_last[number]}" if number in by_last else line)
    return "\n".join([*woven, *tail]) + "\n"


def _rows_moved(old: Any, new: Any, at: Path = ()) -> Iterator[tuple[Path, Path]]:
    """(place of a row in the old document, its place in the new one) for the rows of every list of tables."""
    if isinstance(old, dict) and isinstance(new, dict):
        for name in old:
            yield from _rows_moved(old[name], new.get(name), (*at, name))
    elif are_rows(old) and are_rows(new):
        named = {
            row["name"]: place for place, row in reversed(list(enumerate(new))) if isinstance(row.get("name"), str)
        }
        for place, row in enumerate(old):
            is_certain = len(new) >= len(old) or not isinstance(row.get("name"), str)
            yield (*at, place), (*at, place if is_certain else named.get(row["name"], _GONE))


def _moved_path(path: Path, moved: dict[Path, Path]) -> Path:
    """Where what was at a path is now."""
    for end in range(len(path), 0, -1):
        if path[:end] in moved:
            return (*moved[path[:end]], *path[end:])
    return path

"""A TOML text statement by statement: where each key stands, and the comments that people wrote round it.

The library that reads TOML tells neither. Here nothing is read out of values; texts that are not TOML are taken apart
as well as may be.
"""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

Path = tuple[str | int, ...]
"""Names from the outermost table inwards; a number after the name of a list of tables says which of them."""

_PIECE = re.compile(
    r"""(?P<long>\"{3}(?:[^\\]|\\.)*?\"{3,5}|'{3}.*?'{3,5})    # strings that may go over several lines
      | (?P<string>"(?:[^"\\\n]|\\.)*"|'[^'\n]*')
      | (?P<comment>\#[^\n]*)
      | (?P<open>[\[{]) | (?P<close>[\]}]) | (?P<end>\n)""",
    re.VERBOSE | re.DOTALL,
)
_NAME = r"""(?:"(?:[^"\\\n]|\\.)*"|'[^'\n]*'|[\w-]+)"""
_KEY = re.compile(rf"\s*{_NAME}(?:\s*\.\s*{_NAME})*\s*(?==)")
_RESTARTS = 50
"""How often a statement of several lines that is not TOML is cut after its first, so that the rest can be read."""


@dataclass(frozen=True)
class Statement:
    """A heading, or a key with its value.

    path: where it is in the document; () when it is not TOML.   line, last: its lines, from 1.
    above: whole lines of comment before it, and those between the lines of its value.   aside: the comment behind it.
    """

    path: Path
    line: int
    last: int
    above: tuple[str, ...] = ()
    aside: str = ""
    trouble: str = ""


@dataclass(frozen=True)
class Lines:
    """A text in statements.   tail: comments after the last one."""

    statements: tuple[Statement, ...]
    tail: tuple[str, ...]

    def line_of(self, path: Path) -> int | None:
        """The line of a key, or of the nearest table or list that holds it; None when there is none."""
        for end in range(len(path), 0, -1):
            for statement in self.statements:
                if statement.path == path[:end]:
                    return statement.line
        return None

    def at_line(self, line: int) -> Statement | None:
        """The statement that a line belongs to; for a line behind them all the last one."""
        return next((each for each in self.statements if each.last >= line), None) or next(
            reversed(self.statements), None
        )


@dataclass(frozen=True)
class _Raw:
    """A statement before its path is known.   end: where in the text the next one begins."""

    text: str
    end: int
    line: int
    last: int
    comments: tuple[str, ...] = ()
    aside: str = ""


def are_rows(value: Any) -> bool:
    """Whether a value of a document is a list of tables."""
    return isinstance(value, list) and all(isinstance(row, Mapping) for row in value)


def lines_of(text: str) -> Lines:
    """Take a text apart."""
    text = text.replace("\r\n", "\n")
    statements: list[Statement] = []
    above: list[str] = []
    table: Path = ()
    counts: dict[Path, int] = {}
    start, line, restarts = 0, 1, 0
    while start < len(text):
        raw = _statement(text, start, line)
        path, trouble = _path_of(raw.text, table, counts)
        if trouble and raw.last > raw.line and restarts < _RESTARTS:
            restarts += 1
            end = text.index("\n", start) + 1
            raw = _Raw(text[start : end - 1], end, raw.line, raw.line)
        if not raw.text.strip():
            above += [*raw.comments, *([raw.aside] if raw.aside else [])]
        else:
            if _is_heading(raw.text) and path:
                table = path
            comments = (*above, *raw.comments)
            statements.append(Statement(path, raw.line, raw.last, comments, raw.aside, trouble))
            above = []
        start, line = raw.end, raw.last + 1
    return Lines(tuple(statements), tuple(above))


def _statement(text: str, start: int, line: int) -> _Raw:
    """The piece from a place to a line's end outside of strings and brackets, with the comments taken out of it."""
    words: list[str] = []
    comments: list[str] = []
    position, depth, last = start, 0, line
    for piece in _PIECE.finditer(text, start):
        words.append(text[position : piece.start()])
        position = piece.end()
        if piece["comment"] is not None:
            comments.append(piece["comment"].rstrip())
            continue
        depth = max(0, depth + (piece["open"] is not None) - (piece["close"] is not None))
        if piece["end"] is not None and not depth:
            break
        last += piece[0].count("\n")
        words.append(piece[0])
    else:
        words.append(text[position:])
        position = len(text)
    is_aside = bool(comments) and text[start:position].rstrip().endswith(comments[-1])
    aside = comments.pop() if is_aside else ""
    return _Raw("".join(words), position, line, last, tuple(comments), aside)


def _path_of(text: str, table: Path, counts: dict[Path, int]) -> tuple[Path, str]:
    """Where a statement is, and the reader's complaint about it when it is not TOML.

    counts: of each list of tables, which of them is the latest; the heading of another one is counted.
    """
    try:
        document = tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        return (), str(error)
    if not _is_heading(text):
        key = _KEY.match(text)
        return (*table, *(_chain(tomllib.loads(f"{key[0]}=0")) if key else ())), ""
    path: Path = ()
    names = _chain(document)
    for depth, name in enumerate(names, 1):
        path = (*path, name)
        if depth == len(names) and text.lstrip().startswith("[["):
            counts[path] = counts.get(path, -1) + 1
        if path in counts:
            path = (*path, counts[path])
    return path, ""


def _is_heading(text: str) -> bool:
    """Whether a statement begins a table."""
    return text.lstrip().startswith("[")


def _chain(document: Mapping[str, Any]) -> tuple[str, ...]:
    """The names in a document that holds one key or one heading."""
    names: list[str] = []
    inner: Any = document
    while inner and isinstance(inner, Mapping | list):
        if isinstance(inner, list):
            inner = inner[0]
            continue
        name, inner = next(iter(inner.items()))
        names.append(name)
    return tuple(names)

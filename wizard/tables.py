"""Answers and their tables as lines of text that fit a given width."""

import textwrap
from collections.abc import Iterator, Sequence
from typing import Any

from engine.answers import cell, columns, labels, row_tables, shown

_GAP = 2
_FEW = 6
"""Up to this many rows a wide table stands on its side: labels down, rows across."""


def answer_lines(answers: Any, units: str, width: int) -> list[str]:
    """Every single answer on a line of its own: label, then value."""
    pairs = [(label.text, shown(name, label, getattr(answers, name), units)) for name, label in labels(answers)]
    widest = min(max((len(label) for label, _ in pairs), default=0), max(width - 16, 16))
    lines: list[str] = []
    for label, value in pairs:
        parts = textwrap.wrap(label, widest) or [""]
        lines += parts[:-1]
        last = parts[-1].ljust(widest + _GAP)
        values = textwrap.wrap(value, max(width - len(last), 10)) or [""]
        lines.append(last + values[0])
        lines += [" " * len(last) + value_part for value_part in values[1:]]
    return lines


def tables_of(answers: Any, units: str, width: int) -> Iterator[tuple[str, list[str]]]:
    """(title, lines) of every table in the answers that has rows."""
    for _, title, rows in row_tables(answers):
        if rows:
            yield title, table_lines(rows, units, width)


def table_lines(rows: Sequence[Any], units: str, width: int) -> list[str]:
    """A table that fits: as it is, on its side when it has few rows, else in blocks that repeat the first column."""
    described = columns(rows[0], units)
    heads = [heading for _, heading in described]
    cells = [[cell(row, name, units) for name, _ in described] for row in rows]
    if len(rows) <= _FEW and _total(_column_widths(heads, cells)) > width:
        sideways = _sideways(heads, cells)
        if max(map(len, sideways)) <= width:
            return sideways
    return grid_lines(heads, cells, width)


def grid_lines(heads: Sequence[str], cells: Sequence[Sequence[str]], width: int, widest: int = 0) -> list[str]:
    """A table of texts in as many blocks as it takes to fit the width; each repeats the first column.

    widest: no column is wider, longer cells are wrapped; 0 for no such limit.
    """
    widths = _column_widths(heads, cells)
    if widest:
        widths = [min(column, widest) for column in widths]
    lines: list[str] = []
    start = 1
    while start < len(heads) or not lines:
        end, used = start, widths[0]
        while end < len(heads) and (end == start or used + _GAP + widths[end] <= width):
            used += _GAP + widths[end]
            end += 1
        block = [0, *range(start, end)]
        lines += [""] if lines else []
        lines += _block([[row[i] for i in block] for row in (heads, *cells)], [widths[i] for i in block])
        start = max(end, 1)
    return lines


def _total(widths: Sequence[int]) -> int:
    return sum(widths) + _GAP * (len(widths) - 1)


def _column_widths(heads: Sequence[str], cells: Sequence[Sequence[str]]) -> list[int]:
    """Each column as wide as its widest cell and the longest word of its heading."""
    return [max([len(word) for word in head.split()] + [len(row[i]) for row in cells]) for i, head in enumerate(heads)]


def _block(rows: Sequence[Sequence[str]], widths: Sequence[int]) -> list[str]:
    """The first row is the heading; its words stand on the line under it."""
    head, *body = rows
    lines = _wrapped(head, widths, at_foot=True)
    lines.append("-" * _total(widths))
    return lines + [line for row in body for line in _wrapped(row, widths)]


def _wrapped(row: Sequence[str], widths: Sequence[int], *, at_foot: bool = False) -> list[str]:
    """One row on as many lines as its longest cell takes."""
    stacked = [textwrap.wrap(text, width) or [""] for text, width in zip(row, widths, strict=True)]
    depth = max(map(len, stacked))
    padded = [
        [""] * (depth - len(parts)) + parts if at_foot else parts + [""] * (depth - len(parts)) for parts in stacked
    ]
    return [_join(line, widths) for line in zip(*padded, strict=True)]


def _join(row: Sequence[str], widths: Sequence[int]) -> str:
    first, rest = row[0].ljust(widths[0]), [text.rjust(width) for text, width in zip(row[1:], widths[1:], strict=True)]
    return (" " * _GAP).join([first, *rest]).rstrip()


def _sideways(heads: Sequence[str], cells: Sequence[Sequence[str]]) -> list[str]:
    turned = [[head, *(row[i] for row in cells)] for i, head in enumerate(heads)]
    widths = [max(len(row[i]) for row in turned) for i in range(len(turned[0]))]
    return [_join(row, widths) for row in turned]

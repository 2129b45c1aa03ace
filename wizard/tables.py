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
    whole = _grid(heads, cells)
    if _width(whole) <= width:
        return whole
    if len(rows) <= _FEW:
        sideways = _sideways(heads, cells)
        if _width(sideways) <= width:
            return sideways
    return _blocks(heads, cells, width)


def _width(lines: Sequence[str]) -> int:
    return max((len(line) for line in lines), default=0)


def _column_widths(heads: Sequence[str], cells: Sequence[Sequence[str]]) -> list[int]:
    """Each column as wide as its widest cell and the longest word of its heading."""
    return [max([len(word) for word in head.split()] + [len(row[i]) for row in cells]) for i, head in enumerate(heads)]


def _grid(heads: Sequence[str], cells: Sequence[Sequence[str]]) -> list[str]:
    widths = _column_widths(heads, cells)
    stacked = [textwrap.wrap(head, width) for head, width in zip(heads, widths, strict=True)]
    depth = max(len(parts) for parts in stacked)
    head_rows = [
        [parts[i - depth + len(parts)] if i >= depth - len(parts) else "" for parts in stacked] for i in range(depth)
    ]
    lines = [_join(row, widths) for row in head_rows]
    lines.append("-" * (sum(widths) + _GAP * (len(widths) - 1)))
    return lines + [_join(row, widths) for row in cells]


def _join(row: Sequence[str], widths: Sequence[int]) -> str:
    first, rest = row[0].ljust(widths[0]), [text.rjust(width) for text, width in zip(row[1:], widths[1:], strict=True)]
    return (" " * _GAP).join([first, *rest]).rstrip()


def _sideways(heads: Sequence[str], cells: Sequence[Sequence[str]]) -> list[str]:
    turned = [[head, *(row[i] for row in cells)] for i, head in enumerate(heads)]
    widths = [max(len(row[i]) for row in turned) for i in range(len(turned[0]))]
    return [_join(row, widths) for row in turned]


def _blocks(heads: Sequence[str], cells: Sequence[Sequence[str]], width: int) -> list[str]:
    widths = _column_widths(heads, cells)
    lines: list[str] = []
    start = 1
    while start < len(heads):
        end, used = start, widths[0]
        while end < len(heads) and (end == start or used + _GAP + widths[end] <= width):
            used += _GAP + widths[end]
            end += 1
        columns = [0, *range(start, end)]
        if lines:
            lines.append("")
        lines += _grid([heads[i] for i in columns], [[row[i] for i in columns] for row in cells])
        start = end
    return lines

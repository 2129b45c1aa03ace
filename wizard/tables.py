"""Answers and their tables as lines of text that fit a given width."""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Any

from engine.answers import cell, columns, labels, row_tables, said_of_motor, shown
from wizard.wrapping import longest_piece, rows_of

_GAP = 2
_VALUE_PER_CENT = 56
"""Values get at least this share of the width when they need it; longer labels are wrapped."""
_TEXT = 16
"""A column of texts is not made narrower than this."""
_DEEPEST = 3
"""Lines that a heading may take, while there is room beside it."""
_FEW = 6
"""Up to this many rows a wide table stands on its side: labels down, rows across."""

_CHOSEN = "chosen"
"""The answer of a row that says whether it is the chosen one."""
CHOSEN_MARK = "*"


@lru_cache(maxsize=8192)
def _wrap(text: str, width: int) -> tuple[str, ...]:
    """A text on lines of a width, kept: most cells of a table are the same after the next key."""
    return tuple(rows_of(text, width))


def answer_lines(answers: Any, units: str, width: int, *, of_motor: bool = False) -> list[str]:
    """Every single answer on a line of its own: label, then value.   of_motor: as `Outcome.of_motor`."""
    described = labels(answers, of_motor=of_motor)
    pairs = [(label.text, shown(name, label, getattr(answers, name), units)) for name, label in described]
    longest = max((len(value) for _, value in pairs), default=0)
    room = max(width - _GAP - min(longest, width * _VALUE_PER_CENT // 100), 16)
    widest = min(max((len(label) for label, _ in pairs), default=0), room)
    lines: list[str] = []
    for label, value in pairs:
        *before, last = _wrap(label, widest) or ("",)
        first, *rest = value_lines(value, max(width - widest - _GAP, 10))
        lines += [*before, f"{last:<{widest + _GAP}}{first}", *(" " * (widest + _GAP) + part for part in rest)]
    return lines


def value_lines(value: str, width: int) -> list[str]:
    """A value on one line, or with what it has in brackets on the next; what is still too long breaks before "to"."""
    best, bracket, rest = value.partition(" (")
    parts = [value] if len(value) <= width or not bracket else [best, f"({rest}"]
    if len(parts) > 1 and len(parts[1]) > width:
        low, between, high = parts[1].partition(" to ")
        parts[1:] = [low, f"to {high}"] if between else [low]
    return [line for part in parts for line in _wrap(part, width)] or [""]


def tables_of(answers: Any, units: str, width: int, *, of_motor: bool = False) -> Iterator[tuple[str, list[str]]]:
    """(title, lines) of every table in the answers that has rows.   of_motor: as `Outcome.of_motor`."""
    for _, title, rows in row_tables(answers, on_page=True):
        if rows:
            yield said_of_motor(title) if of_motor else title, table_lines(rows, units, width, of_motor=of_motor)


def table_lines(rows: Sequence[Any], units: str, width: int, *, of_motor: bool = False) -> list[str]:
    """A table that fits: as it is, on its side when it has few rows, else in blocks that repeat the first column."""
    heads, cells, note = table_cells(rows, units, of_motor=of_motor)
    below = [note] if note else []
    if len(rows) <= _FEW and _total(_column_widths(heads, cells)) > width:
        sideways = _sideways(heads, cells)
        if max(map(len, sideways)) <= width:
            return sideways + below
    return grid_lines(heads, cells, width) + below


def table_cells(rows: Sequence[Any], units: str, *, of_motor: bool = False) -> tuple[list[str], list[list[str]], str]:
    """Headings and cells of a table, and what stands under it: in place of a column of its own, the chosen row has a
    mark before its first cell.
    """
    described = [(name, heading) for name, heading in columns(rows, units, of_motor=of_motor) if name != _CHOSEN]
    cells = [[cell(row, name, units) for name, _ in described] for row in rows]
    marks = [bool(getattr(row, _CHOSEN, False)) for row in rows]
    if not any(marks):
        return [heading for _, heading in described], cells, ""
    marked = [
        [f"{CHOSEN_MARK if mark else ' '} {first}", *rest] for mark, (first, *rest) in zip(marks, cells, strict=True)
    ]
    return [heading for _, heading in described], marked, f"{CHOSEN_MARK} chosen"


def grid_lines(heads: Sequence[str], cells: Sequence[Sequence[str]], width: int) -> list[str]:
    """A table that fits the width: long texts are wrapped; what is still too wide stands in several blocks, each of
    which repeats the first column.
    """
    is_text = text_columns(cells) or [True] * len(heads)
    tight = _column_widths(heads, cells)
    widths = _narrowed(_comfortable(tight, heads), is_text, width)
    if _total(widths) > width:
        widths = _narrowed(tight, is_text, width)
    lines: list[str] = []
    start = 1
    while start < len(heads) or not lines:
        end, used = start, widths[0]
        while end < len(heads) and (end == start or used + _GAP + widths[end] <= width):
            used += _GAP + widths[end]
            end += 1
        block = [0, *range(start, end)]
        lines += [""] if lines else []
        rows = [[row[i] for i in block] for row in (heads, *cells)]
        room = _widened([widths[i] for i in block], rows[0], width)
        lines += _block(rows, room, [i == 0 or is_text[i] for i in block])
        start = max(end, 1)
    return lines


def text_columns(cells: Sequence[Sequence[str]]) -> list[bool]:
    """For each column of a table whether it holds texts, which stand on the left of it; numbers stand on the right."""
    return [not all(map(_is_number, column)) for column in zip(*cells, strict=True)]


def _is_number(text: str) -> bool:
    """Whether a cell is a number, with or without a unit or a band, or the sign for none; a list is a text."""
    return (text[:1].isdigit() or text[:1] in "+-.(") and ";" not in text


def _total(widths: Sequence[int]) -> int:
    return sum(widths) + _GAP * (len(widths) - 1)


def _column_widths(heads: Sequence[str], cells: Sequence[Sequence[str]]) -> list[int]:
    """Each column as wide as its widest cell, and as what stands in one piece in its heading."""
    return [max([longest_piece(head), *(len(row[i]) for row in cells)]) for i, head in enumerate(heads)]


def _narrowed(widths: Sequence[int], is_text: Sequence[bool], width: int) -> list[int]:
    """Columns of texts made narrower, always the widest, until the whole fits or they are as narrow as may be."""
    narrowed = list(widths)
    texts = [i for i, text in enumerate(is_text) if text]
    while _total(narrowed) > width and any(narrowed[i] > _TEXT for i in texts):
        narrowed[max(texts, key=lambda i: narrowed[i])] -= 1
    if _total(narrowed) <= width:
        return narrowed
    half = (width - _GAP) // 2
    return [min(column, half) for column in widths]


def _comfortable(widths: Sequence[int], heads: Sequence[str]) -> list[int]:
    """Columns so wide that no heading is deeper than it should be."""
    return [
        next(room for room in range(column, column + len(head) + 1) if len(_wrap(head, room)) <= _DEEPEST)
        for column, head in zip(widths, heads, strict=True)
    ]


def _widened(widths: Sequence[int], heads: Sequence[str], width: int) -> list[int]:
    """As many columns made comfortable, from the left, as there is room for."""
    widened = list(widths)
    for i, comfortable in enumerate(_comfortable(widths, heads)):
        widened[i] += min(comfortable - widened[i], max(width - _total(widened), 0))
    return widened


def _block(rows: Sequence[Sequence[str]], widths: Sequence[int], is_left: Sequence[bool]) -> list[str]:
    """The first row is the heading; its words stand on the line under it."""
    head, *body = rows
    lines = _wrapped(head, widths, is_left, at_foot=True)
    lines.append("-" * _total(widths))
    return lines + [line for row in body for line in _wrapped(row, widths, is_left)]


def _wrapped(row: Sequence[str], widths: Sequence[int], is_left: Sequence[bool], *, at_foot: bool = False) -> list[str]:
    """One row on as many lines as its longest cell takes."""
    stacked = [list(_wrap(text, width)) or [""] for text, width in zip(row, widths, strict=True)]
    depth = max(map(len, stacked))
    padded = [
        [""] * (depth - len(parts)) + parts if at_foot else parts + [""] * (depth - len(parts)) for parts in stacked
    ]
    return [_join(line, widths, is_left) for line in zip(*padded, strict=True)]


def _join(row: Sequence[str], widths: Sequence[int], is_left: Sequence[bool]) -> str:
    placed = (
        text.ljust(width) if left else text.rjust(width) for text, width, left in zip(row, widths, is_left, strict=True)
    )
    return (" " * _GAP).join(placed).rstrip()


def _sideways(heads: Sequence[str], cells: Sequence[Sequence[str]]) -> list[str]:
    turned = [[head, *(row[i] for row in cells)] for i, head in enumerate(heads)]
    widths = [max(len(row[i]) for row in turned) for i in range(len(turned[0]))]
    return [_join(row, widths, [i == 0 for i in range(len(widths))]) for row in turned]

"""A sheet as plain text that fits a terminal, a screen reader and a narrow printer: under 78 columns."""

from collections.abc import Sequence

from engine.quoting import visible
from wizard.handover.blocks import (
    Blanks,
    Block,
    Columns,
    Document,
    Grid,
    Heading,
    Listing,
    Notice,
    Pairs,
    Paragraph,
    Picture,
)
from wizard.tables import grid_lines
from wizard.wrapping import rows_of

WIDTH = 77
_INDENT = " " * 8
_BOX = "_" * 6
"""What stands for a box to write in."""
_REMARK = "_" * 16
"""And for a box that takes words."""
_SHORTEST_BLANK = 12


def render_text(document: Document) -> str:
    """The sheet as plain text."""
    return visible("\n".join(_lines(document.blocks)).rstrip()) + "\n"


def _lines(blocks: Sequence[Block]) -> list[str]:
    """All blocks, with an empty line after each; pictures are left out."""
    lines: list[str] = []
    for block in blocks:
        if not isinstance(block, Picture):
            lines += [*(_lines(block.blocks)[:-1] if isinstance(block, Columns) else _block_lines(block)), ""]
    return lines


def _block_lines(block: Block) -> list[str]:
    match block:
        case Heading(level, text):
            wrapped = _wrap(text)
            underline = {1: "=", 2: "-"}.get(level)
            return [*wrapped, underline * max(map(len, wrapped))] if underline else wrapped
        case Paragraph(text):
            return [line for part in text.splitlines() for line in (_wrap(part) or [""])]
        case Listing(items, to_tick):
            lead_sign = "[ ] " if to_tick else "- "
            return [line for lead, text in items for line in _item(f"{lead + ': ' if lead else ''}{text}", lead_sign)]
        case Notice(text, reasons):
            rule = "*" * WIDTH
            return [rule, *_wrap(text), *(line for reason in reasons for line in _item(reason, "- ")), rule]
        case Blanks(labels):
            return [line for label in labels for line in _wrap(_blank_line(label))]
        case Pairs(rows):
            return [line for row in rows for line in _pair_lines(*row)]
        case Grid(title, headings, rows, note):
            cells = [_boxes(row) for row in rows] if block.is_form else rows
            return [*_wrap(f"{title}:"), *grid_lines(headings, cells, WIDTH), *(_wrap(note) if note else [])]
        case Picture() | Columns():
            return _lines((block,))


def _boxes(row: Sequence[str]) -> list[str]:
    """The empty cells of a form as boxes; the last of many is for a remark, and takes words."""
    cells = [cell or _BOX for cell in row]
    if row.count("") > 1 and not row[-1]:
        cells[-1] = _REMARK
    return cells


def _wrap(text: str, indent: str = "") -> list[str]:
    return rows_of(text, WIDTH, subsequent_indent=indent)


def _item(text: str, sign: str) -> list[str]:
    """A sentence of a list, hanging from its sign."""
    return rows_of(text, WIDTH, initial_indent=sign, subsequent_indent=" " * len(sign))


def _blank_line(label: str) -> str:
    """A label with a line to write on behind it."""
    return f"{label} {'_' * max(WIDTH - len(label) - 1, _SHORTEST_BLANK)}"


def _pair_lines(label: str, value: str, note: str) -> list[str]:
    """Label, dots, value and note on one line when they fit, else what is in brackets on the next."""
    lead = f"{label} {'.' * max(2, 44 - len(label))} "
    told = f"{value} ({note})" if note else value
    if len(lead) + len(told) <= WIDTH:
        return [lead + told]
    best, bracket, rest = told.partition(" (")
    return [*_wrap(lead + best, _INDENT), *(_wrap(f"{_INDENT}({rest}", _INDENT) if bracket else ())]

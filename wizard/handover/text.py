"""A report as plain text that fits a terminal, a screen reader and a narrow printer: under 78 columns."""

import textwrap

from engine.quoting import visible
from wizard.handover.document import Block, Document, Grid, Heading, Listing, Pairs, Paragraph
from wizard.tables import grid_lines

WIDTH = 77
_INDENT = " " * 8


def render_text(document: Document) -> str:
    """The report as plain text."""
    lines: list[str] = []
    for block in document.blocks:
        lines += _block_lines(block)
        lines.append("")
    return visible("\n".join(lines).rstrip()) + "\n"


def _block_lines(block: Block) -> list[str]:
    match block:
        case Heading(level, text):
            wrapped = _wrap(text)
            underline = {1: "=", 2: "-"}.get(level)
            return [*wrapped, underline * max(map(len, wrapped))] if underline else wrapped
        case Paragraph(text):
            return [line for part in text.splitlines() for line in (_wrap(part) or [""])]
        case Listing(items):
            return [line for lead, text in items for line in _wrap(f"- {lead + ': ' if lead else ''}{text}", "  ")]
        case Pairs(rows):
            return [line for row in rows for line in _pair_lines(*row)]
        case Grid(title, headings, rows, note):
            return [f"{title}:", *grid_lines(headings, rows, WIDTH), *([note] if note else [])]


def _wrap(text: str, indent: str = "") -> list[str]:
    return textwrap.wrap(text, WIDTH, subsequent_indent=indent)


def _pair_lines(label: str, value: str, note: str) -> list[str]:
    """Label, dots, value and note on one line when they fit, else what is in brackets on the next."""
    lead = f"{label} {'.' * max(2, 44 - len(label))} "
    told = f"{value} ({note})" if note else value
    if len(lead) + len(told) <= WIDTH:
        return [lead + told]
    best, bracket, rest = told.partition(" (")
    return [*_wrap(lead + best, _INDENT), *(_wrap(f"{_INDENT}({rest}", _INDENT) if bracket else ())]

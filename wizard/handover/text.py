"""A report as plain text that fits a terminal, a screen reader and a narrow printer: under 78 columns."""

import textwrap
from collections.abc import Iterator, Sequence

from wizard.handover.document import Block, Document, Grid, Heading, Listing, Pairs, Paragraph

WIDTH = 77


def render_text(document: Document) -> str:
    """The report as plain text."""
    lines: list[str] = []
    for block in document.blocks:
        lines += _block_lines(block)
        lines.append("")
    return "\n".join(lines).rstrip() + "\n"


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
        case Grid(title, headings, rows):
            return [f"{title}:", *_grid_lines(headings, rows)]


def _wrap(text: str, indent: str = "") -> list[str]:
    return textwrap.wrap(text, WIDTH, subsequent_indent=indent)


def _pair_lines(label: str, value: str, note: str) -> list[str]:
    told = f"{value} ({note})" if note else value
    return _wrap(f"{label} {'.' * max(2, 44 - len(label))} {told}", " " * 8)


def _grid_lines(headings: Sequence[str], rows: Sequence[Sequence[str]]) -> Iterator[str]:
    """A table, cut into strips that fit the width; each strip repeats the first column."""
    widths = [
        min(max(max(map(len, heading.split())), *(len(row[i]) for row in rows)), WIDTH // 3)
        for i, heading in enumerate(headings)
    ]
    first, *others = range(len(headings))
    while True:
        strip, used = [first], widths[first]
        while others and used + 2 + widths[others[0]] <= WIDTH:
            used += 2 + widths[others[0]]
            strip.append(others.pop(0))
        yield from _strip_lines(strip, widths, headings, rows)
        if not others:
            return
        yield ""


def _strip_lines(
    strip: Sequence[int], widths: Sequence[int], headings: Sequence[str], rows: Sequence[Sequence[str]]
) -> Iterator[str]:
    yield from _row_lines([headings[i] for i in strip], [widths[i] for i in strip])
    yield "  ".join("-" * widths[i] for i in strip)
    for row in rows:
        yield from _row_lines([row[i] for i in strip], [widths[i] for i in strip])


def _row_lines(cells: Sequence[str], widths: Sequence[int]) -> Iterator[str]:
    wrapped = [textwrap.wrap(cell, width) or [""] for cell, width in zip(cells, widths, strict=True)]
    for line in range(max(map(len, wrapped))):
        parts = (
            (part[line] if line < len(part) else "").ljust(width)
            if index == 0
            else (part[line] if line < len(part) else "").rjust(width)
            for index, (part, width) in enumerate(zip(wrapped, widths, strict=True))
        )
        yield "  ".join(parts).rstrip()

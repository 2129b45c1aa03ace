"""A report as Markdown (CommonMark with pipe tables)."""

import re
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
from wizard.tables import text_columns

_SPECIAL = re.compile(r"([\\`*_{}\[\]<>#|~&])")


def render_markdown(document: Document) -> str:
    """The report as Markdown; what the owner wrote is escaped, so that it shows as typed."""
    return _blocks_text(document.blocks) + "\n"


def _blocks_text(blocks: Sequence[Block]) -> str:
    return "\n\n".join(_block_text(block) for block in blocks if not isinstance(block, Picture))


def _block_text(block: Block) -> str:
    match block:
        case Heading(level, text):
            return f"{'#' * level} {_escaped(text)}"
        case Paragraph(text):
            return _escaped(text)
        case Listing(items, to_tick):
            box = "\\[ \\] " if to_tick else ""
            leads = (f"**{_escaped(lead)}**: " if lead else "" for lead, _ in items)
            return "\n".join(f"- {box}{lead}{_escaped(text)}" for lead, (_, text) in zip(leads, items, strict=True))
        case Notice(text, reasons):
            return "\n".join([f"> **{_escaped(text)}**", *(f"> - {_escaped(reason)}" for reason in reasons)])
        case Blanks(labels):
            return _table(("What", "Write here"), [(label, "") for label in labels], (True, True))
        case Picture():
            return ""
        case Columns(blocks):
            return _blocks_text(blocks)
        case Pairs(rows):
            return _table(("What", "Value", "Note"), rows, (True, True, True))
        case Grid(title, _, _, note):
            turned = block.turned
            below = f"\n\n{_escaped(note)}" if note else ""
            table = _table(turned.headings, turned.rows, (True, *text_columns(turned.rows)[1:]))
            return f"**{_escaped(title)}**\n\n{table}{below}"


def _table(headings: Sequence[str], rows: Sequence[Sequence[str]], is_text: Sequence[bool]) -> str:
    """A pipe table with texts on the left and numbers on the right of their columns."""
    rule = ["---" if text else "---:" for text in is_text]
    heads, *body = [[_escaped(cell) for cell in row] for row in (headings, *rows)]
    return "\n".join(f"| {' | '.join(line)} |" for line in (heads, rule, *body))


def _escaped(text: str) -> str:
    return _SPECIAL.sub(r"\\\1", visible(" ".join(text.split())))

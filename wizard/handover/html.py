"""A report as one self-contained HTML page that prints on A4 and Letter; no script, nothing fetched."""

from collections.abc import Sequence
from html import escape

from engine.quoting import visible
from wizard.handover.document import Block, Document, Grid, Heading, Listing, Pairs, Paragraph
from wizard.tables import text_columns

_STYLE = """
:root { color-scheme: light; }
body { font: 11pt/1.45 Georgia, "Times New Roman", serif; color: #1b2733; background: #fff; max-width: 48rem;
  margin: 2rem auto; padding: 0 1rem; }
h1 { font-size: 1.7rem; border-bottom: 3px double #1b2733; padding-bottom: .3rem; }
h2 { font-size: 1.25rem; margin-top: 2rem; border-bottom: 1px solid #8a97a3; break-after: avoid; }
h3 { font-size: 1rem; break-after: avoid; }
table { border-collapse: collapse; margin: .6rem 0; font-size: .85rem; width: 100%; break-inside: auto; }
tr { break-inside: avoid; }
caption { text-align: left; font-style: italic; padding: .2rem 0; }
th, td { text-align: left; vertical-align: top; padding: .15rem .5rem .15rem 0; border-bottom: 1px solid #d5dbe0; }
.grid td + td, .grid th + th { text-align: right; }
.grid .words { text-align: left; padding-left: .8rem; }
.note { color: #4d5a66; }
@page { size: auto; margin: 18mm; }
@media print { body { margin: 0; max-width: none; } }
"""


def render_html(document: Document) -> str:
    """The report as an HTML page."""
    body = "\n".join(_block_html(block) for block in document.blocks)
    return visible(
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f"<title>{escape(document.title)}</title>\n<style>{_STYLE}</style>\n</head>\n<body>\n{body}\n</body>\n</html>\n"
    )


def _block_html(block: Block) -> str:
    match block:
        case Heading(level, text):
            return f"<h{level}>{escape(text)}</h{level}>"
        case Paragraph(text):
            return f"<p>{escape(text)}</p>"
        case Listing(items):
            points = (
                f"<li>{f'<strong>{escape(lead)}</strong>: ' if lead else ''}{escape(text)}</li>" for lead, text in items
            )
            return f"<ul>\n{chr(10).join(points)}\n</ul>"
        case Pairs(rows):
            lines = (
                f'<tr><th scope="row">{escape(label)}</th><td>{escape(value)}</td>'
                f'<td class="note">{escape(note)}</td></tr>'
                for label, value, note in rows
            )
            return f"<table>\n{chr(10).join(lines)}\n</table>"
        case Grid(title, _, _, note):
            turned = block.turned
            below = f'\n<p class="note">{escape(note)}</p>' if note else ""
            return _grid_html(title, turned.headings, turned.rows) + below


def _grid_html(title: str, headings: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    words = [i > 0 and is_text for i, is_text in enumerate(text_columns(rows))]
    body = "\n".join(f"<tr>{_cells(row, words, 'td', '')}</tr>" for row in rows)
    head = _cells(headings, words, "th", ' scope="col"')
    return (
        f'<table class="grid">\n<caption>{escape(title)}</caption>\n'
        f"<thead><tr>{head}</tr></thead>\n<tbody>\n{body}\n</tbody>\n</table>"
    )


def _cells(texts: Sequence[str], words: Sequence[bool], tag: str, more: str) -> str:
    """The cells of one row; texts stand on the left, numbers on the right."""
    kinds = (' class="words"' if is_text else "" for is_text in words)
    return "".join(f"<{tag}{more}{kind}>{escape(text)}</{tag}>" for text, kind in zip(texts, kinds, strict=True))

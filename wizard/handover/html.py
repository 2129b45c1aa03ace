"""A sheet as one self-contained HTML page that prints on A4 and Letter; no script, nothing fetched."""

from collections.abc import Iterator, Sequence
from html import escape
from itertools import pairwise

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
from wizard.handover.chart_svg import NARROW, WIDE, picture_svg
from wizard.tables import text_columns
from wizard.wrapping import unbroken

_STYLE = """
:root { color-scheme: light; }
body { font: 11pt/1.45 Georgia, "Times New Roman", serif; color: #1b2733; background: #fff; max-width: 48rem;
  margin: 2rem auto; padding: 0 1rem; }
h1 { font-size: 1.7rem; border-bottom: 3px double #1b2733; padding-bottom: .3rem; }
h2 { font-size: 1.25rem; margin-top: 2rem; border-bottom: 1px solid #8a97a3; break-after: avoid; }
h3 { font-size: 1rem; break-after: avoid; }
table { border-collapse: collapse; margin: .6rem 0; font-size: .85rem; width: 100%; break-inside: auto; }
tr { break-inside: avoid; }
caption { break-after: avoid; text-align: left; font-style: italic; padding: .2rem 0; }
th, td { text-align: left; vertical-align: top; padding: .15rem .5rem .15rem 0; border-bottom: 1px solid #d5dbe0; }
.grid td + td, .grid th + th { text-align: right; }
.grid .words { text-align: left; padding-left: .8rem; }
.grid td + td:not(.words) { white-space: nowrap; }
.note { color: #4d5a66; }
table + .note { break-before: avoid; }
.notice { border: 2px solid #1b2733; padding: .3rem .6rem; margin: .6rem 0; break-inside: avoid; }
.notice p { margin: 0; font-weight: bold; }
.notice ul { margin: .2rem 0 0; }
figure { margin: .8rem 0; break-inside: avoid; }
svg { width: 100%; height: auto; display: block; }
ul.tick { list-style: "\\2610\\00a0"; }
.form td, .form th { border: 1px solid #8a97a3; padding: .2rem .3rem; text-align: right; }
.form td:empty { min-width: 3rem; }
body > .form td:last-child { min-width: 6rem; }
body > .form td:first-child { min-width: 5rem; }
.blanks th { font-weight: normal; width: 1%; white-space: nowrap; border: 0; }
@page { size: auto; margin: 18mm; }
@media print {
  body { margin: 0; max-width: none; font-size: 9.5pt; line-height: 1.3; }
  table { font-size: 8pt; }
  th, td { padding: .08rem .4rem .08rem 0; }
  .grid .words { padding-left: .5rem; }
}
"""
_ONE_PAGE = """
body { font: 7.6pt/1.1 Helvetica, Arial, sans-serif; max-width: 188mm; }
h1 { font-size: 13pt; margin: 0 0 1mm; padding-bottom: .6mm; border-bottom-width: 2px; border-bottom-style: solid; }
h2 { font-size: 8.6pt; margin: 1.2mm 0 .3mm; }
.columns > section:first-child > h2 { margin-top: 0; }
.columns li { font-size: 7pt; }
.grid td, .form td { white-space: nowrap; }
.grid td:first-child, .form td:first-child, .grid .words, .form .words { white-space: normal; }
caption { padding: .6mm 0 .2mm; font-weight: bold; font-style: normal; }
p { margin: .6mm 0; }
ul { margin: .4mm 0; padding-left: 4mm; }
table { font-size: 7.6pt; margin: .3mm 0; }
th, td { padding: 0 1.5mm 0 0; }
th[scope="row"] { font-weight: normal; width: 47%; }
td { font-weight: bold; }
.grid td { font-weight: normal; }
span.note { font-weight: normal; font-size: 6.8pt; }
.columns { columns: 2; column-gap: 6mm; }
.columns li, .columns .form { break-inside: avoid; }
.columns h2 + table tr:first-child { break-before: avoid; }
.notice { border-width: 1.5px; padding: .6mm 2mm; margin: 1mm 0; }
.notice ul { margin: 0; }
figure { margin: 1mm 0; }
.columns figure svg { max-height: 36mm; }
.form { font-size: 7.6pt; }
.form td { font-weight: normal; }
.form td:first-child, .form th:first-child, .form .words { text-align: left; }
.form td, .form th { padding: .95mm 1mm; }
.columns .form td, .columns .form th { padding: .4mm 1mm; }
.blanks th, .blanks td { padding: 1mm 1mm 0 0; }
@page { size: auto; margin: 6mm 11mm; }
"""


def render_html(document: Document) -> str:
    """The report as an HTML page."""
    body = "\n".join(_block_html(block) for block in document.blocks)
    style = _STYLE + (_ONE_PAGE if document.is_one_page else "")
    return visible(
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f"<title>{escape(document.title)}</title>\n<style>{style}</style>\n</head>\n<body>\n{body}\n</body>\n</html>\n"
    )


def _block_html(block: Block, width: float = WIDE) -> str:
    """One block.   width: of the charts."""
    match block:
        case Heading(level, text):
            return f"<h{level}>{_text(text)}</h{level}>"
        case Paragraph(text):
            return f"<p>{_text(text)}</p>"
        case Listing(items, to_tick):
            points = (
                f"<li>{f'<strong>{_text(lead)}</strong>: ' if lead else ''}{_text(text)}</li>" for lead, text in items
            )
            kind = ' class="tick"' if to_tick else ""
            return f"<ul{kind}>\n{chr(10).join(points)}\n</ul>"
        case Notice(text, reasons):
            return f'<div class="notice">\n<p>{_text(text)}</p>\n{_reasons_html(reasons)}</div>'
        case Picture(chart):
            return f"<figure>\n{picture_svg(chart, width)}\n</figure>"
        case Blanks(labels):
            lines = (f'<tr><th scope="row">{_text(label)}</th><td></td></tr>' for label in labels)
            return f'<table class="blanks">\n{chr(10).join(lines)}\n</table>'
        case Columns(blocks):
            return f'<div class="columns">\n{"".join(_sections_html(blocks))}</div>'
        case Pairs(rows) if width == NARROW:
            return _close_pairs_html(rows)
        case Pairs(rows):
            lines = (
                f'<tr><th scope="row">{_text(label)}</th><td>{_text(value)}</td>'
                f'<td class="note">{_text(note)}</td></tr>'
                for label, value, note in rows
            )
            return f"<table>\n{chr(10).join(lines)}\n</table>"
        case Grid(title, _, _, note):
            turned = block.turned
            below = f'\n<p class="note">{_text(note)}</p>' if note else ""
            return _grid_html(title, turned.headings, turned.rows, block.is_form) + below


def _close_pairs_html(rows: Sequence[tuple[str, str, str]]) -> str:
    """Labels and values with the notes behind the values, which takes less room than a column of notes."""
    lines = (
        f'<tr><th scope="row">{_text(label)}</th><td>{_text(value)}{_note_html(note)}</td></tr>'
        for label, value, note in rows
    )
    return f"<table>\n{chr(10).join(lines)}\n</table>"


def _note_html(note: str) -> str:
    return f' <span class="note">{_text(note)}</span>' if note else ""


def _sections_html(blocks: Sequence[Block]) -> Iterator[str]:
    """The blocks, each heading in one piece with what follows it."""
    starts = [i for i, block in enumerate(blocks) if i == 0 or isinstance(block, Heading)]
    for start, end in pairwise([*starts, len(blocks)]):
        inside = "\n".join(_block_html(block, NARROW) for block in blocks[start:end])
        yield f"<section>\n{inside}\n</section>\n"


def _reasons_html(reasons: Sequence[str]) -> str:
    points = "\n".join(f"<li>{_text(reason)}</li>" for reason in reasons)
    return f"<ul>\n{points}\n</ul>\n" if reasons else ""


def _grid_html(title: str, headings: Sequence[str], rows: Sequence[Sequence[str]], is_form: bool) -> str:
    kind = "form" if is_form else "grid"
    words = [i > 0 and is_text for i, is_text in enumerate(text_columns(rows))]
    body = "\n".join(f"<tr>{_cells(row, words, 'td', '')}</tr>" for row in rows)
    head = _cells(headings, words, "th", ' scope="col"')
    return (
        f'<table class="{kind}">\n<caption>{_text(title)}</caption>\n'
        f"<thead><tr>{head}</tr></thead>\n<tbody>\n{body}\n</tbody>\n</table>"
    )


def _cells(texts: Sequence[str], words: Sequence[bool], tag: str, more: str) -> str:
    """The cells of one row; texts stand on the left, numbers on the right."""
    kinds = (' class="words"' if is_text else "" for is_text in words)
    return "".join(f"<{tag}{more}{kind}>{_text(text)}</{tag}>" for text, kind in zip(texts, kinds, strict=True))


def _text(text: str) -> str:
    """A text as HTML has it, each number on one row with its unit."""
    return escape(unbroken(text))

"""An order sheet as figures with their names, so that paper and JSON say the same."""

from collections.abc import Iterator
from dataclasses import dataclass, fields, replace
from datetime import date
from itertools import chain
from typing import Any

from engine.answers import Label, said_of_motor, shown
from engine.bands import Band
from engine.migrations import FORMAT
from engine.quoting import shortened
from wizard.charts import Chart
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
from wizard.sheet_choice import SHEETS
from wizard.stages.plots import chart_of_motor
from wizard.tables import table_cells

NOT_YET = "not yet"
NOT_GIVEN = "not given"
ASSUMED = "Assumed, because the plan does not say"
BRACKETS = "In brackets: 10th and 90th percentile of many plausible versions of this boat."
"""Those who are sent a sheet have not read what the whole plan says at its head."""


@dataclass(frozen=True)
class Line:
    """One figure.

    key: its name in the JSON, ending in its unit as those of answers do.   value: a number, a band or a text in that
    unit, None while there is none.   note: where it is from.   absent: what is printed in place of a value.
    """

    key: str
    label: Label
    value: Any
    note: str = ""
    absent: str = NOT_YET

    def text(self, units: str) -> str:
        """The value in the owner's units."""
        text = shown(self.key, self.label, self.value, units)
        return self.absent if text == "-" else text


@dataclass(frozen=True)
class Table:
    """Rows of answers.   boxes: headings of columns to write in.   note: a line under it."""

    key: str
    title: str
    rows: tuple[Any, ...]
    boxes: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class Part:
    """A piece of a sheet under its own heading, or "" for none.   is_wide: it takes the whole width of the paper.

    to_do: sentences, with a box to tick before each.   blanks: labels with room to write.
    """

    title: str
    lines: tuple[Line, ...] = ()
    table: Table | None = None
    chart: Chart | None = None
    sentences: tuple[str, ...] = ()
    to_do: tuple[str, ...] = ()
    blanks: tuple[str, ...] = ()
    is_wide: bool = False


@dataclass(frozen=True)
class Assumption:
    """What stands in for something that the owner has not said, and where it is from."""

    label: str
    value: str
    source: str


@dataclass(frozen=True)
class Sheet:
    """One order sheet.

    key: as in `wizard.sheet_choice.SHEETS`.
    refusal: what is said at its head while there are reasons not to use it.   reasons: why not yet.
    second_looks: what is to be looked at again; on paper the first of them are a part of their own.
    of_motor: what turns the propeller is a motor; its paper says so in titles, labels and charts.
    """

    key: str
    name: str
    units: str
    parts: tuple[Part, ...]
    refusal: str
    reasons: tuple[str, ...]
    assumed: tuple[Assumption, ...]
    cautions: tuple[str, ...]
    second_looks: tuple[str, ...] = ()
    of_motor: bool = False

    @property
    def title(self) -> str:
        """What it is called."""
        return SHEETS[self.key]

    @property
    def lines(self) -> Iterator[Line]:
        """All figures, in their order."""
        return (line for part in self.parts for line in part.lines)

    @property
    def tables(self) -> Iterator[Table]:
        """All tables with rows, in their order."""
        return (part.table for part in self.parts if part.table is not None)

    @property
    def has_bands(self) -> bool:
        """Whether any of its figures has a low and a high."""
        rows = (row for table in self.tables for row in table.rows)
        values = (getattr(row, item.name) for row in rows for item in fields(row))
        return any(isinstance(value, Band) for value in chain(values, (line.value for line in self.lines)))


def sheet_document(sheet: Sheet, on: date | None = None) -> Document:
    """A sheet for the renderers: head, parts, what is assumed, cautions."""
    title = f"{sheet.title}: {shortened(sheet.name)}"
    head = f"{head_words(sheet.units, on)} {BRACKETS}" if sheet.has_bands else head_words(sheet.units, on)
    blocks: list[Block] = [Heading(1, title), Paragraph(head)]
    if sheet.reasons:
        blocks.append(Notice(sheet.refusal, sheet.reasons))
    narrow: list[Block] = []
    for part in sheet.parts:
        if part.is_wide:
            blocks += [Columns(tuple(narrow))] if narrow else []
            blocks += _part_blocks(_of_motor(part) if sheet.of_motor else part, sheet)
            narrow = []
        else:
            narrow += _part_blocks(_of_motor(part) if sheet.of_motor else part, sheet)
    narrow += [Heading(2, ASSUMED), _assumed_block(sheet)] if sheet.assumed else []
    narrow += [Heading(2, "Cautions"), Listing(tuple(("", caution) for caution in sheet.cautions))]
    return Document(title, (*blocks, Columns(tuple(narrow))), is_one_page=True)


def head_words(units: str, on: date | None) -> str:
    """When it was printed, the units, and the format of the plan."""
    dated = f"Printed {on.isoformat()}. " if on else ""
    return f"{dated}Units: {units}. Plan format {FORMAT}."


def _of_motor(part: Part) -> Part:
    """A piece of paper whose title, labels and chart are said of a motor; its table is told as it is set."""
    lines = (replace(line, label=replace(line.label, text=said_of_motor(line.label.text))) for line in part.lines)
    chart = part.chart and chart_of_motor(part.chart)
    return replace(part, title=said_of_motor(part.title), lines=tuple(lines), chart=chart)


def _part_blocks(part: Part, sheet: Sheet) -> Iterator[Block]:
    if part.title:
        yield Heading(2, part.title)
    if part.lines:
        yield Pairs(tuple((line.label.text, line.text(sheet.units), line.note) for line in part.lines))
    if part.sentences:
        yield Listing(tuple(("", sentence) for sentence in part.sentences))
    if part.to_do:
        yield Listing(tuple(("", sentence) for sentence in part.to_do), to_tick=True)
    if part.blanks:
        yield Blanks(part.blanks)
    if part.table is not None and part.table.rows:
        yield _grid(part.table, sheet)
    if part.chart is not None and part.chart.drawable:
        yield Picture(part.chart)


def _grid(table: Table, sheet: Sheet) -> Grid:
    heads, cells, _ = table_cells(table.rows, sheet.units, of_motor=sheet.of_motor)
    title, note = (said_of_motor(text) if sheet.of_motor else text for text in (table.title, table.note))
    rows = tuple((*row, *("" for _ in table.boxes)) for row in cells)
    return Grid(title, (*heads, *table.boxes), rows, note, is_form=bool(table.boxes))


def _assumed_block(sheet: Sheet) -> Listing:
    return Listing(tuple(("", f"{each.label}: {each.value} ({each.source})") for each in sheet.assumed))

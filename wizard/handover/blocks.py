"""The plain blocks that a sheet is made of, which the renderers turn into text, Markdown or HTML."""

from dataclasses import dataclass, replace

from wizard.charts import Chart
from wizard.rulers import Rulers

_WIDE, _FEW = 9, 4
"""A table of more columns and not more rows than this goes on paper on its side."""


@dataclass(frozen=True)
class Heading:
    """A heading.   level: 1 for the title of the sheet, 2 for its parts, 3 within them."""

    level: int
    text: str


@dataclass(frozen=True)
class Paragraph:
    """Sentences on their own."""

    text: str


@dataclass(frozen=True)
class Listing:
    """Separate sentences, each with a lead word such as a verdict ("" for none).   to_tick: with a box before each."""

    items: tuple[tuple[str, str], ...]
    to_tick: bool = False


@dataclass(frozen=True)
class Notice:
    """What must be seen first, in a frame: a sentence, and the reasons for it."""

    text: str
    reasons: tuple[str, ...] = ()


@dataclass(frozen=True)
class Pairs:
    """Label, value, and a note on where the value is from."""

    rows: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True)
class Blanks:
    """Labels, each with room to write beside it."""

    labels: tuple[str, ...]


@dataclass(frozen=True)
class Grid:
    """A table with headings; all cells are text.   note: a line under it, or "".

    is_form: its empty cells are boxes to write in.
    """

    title: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""
    is_form: bool = False

    @property
    def turned(self) -> "Grid":
        """The table on its side where it has many columns and few rows, so that it fits a sheet of paper."""
        if self.is_form or len(self.headings) <= _WIDE or len(self.rows) > _FEW:
            return self
        columns = list(zip(self.headings, *self.rows, strict=True))
        return replace(self, headings=columns[0], rows=tuple(columns[1:]))


@dataclass(frozen=True)
class Picture:
    """A chart, drawn where the form of the sheet can hold one; its numbers stand in the tables."""

    chart: Chart | Rulers


@dataclass(frozen=True)
class Columns:
    """Blocks that stand in two columns on paper, and one after the other elsewhere."""

    blocks: tuple["Block", ...]


Block = Heading | Paragraph | Listing | Notice | Pairs | Blanks | Grid | Picture | Columns


@dataclass(frozen=True)
class Document:
    """A sheet.   is_one_page: set small and close, so that it fits a page of A4 or Letter."""

    title: str
    blocks: tuple[Block, ...]
    is_one_page: bool = False

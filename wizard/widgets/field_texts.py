"""What is said of a field around the text in it, and where on its line all of that stands."""

from dataclasses import dataclass
from itertools import zip_longest

from rich.cells import cell_len
from textual.content import Content

from engine.entries import Kind
from engine.plan import Plan, entry_at, label_at, text_at, why_unread
from wizard.echo import echo, echoes_value
from wizard.widgets.wrapped import wrapped

_SHORT = 15
"""Signs that fit into a text field beside its echo; a longer text takes the line, and the echo goes under it."""
_LABEL, _LABEL_WIDE, _LABEL_SHARE = 32, 28, 0.42
"""Columns of the label, those where form and answers stand side by side, and the most of the line that it takes."""
_NUMBER, _BESIDE = 16, 8
"""Columns of the text of a number, and the most that is left beside words or a choice."""
_INDENT = 2
"""Columns before a sentence about what is wrong."""


@dataclass(frozen=True)
class FieldTexts:
    """What stands beside the text of a field, and under it."""

    label: str
    kind: Kind
    beside: str
    colour: str
    is_long: bool
    """Whether its text has the line to itself."""
    under: str
    is_value: bool
    """Whether it is the value that stands under it, and not what is wrong."""

    def set_for(self, width: int, is_wide: bool) -> "SetLine":
        """The line in so many columns.   is_wide: whether form and answers stand side by side."""
        begin = min(_LABEL_WIDE if is_wide else _LABEL, int(_LABEL_SHARE * width))
        end = width - self._columns_beside(width - begin)
        indent = begin if self.is_value else _INDENT
        return SetLine(
            begin,
            end,
            wrapped(self.label, begin - 1),
            wrapped(self.beside, width - end - 1),
            tuple(" " * indent + row for row in wrapped(self.under, width - indent)),
        )

    def _columns_beside(self, room: int) -> int:
        if self.is_long or (self.kind is Kind.CHOICE and not self.beside):
            return 0
        if self.kind is Kind.CHOICE:
            return _BESIDE
        if self.kind is Kind.TEXT:
            return min(cell_len(self.beside) + 1, _BESIDE)
        return max(room - _NUMBER, 0)

    def drawn(self, line: "SetLine", rows: int, is_in_focus: bool) -> Content:
        """All of it but the text of the field.   rows: of that text."""
        label = "bold $primary" if is_in_focus else ""
        head = [
            Content.assemble((over.ljust(line.end + 1), label), (beside, self.colour))
            for over, beside in zip_longest(line.label, line.beside, fillvalue="")
        ]
        head += [Content("")] * (line.head_rows(rows) - len(head))
        under = "$quiet" if self.is_value else "$error"
        return Content("\n").join([*head, *(Content.styled(row, under) for row in line.under)])


@dataclass(frozen=True)
class SetLine:
    """The texts set for a width: in which columns the text of the field begins and ends, and the rows around it."""

    begin: int
    end: int
    label: tuple[str, ...]
    beside: tuple[str, ...]
    under: tuple[str, ...]

    def head_rows(self, rows: int) -> int:
        """Rows above what stands under the line.   rows: of the text of the field."""
        return max(rows, len(self.label), len(self.beside))

    def shape(self, rows: int) -> tuple[int, ...]:
        """What moves something when it changes.   rows: as above."""
        return self.begin, self.end, self.head_rows(rows), len(self.under)


def texts_of(plan: Plan, path: str) -> FieldTexts:
    """What there is to say of a field."""
    entry = entry_at(path)
    is_value, text = echoes_value(plan, path), echo(plan, path)
    shown = f"= {text}" if is_value else text
    is_long = is_value and len(text_at(plan, path)) > _SHORT
    is_out = is_long or (entry.kind is Kind.CHOICE and text != "needed")
    return FieldTexts(
        label_at(plan, path),
        entry.kind,
        beside="" if is_out else shown,
        colour="$error" if path in plan.unread else "$warning" if text == "needed" else "$quiet",
        is_long=is_long,
        under=why_unread(plan, path) or (shown if is_long else ""),
        is_value=is_long,
    )

"""Beside the list of the review: all of the highlighted line, and what Enter does there."""

from textual import events
from textual.content import Content
from textual.widgets import Static

from wizard.review_lines import Line
from wizard.widgets.say import say
from wizard.wrapping import REST, rows_of


class LineDetail(Static):
    """As much as fits; F1 has all of it."""

    def __init__(self) -> None:
        super().__init__("", id="line-detail", markup=False)
        self._line: Line | None = None

    def show(self, line: Line | None) -> None:
        """Show a line of the list; None while there is none."""
        self._line = line
        self._set()

    def on_resize(self, event: events.Resize) -> None:
        """Set the words for the new size."""
        del event
        self._set()

    def _set(self) -> None:
        line = self._line
        if line is None:
            say(self, "", fits=True)
            return
        width, rows = max(self.content_size.width, 30), max(self.content_size.height, 3)
        enter = rows_of(line.on_enter, width)
        words = [part for paragraph in line.detail for part in rows_of(paragraph, width)]
        room = rows - len(enter)
        if len(words) > room:
            words = [*words[: room - 1], _cut(words[room - 1], width)]
        told = Content("\n".join(words))
        text = Content("\n").join([told, Content.styled("\n".join(enter), "$quiet")]) if enter else told
        say(self, text, fits=True)


def _cut(row: str, width: int) -> str:
    """A row that is not the last, ended at a word."""
    fits = len(row) + len(REST) <= width
    return f"{row if fits else row[: width - len(REST) + 1].rpartition(' ')[0]}{REST}"

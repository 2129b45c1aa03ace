"""What is known of the field with the focus, under the form."""

from collections.abc import Callable

from textual import events
from textual.message import Message
from textual.widgets import Static

from wizard.widgets.say import say
from wizard.widgets.styled import LaidOutOnce
from wizard.wrapping import rows_where_room_is_short


class Hint(LaidOutOnce, Static):
    """As many rows as its words take, under a rule."""

    class Refitted(Message):
        """It takes more rows than before, or fewer: that leaves fewer for the form, or more."""

    def __init__(self) -> None:
        super().__init__("", id="hint", markup=False)
        self._words: Callable[[int], str] = lambda _width: ""
        self._rows = 0

    def show(self, words: Callable[[int], str]) -> None:
        """Show other words.   words: of the width that there is for them; asked again when that changes."""
        self._words = words
        self._fit()

    def on_resize(self, event: events.Resize) -> None:
        del event
        self._fit()

    def _fit(self) -> None:
        width = self.content_size.width
        if not width:
            return  # it has no place yet
        rows = rows_where_room_is_short(self._words(width), width)
        if len(rows) != self._rows:
            self._rows = len(rows)
            self.styles.height = len(rows) + 1
            self.post_message(self.Refitted())
        say(self, "\n".join(rows), fits=True)

"""A list of choices on one line: Enter, space or a letter opens it, a letter leads to the choice it begins."""

from typing import ClassVar, Self, cast

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Select
from textual.widgets._select import SelectCurrent, SelectOverlay

from wizard.widgets.line_input import does_own_key


class ChoiceList(SelectOverlay):
    """The open list. Letters lead to what begins with them, else to a word that does, else to what has them inside."""

    async def _on_key(self, event: events.Key) -> None:
        if await does_own_key(self, event):
            event.stop()
            event.prevent_default()

    def _find_search_match(self, query: str) -> int | None:
        found = query.lower()
        first = 1 if self.choice.has_blank else 0
        texts = {at: str(option.prompt).lower() for at, option in enumerate(self.options) if at >= first}
        for is_match in (str.startswith, _has_a_word_that_begins_with, str.__contains__):
            at = next((at for at, text in texts.items() if is_match(text, found)), None)
            if at is not None:
                return at
        return None

    @property
    def choice(self) -> "Choice":
        """The line that the list belongs to."""
        return cast(Choice, self.parent)

    def focus(self, scroll_visible: bool = True) -> Self:
        """Get what is typed from now on, also keys that are already on their way, and no later moment's focus."""
        self.screen.set_focus(self, scroll_visible=scroll_visible)
        return self

    def step(self, step: int) -> None:
        """Highlight the next (1) or previous (-1) line."""
        if step > 0:
            self.action_cursor_down()
        else:
            self.action_cursor_up()


class Choice(Select[str], inherit_bindings=False):
    """Arrows move on to other fields."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter,space", "show_overlay", "Show the choices", show=False)]

    @property
    def has_blank(self) -> bool:
        """Whether the first line stands for no choice."""
        return self._allow_blank

    @property
    def open_list(self) -> ChoiceList:
        """The list, whether it is open or not."""
        return self.query_one(ChoiceList)

    def compose(self) -> ComposeResult:
        yield SelectCurrent(self.prompt)
        yield ChoiceList().data_bind(compact=Select.compact)

    async def _on_key(self, event: events.Key) -> None:
        """A letter opens the list; it gets this one, and those that came while it was opening."""
        if event.is_printable and event.character != " ":
            if not self.expanded:
                self.action_show_overlay()
            self.open_list.post_message(events.Key(event.key, event.character))
            event.stop()
            event.prevent_default()

    def pick(self) -> None:
        """Take the line of the open list that is highlighted, and close the list."""
        at = self.open_list.highlighted
        if at is not None:
            self.value = self._options[at][1]
        self.expanded = False


def _has_a_word_that_begins_with(text: str, letters: str) -> bool:
    return f" {letters}" in text

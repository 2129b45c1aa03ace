"""A list of choices on one line: Enter, space or a letter opens it, a letter leads to the choice it begins."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import ClassVar

from rich.cells import set_cell_size
from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.widget import Widget
from textual.widgets._select import SelectOverlay
from textual.widgets.option_list import Option

from wizard.widgets.line_input import does_own_key
from wizard.widgets.lines import Turnable
from wizard.widgets.styled import LaidOutOnce, StyledWhenMounted
from wizard.widgets.wrapped import wrapped

_ARROW_ROOM = 3
"""Columns at the end of the line: the arrow, with a space before and after it."""


class ChoiceList(Turnable, SelectOverlay):
    """The open list. Letters lead to what begins with them, else to a word that does, else to what has them inside."""

    def __init__(self, choice: "Choice", options: Sequence[Option], highlighted: int) -> None:
        super().__init__()
        self.choice = choice
        self.compact = True
        self.add_options(options)
        self.highlighted = highlighted

    async def _on_key(self, event: events.Key) -> None:
        if await does_own_key(self, event):
            event.stop()
            event.prevent_default()

    def _find_search_match(self, query: str) -> int | None:
        """Where what was typed in a row leads; where it leads nowhere, its last letter begins anew, as in any list."""
        at = self._found(query, (str.startswith, _has_a_word_that_begins_with, str.__contains__))
        if at is None:
            self._search_query = query[-1:]
            at = self._found(query[-1:], (str.startswith,))
        return at

    def _found(self, query: str, rules: Sequence[Callable[[str, str], bool]]) -> int | None:
        """The first choice that a query fits by the first rule by which it fits any."""
        first = 1 if self.choice.has_blank else 0
        texts = {at: str(option.prompt).lower() for at, option in enumerate(self.options) if at >= first}
        fitting = (at for fits in rules for at, text in texts.items() if fits(text, query.lower()))
        return next(fitting, None)

    def step(self, step: int) -> None:
        """Highlight the next (1) or previous (-1) line."""
        if step > 0:
            self.action_cursor_down()
        else:
            self.action_cursor_up()

    def action_dismiss(self) -> None:
        """Back to the line, which stays as it is."""
        self.screen.set_focus(self.choice)

    def _on_blur(self, event: events.Blur) -> None:
        event.prevent_default()
        self.choice.close(self)


class Choice(StyledWhenMounted, LaidOutOnce, Widget, can_focus=True, inherit_bindings=False):
    """Arrows move on to other fields. The list is made when it is opened, and goes when it has lost the focus."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter,space", "show_overlay", "Show the choices", show=False)]

    @dataclass
    class Changed(Message):
        """The owner chose something else.   selection: that; by now the line may show something else again."""

        choice: "Choice"
        selection: str | None

    def __init__(self, options: Sequence[tuple[str, str]], selection: str | None, prompt: str = "") -> None:
        """options: the words of each choice, and what it stands for.
        prompt: what stands there while nothing is chosen; "" where something always is."""
        super().__init__()
        self._prompt = prompt
        self._options = options
        self._selection = selection
        self._open_list: ChoiceList | None = None

    @property
    def selection(self) -> str | None:
        """What is chosen; None for nothing."""
        return self._selection

    def choose(self, selection: str | None) -> None:
        """Show that this is chosen."""
        self._selection = selection
        self.refresh(layout=True)

    @property
    def has_blank(self) -> bool:
        """Whether the first line of the list stands for no choice."""
        return bool(self._prompt)

    @property
    def _offered(self) -> list[str | None]:
        """What the lines of the list stand for."""
        blank = [None] if self.has_blank else []
        return [*blank, *(value for _, value in self._options)]

    def action_show_overlay(self) -> None:
        """Open the list; it gets what is typed from now on, also keys that are already on their way."""
        if not self.is_attached:
            return  # a key that came together with the one that closes the plan
        if self._open_list is None:
            blank = [Option(Content.styled(self._prompt, "dim"))] if self.has_blank else []
            options = [*blank, *(Option(Content(words)) for words, _ in self._options)]
            self._open_list = ChoiceList(self, options, self._offered.index(self._selection))
            self._open_list.styles.offset = (0, self.size.height)
            self.mount(self._open_list)
            self.refresh()
        self.screen.set_focus(self._open_list, scroll_visible=False)

    def close(self, opened: ChoiceList) -> None:
        """Take the list away that has lost the focus; nothing can lead into it from here on."""
        if opened is self._open_list:
            self._open_list = None
            opened.display = False
            opened.remove()
            self.refresh()

    async def _on_key(self, event: events.Key) -> None:
        """A letter opens the list; it gets this one, and those that came while it was opening."""
        if event.is_printable and event.character != " ":
            self.action_show_overlay()
            if self._open_list is not None:
                self._open_list.post_message(events.Key(event.key, event.character))
            event.stop()
            event.prevent_default()

    def pick(self) -> bool:
        """Take the line of the open list that is highlighted, and close the list. Returns: whether it is another."""
        opened = self._open_list
        if opened is None:
            return False
        self.screen.set_focus(self)
        self.close(opened)
        if opened.highlighted is None or self._offered[opened.highlighted] == self._selection:
            return False
        self.choose(self._offered[opened.highlighted])
        self.tell()
        return True

    def tell(self) -> None:
        """Tell what has been chosen."""
        self.post_message(self.Changed(self, self._selection))

    # how it is drawn

    def _rows(self, width: int) -> tuple[str, ...]:
        shown = next((words for words, value in self._options if value == self._selection), self._prompt)
        return wrapped(shown, max(width - _ARROW_ROOM, 1)) or ("",)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Rows of what is chosen."""
        del container, viewport
        return len(self._rows(width))

    def render(self) -> Content:
        """What is chosen, and an arrow."""
        first, *rest = self._rows(self.size.width)
        arrow = "▲" if self._open_list is not None else "▼"
        filled = set_cell_size(first, max(self.size.width - _ARROW_ROOM, 1))
        line = Content.assemble(filled, " ", (arrow, "" if self.has_focus else "$quiet"))
        return Content("\n").join([line, *rest])


def _has_a_word_that_begins_with(text: str, letters: str) -> bool:
    return f" {letters}" in text

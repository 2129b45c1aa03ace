"""The palette: every action by its name."""

from typing import ClassVar

from textual import on
from textual.binding import Binding, BindingType
from textual.command import CommandList, CommandPalette
from textual.widgets import Input, OptionList


class Palette(CommandPalette):
    """Textual's own, with an Esc that is done before the key that comes next, and a list that can be turned before it
    is set. It does one thing and closes once, however many Enters are on their way."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "escape", "Close", id="palette-close", show=False, priority=True)
    ]

    def _action_command_list(self, action: str) -> None:
        """Nobody can say how long a page is while the list is not set yet: it goes to its end then."""
        if not self.query_one(CommandList).scrollable_content_region:
            action = {"page_up": "first", "page_down": "last"}.get(action, action)
        super()._action_command_list(action)

    @on(Input.Submitted)
    @on(OptionList.OptionSelected)
    def _take_once(self, event: Input.Submitted | OptionList.OptionSelected) -> None:
        """Once it is closed, another Enter would close what is behind it, and do again what was chosen."""
        if self.app.screen is not self:
            event.stop()
            event.prevent_default()

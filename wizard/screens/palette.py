"""The palette: every action by its name."""

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.command import CommandList, CommandPalette


class Palette(CommandPalette):
    """Textual's own, with an Esc that is done before the key that comes next, and a list that can be turned before it
    is set."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "escape", "Close", id="palette-close", show=False, priority=True)
    ]

    def _action_command_list(self, action: str) -> None:
        """Nobody can say how long a page is while the list is not set yet: it goes to its end then."""
        if not self.query_one(CommandList).scrollable_content_region:
            action = {"page_up": "first", "page_down": "last"}.get(action, action)
        super()._action_command_list(action)

"""The palette: every action by its name."""

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.command import CommandPalette


class Palette(CommandPalette):
    """Textual's own, with an Esc that is done before the key that comes next."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "escape", "Close", id="palette-close", show=False, priority=True)
    ]

"""The bottom line: the keys that help most just now."""

from textual import events
from textual.widgets import Static

from wizard.keys import Action, key_line


class KeyLine(Static):
    """As many of the keys as fit into the window."""

    def __init__(self, actions: tuple[Action, ...]) -> None:
        super().__init__("", classes="key-line", markup=False)
        self._actions = actions

    def on_resize(self, event: events.Resize) -> None:
        """Fit the line to the window."""
        self.update(key_line(self._actions, event.size.width))

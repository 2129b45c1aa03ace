"""The bottom line: the keys that help most just now."""

from textual import events
from textual.widgets import Static

from wizard.keys import Action, key_line


class KeyLine(Static):
    """As many of the keys as fit into the window."""

    def __init__(self, actions: tuple[Action, ...]) -> None:
        super().__init__("", classes="key-line", markup=False)
        self._actions = actions
        self._idle: frozenset[str] = frozenset()

    def leave_out(self, idle: frozenset[str]) -> None:
        """Show no key whose action is among these.   idle: ids."""
        if idle != self._idle:
            self._idle = idle
            self._fit(self.size.width)

    def on_resize(self, event: events.Resize) -> None:
        """Fit the line to the window."""
        self._fit(event.size.width)

    def _fit(self, width: int) -> None:
        if width:
            shown = tuple(action for action in self._actions if action.id not in self._idle)
            self.update(key_line(shown, width), layout=False)

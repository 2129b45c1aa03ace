"""What all screens have in common that stand over another one."""

from typing import TypeVar

from textual.await_complete import AwaitComplete
from textual.screen import ModalScreen

Result = TypeVar("Result")


class Dialog(ModalScreen[Result]):
    """Closes once. A second Enter that was typed before the first had closed it would close what is behind it."""

    def dismiss(self, result: Result | None = None) -> AwaitComplete:
        """Close it, with what has been chosen; nothing when it is closed already."""
        return super().dismiss(result) if self.app.screen is self else AwaitComplete()

    def action_move_on(self, step: int) -> None:
        """Give the focus to the next (1) or previous (-1) part; past the last one it stays, as on the pages."""
        order = self.focus_chain
        place = order.index(self.focused) + step if self.focused in order else 0
        if 0 <= place < len(order):
            self.set_focus(order[place])

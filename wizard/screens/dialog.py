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

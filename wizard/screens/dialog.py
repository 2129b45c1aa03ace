"""What all screens have in common that stand over another one."""

from typing import TypeVar

from textual.binding import Binding
from textual.screen import ModalScreen
from textual.widgets import Static

from wizard.screens.hosted import Hosted

Result = TypeVar("Result")


def at_once(keys: str, action: str, words: str, name: str) -> Binding:
    """Keys of a screen, with priority: each is done with before the next one is, also when one types ahead."""
    return Binding(keys, action, words, id=name, show=False, priority=True)


class Dialog(Hosted, ModalScreen[Result]):
    """Gives what was chosen to whoever had it laid over; None when it was left."""

    def action_move_on(self, step: int) -> None:
        """Give the focus to the next (1) or previous (-1) part; past the last one it stays, as on the pages."""
        order = self.focus_chain
        place = order.index(self.focused) + step if self.focused in order else 0
        if 0 <= place < len(order):
            self.set_focus(order[place])

    def say(self, sentence: str) -> None:
        """Say what is wrong with what was given, in sight also where a low window leaves no room for all."""
        trouble = self.query_one(".trouble", Static)
        trouble.update(sentence)
        if sentence:
            self.call_after_refresh(trouble.scroll_visible, animate=False)

"""A list of lines to choose from."""

import time
from collections.abc import Callable
from typing import Any

from textual import events
from textual.content import Content
from textual.widgets import OptionList

from wizard.widgets.line_input import does_own_key

IN_A_ROW = 1.0
"""Seconds within which signs that are typed in a list belong together (ours)."""


class Turnable(OptionList):
    """A list that a page up or down takes to its end while it is not set: nobody can say how long a page is then.

    Its keys are done at once, so that they never move, or choose in, another list that has got the focus since.
    """

    async def _on_key(self, event: events.Key) -> None:
        if await does_own_key(self, event, but=""):
            event.stop()
            event.prevent_default()

    def action_page_up(self) -> None:
        """A page up."""
        self._turn(super().action_page_up, self.action_first)

    def action_page_down(self) -> None:
        """A page down."""
        self._turn(super().action_page_down, self.action_last)

    def _turn(self, by_a_page: Callable[[], None], to_the_end: Callable[[], None]) -> None:
        (by_a_page if self.scrollable_content_region else to_the_end)()


class Lines(Turnable):
    """What is typed leads to the next line that begins with it, or whose number stands before it: one letter or digit,
    or several in a row."""

    def __init__(self, *lines: Any, **more: Any) -> None:
        super().__init__(*lines, **more)
        self._typed, self._typed_at = "", 0.0

    async def _on_key(self, event: events.Key) -> None:
        if self._takes(event.character or ""):
            event.stop()
            event.prevent_default()

    def _takes(self, sign: str) -> bool:
        """Go where a sign leads, together with those typed just before it if that leads anywhere.   Returns: whether it
        leads anywhere."""
        if not sign.isalnum():
            return False
        now = time.monotonic()
        before, self._typed_at = self._typed if now - self._typed_at < IN_A_ROW else "", now
        self._typed = before + sign
        if before and self._goes_to(self._typed, 0):
            return True
        self._typed = sign
        return self._goes_to(sign, 1)

    def _goes_to(self, typed: str, step: int) -> bool:
        """Go to the first line that begins with what was typed; from such a line, to the next from a step on.

        Returns: whether there is one.
        """
        found = [at for at, option in enumerate(self.options) if not option.disabled and _begins(option.prompt, typed)]
        if not found:
            return False
        here = self.highlighted if self.highlighted in found else found[0] - step
        self.highlighted = next((at for at in found if at >= here + step), found[0])
        return True


def _begins(prompt: object, typed: str) -> bool:
    """Whether a line, or what follows its number, begins with what was typed, large or small."""
    text = (prompt.plain if isinstance(prompt, Content) else str(prompt)).lower().strip()
    number, _, rest = text.partition(" ")
    beginnings = (number, rest.lstrip()) if number.isdigit() else (text,)
    return any(begins.startswith(typed.lower()) for begins in beginnings)

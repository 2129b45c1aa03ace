"""A list of lines to choose from."""

from collections.abc import Callable

from textual import events
from textual.content import Content
from textual.widgets import OptionList

from wizard.widgets.line_input import does_own_key


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
    """A letter or digit leads to the next line that begins with it, or whose number stands before it."""

    async def _on_key(self, event: events.Key) -> None:
        if self._goes_to(event.character or ""):
            event.stop()
            event.prevent_default()

    def _goes_to(self, sign: str) -> bool:
        """Go to the next line that a sign leads to; from one to which it does not, to the first.   Returns: whether
        there is one."""
        found = [at for at, option in enumerate(self.options) if not option.disabled and _begins(option.prompt, sign)]
        if not sign.isalnum() or not found:
            return False
        here = self.highlighted if self.highlighted in found else -1
        self.highlighted = next((at for at in found if at > here), found[0])
        return True


def _begins(prompt: object, sign: str) -> bool:
    """Whether a line, or what follows its number, begins with a sign, large or small."""
    text = prompt.plain if isinstance(prompt, Content) else str(prompt)
    number, _, rest = text.lower().strip().partition(" ")
    beginnings = (number, rest.lstrip()) if number.isdigit() else (number,)
    return any(begins.startswith(sign.lower()) for begins in beginnings)

"""A list of lines to choose from."""

from textual import events
from textual.content import Content
from textual.widgets import OptionList

from wizard.widgets.line_input import does_own_key


class Lines(OptionList):
    """Arrows are done at once, so that they never move another list that has got the focus since. A letter or digit
    leads to the next line that begins with it, or whose number stands before it."""

    async def _on_key(self, event: events.Key) -> None:
        if await does_own_key(self, event) or self._goes_to(event.character or ""):
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

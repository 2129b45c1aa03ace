"""A list of lines to choose from."""

from textual import events
from textual.widgets import OptionList

from wizard.widgets.line_input import does_own_key


class Lines(OptionList):
    """Arrows are done at once, so that they never move another list that has got the focus since."""

    async def _on_key(self, event: events.Key) -> None:
        if await does_own_key(self, event):
            event.stop()
            event.prevent_default()

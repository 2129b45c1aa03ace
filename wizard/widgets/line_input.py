"""A line of text that takes its keys in the order in which they were typed."""

from typing import ClassVar

from textual import events
from textual.geometry import Size
from textual.reactive import Reactive
from textual.widgets import Input

from engine.quoting import JOINERS
from wizard.widgets.styled import StyledWhenMounted


def one_line(text: str) -> str:
    """What is pasted, on one line and without what cannot be typed."""
    return "".join(sign for sign in " ".join(text.split()) if sign.isprintable() or sign in JOINERS)


class LineInput(StyledWhenMounted, Input):
    """Textual hands keys such as Backspace back to the app, which does them after letters typed later; here they are
    done at once. It also leaves out what cannot be printed, and with it the signs that join letters. And it lays out
    the whole screen anew for each letter, though the field stays as wide as it is."""

    virtual_size: ClassVar[Reactive[Size]] = Reactive(Size(0, 0))  # type: ignore[misc]

    async def _on_key(self, event: events.Key) -> None:
        bindings = self._bindings.key_to_bindings.get(event.key, ()) if event.key != "enter" else ()
        if event.character in JOINERS:
            self.insert_text_at_cursor(event.character)
        elif not (bindings and await self.app.run_action(bindings[0].action, self)):
            return
        event.stop()
        event.prevent_default()

    def _on_paste(self, event: events.Paste) -> None:
        self.replace(one_line(event.text), *self.selection)
        event.stop()
        event.prevent_default()

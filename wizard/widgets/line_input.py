"""A line of text that takes its keys in the order in which they were typed."""

from textual import events
from textual.widget import Widget
from textual.widgets import Input

from engine.quoting import JOINERS
from wizard.widgets.styled import LaidOutOnce, StyledWhenMounted

LONGEST = 20_000
"""Characters of a line beyond which nothing more is pasted into it: a whole file by mistake would make the plan larger
than what can be opened again (`engine.planfile.LARGEST`). Ours."""


def one_line(text: str) -> str:
    """What is pasted, on one line and without what cannot be typed."""
    return "".join(sign for sign in " ".join(text.split()) if sign.isprintable() or sign in JOINERS)


async def does_own_key(widget: Widget, event: events.Key, but: str = "enter") -> bool:
    """Do what a widget has a key for, but for one key. Returns: whether that was done.

    Textual hands keys such as Backspace and the arrows back to the app, which does them after letters typed later.
    """
    bindings = widget._bindings.key_to_bindings.get(event.key) if event.key != but else None
    return bindings is not None and await widget.app.run_action(bindings[0].action, widget)


class LineInput(StyledWhenMounted, LaidOutOnce, Input):
    """Its own editing keys are done at once."""

    async def _on_key(self, event: events.Key) -> None:
        if event.character in JOINERS:
            self.insert_text_at_cursor(event.character)
        elif not await does_own_key(self, event):
            return
        event.stop()
        event.prevent_default()

    def action_copy(self) -> None:
        """Copy what is marked; with nothing marked, ctrl+c is meant for the program."""
        if self.selected_text:
            super().action_copy()
        else:
            self.app.action_help_quit()

    def _on_paste(self, event: events.Paste) -> None:
        text = one_line(event.text)
        if len(self.value) + len(text) > LONGEST:
            sentence = f"Not pasted: {len(text)} characters are more than a field holds. Paste a part of them."
            self.notify(sentence, markup=False, severity="warning")
        else:
            self.replace(text, *self.selection)
        event.stop()
        event.prevent_default()

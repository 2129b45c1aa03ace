"""The least that a form in Textual can be: labels and inputs, as many as the hull page has, and nothing else.

python -m tests.bench.bare_form
"""

from textual.app import App, ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Input, Label

FIELDS = 31


class BareForm(App[None]):
    """As many lines of text to fill in."""

    def compose(self) -> ComposeResult:
        with VerticalScroll(can_focus=False):
            for number in range(1, FIELDS + 1):
                yield Label(f"Field {number}")
                yield Input(compact=True)


if __name__ == "__main__":
    BareForm().run(mouse=False)

"""The safety cautions beside the review."""

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from wizard.review_lines import ESTIMATE


class CautionsPane(VerticalScroll, can_focus=False):
    """Every caution in full; PgUp and PgDn scroll."""

    def __init__(self) -> None:
        super().__init__(id="cautions")

    def compose(self) -> ComposeResult:
        yield Static("", id="cautions-text", markup=False)

    def show(self) -> None:
        """Show all cautions: a repower opens the whole boat, so every one applies to any plan."""
        from engine.machinery.cautions import CAUTIONS

        texts = [(caution.applies, caution.text) for caution in CAUTIONS.values()]
        parts = [Content.styled("Cautions; the list has each of them, too", "bold"), Content(f"* {ESTIMATE}")]
        parts += [Content.assemble(f"* {applies.capitalize()}: ", text) for applies, text in texts]
        self.query_one("#cautions-text", Static).update(Content("\n").join(parts))

    def scroll_page(self, direction: int) -> None:
        """Scroll by a page, down (1) or up (-1)."""
        self.scroll_relative(y=direction * max(self.size.height - 1, 1), animate=False)

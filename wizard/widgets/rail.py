"""The rail over every page: all nine pages, where you are, and how each one stands."""

from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets import Static

from engine.plan import PAGES, Plan
from wizard.states import state_of

if TYPE_CHECKING:
    from engine.assessment import Assessment

_ROOM_FOR_WORDS = 74


class Rail(Static):
    """Two lines: the names of the pages, and a mark with a word under each."""

    def __init__(self) -> None:
        super().__init__("", id="rail", markup=False)
        self._shown: tuple[Plan, str, Assessment | None] | None = None

    def on_resize(self) -> None:
        """Draw it for the new width."""
        if self._shown is not None:
            self.show(*self._shown)

    def show(self, plan: Plan, page: str, assessment: "Assessment | None") -> None:
        """Draw the rail anew."""
        self._shown = (plan, page, assessment)
        states = [state_of(name, plan, assessment) for name in PAGES]
        words = [f"{state.mark} {state.word}" if self.size.width >= _ROOM_FOR_WORDS else state.mark for state in states]
        widths = [max(len(name), len(word)) for name, word in zip(PAGES, words, strict=True)]
        spare = max(self.size.width - 2 - sum(widths), 0) // len(PAGES)
        widths = [width + min(max(spare, 1), 5) for width in widths]
        names: list[tuple[str, str]] = []
        marks: list[tuple[str, str]] = []
        for name, word, state, width in zip(PAGES, words, states, widths, strict=True):
            here = "bold underline $primary" if name == page else "$foreground"
            names += [(name, here), (" " * (width - len(name)), "")]
            marks += [(word, state.style), (" " * (width - len(word)), "")]
        self.update(Content.assemble(*names, "\n", *marks))

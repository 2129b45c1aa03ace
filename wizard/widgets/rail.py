"""The rail over every page: all pages, where you are, and how each one stands."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets import Static

from engine.plan import PAGES, Plan
from wizard.states import states_of
from wizard.widgets.say import say

if TYPE_CHECKING:
    from engine.assessment import Assessment

_SHORTER = {"propeller": "prop"}
"""What a name becomes in a window that has no room for all of them."""
_SHORTEST = 4
"""Letters that are left of every name in the narrowest window."""
_WIDEST_GAP = 5


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
        known = states_of(plan, assessment)
        states = [known[name] for name in PAGES]
        room = self.size.width - 2
        names, words = list(PAGES), [f"{state.mark} {state.word}" for state in states]
        if _least(names, words) > room:
            words = [state.mark for state in states]
        if _least(names, words) > room:
            names = [_SHORTER.get(name, name) for name in names]
        if _least(names, words) > room:
            names = [name[:_SHORTEST] for name in names]
        spare = max(room - _least(names, words), 0) // len(PAGES)
        gap = min(1 + spare, _WIDEST_GAP)
        over: list[tuple[str, str]] = []
        under: list[tuple[str, str]] = []
        for at, name, word, state in zip(PAGES, names, words, states, strict=True):
            width = max(len(name), len(word))
            here = "bold underline $primary" if at == page else "$foreground"
            over += [(name, here), (" " * (width - len(name) + gap), "")]
            under += [(word, state.style), (" " * (width - len(word) + gap), "")]
        say(self, Content.assemble(*over[:-1], "\n", *under[:-1]), fits=True)


def _least(names: Sequence[str], words: Sequence[str]) -> int:
    """Columns of the two lines with one space between their parts."""
    return sum(max(len(name), len(word)) for name, word in zip(names, words, strict=True)) + len(names) - 1

"""A plan of which there are two versions: what differs, and which one to go on with."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from engine.plan import Plan
from wizard.history import changes, differences
from wizard.keeping.unsaved import Other
from wizard.screens.dialog import Dialog, at_once
from wizard.widgets.lines import Turnable

SETTLES = 0.7
"""Seconds before a key is taken: the question may come in the middle of a word."""
_SHOWN = 40
"""Differences that are listed; more are counted."""


class TwoVersionsScreen(Dialog[str]):
    """Gives "this" (go on with what is on the screen), "other" or "both".

    is_outside: another program has put the other version into the file; else it is what could not be saved last time.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        at_once("pagedown", "scroll_differences(1)", "Scroll down", "differences-down"),
        at_once("pageup", "scroll_differences(-1)", "Scroll up", "differences-up"),
    ]

    def __init__(self, plan: Plan, other: Other, is_outside: bool) -> None:
        super().__init__()
        self._plan, self._other = plan, other
        self._words = _OUTSIDE if is_outside else _UNSAVED
        self._choices = ["this", "both"] if other.plan is None else ["this", "other", "both"]

    def compose(self) -> ComposeResult:
        title, column = self._words["title"], self._words["column"]
        with Vertical(classes="dialog -tall"):
            yield Static(title, classes="dialog-title", markup=False)
            with DifferenceScroll(classes="help-scroll"):
                yield Static(self._differences(column), markup=False)
            options = [Option(self._words[choice]) for choice in self._choices]
            yield Turnable(*options, markup=False, compact=True, disabled=True)
            yield Static("Enter chooses; PgUp and PgDn scroll what differs", classes="key-line", markup=False)

    def on_mount(self) -> None:
        self.set_timer(SETTLES, self._listen)

    def _listen(self) -> None:
        """Take keys from now on: whoever was typing has seen by now what is asked."""
        listing = self.query_one(OptionList)
        listing.disabled = False
        listing.highlighted = 0
        listing.focus()

    def _differences(self, column: str) -> Content:
        if self._other.plan is None:
            return Content(f"The other version cannot be read as a plan: {self._other.trouble}")
        found = list(differences(changes(self._plan, self._other.plan), self._plan))
        lines: list[Content] = []
        for label, here, there in found[:_SHOWN]:
            lines.append(Content.assemble((label, "bold"), f"\n  on this screen: {here}\n  {column}: {there}\n"))
        if len(found) > _SHOWN:
            lines.append(Content(f"and {len(found) - _SHOWN} more\n"))
        return Content.assemble(*lines) if lines else Content("Nothing that shows differs.")

    def action_scroll_differences(self, direction: int) -> None:
        self.query_one(DifferenceScroll).scroll_relative(y=direction * 8, animate=False)

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(self._choices[event.option_index])


class DifferenceScroll(Vertical, can_focus=False):
    """Scrolls by the keys of the screen; the arrows are for the list of choices."""

    DEFAULT_CSS = "DifferenceScroll { overflow-y: auto; }"


_OUTSIDE = {
    "title": "Another program has changed the file of this plan. Nothing is saved until you choose.",
    "column": "in the file",
    "this": "This screen's; the file's goes to the earlier versions",
    "other": "The file's; undo brings this screen's back",
    "both": "Both: the file's becomes a plan of its own",
}
_UNSAVED = {
    "title": "The last time, changes to this plan could not be saved in its file. They are still here.",
    "column": "not saved",
    "this": "Discard them; they go to the earlier versions",
    "other": "Use them; undo takes them back",
    "both": "Keep both: they become a plan of their own",
}

"""The words of the trade, with a line to look one up."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Input, Static

from engine.glossary import Term, find
from wizard.keys import closing
from wizard.screens.dialog import Dialog, at_once
from wizard.widgets.line_input import LineInput


class GlossaryScreen(Dialog[None]):
    """What is typed narrows the list down; words in names come first."""

    BINDINGS: ClassVar[list[BindingType]] = [
        closing("glossary", "enter"),
        at_once("down", "scroll(3)", "Down", "glossary-down"),
        at_once("up", "scroll(-3)", "Up", "glossary-up"),
        at_once("pagedown", "page(1)", "A page down", "glossary-page-down"),
        at_once("pageup", "page(-1)", "A page up", "glossary-page-up"),
    ]

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog -tall"):
            yield Static("Glossary", classes="dialog-title", markup=False)
            yield LineInput(placeholder="type a word to look it up", compact=True, id="glossary-words")
            with VerticalScroll(classes="help-scroll", can_focus=False):
                yield Static("", id="glossary-terms", markup=False)
            yield Static("Arrows and PgDn scroll, Esc closes", classes="key-line", markup=False)

    def on_mount(self) -> None:
        self._show("")

    @on(Input.Changed)
    def _typed(self, event: Input.Changed) -> None:
        self._show(event.value)

    @on(Input.Submitted)
    def _read(self) -> None:
        self.dismiss()

    def _show(self, words: str) -> None:
        found = find(words)
        text = Content("\n\n").join([_term(term) for term in found])
        nothing = "No word like that here. Try a shorter piece of it."
        self.query_one("#glossary-terms", Static).update(text if found else nothing)
        self.call_after_refresh(self.query_one(VerticalScroll).scroll_home, animate=False)

    def action_scroll(self, lines: int) -> None:
        """Scroll by some lines."""
        self.query_one(VerticalScroll).scroll_relative(y=lines, animate=False)

    def action_page(self, direction: int) -> None:
        """Scroll by a page."""
        pane = self.query_one(VerticalScroll)
        pane.scroll_relative(y=direction * max(pane.size.height - 1, 1), animate=False)


def _term(term: Term) -> Content:
    also = f"  (also {', '.join(term.also)})" if term.also else ""
    return Content.assemble((term.name, "bold $primary"), (also, "$quiet"), f"\n{term.text}")

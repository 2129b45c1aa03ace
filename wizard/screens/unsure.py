"""How sure is the owner of a number? Low, best and high on three lines, or the plain answer that it is not known."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widgets import Button, Input, Static

from engine.entries import NOT_KNOWN, Kind
from engine.plan import Plan, entry_at, label_at, text_at, value_at, why_unread, with_text
from engine.showing import band_text
from engine.units import Quantity
from wizard.echo import not_known_text, taken_instead, usual_words
from wizard.keys import closing
from wizard.screens.dialogs import FormDialog
from wizard.screens.help import unsure_text
from wizard.widgets.line_input import LineInput

_PARTS = ("low", "best", "high")


class UnsureScreen(FormDialog[str]):
    """Gives the text for the field; Esc gives none."""

    BINDINGS: ClassVar[list[BindingType]] = [
        closing("unsure"),
    ]
    AUTO_FOCUS = "#unsure-best, #unknown"
    DEFAULT_CSS = """
    UnsureScreen .quiet { color: $quiet; margin-top: 1; }
    """

    def __init__(self, plan: Plan, path: str) -> None:
        super().__init__()
        self._plan, self._path = plan, path
        self._entry = entry_at(path)

    def compose(self) -> ComposeResult:
        usual = usual_words(self._plan, self._path)
        with Vertical(classes="dialog"):
            yield Static(f"{label_at(self._plan, self._path)}: how sure are you?", classes="dialog-title", markup=False)
            if self._entry.kind is Kind.QUANTITY:
                texts = _texts(self._plan, self._path)
                for part in _PARTS:
                    with Horizontal(classes="head-line"):
                        yield Static(part.capitalize(), classes="label", markup=False)
                        yield LineInput(texts[part], id=f"unsure-{part}", compact=True, select_on_focus=False)
                if unsure_text(self._path):
                    yield Static(unsure_text(self._path), classes="quiet", markup=False)
            if usual:
                yield Static(usual, classes="quiet", markup=False)
            yield Static("", classes="trouble", markup=False)
            with Horizontal(classes="dialog-buttons"):
                if self._entry.kind is Kind.QUANTITY:
                    yield Button(Content("Take these"), id="take", compact=True)
                if self._entry.can_be_unknown:
                    yield Button(Content("I do not know it"), id="unknown", compact=True)
            if self._entry.can_be_unknown:
                taken = taken_instead(self._plan, self._path)
                words = f", the plan goes on with: {taken}" if taken else f": {not_known_text(self._plan, self._path)}"
                yield Static(f"Not known{words}.", classes="quiet", markup=False)
            else:
                sentence = "It is needed, and no guess can stand for it. The help on the field says how to find it out."
                yield Static(sentence, classes="quiet", markup=False)

    @on(Button.Pressed, "#unknown")
    def _not_known(self) -> None:
        self.dismiss(NOT_KNOWN)

    @on(Button.Pressed, "#take")
    def _take(self) -> None:
        low, best, high = (self.query_one(f"#unsure-{part}", Input).value.strip() for part in _PARTS)
        if bool(low) != bool(high):
            self.say("Give both low and high, or neither.")
            return
        if not best:
            self.say(f"Give the best value{', or say that you do not know it' if self._entry.can_be_unknown else ''}.")
            return
        text = band_text(best, low, high) if low else best
        tried = with_text(self._plan, self._path, text)
        if self._path in tried.unread:
            self.say(why_unread(tried, self._path))
        else:
            self.dismiss(text_at(tried, self._path))


def _texts(plan: Plan, path: str) -> dict[str, str]:
    """What stands in the three lines at first."""
    value = value_at(plan, path)
    if not isinstance(value, Quantity):
        return {"low": "", "best": "" if path in plan.not_known else text_at(plan, path), "high": ""}
    low, high = (part.text if part is not None else "" for part in (value.low, value.high))
    return {"low": low, "best": value.text, "high": high}

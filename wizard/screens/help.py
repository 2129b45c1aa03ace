"""The help: on the field with the focus, on the page, and on the keys."""

from dataclasses import dataclass
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from engine.doubts import usual_doubt
from engine.entries import Entry, Kind
from engine.plan import QUESTIONS, entry_at, label_at
from wizard.echo import limits_text, understood
from wizard.keys import LIST_ACTIONS, MOVING, PLAN_ACTIONS, WORKINGS_ACTIONS, Action, closing
from wizard.screens.dialog import Dialog

WRITING = (
    "Write numbers in any unit, with a comma or a point: 36 ft 6 in, 11,13 m, 55 hp. A bare number takes the unit "
    "shown in the field. When you are unsure, write best (low to high): 6.5 t (6 t to 7.2 t)."
)

REVIEWING = (
    "What can be ordered, what cannot yet; then what stops, is missing, wants a second look or is taken for granted. "
    "Enter goes to the page and field of a line, Esc comes back. Name and notes of the plan stand above the list."
)

LISTING = (
    "Each plan is one boat, kept in a file of its own; Enter goes on where you left it. Every change is saved within a "
    "second. A demonstration opens as a copy that is yours to change. The first time, take the guided tour."
)

EXPLAINING = (
    "Each line is a number of the page. Its working says in words and as a formula where the number comes from: what "
    "goes in and what it is now, the source, where the formula holds, and what other methods say. Enter goes into what "
    "goes in, from answer to answer, down to a field that you have filled in; there Enter leaves for that field."
)


@dataclass(frozen=True)
class _Place:
    """Where help is asked for.   title, words: what it is and what to do there.   actions: what keys do there.
    everywhere: keys that need no table of actions.
    """

    title: str
    words: str
    actions: tuple[Action, ...]
    everywhere: tuple[tuple[str, str], ...] = MOVING


_NO_PAGES = {
    "": _Place("This is the list of plans", LISTING, LIST_ACTIONS),
    "workings": _Place("This is how the numbers of the page were worked out", EXPLAINING, WORKINGS_ACTIONS, ()),
}


def _place(page: str) -> _Place:
    """page: as of `HelpScreen`."""
    if page in _NO_PAGES:
        return _NO_PAGES[page]
    words = REVIEWING if page == "review" else WRITING
    return _Place(f"This page asks: {QUESTIONS[page]}", words, PLAN_ACTIONS)


class HelpScreen(Dialog[None]):
    """Everything that is known about a field, then the keys.

    page: of the plan, or "workings", or "" for the list of plans.   path: "" when no field is meant.
    line: paragraphs of a line of the review, for which the pane beside may be short.
    """

    BINDINGS: ClassVar[list[BindingType]] = [closing("help", "enter")]

    def __init__(self, page: str, path: str = "", line: tuple[str, ...] = ()) -> None:
        super().__init__()
        self._place, self._path, self._line = _place(page), path, line

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog -tall"):
            with VerticalScroll(classes="help-scroll"):
                yield Static(self._text(), id="help-text", markup=False)
            yield Static("Arrows and PgDn scroll, Esc closes", classes="key-line", markup=False)

    def on_mount(self) -> None:
        self.query_one(VerticalScroll).focus()

    def _text(self) -> Content:
        parts = field_help(self._path, label_at(self.plan, self._path)) if self._path else []
        if self._line:
            parts += [Content.styled("This line", "bold"), *map(Content, self._line), Content("")]
        place = self._place
        parts += [Content.styled(place.title, "bold"), Content(place.words), Content("")]
        wide = max(len(action.key_names) for action in place.actions)
        parts.append(Content.styled("Keys", "bold"))
        parts += [
            Content.assemble((f"{action.key_names.ljust(wide)}  ", "$primary"), f"{action.title}. {action.tooltip}")
            for action in place.actions
        ]
        parts += [Content.assemble((keys, "$primary"), f": {words}") for keys, words in place.everywhere]
        return Content("\n").join(parts)


def unsure_text(path: str) -> str:
    """How to write an unsure value, and how unsure a number by itself is taken to be; "" where it makes no odds."""
    doubt = usual_doubt(path.rpartition(".")[2])
    if doubt is None:
        return ""
    low, high = (f"{100.0 * end:+g} %" if doubt.is_share else f"{end:+g}" for end in (doubt.low, doubt.high))
    return (
        "Write best (low to high); one time in ten it is below the low, one in ten above the high. One number by "
        f"itself is taken to be out by {low} to {high}, our own choice."
    )


def _default(entry: Entry) -> str:
    """The default of a field, a quantity in both its units."""
    return understood(entry, entry.read(entry.default)) if entry.kind is Kind.QUANTITY else entry.default


def field_help(path: str, label: str) -> list[Content]:
    """What a field is, how to measure it aboard, what it changes, its default and what can be believed."""
    entry = entry_at(path)
    default = f"{_default(entry)}. Source: {entry.default_source}." if entry.default else ""
    empty = "It is needed; the plan waits for it." if entry.needed else "It is left out or estimated."
    rows = [
        ("What it is", entry.what),
        ("How to measure it aboard", entry.how),
        ("What it changes", entry.changes),
        (
            "When it is empty",
            default or empty,
        ),
        ("When you are not sure", unsure_text(path)),
        ("Believable", limits_text(entry)),
        ("Choices", "; ".join(entry.choices)),
    ]
    parts = [Content.styled(label, "bold $primary"), Content("")]
    for words, text in rows:
        if text:
            parts += [Content.styled(words, "bold"), Content(text), Content("")]
    return parts

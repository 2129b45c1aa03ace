"""One field of the form: its label, the text as the owner types it, and what was understood."""

from dataclasses import dataclass
from typing import Any

from rich.cells import cell_len
from textual import events, on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Input, Select, Static

from engine.entries import Entry, Kind
from engine.plan import Plan, entry_at, text_at, value_at, why_unread
from wizard.echo import default_text, echo, echoes_value, placeholder
from wizard.widgets.choice import Choice
from wizard.widgets.line_input import LineInput
from wizard.widgets.say import say
from wizard.widgets.styled import StyledWhenMounted

_SHORT = 15
"""Signs that fit into a text field beside its echo; a longer text takes the line, and the echo goes under it."""


@dataclass
class Edited(Message):
    """The owner changed the text of a field."""

    path: str
    text: str


@dataclass
class Accepted(Message):
    """The owner pressed Enter in a field, or picked a choice: on to the next one."""

    path: str


@dataclass
class Focused(Message):
    """A field got the focus."""

    path: str


class FieldInput(LineInput):
    """A text field that knows its path. What is typed is only tidied when the field is left."""

    def __init__(self, plan: Plan, path: str) -> None:
        entry = entry_at(path)
        super().__init__(
            text_at(plan, path), placeholder=placeholder(entry, plan.units), compact=True, select_on_focus=False
        )
        self.path = path
        self._plan = plan
        self.cursor_blink = False

    def show(self, plan: Plan) -> None:
        """Take over a newer plan; the text is left alone while it is being typed."""
        self._plan = plan
        self.placeholder = placeholder(entry_at(self.path), plan.units)
        if not self.has_focus:
            self.tidy()

    def tidy(self) -> None:
        """Show the text as the plan keeps it."""
        kept = text_at(self._plan, self.path)
        if kept != self.value:
            with self.prevent(Input.Changed):
                self.value = kept
            self.cursor_position = len(kept)

    @on(Input.Changed)
    def _edited(self, event: Input.Changed) -> None:
        event.stop()
        if event.value != text_at(self._plan, self.path):
            self.post_message(Edited(self.path, event.value))

    @on(Input.Submitted)
    def _accepted(self, event: Input.Submitted) -> None:
        event.stop()
        self.post_message(Accepted(self.path))

    @on(events.Focus)
    def _focused(self) -> None:
        self.cursor_position = len(self.value)
        self.post_message(Focused(self.path))

    @on(events.Blur)
    def _left(self) -> None:
        self.tidy()


class FieldChoice(StyledWhenMounted, Choice):
    """A list of choices that knows its path."""

    def __init__(self, plan: Plan, path: str) -> None:
        entry = entry_at(path)
        self.path = path
        self._known = self._kept(plan)
        super().__init__(
            [(choice, choice) for choice in entry.choices],
            prompt=default_text(entry, plan.units) or "choose",
            value=self._known or Select.NULL,
            compact=True,
        )

    def _kept(self, plan: Plan) -> str | None:
        """The choice that the plan has; None for none, or for a word that is not among the choices."""
        value = value_at(plan, self.path)
        return value if isinstance(value, str) and value in entry_at(self.path).choices else None

    def show(self, plan: Plan) -> None:
        """Take over the choice of a newer plan."""
        kept = self._kept(plan)
        if kept != self._known:
            self._known = kept
            self.value = kept or Select.NULL

    @on(Select.Changed)
    def _edited(self, event: Select.Changed) -> None:
        event.stop()
        if self.selection == self._known:
            return  # the first value, set while mounting, is no edit; text that was not understood stays
        self._known = self.selection
        self.post_message(Edited(self.path, self.selection or ""))
        if self.has_focus_within:
            self.post_message(Accepted(self.path))

    def on_select_overlay_update_selection(self, event: Any) -> None:
        """Picking the choice that stands already is no change, but the owner is done here all the same."""
        offered = (None, *entry_at(self.path).choices)
        if offered[event.option_index] == self.selection:
            self.call_after_refresh(self.post_message, Accepted(self.path))

    @on(events.Focus)
    def _focused(self) -> None:
        self.post_message(Focused(self.path))


def control(plan: Plan, path: str) -> FieldInput | FieldChoice:
    """The widget in which a field is entered."""
    return FieldChoice(plan, path) if entry_at(path).kind is Kind.CHOICE else FieldInput(plan, path)


class FieldLine(StyledWhenMounted, Horizontal):
    """A field on one line, with the sentence about what is wrong under it: that is a widget of its own, beside the line
    in the form, and comes with the first use, since most fields never need it."""

    def __init__(self, plan: Plan, path: str) -> None:
        super().__init__(classes="field")
        self.path = path
        self._plan = plan
        self.entry: Entry = entry_at(path)
        self._field = control(plan, path)
        self._echo = Static("", classes="echo", markup=False)
        self._told: Static | None = None
        self.set_class(self.entry.kind is Kind.CHOICE, "-choice")
        self.set_class(self.entry.kind is Kind.TEXT, "-words")

    def compose(self) -> ComposeResult:
        yield Static(self.entry.label, classes="label", markup=False)
        yield self._field
        yield self._echo

    @property
    def field(self) -> FieldInput | FieldChoice:
        """The widget in which it is entered."""
        return self._field

    def on_mount(self) -> None:
        self.show(self._plan)

    def show(self, plan: Plan) -> None:
        """Show what the plan has for this field. A sentence about unfinished text waits until the field is left."""
        self._plan = plan
        field = self._field
        field.show(plan)
        is_value, text = echoes_value(plan, self.path), echo(plan, self.path)
        shown = f"= {text}" if is_value else text
        is_long = is_value and len(text_at(plan, self.path)) > _SHORT
        self.set_class(is_long, "-long")
        self._say_echo("" if is_long else shown)
        self.set_class(self.path in plan.unread, "-unread")
        self.set_class(text == "needed", "-needed")
        sentence = why_unread(plan, self.path) or (shown if is_long else "")
        if not sentence or not field.has_focus or isinstance(field, FieldChoice):
            self._tell(sentence, is_long)

    def _say_echo(self, text: str) -> None:
        """Beside the field; only what is longer than its line there can move anything."""
        room = 0 if self.entry.kind is Kind.TEXT else self._echo.content_size.width
        say(self._echo, text, fits=max(cell_len(text), cell_len(str(self._echo.content))) <= room)

    def _tell(self, sentence: str, is_value: bool) -> None:
        if self._told is None and sentence and isinstance(self.parent, Widget):
            self._told = Static("", classes="trouble", markup=False)
            self.parent.mount(self._told, after=self)
        if self._told is not None:
            say(self._told, sentence)
            self._told.display = bool(sentence)
            self._told.set_class(is_value, "-value")
            self._align()

    @on(events.Resize)
    def _align(self) -> None:
        """Put what was understood under the field itself; the label before it has no fixed width."""
        if self._told is not None and self._told.has_class("-value"):
            self._told.styles.padding = (0, 0, 0, self.field.region.x - self.region.x)
        elif self._told is not None:
            self._told.styles.clear_rule("padding")

    @on(events.DescendantBlur)
    def _left(self) -> None:
        self.show(self._plan)

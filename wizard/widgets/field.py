"""One field of the form: its label, the text as the owner types it, and what was understood."""

from dataclasses import dataclass, replace

from textual import events, on
from textual.app import ComposeResult
from textual.content import Content
from textual.geometry import NULL_OFFSET, NULL_SPACING, Region, Size
from textual.layout import ArrangeResult, Layout, WidgetPlacement
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Input

from engine.entries import Kind
from engine.plan import Plan, entry_at, text_at, value_at
from wizard.echo import default_text, placeholder
from wizard.widgets.choice import Choice
from wizard.widgets.field_texts import SetLine, texts_of
from wizard.widgets.line_input import LineInput
from wizard.widgets.styled import LaidOutOnce, StyledWhenMounted


@dataclass
class Edited(Message):
    """The owner changed the text of a field.   takes: of the field, by then."""

    field: "FieldInput | FieldChoice"
    text: str
    takes: int

    @property
    def is_overtaken(self) -> bool:
        """Whether a later text of the field has been taken over whole, and maybe taken back since."""
        return self.takes != self.field.takes


@dataclass
class Accepted(Message):
    """The owner pressed Enter in a field: on to the next one."""

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
        self._told = self.value
        self.takes = 0
        """How often its text was taken over whole, with all that it had told before."""
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
                self.value = self._told = kept
            self.cursor_position = len(kept)

    @on(Input.Changed)
    def _edited(self, event: Input.Changed) -> None:
        event.stop()
        if event.value != self._told:  # not what the plan has: letters may still be on their way to it
            self._told = event.value
            self.post_message(Edited(self, event.value, self.takes))

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


class FieldChoice(Choice):
    """A list of choices that knows its path."""

    takes = 0
    """As of a text field."""

    def __init__(self, plan: Plan, path: str) -> None:
        entry = entry_at(path)
        self.path = path
        options = [(choice, choice) for choice in entry.choices]
        super().__init__(options, self._kept(plan), default_text(plan, path) or "choose")

    def _kept(self, plan: Plan) -> str | None:
        """The choice that the plan has; None for none, or for a word that is not among the choices."""
        value = value_at(plan, self.path)
        return value if isinstance(value, str) and value in entry_at(self.path).choices else None

    def show(self, plan: Plan) -> None:
        """Take over the choice of a newer plan."""
        kept = self._kept(plan)
        if kept != self.selection:
            self.choose(kept)

    def tell(self) -> None:
        """Tell what has been chosen, as a field."""
        self.post_message(Edited(self, self.selection or "", self.takes))

    @on(events.Focus)
    def _focused(self) -> None:
        self.post_message(Focused(self.path))


def control(plan: Plan, path: str) -> FieldInput | FieldChoice:
    """The widget in which a field is entered."""
    return FieldChoice(plan, path) if entry_at(path).kind is Kind.CHOICE else FieldInput(plan, path)


class _BetweenTexts(Layout):
    """The control of a field, in the place that the texts of its line leave for it."""

    name = "between-texts"

    def arrange(self, parent: Widget, children: list[Widget], size: Size, greedy: bool = True) -> ArrangeResult:
        del greedy
        assert isinstance(parent, FieldLine)
        line = parent.set_for(size.width)
        region = Region(line.begin, 0, line.end - line.begin, parent.control_rows(line))
        return [WidgetPlacement(region, NULL_OFFSET, NULL_SPACING, child) for child in children]


_BETWEEN_TEXTS = _BetweenTexts()


class FieldLine(StyledWhenMounted, LaidOutOnce, Widget):
    """A field on one line, with the sentence about what is wrong under it.

    It draws all that is said around its control by itself: a widget for each text takes twice the time and memory.
    """

    def __init__(self, plan: Plan, path: str) -> None:
        super().__init__(classes="field")
        self.path = path
        self._plan = plan
        self._field = control(plan, path)
        self.texts = texts_of(plan, path)

    def compose(self) -> ComposeResult:
        yield self._field

    @property
    def field(self) -> FieldInput | FieldChoice:
        """The widget in which it is entered."""
        return self._field

    @property
    def layout(self) -> Layout:
        return _BETWEEN_TEXTS

    def show(self, plan: Plan) -> None:
        """Show what the plan has for this field. A sentence about unfinished text waits until the field is left."""
        self._plan = plan
        field, before, texts = self._field, self.texts, texts_of(plan, self.path)
        field.show(plan)
        if texts.under and field.has_focus and isinstance(field, FieldInput):
            texts = replace(texts, under=before.under, is_value=before.is_value)
        if texts != before:
            shape = self._shape()
            self.texts = texts
            if self._shape() != shape:
                field.refresh(layout=True)  # and with it this line, and what it stands in
            self.refresh()

    def _shape(self) -> tuple[int, ...]:
        line = self.set_for(self.size.width)
        return line.shape(self.control_rows(line))

    def set_for(self, width: int) -> SetLine:
        """The line in so many columns."""
        return self.texts.set_for(width, self.screen.has_class("-wide"))

    def control_rows(self, line: SetLine) -> int:
        """Rows that the control takes."""
        viewport = self.app.viewport_size
        return self._field.get_content_height(viewport, viewport, line.end - line.begin)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Rows of the line with what stands under it."""
        del container, viewport
        line = self.set_for(width)
        return line.head_rows(self.control_rows(line)) + len(line.under)

    def render(self) -> Content:
        """All but the control."""
        line = self.set_for(self.size.width)
        return self.texts.drawn(line, self.control_rows(line), self.has_focus_within)

    @on(events.DescendantFocus)
    def _entered(self) -> None:
        self.refresh()
        if self.texts.under:  # the control is in sight by itself, but not what is said of it
            self.scroll_visible(animate=False)

    @on(events.DescendantBlur)
    def _left(self) -> None:
        self.show(self._plan)
        self.refresh()

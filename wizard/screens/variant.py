"""The form of a variant: its name, and the decisions in which it may differ from the plan."""

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Button, Input, Static

from engine.plan import Plan, Variant, entry_at, text_at, with_text
from engine.variants import ENGINE, VARIED, choices_of, varied_plan
from wizard.screens.dialogs import FormDialog
from wizard.widgets.choice import Choice
from wizard.widgets.field import Accepted, Edited, FieldLine, Focused
from wizard.widgets.line_input import LineInput


class EngineChoice(Choice):
    """One of the candidates."""


class FormScroll(VerticalScroll, can_focus=False, inherit_bindings=False):
    """Scrolls with the focus; the arrows are for going from field to field."""


class VariantScreen(FormDialog[Variant]):
    """Gives the variant; Esc gives none.   taken: names that other variants have."""

    AUTO_FOCUS = "#variant-name"

    def __init__(self, plan: Plan, variant: Variant, taken: frozenset[str]) -> None:
        super().__init__()
        self._plan = varied_plan(plan, variant.choices)
        self._name, self._taken = variant.name, taken

    def compose(self) -> ComposeResult:
        names = [item.name for item in self._plan.engine.all if item.name]
        selected = self._plan.engine.selected
        chosen = selected.name if selected is not None and selected.name in names else None
        with Vertical(classes="dialog -tall"):
            yield Static("A variant: what differs from the plan?", classes="dialog-title", markup=False)
            with FormScroll(classes="help-scroll"):
                with Horizontal(classes="head-line"):
                    yield Static("Name", classes="label", markup=False)
                    yield LineInput(self._name, id="variant-name", compact=True, select_on_focus=True)
                with Horizontal(classes="head-line"):
                    yield Static("Engine", classes="label", markup=False)
                    yield EngineChoice([(name, name) for name in names], chosen, "choose")
                for path in VARIED:
                    if path != ENGINE:
                        yield FieldLine(self._plan, path)
                yield Button(Content("Keep this variant"), id="keep", compact=True)
            yield Static("", classes="trouble", markup=False)
            yield Static("Enter goes on, Esc changes nothing", classes="key-line", markup=False)

    @on(Edited)
    def _edited(self, message: Edited) -> None:
        message.stop()
        self._plan = with_text(self._plan, message.field.path, message.text)
        for line in self.query(FieldLine):
            if line.field is message.field:
                line.show(self._plan)

    @on(Choice.Changed)
    def _engine(self, event: Choice.Changed) -> None:
        if isinstance(event.choice, EngineChoice):
            event.stop()
            name = event.selection or ""
            if name and name != text_at(self._plan, ENGINE):
                self._plan = with_text(self._plan, ENGINE, name)

    @on(Focused)
    def _focused(self, message: Focused) -> None:
        message.stop()

    @on(Accepted)
    def _accepted(self, message: Accepted) -> None:
        message.stop()

    @on(Button.Pressed, "#keep")
    def _keep(self) -> None:
        name = self.query_one("#variant-name", Input).value.strip()
        if not name or name in self._taken:
            sentence = "Another variant has that name. Choose another." if name else "Give the variant a name."
            self.say(sentence)
            self.query_one("#variant-name").focus()
            return
        unread = next((line for line in self.query(FieldLine) if line.path in self._plan.unread), None)
        if unread is not None:
            label = entry_at(unread.path).label
            self.say(f"Not understood: {label}. Correct it, or empty it.")
            unread.field.focus()
            return
        self.dismiss(Variant(name, choices_of(self._plan)))

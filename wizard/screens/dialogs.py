"""Small dialogs over an open plan. Each gives one typed result; Esc gives none."""

from collections.abc import Iterator, Mapping
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widgets import Button, Input, OptionList, Static
from textual.widgets.option_list import Option

from engine.plan import PAGES, QUESTIONS
from wizard.examples import examples_for, summary
from wizard.screens.dialog import Dialog, Result, at_once
from wizard.screens.hosted import ShowsResults
from wizard.screens.typing import seen_by
from wizard.states import states_of
from wizard.widgets.choice import Choice, ChoiceList
from wizard.widgets.lines import Lines

ESCAPE = at_once("escape", "dismiss", "Close", "close")
"""With priority, so that a key which comes together with Esc goes to what is behind the dialog."""


def going_on(dialog: str, words: str) -> Binding:
    """Enter, before the part that has the focus gets it."""
    return at_once("enter", "go_on", words, f"{dialog}-on")


def moving(
    dialog: str,
    part: str,
    following: str,
    before: str,
    actions: tuple[str, str] = ("app.focus_next", "app.focus_previous"),
) -> list[BindingType]:
    """The keys that lead to the following part of a dialog and to the one before, in the order of typing."""
    to_next, to_previous = actions
    return [
        at_once(following, to_next, f"Next {part}", f"{dialog}-next"),
        at_once(before, to_previous, f"{part.capitalize()} before", f"{dialog}-previous"),
    ]


class FormDialog(Dialog[Result]):
    """A dialog with fields. Keys that move the focus are done here in the order of typing, as on the pages."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ESCAPE,
        going_on("form", "Next field"),
        *moving("form", "field", "down,tab", "up,shift+tab", ("move(1)", "move(-1)")),
    ]

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """An open list of choices keeps its keys, but for Enter; a button keeps Enter."""
        del parameters
        if action == "go_on":
            return isinstance(self.focused, Input | Choice | ChoiceList)
        return action not in ("move", "dismiss") or not isinstance(self.focused, ChoiceList)

    async def action_go_on(self) -> None:
        await seen_by(self.focused)
        widget = self.focused
        if isinstance(widget, Choice):
            widget.action_show_overlay()
            return
        if isinstance(widget, ChoiceList):
            await seen_by(widget)
            widget.choice.pick()
        self.action_move_on(1)

    async def action_move(self, step: int) -> None:
        await seen_by(self.focused)
        if isinstance(self.focused, ChoiceList):
            self.focused.step(step)
        else:
            self.action_move_on(step)


class ConfirmScreen(Dialog[bool]):
    """A question with two buttons; the careful one has the focus."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ESCAPE,
        *moving("confirm", "button", "right,down,tab", "left,up,shift+tab", ("move_on(1)", "move_on(-1)")),
    ]
    AUTO_FOCUS = "#no"

    def __init__(self, question: str, yes: str, no: str) -> None:
        super().__init__()
        self._words = (question, yes, no)

    def compose(self) -> ComposeResult:
        question, yes, no = self._words
        with Vertical(classes="dialog"):
            yield Static(question, markup=False)
            with Horizontal(classes="dialog-buttons"):
                yield Button(Content(no), id="no", compact=True)
                yield Button(Content(yes), id="yes", compact=True)

    @on(Button.Pressed)
    def _pressed(self, event: Button.Pressed) -> None:
        self.dismiss(event.button.id == "yes")


class PageList(ShowsResults, Dialog[str]):
    """All pages with their questions, how they stand, and what the last change upset; gives the one chosen."""

    BINDINGS: ClassVar[list[BindingType]] = [ESCAPE]

    def __init__(self, page: str) -> None:
        super().__init__()
        self._page = page

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog"):
            yield Static("Go to a page (Enter goes, Esc stays)", classes="dialog-title", markup=False)
            yield Lines(*map(Option, self._lines()), markup=False, compact=True)

    def on_mount(self) -> None:
        self.query_one(OptionList).highlighted = PAGES.index(self._page)

    def refresh_results(self) -> None:
        """Show how the pages stand now."""
        for listing in self.query(OptionList):
            for at, line in enumerate(self._lines()):
                listing.replace_option_prompt_at_index(at, line)

    def _lines(self) -> Iterator[Content]:
        states, upsets = states_of(self.plan, self.host.assessment), self.host.upsets
        for number, page in enumerate(PAGES, start=1):
            yield Content.assemble(
                f"{number:>2}  {page.ljust(11)}{QUESTIONS[page].ljust(28)}",
                (f"{states[page].mark} {states[page].word}", states[page].style),
                (f"\n    changed: {upsets[page]}" if page in upsets else "", "$warning"),
            )

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(PAGES[event.option_index])


class DoList(Dialog[str]):
    """What can be done; gives the key of what was chosen."""

    BINDINGS: ClassVar[list[BindingType]] = [ESCAPE]

    def __init__(self, title: str, offered: Mapping[str, str]) -> None:
        super().__init__()
        self._title, self._offered = title, offered

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog"):
            yield Static(self._title, classes="dialog-title", markup=False)
            yield Lines(*[Option(words) for words in self._offered.values()], markup=False, compact=True)

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(list(self._offered)[event.option_index])


class ExampleList(DoList):
    """Invented candidates of one kind; gives the name of the one that was chosen."""

    def __init__(self, table: str, units: str) -> None:
        examples = examples_for(table)
        width = max(len(name) for name in examples)
        super().__init__(
            "Start from an invented example (Enter takes it, Esc does not). It stands for no engine on the market: "
            "put a data sheet's figures in its place before you order.",
            {name: f"{name.ljust(width)}  {summary(example, units)}" for name, example in examples.items()},
        )

"""Which sheet, in which form, and where to: three choices, Enter by Enter."""

import os
from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from engine.planfile import shown
from wizard.screens.dialog import Dialog
from wizard.screens.dialogs import ESCAPE, going_on, moving
from wizard.screens.typing import seen_by
from wizard.sheet_choice import FORMS, SHEETS, Wanted, is_of_a_plan, proposed
from wizard.widgets.line_input import LineInput
from wizard.widgets.lines import Lines


class SheetScreen(Dialog[Wanted]):
    """Gives what is wanted. A file that is there is only replaced after a second Enter."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ESCAPE,
        going_on("sheet", "Go on from a list"),
        *moving("sheet", "choice", "tab", "shift+tab"),
    ]
    DEFAULT_CSS = """
    SheetScreen #choices { height: auto; margin-bottom: 1; }
    SheetScreen .choice { width: 1fr; height: auto; }
    SheetScreen .choice-title { color: $secondary; text-style: bold; }
    SheetScreen OptionList { margin-right: 2; }
    """

    def __init__(self, plan_path: Path, sheet: str = "") -> None:
        """sheet: one that is chosen already; "" asks for it first."""
        super().__init__()
        self._plan_path = plan_path
        self._sheets, self._forms = dict(SHEETS), list(FORMS)
        self._first = sheet if sheet in self._sheets else ""
        self._proposal = str(proposed(plan_path, self._first or next(iter(self._sheets)), self._forms[0]))
        self._confirmed: Path | None = None

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog"):
            yield Static("Write a sheet to a file. Enter goes on, Tab goes round, Esc leaves.", classes="dialog-title")
            with Horizontal(id="choices"):
                with Vertical(classes="choice"):
                    yield Static("Sheet", classes="choice-title", markup=False)
                    titles = [Option(title) for title in self._sheets.values()]
                    yield Lines(*titles, id="sheet", markup=False, compact=True)
                with Vertical(classes="choice"):
                    yield Static("Form", classes="choice-title", markup=False)
                    words = [Option(f"{name}: {form.words}") for name, form in FORMS.items()]
                    yield Lines(*words, id="form", markup=False, compact=True)
            yield Static("File", classes="choice-title", markup=False)
            yield LineInput(self._proposal, compact=True, select_on_focus=False)
            yield Static("", classes="trouble", markup=False)

    def on_mount(self) -> None:
        self._list("sheet").highlighted = list(self._sheets).index(self._first) if self._first else 0
        self._list("form").highlighted = 0
        self.set_focus(self._list("form" if self._first else "sheet"))

    def _list(self, name: str) -> OptionList:
        return self.query_one(f"#{name}", OptionList)

    @property
    def _sheet(self) -> str:
        return list(self._sheets)[self._list("sheet").highlighted or 0]

    @property
    def _form(self) -> str:
        return self._forms[self._list("form").highlighted or 0]

    @on(OptionList.OptionHighlighted)
    def _propose(self) -> None:
        """Propose another name, unless the owner has typed one."""
        field = self.query_one(LineInput)
        proposal = str(proposed(self._plan_path, self._sheet, self._form))
        if field.value == self._proposal:
            field.value = proposal
            field.cursor_position = len(proposal)
        self._proposal = proposal

    # Enter moves the focus here, before the next key is handed on, so that quick typing lands in the field.

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Enter in the field is left to it: it comes after all that was typed there."""
        del parameters
        return action != "go_on" or isinstance(self.focused, OptionList)

    async def action_go_on(self) -> None:
        """From the sheets to the forms, from there to the file."""
        await seen_by(self.focused)
        if self.focused is self._list("sheet"):
            self.set_focus(self._list("form"))
            return
        field = self.query_one(LineInput)
        field.cursor_position = len(field.value)
        self.set_focus(field)

    @on(Input.Changed)
    def _changed(self) -> None:
        """Another name is asked about anew."""
        self._confirmed = None
        self.say("")

    @on(Input.Submitted)
    def _accepted(self, event: Input.Submitted) -> None:
        target = Path(os.path.expanduser(event.value.strip()))
        wanted = Wanted(self._sheet, self._form, target)
        is_there = os.path.exists(target)  # unlike Path.exists also of a name that no file can have
        if wanted.is_folder and self._sheet != next(iter(self._sheets)):
            self.say(f"The curves are those of the whole plan: choose that sheet, or another form than {self._form}.")
        elif wanted.is_folder and is_there and not os.path.isdir(target):
            self.say("That is a file, and the curves are one file each. Write the name of a folder.")
        elif not event.value.strip() or (os.path.isdir(target) and not wanted.is_folder):
            self.say("Write the name of a file.")
        elif not (wanted.is_folder or os.path.isdir(target.parent)):
            self.say(
                f"There is no folder {shown(target.parent)}. Write the name of one that is there, or make it first."
            )
        elif is_of_a_plan(target, self._plan_path):
            self.say("That is a plan, or a name for plans: no sheet is written there. Write another name.")
        elif is_there and self._confirmed != target:
            self._confirmed = target
            self.say(
                "That folder is there already. Enter again replaces the curves in it."
                if wanted.is_folder
                else "That file is there already. Enter again replaces it."
            )
        else:
            self.dismiss(wanted)

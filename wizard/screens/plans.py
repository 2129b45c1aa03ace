"""The first screen: the plans on disk, newest first, a new plan, and the demonstrations."""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar, cast

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen, Screen
from textual.widgets import Button, Input, OptionList, Select, Static
from textual.widgets.option_list import Option

from engine.plan import PAGES, STAGES, UNITS, Plan, stage_problems
from engine.planfile import PlanFileError, load_plan
from wizard import locations
from wizard.keys import LIST_ACTIONS, bindings
from wizard.screens.dialogs import ESCAPE
from wizard.screens.glossary import GlossaryScreen
from wizard.screens.help import HelpScreen
from wizard.widgets.field import FieldChoice
from wizard.widgets.keyline import KeyLine

if TYPE_CHECKING:
    from wizard.app import ShaftlogApp


LEAD = "Plan a repower: engine, gear and propeller, right the first time."


@dataclass(frozen=True)
class Listed:
    """One line of the list: a plan, or the sentence why it cannot be read."""

    path: Path
    plan: Plan | None
    trouble: str = ""
    is_demonstration: bool = False

    def content(self) -> Content:
        """The line as it is shown."""
        if self.plan is None:
            return Content.assemble((f"! cannot be read: {self.path.name}  ", "bold $error"), self.trouble)
        entered = sum(not stage_problems(self.plan, stage) for stage in STAGES)
        name = self.plan.name or self.path.stem
        if self.is_demonstration:
            return Content.assemble((name, "bold"), ("  demonstration, opens as a copy", "$quiet"))
        at = f"page {PAGES.index(self.plan.stage) + 1}, {self.plan.stage}"
        return Content.assemble(
            (name, "bold"),
            f"  {at}; entries complete on {entered} of {len(STAGES)} pages  ",
            (self.path.name, "$quiet"),
        )


def listed_plans(folder: Path) -> list[Listed]:
    """The owner's plans in a folder, newest first, then the demonstrations."""
    found = [path for path in folder.glob("*.toml") if not locations.is_demonstration(path) and path.is_file()]
    newest_first = sorted(found, key=lambda path: (-path.stat().st_mtime_ns, path.name))
    own = [_listed(path) for path in newest_first]
    return own + [_listed(path, is_demonstration=True) for path in locations.demonstrations()]


def _listed(path: Path, is_demonstration: bool = False) -> Listed:
    try:
        return Listed(path, load_plan(path), is_demonstration=is_demonstration)
    except PlanFileError as error:
        return Listed(path, None, str(error), is_demonstration)


class PlansScreen(Screen[None]):
    """Enter resumes a plan. Nothing of the engine's calculations is loaded here."""

    BINDINGS: ClassVar[list[BindingType]] = bindings(LIST_ACTIONS)

    def __init__(self, folder: Path) -> None:
        super().__init__()
        self._folder = folder
        self._listed: list[Listed] = []

    @property
    def host(self) -> "ShaftlogApp":
        """The app, by its own type."""
        return cast("ShaftlogApp", self.app)

    def compose(self) -> ComposeResult:
        yield Static("Shaftlog", id="title", markup=False)
        yield Static(LEAD, markup=False, id="lead")
        yield OptionList(id="plans", markup=False)
        yield Static("", id="folder", markup=False)
        yield KeyLine(LIST_ACTIONS)

    def on_screen_resume(self) -> None:
        """Read the list at the start, and again when coming back from a plan."""
        self.refresh_list()

    def refresh_list(self) -> None:
        """Read the folder and show what is in it."""
        self._listed = listed_plans(self._folder)
        listing = self.query_one("#plans", OptionList)
        listing.clear_options()
        listing.add_options([Option(Content.assemble(("New plan", "bold"), "  for a boat that is not in this list"))])
        listing.add_options([Option(item.content()) for item in self._listed])
        has_own = any(not item.is_demonstration for item in self._listed)
        listing.highlighted = 1 if has_own else 0
        listing.focus()
        self.query_one("#folder", Static).update(f"Enter opens. Plans are kept in {self._folder}")

    @on(OptionList.OptionSelected, "#plans")
    def _open(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        if event.option_index == 0:
            self.action_new_plan()
            return
        item = self._listed[event.option_index - 1]
        if item.plan is None:
            self.host.tell(item.trouble)
        else:
            self.host.open_plan(item.path)

    def action_new_plan(self) -> None:
        def begin(plan: Plan | None) -> None:
            if plan is not None:
                self.host.begin_plan(plan)

        self.app.push_screen(NewPlanScreen(), begin)

    def action_help(self) -> None:
        self.app.push_screen(HelpScreen("", actions=LIST_ACTIONS))

    def action_glossary(self) -> None:
        self.app.push_screen(GlossaryScreen())

    def action_leave(self) -> None:
        self.host.leave()


class NewPlanScreen(ModalScreen[Plan]):
    """Asks for a name and the units to think in; gives an empty plan."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ESCAPE,
        Binding("down", "app.focus_next", "Next", id="new-next", show=False),
        Binding("up", "app.focus_previous", "Before", id="new-previous", show=False),
    ]

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog"):
            yield Static("A new plan. Enter goes on, Esc goes back.", classes="dialog-title", markup=False)
            yield Static("Name of the boat or the plan", markup=False)
            yield Input(id="new-name", compact=True)
            yield Static("Units for numbers without one; you can always write any unit", markup=False)
            yield UnitsChoice()
            yield Static("", classes="trouble", markup=False)
            yield Button(Content("Begin the plan"), id="begin", compact=True)

    @on(Input.Submitted)
    def _named(self) -> None:
        self.query_one(UnitsChoice).focus()

    @on(Select.Changed)
    def _units(self) -> None:
        if self.query_one(UnitsChoice).has_focus_within:
            self.query_one("#begin").focus()

    @on(Button.Pressed)
    def _begin(self) -> None:
        name = self.query_one("#new-name", Input).value.strip()
        if not name:
            self.query_one(".trouble", Static).update("Give the plan a name, so that you find it again.")
            self.query_one("#new-name").focus()
            return
        self.dismiss(Plan(name=name, units=self.query_one(UnitsChoice).selection or UNITS[0]))


class UnitsChoice(Select[str], inherit_bindings=False):
    """Metric or imperial; opens like every other list of choices."""

    BINDINGS: ClassVar[list[BindingType]] = FieldChoice.BINDINGS

    def __init__(self) -> None:
        super().__init__([(units, units) for units in UNITS], value=UNITS[0], allow_blank=False, compact=True)

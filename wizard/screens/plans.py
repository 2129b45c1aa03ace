"""The first screen: the plans on disk, newest first, a new plan, and the demonstrations."""

import os
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Button, Input, OptionList, Static
from textual.widgets.option_list import Option

from engine.disk import Disk, why
from engine.plan import STAGES, UNITS, Plan
from engine.planfile import PlanFileError, load_plan, shown
from engine.progress import progress_of
from wizard import locations
from wizard.keeping.earlier import changed_at, versions
from wizard.keys import LIST_ACTIONS, bindings
from wizard.screens.dialogs import FormDialog
from wizard.screens.hosted import Hosted
from wizard.widgets.choice import Choice
from wizard.widgets.keyline import KeyLine
from wizard.widgets.line_input import LineInput
from wizard.widgets.lines import Lines
from wizard.wrapping import rows_of

_UNIT_WORDS = {"metric": "metres, kilograms, kW, litres", "imperial": "feet and inches, pounds, hp, US gallons"}
LEAD = "Plan a repower: engine, gear and propeller, right the first time."
_INDENT = " " * 4
"""Before the rows under the first one of a line."""
_EDGES = 4
"""Columns of the list that hold no text: its padding and scroll bar."""


@dataclass(frozen=True)
class Listed:
    """One line of the list: a plan, or the sentence why it cannot be read."""

    path: Path
    plan: Plan | None
    changed: datetime
    trouble: str = ""
    is_demonstration: bool = False

    @property
    def name(self) -> str:
        """What the plan is called; the file's name when it has none."""
        return self.plan.name.strip() if self.plan is not None and self.plan.name.strip() else shown(self.path.stem)

    def content(self, now: datetime, width: int) -> Content:
        """The lines in which it is shown: its name and file, then how far it got and when, in so many columns."""
        if self.plan is None:
            head = f"! cannot be read: {shown(self.path.name)}"
            return told_of(head, "", width, self.trouble, styles=("bold $error", ""))
        progress = progress_of(self.plan)
        entered, odd = len(progress.entered), progress.not_understood
        told = [f"[{'#' * entered}{'.' * (len(STAGES) - entered)}] {entered} of {len(STAGES)} pages filled in"]
        if odd:
            told.append(f"something on {odd[0]}{' and elsewhere' if odd[1:] else ''} is not understood")
        if self.is_demonstration:
            return told_of(self.name, "", width, "; ".join([*told, "opens as a copy"]))
        told += [f"left on {self.plan.stage}", when(self.changed, now)]
        return told_of(self.name, shown(self.path.name), width, "; ".join(told))


def told_of(
    head: str, words: str, width: int, under: str = "", styles: tuple[str, str] = ("bold", "$quiet")
) -> Content:
    """A line of the list in so many columns: its head, what stands beside it and what stands under it, set in; nothing
    is wider than the list.   styles: of the head and of the rest."""
    beside = rows_of(f"{head}  {words}".rstrip(), width, subsequent_indent=_INDENT)
    rows = [*beside, *rows_of(under, width, initial_indent=_INDENT, subsequent_indent=_INDENT)]
    return Content("\n".join(rows)).stylize(styles[1]).stylize(styles[0], 0, len(head))


def when(changed: datetime, now: datetime) -> str:
    """When a plan was changed, as people say it."""
    days = (now.date() - changed.date()).days
    if days == 0:
        return f"today {changed:%H:%M}"
    return "yesterday" if days == 1 else f"{changed.day} {changed:%b %Y}"


def listed_plans(folder: Path, disk: Disk) -> list[Listed]:
    """The owner's plans in a folder, newest first.

    Raises: OSError when the folder is there and cannot be read.
    """
    try:
        paths = [folder / name for name in disk.names(folder) if name.endswith(".toml") and not name.startswith(".")]
    except FileNotFoundError:
        paths = []
    own = [_listed(path, disk) for path in paths if not locations.is_demonstration(path) and _may_be_plan(path, disk)]
    own.sort(key=lambda item: item.path.name)
    own.sort(key=lambda item: item.changed, reverse=True)
    return own


def listed_demonstrations(disk: Disk) -> list[Listed]:
    """The demonstrations, in the order in which they are worth opening."""
    return [_listed(path, disk, is_demonstration=True) for path in locations.demonstrations()]


def _may_be_plan(path: Path, disk: Disk) -> bool:
    """Whether there is a file at a path, or something that cannot be looked at: the list says why."""
    try:
        return disk.look(path).is_file
    except FileNotFoundError:  # a link that leads nowhere
        return False
    except OSError:
        return True


def _listed(path: Path, disk: Disk, is_demonstration: bool = False) -> Listed:
    changed = datetime.fromtimestamp(0)
    try:
        changed = changed_at(disk, path)
        return Listed(path, load_plan(path, disk), changed, is_demonstration=is_demonstration)
    except OSError as error:
        return Listed(path, None, changed, f"The plan cannot be read: {why(error)}.", is_demonstration)
    except PlanFileError as error:
        return Listed(path, None, changed, str(error), is_demonstration)


class PlansScreen(Hosted, Screen[None]):
    """Enter resumes a plan. Nothing of the engine's calculations is loaded here."""

    BINDINGS: ClassVar[list[BindingType]] = bindings(LIST_ACTIONS)
    actions = LIST_ACTIONS

    def __init__(self, folder: Path) -> None:
        super().__init__()
        self._folder = folder
        self._does: list[Callable[[], None] | None] = []
        self._listed: list[Listed | None] = []
        self._own: list[Listed] = []
        self._demonstrations: list[Listed] = []
        self._trouble = ""
        self._set_for = 0

    def compose(self) -> ComposeResult:
        yield Static("Shaftlog", id="title", markup=False)
        yield Static(LEAD, markup=False, id="lead")
        yield Lines(id="plans", markup=False)
        yield Static("", id="folder", markup=False)
        yield KeyLine(LIST_ACTIONS)

    def on_screen_resume(self) -> None:
        """Read the list at the start, and again when coming back from a plan or a dialog."""
        self.refresh_list()

    def on_resize(self, event: events.Resize) -> None:
        """Set the lines for a new width."""
        if self._does and event.size.width != self._set_for:
            self._set_lines()

    def refresh_list(self) -> None:
        """Read the folder and show what is in it."""
        self._trouble, self._own = "", []
        try:
            self._own = listed_plans(self._folder, self.host.disk)
        except OSError as error:
            self._trouble = f"Plans in {shown(self._folder)} cannot be read: {why(error)}."
        self._demonstrations = listed_demonstrations(self.host.disk)
        self._set_lines()
        self.query_one("#plans", OptionList).focus()
        self.query_one("#folder", Static).update(self.folder_line())

    def _set_lines(self) -> None:
        """Show what was read in the width of the window: the owner's plans, what can be begun, and the demonstrations.

        The highlight stays where it is while they are the same in the same order; else it begins at the top.
        """
        self._set_for = self.app.size.width
        now, width = datetime.now(), max(self._set_for - _EDGES, 2 * len(_INDENT))
        listing = self.query_one("#plans", OptionList)
        before, place = self._paths, listing.highlighted
        listing.clear_options()
        self._does, self._listed = [], []
        if self._own:
            self._heading("Your plans, the newest first")
        for item in self._own:
            self._line(item.content(now, width), partial(self._open, item), item)
        self._heading("Begin")
        for head, words, does in (
            ("New plan", "for a boat that is not in this list", self.action_new_plan),
            ("Guided tour", "five minutes on an invented boat; nothing is saved", self.action_tour),
        ):
            self._line(told_of(head, words, width, styles=("bold", "")), does)
        self._heading("Demonstrations, four invented boats")
        for item in self._demonstrations:
            self._line(item.content(now, width), partial(self._open, item))
        listing.highlighted = place if self._paths == before else 1

    @property
    def _paths(self) -> list[Path | None]:
        """The file of each line that is one of the owner's plans."""
        return [item.path if item is not None else None for item in self._listed]

    def folder_line(self) -> str:
        """What stands under the list."""
        return self._trouble or f"Enter opens. Plans are kept in {shown(self._folder)}"

    def _heading(self, words: str) -> None:
        self.query_one("#plans", OptionList).add_option(Option(Content.styled(words, "$secondary"), disabled=True))
        self._does.append(None)
        self._listed.append(None)

    def _line(self, content: Content, does: Callable[[], None], item: Listed | None = None) -> None:
        self.query_one("#plans", OptionList).add_option(Option(content))
        self._does.append(does)
        self._listed.append(item)

    @on(OptionList.OptionSelected, "#plans")
    def _selected(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        does = self._does[event.option_index]
        if does is not None:
            does()

    def _open(self, item: Listed) -> None:
        if item.plan is not None:
            self.host.open_plan(item.path)
        elif not self._offer_earlier(item):
            self.host.tell(item.trouble)

    def _offer_earlier(self, item: Listed) -> bool:
        """Show the earlier versions of a plan. Returns: False when there are none."""
        path = Path(os.path.realpath(item.path))
        found = versions(self.host.disk, path)
        if found:
            from wizard.screens.earlier import EarlierScreen

            screen = EarlierScreen(item.name, item.plan, item.trouble, found, self.host.disk)
            self.lay_over(screen, self.host.open_version)
        return bool(found)

    def action_earlier(self) -> None:
        highlighted = self.query_one("#plans", OptionList).highlighted
        item = self._listed[highlighted] if highlighted is not None else None
        if item is None:
            self.host.tell_here("Go to one of your plans first; this shows how it was before.")
        elif not self._offer_earlier(item):
            self.host.tell_here("No earlier version of this plan is kept: it has not been changed since it was begun.")

    def action_tour(self) -> None:
        self.host.begin_tour()

    def action_colours(self) -> None:
        self.host.next_colours()

    def action_new_plan(self) -> None:
        self.lay_over(NewPlanScreen(), self.host.begin_plan)

    def action_help(self) -> None:
        from wizard.screens.help import HelpScreen

        self.lay_over(HelpScreen(""))

    def action_glossary(self) -> None:
        from wizard.screens.glossary import GlossaryScreen

        self.lay_over(GlossaryScreen())

    def action_leave(self) -> None:
        self.host.leave()


class NewPlanScreen(FormDialog[Plan]):
    """Asks for a name and the units to think in; gives an empty plan."""

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog"):
            yield Static("A new plan. Enter goes on, Esc goes back.", classes="dialog-title", markup=False)
            yield Static("Name of the boat or the plan", markup=False)
            yield LineInput(id="new-name", compact=True)
            yield Static("Units for numbers without one; you can always write any unit", markup=False)
            yield UnitsChoice()
            yield Static("", classes="trouble", markup=False)
            yield Button(Content("Begin the plan"), id="begin", compact=True)

    @on(Button.Pressed)
    def _begin(self) -> None:
        name = self.query_one("#new-name", Input).value.strip()
        if not name:
            self.say("Give the plan a name, so that you find it again.")
            self.query_one("#new-name").focus()
            return
        self.dismiss(Plan(name=name, units=self.query_one(UnitsChoice).selection or UNITS[0]))


class UnitsChoice(Choice):
    """Metric or imperial."""

    def __init__(self) -> None:
        words = [(f"{units}: {_UNIT_WORDS[units]}", units) for units in UNITS]
        super().__init__(words, UNITS[0])

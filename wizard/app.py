"""The wizard as a program: it holds the open plan, saves it, has it worked out, and shows the screens."""

import asyncio
import contextlib
import os
import signal
import sys
import time
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path, PurePath
from typing import TYPE_CHECKING, Any, ClassVar

from textual.app import SystemCommand
from textual.driver import Driver
from textual.filter import LineFilter
from textual.screen import Screen

from engine.disk import Disk, why
from engine.plan import Plan, page_of
from engine.planfile import PlanFileError, load_plan, save_plan, shown
from wizard import locations
from wizard.file_keeping import FileKeeping
from wizard.history import History, Step, place_of
from wizard.keeping.earlier import Version
from wizard.keeping.keeper import Opened, open_kept
from wizard.litter import keep_what_is_there, let_lie, sweep
from wizard.recalculation import Assess, Assessor, Recalculated, Recalculation, StageWorkedOut, counted, give_way
from wizard.screens.hosted import Hosted, ShowsResults
from wizard.searching import Search, search_stock
from wizard.settings import load_settings, save_settings
from wizard.sheet_choice import SHEETS, Wanted
from wizard.terminal import NEEDS_ASCII, NoColour, NoOrders, PlainSigns
from wizard.theme import COLOURS, NAMES, THEMES, VARIABLE_DEFAULTS, usual_theme
from wizard.tour import TOUR_BOAT, Tour
from wizard.upsets import upsets

if TYPE_CHECKING:
    from engine.assessment import Assessment
    from engine.findings import Outcome


_PATIENCE = 0.25
"""Seconds before an answer that is out of date is dimmed: nearly all new ones have come by then; nothing flickers."""


class ShaftlogApp(FileKeeping):
    """State lives here: one frozen plan, its latest assessment, and whether that is still being worked out."""

    TITLE = "Shaftlog"
    CSS_PATH: ClassVar[str | PurePath | list[str | PurePath] | None] = ["app.tcss", "dialogs.tcss", "workings.tcss"]
    ENABLE_COMMAND_PALETTE = True

    def __init__(
        self,
        plan_path: Path | None,
        plans_folder: Path,
        *,
        assess: Assess | None = None,
        search: Search = search_stock,
        disk: Disk | None = None,
        theme: str = "",
        ascii: bool = False,
        driver_class: type[Driver] | None = None,
        has_process: bool = False,
    ) -> None:
        """has_process: whether nothing else runs in this process."""
        self.ascii = ascii or NEEDS_ASCII
        environment = dict(os.environ)
        super().__init__(Disk() if disk is None else disk, driver_class)
        for known in THEMES:
            self.register_theme(known)
        self.theme = usual_theme(environment, theme, load_settings(plans_folder)["theme"])
        plain_signs: list[LineFilter] = [PlainSigns()] if self.ascii else []
        self._own_filters = [NoOrders(), *([NoColour()] if self.no_color else []), *plain_signs]
        self.assessment: Assessment | None = None
        self.is_updating = False
        self._old_since = 0.0
        self.failure = ""
        self._early: dict[str, Outcome[Any]] = {}
        self._has_process = has_process
        self.search = search
        self.assess = Assessor(assess)
        self._first_path = plan_path
        self._folder = plans_folder
        self._recalculation = Recalculation(self, self.assess)
        self._has_warned_of_loss = False
        self._before_step: Assessment | None = None
        self.upsets: dict[str, str] = {}

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Our own variables, for themes that do not know them."""
        return VARIABLE_DEFAULTS

    def get_line_filters(self) -> Sequence[LineFilter]:
        """What is done to everything that is drawn."""
        return [*super().get_line_filters(), *self._own_filters]

    def on_mount(self) -> None:
        loop = asyncio.get_running_loop()
        for name in ("SIGTERM", "SIGHUP", "SIGINT"):
            if hasattr(signal, name):
                with contextlib.suppress(NotImplementedError, RuntimeError, ValueError):
                    loop.add_signal_handler(getattr(signal, name), self._ended_from_outside)
        if self._first_path is not None:
            self.open_plan(self._first_path)
        if not self._plan_screens():
            self.push_screen(self._list_of_plans())

    def _list_of_plans(self) -> Screen[None]:
        """The screen under that of a plan; it is not there yet when a plan has been opened at once."""
        from wizard.screens.plans import PlansScreen

        return PlansScreen(self._folder)

    def on_ready(self) -> None:
        """The first frame has been painted."""
        self.has_been_built()

    def has_been_built(self) -> None:
        """Something stands that stays as long as the plan is open."""
        if self._has_process:
            keep_what_is_there()

    # opening and closing

    def open_plan(self, path: Path) -> None:
        """Resume a plan; a demonstration is copied into the plans folder first."""
        try:
            if locations.is_demonstration(path):
                path = self._copy_of(load_plan(path, self.disk), path)
            opened = open_kept(path, self._folder, self.disk)
        except PlanFileError as error:
            self.tell(str(error))
            return
        self._take(opened.plan, opened)

    def begin_plan(self, plan: Plan) -> None:
        """Begin a new plan under a file name that no file has yet."""
        try:
            opened = open_kept(self._create(plan), self._folder, self.disk)
        except PlanFileError as error:
            self.tell(str(error))
            return
        self._take(opened.plan, opened)

    def open_version(self, version: Version) -> None:
        """Go on from an earlier version of a plan, as a plan of its own."""
        try:
            plan = load_plan(version.path, self.disk)
        except PlanFileError as error:
            self.tell(str(error))
            return
        self.begin_plan(replace(plan, name=f"{plan.name} ({version.since.day} {version.since:%b %H:%M})"))

    def begin_tour(self) -> None:
        """Walk through an invented plan that is kept nowhere."""
        try:
            plan = replace(load_plan(locations.demonstration_folder() / TOUR_BOAT), stage="hull")
        except PlanFileError as error:
            self.tell(f"The tour needs its invented plan. {error}")
            return
        self._take(plan, None)

    def _copy_of(self, plan: Plan, demonstration: Path) -> Path:
        path = self._create(plan)
        self.tell(f"A copy of {demonstration.name} was made as {path.name}; change it as you like.")
        return path

    def _create(self, plan: Plan) -> Path:
        """Put a plan into a file of its own."""
        try:
            self.disk.make_folder(self._folder)
        except OSError as error:
            raise PlanFileError(f"The folder {shown(self._folder)} could not be made: {why(error)}.") from None
        path = locations.free_path(self._folder, plan.name)
        save_plan(plan, path, self.disk)
        return path

    def _take(self, plan: Plan, opened: Opened | None) -> None:
        """Show a plan; one that was not opened from a file, the tour's, is not saved."""
        self.plan = plan
        self.assessment, self.failure, self.is_updating = None, "", True
        self._early.clear()
        self._before_step, self.upsets = None, {}
        self._recalculation.forget()
        from wizard.screens.planning import PlanningScreen

        self.push_screen(PlanningScreen(plan.stage, Tour() if opened is None else None))
        self.take_file(opened)

    async def close_plan(self) -> None:
        """Back to the list of plans, once this one is safe."""
        if not self.is_safe():
            return
        self.close_file()
        if isinstance(self.screen_stack[-2], Hosted):
            await self.pop_screen()
        else:
            await self.switch_screen(self._list_of_plans())
        if self._has_process:
            self.call_after_refresh(sweep)

    # changing, saving, working out

    def change(self, plan: Plan, path: str = "") -> None:
        """Take a changed plan: it is saved soon and, when a number may change with it, worked out anew.

        path: the field in which it was changed; letters typed there one after the other are one step to take back.
        """
        if plan != self.plan:
            self._go_over_to(plan, self.history.recorded(self.plan, plan, path))

    def undo(self) -> Step | None:
        """Take the last change back. Returns: what it was; None when there is none."""
        step = self.history.last
        if step is not None:
            self._go_over_to(*self.history.undone(self.plan, step))
        return step

    def redo(self) -> Step | None:
        """Make the change again that was taken back last. Returns: what it is; None when there is none."""
        step = self.history.next
        if step is not None:
            self._go_over_to(*self.history.redone(self.plan, step))
        return step

    def _go_over_to(self, plan: Plan, history: History) -> None:
        if not self.is_updating and (history.at, len(history.steps)) != (self.history.at, len(self.history.steps)):
            self._before_step = self.assessment
        if self.only_read_because:
            self.stay_as_read(plan)
            return
        before, self.plan, self.history = self.plan, plan, history
        self.save_soon()
        if counted(before) != counted(plan):
            self.work_out()

    def show_instead(self, plan: Plan) -> None:
        """Show another plan in the place of this one, and work it out."""
        self.plan = plan
        self.work_out()

    def work_out(self) -> None:
        """Work the plan out as it is now."""
        if self.is_current(self.plan.stage):
            self._old_since = time.monotonic()
            self.set_timer(_PATIENCE, self._refresh_views)
        self.is_updating = True
        self._early.clear()
        self._recalculation.ask(self.plan)

    def outcome_of(self, page: str) -> "Outcome[Any] | None":
        """The newest outcome of a page, which those of other pages may not have caught up with yet."""
        before = self.assessment.outcomes.get(page) if self.assessment is not None else None
        return self._early.get(page, before)

    def is_current(self, page: str) -> bool:
        """Whether that outcome is of the plan as it is now."""
        return not self.is_updating or page in self._early

    def is_old(self, page: str) -> bool:
        """Whether that outcome has been out of date for so long that it is worth saying."""
        return not self.is_current(page) and time.monotonic() - self._old_since >= _PATIENCE

    def _refresh_views(self) -> None:
        for screen in self._plan_screens():
            screen.refresh_view()

    def on_stage_worked_out(self, message: StageWorkedOut) -> None:
        """Show the results of the page that is looked at while the rest is worked out, unless a newer plan has
        overtaken them."""
        if not self._recalculation.is_current(message):
            return
        self._early[message.stage] = message.outcome
        for screen in self._plan_screens():
            if screen.page == message.stage:
                screen.refresh_view()

    def on_recalculated(self, message: Recalculated) -> None:
        """Show a result, unless a newer plan has overtaken it."""
        self._recalculation.ended()
        if not self._recalculation.is_current(message):
            return
        self.is_updating = False
        self._early.clear()
        self.failure = message.failure
        if message.assessment is not None:
            if self.assessment is None:
                self.has_been_built()
            self.assessment = message.assessment
            step = self.history.last
            self.upsets = upsets(self._before_step, self.assessment, page_of(place_of(step)) if step else "")
        for screen in self.screen_stack:
            if isinstance(screen, ShowsResults) and screen.is_mounted:
                screen.refresh_results()

    def write_sheet(self, wanted: Wanted | None) -> None:
        """Write a sheet of the plan as it is now, in a thread; tell how it went."""
        if wanted is not None:
            plan = self.plan
            self.run_worker(lambda: self._write_sheet(plan, wanted), thread=True, group="sheet", exit_on_error=False)

    def _write_sheet(self, plan: Plan, wanted: Wanted) -> None:
        sheet, file = f'The sheet "{SHEETS[wanted.sheet]}"', shown(wanted.target)
        try:
            from engine.assessment import search_market
            from wizard.handover.files import files_of, write_files

            assessment = self.assess(plan)
            market = search_market(assessment) if wanted.sheet == "plan" else None
            write_files(self.disk, wanted, files_of(assessment, wanted, date.today(), market))
        except OSError as error:
            self.call_from_thread(self.tell, f"{sheet} could not be written to {file}: {why(error)}.")
        except Exception as error:  # the safety net: a fault in a sheet must not take the plan down
            sentence = f"{sheet} could not be made; that is a fault of the program: {type(error).__name__}."
            self.call_from_thread(self.tell, sentence)
        else:
            self.call_from_thread(self.tell, f"{sheet} is in {file}.")

    # leaving

    def leave(self) -> None:
        """Save and quit. When the plan cannot be saved, the first try stays and says so; the second leaves."""
        if not self.is_safe() and not self._has_warned_of_loss:
            self._has_warned_of_loss = True
            self.tell("Not saved, so still here. Quit again to leave without the last changes.")
            return
        self.close_file()
        self.exit(0)

    async def action_quit(self) -> None:
        """Every way out saves first."""
        self.leave()

    def _ended_from_outside(self) -> None:
        self.is_safe()
        self.close_file()
        self.exit(0)

    # the palette

    def action_command_palette(self) -> None:
        from wizard.screens.palette import Palette

        if not isinstance(self.screen, Palette):
            self.push_screen(Palette(id="--command-palette"))

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Every action of the screen by name, and the themes."""
        for action in screen.actions if isinstance(screen, Hosted) else ():
            words = f"{action.tooltip} ({action.key_names})"
            yield SystemCommand(action.title, words, getattr(screen, f"action_{action.id}"))
        for word, title in COLOURS.items() if not self.no_color else ():
            yield SystemCommand(title, "Change the colours.", lambda word=word: self.use_colours(word))

    def use_colours(self, word: str) -> None:
        """Take a theme by the owner's word for it, and remember it."""
        self.theme = NAMES[word]
        save_settings(self._folder, {"theme": word})

    def next_colours(self) -> None:
        """The next of the themes."""
        if self.no_color:
            self.tell("NO_COLOR is set: there are no colours to choose from.")
            return
        words = list(COLOURS)
        now = next(word for word in words if NAMES[word] == self.theme)
        word = words[(words.index(now) + 1) % len(words)]
        self.use_colours(word)
        self.tell(f"{COLOURS[word]}.")


def _driver_class() -> type[Driver] | None:
    """Our own terminal where there is one of its kind; None for Textual's."""
    if os.name != "posix":
        return None
    from wizard.driver import TerminalDriver

    return TerminalDriver


def run(plan_path: Path | None, plans_folder: Path, theme: str = "", ascii: bool = False) -> int:
    """Run the wizard.

    plan_path: the plan to resume; None opens the list.   theme: "day", "night" or "terminal"; "" the usual one.
    ascii: draw with plain signs.   Returns: the exit code.
    """
    let_lie()
    give_way()
    app = ShaftlogApp(plan_path, plans_folder, theme=theme, ascii=ascii, driver_class=_driver_class(), has_process=True)
    app.run(mouse=False)
    if app.last_words:
        print(app.last_words, file=sys.stderr)
    return app.return_code or 0

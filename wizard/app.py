"""The wizard as a program: it opens and closes plans, shows the screens, writes sheets, and leaves in good order."""

import asyncio
import contextlib
import os
import signal
import sys
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path, PurePath
from typing import ClassVar

from textual import events
from textual.app import SystemCommand
from textual.driver import Driver
from textual.filter import LineFilter
from textual.screen import Screen

from engine.disk import Disk, why
from engine.plan import Plan
from engine.planfile import PlanFileError, load_plan, save_plan, shown
from wizard import locations
from wizard.keeping.earlier import Version
from wizard.keeping.keeper import Opened, open_kept
from wizard.litter import Broom, forget_drawn, keep_what_is_there, let_lie
from wizard.recalculation import Assess, give_way
from wizard.screens.hosted import Hosted
from wizard.screens.turns import Turns
from wizard.searching import Search, search_stock
from wizard.settings import load_settings, save_settings
from wizard.sheet_choice import SHEETS, Wanted
from wizard.terminal import NEEDS_ASCII, NoColour, NoOrders, PlainSigns
from wizard.theme import COLOURS, NAMES, THEMES, VARIABLE_DEFAULTS, usual_theme
from wizard.tour import TOUR_BOAT, Tour
from wizard.working_out import WorkingOut


class ShaftlogApp(WorkingOut):
    """The state lives in its bases: one frozen plan, its file, and its latest assessment."""

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
        super().__init__(Disk() if disk is None else disk, assess, driver_class)
        for known in THEMES:
            self.register_theme(known)
        self.theme = usual_theme(environment, theme, load_settings(plans_folder)["theme"])
        plain_signs: list[LineFilter] = [PlainSigns()] if self.ascii else []
        self._own_filters = [NoOrders(), *([NoColour()] if self.no_color else []), *plain_signs]
        self._has_process = has_process
        self._broom = Broom(self)
        self.search = search
        self._first_path = plan_path
        self._folder = plans_folder
        self._warned_of: Plan | None = None
        self._turns = Turns(self)

    def action_help_quit(self) -> None:
        """ctrl+c, which ends other programs, does not end this one by accident."""
        self.tell_here("F10 leaves the program. Your plans are saved by themselves.")

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
        self.screen_change_signal.subscribe(self, lambda _: forget_drawn())
        self.screen_change_signal.subscribe(self, lambda _: self.gone_on(), immediate=True)
        if self._first_path is not None:
            self.open_plan(self._first_path)
        if not self._plan_screens():
            self.push_screen(self._list_of_plans())

    def _list_of_plans(self) -> Screen[None]:
        """The screen under that of a plan; it is not there yet when a plan has been opened at once."""
        from wizard.screens.plans import PlansScreen

        return PlansScreen(self._folder)

    async def on_event(self, event: events.Event) -> None:
        """A key comes before what can wait. Once the program is being ended it is for no screen any more."""
        if not isinstance(event, events.Key):
            await super().on_event(event)
            return
        self._broom.put_off()
        is_first_time = not event.is_forwarded
        if not self.is_ending and await self._turns.may_go(event):
            part = self.focused or self.screen
            await super().on_event(event)
            if is_first_time:
                self._turns.gone(event, part)

    @property
    def is_ending(self) -> bool:
        """Whether the program is being ended: its screens are taken down."""
        return self._exit

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
        is_copied = locations.is_demonstration(path)
        try:
            if is_copied:
                path = self._create(load_plan(path, self.disk))
            opened = open_kept(path, self._folder, self.disk)
        except PlanFileError as error:
            self.tell(str(error))
            return
        self._take(opened.plan, opened)
        if is_copied:
            self.tell_here(f"The demonstration stays as it is: a copy was made as {path.name}. Change it as you like.")

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
        self.forget_results()
        from wizard.screens.planning import PlanningScreen

        self.push_screen(PlanningScreen(plan.stage, Tour() if opened is None else None))
        self.take_file(opened)

    async def close_plan(self) -> None:
        """Back to the list of plans, once this one is safe."""
        if not self.is_safe():
            self.tell("Not saved, so the plan stays open. It is tried again every few seconds.")
            return
        self.close_file()
        self.forget_results()
        if isinstance(self.screen_stack[-2], Hosted):
            await self.pop_screen()
        else:
            await self.switch_screen(self._list_of_plans())
        if self._has_process:
            self._broom.wanted()

    # sheets

    def write_sheet(self, wanted: Wanted) -> None:
        """Write a sheet of the plan as it is now, in a thread; tell how it went."""
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
        """Save and quit. When the plan cannot be saved, the first try stays and says so; the second leaves, unless the
        plan has changed since."""
        if not self.is_safe() and self._warned_of is not self.plan:
            self._warned_of = self.plan
            self.tell("Not saved, so still here. Quit again to leave without the last changes.")
            return
        self.close_file()
        self._end()

    async def action_quit(self) -> None:
        """Every way out saves first."""
        self.leave()

    def _ended_from_outside(self) -> None:
        self.is_safe()
        self.close_file()
        self._end()

    def _end(self) -> None:
        """End the program. What a screen is still looking for is called off: it would miss what is taken down."""
        for screen in self.screen_stack:
            self.workers.cancel_node(screen)
        self.exit(0)

    # the palette

    def action_command_palette(self) -> None:
        from wizard.screens.palette import Palette

        if not isinstance(self.screen, Palette):
            self.gone_on()
            self.push_screen(Palette(id="--command-palette", placeholder="Find an action by its name"))

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
            self.tell_here("NO_COLOR is set: there are no colours to choose from.")
            return
        words = list(COLOURS)
        now = next(word for word in words if NAMES[word] == self.theme)
        word = words[(words.index(now) + 1) % len(words)]
        self.use_colours(word)
        self.tell_here(f"{COLOURS[word]}.")


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

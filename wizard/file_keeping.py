"""The app's dealings with the file of the open plan: saving it, and what another program has done to it."""

import contextlib
from abc import abstractmethod
from dataclasses import replace
from functools import partial
from pathlib import Path

from textual.app import App
from textual.driver import Driver
from textual.notifications import Notification, Notify
from textual.timer import Timer

from engine.disk import Disk, replace_file, why
from engine.odd_keys import odd_keys
from engine.plan import Plan
from engine.planfile import PlanFileError, shown
from wizard import locations
from wizard.history import History
from wizard.keeping.autosave import LOOKS, Autosave
from wizard.keeping.keeper import Keeper, Opened
from wizard.keeping.unsaved import Other
from wizard.screens.hosted import ShowsPlan

_TELLS = 8.0
"""Seconds for which a sentence stays."""


class FileKeeping(App[int]):
    """Base of the app: the frozen plan, the steps that led to it, and the file that holds it."""

    def __init__(self, disk: Disk, driver_class: type[Driver] | None = None) -> None:
        super().__init__(driver_class)
        self.disk = disk
        self.plan = Plan()
        self.history = History()
        self.plan_path: Path | None = None
        self.only_read_because = ""
        self.last_words = ""
        self._autosave: Autosave | None = None
        self._follows: Timer | None = None
        self._told_here = False

    @abstractmethod
    def show_instead(self, plan: Plan) -> None:
        """Show another plan in the place of this one, and work it out."""

    @abstractmethod
    def change(self, plan: Plan, path: str = "") -> bool:
        """Take a changed plan. Returns: False when it can only be read; the owner has been told."""

    def end_step(self) -> None:
        """What follows is a step of its own, also in the same field."""
        self.history = self.history.sealed()

    def tell(self, sentence: str) -> None:
        """A sentence over the key line, for some seconds, in the place of the one before."""
        self._told_here = False
        self.notify(sentence, markup=False, timeout=_TELLS)

    def on_notify(self, event: Notify) -> None:
        """Before Textual takes it: what is told in its place goes. Several can be on their way by then."""
        for told in self._told if event.notification.severity == "information" else ():
            self._unnotify(told, refresh=False)

    def tell_here(self, sentence: str) -> None:
        """The same of what is of no use any more on another page or screen. Nothing that must be read, as a fault."""
        self.tell(sentence)
        self._told_here = True

    def gone_on(self) -> None:
        """Another page or screen shows now: what was told for the one before goes."""
        for told in self._told if self._told_here else ():
            self._unnotify(told)

    @property
    def _told(self) -> list[Notification]:
        """What is told; warnings stand beside it and stay."""
        return [note for note in self._notifications if note.severity == "information"]

    def take_file(self, opened: Opened | None) -> None:
        """Take over a plan that was opened; one that was not opened from a file, the tour's, is not saved."""
        self._autosave = None
        self.history, self.plan_path, self.only_read_because = History(), None, ""
        if opened is None:
            return
        self.history, self.plan_path = opened.history, opened.keeper.path
        self.only_read_because = opened.keeper.held_by
        if self.only_read_because:
            self._follows = self.set_interval(LOOKS, partial(self.call_later, self._follow, opened.keeper))
        else:
            self._autosave = Autosave(self, opened, self._tell_of_saving, self._ask_which)
            if opened.unsaved is not None:
                self.call_after_refresh(self._ask_which, self._autosave, opened.unsaved)
        sentences = [*opened.told, *_odd_words(opened.plan)]
        if sentences:
            self.tell(" ".join(sentences))  # all at once, as one takes the place of another

    def close_file(self) -> None:
        """Stop saving, and let other windows have the plan."""
        if self._follows is not None:
            self._follows.stop()
            self._follows = None
        if self._autosave is not None:
            self._autosave.close()
            self._autosave = None

    async def _follow(self, keeper: Keeper) -> None:
        """Show what another window has made of a plan that can only be read here, while that is open."""
        if self._follows is None or self.plan_path != keeper.path:
            return
        with contextlib.suppress(PlanFileError):
            other = keeper.other_version()
            if other is not None and other.plan is not None:
                keeper.seen = other.content
                await self._typing_done()
                self.show_instead(replace(other.plan, stage=self.plan.stage))
                await self.show_whole_plan()

    def on_unmount(self) -> None:
        """However the program ends, what is not saved yet is saved."""
        if self._autosave is not None:
            is_saved, path = self._autosave.finish(), shown(self._autosave.keeper.path)
            self.last_words = f"The plan is saved in {path}." if is_saved else f"The last changes are not in {path}."
            self.close_file()

    def save_now(self) -> None:
        """Save without waiting for a pause."""
        if self._autosave is not None:
            self._autosave.now()

    def save_soon(self) -> None:
        """Save the plan as it is now, after a pause."""
        if self._autosave is not None:
            self._autosave.changed(self.plan, self.history)

    def is_safe(self) -> bool:
        """Save what has been typed up to this moment. Returns: False when it could not be put on disk."""
        self._take_typed()
        return self._autosave is None or self._autosave.finish()

    def stay_as_read(self, plan: Plan) -> None:
        """A plan that can only be read is looked at page by page; nothing else about it changes."""
        if replace(plan, stage=self.plan.stage) == self.plan:
            self.plan = plan
            return
        self.tell(self.only_read_because)
        self.call_later(self.show_whole_plan)

    @property
    def trouble(self) -> str:
        """What the owner must know of the file as long as it is so; "" when all is well."""
        return self.only_read_because or (self._autosave.trouble if self._autosave is not None else "")

    def _tell_of_saving(self, sentence: str) -> None:
        self.notify(sentence, markup=False, timeout=_TELLS, severity="warning")  # beside what else is told
        for screen in self._plan_screens():
            screen.refresh_results()

    def _ask_which(self, autosave: Autosave, other: Other) -> None:
        """Let the owner choose between the plan on the screen and another version of it; not when the plan has been
        closed meanwhile."""
        if self._autosave is not autosave:
            return
        self._take_typed()
        from wizard.screens.two_versions import TwoVersionsScreen

        is_outside = self.plan_path == other.path
        question = TwoVersionsScreen(self.plan, other, is_outside)
        self.push_screen(question, lambda choice: self._chosen(autosave, other, choice))

    async def _chosen(self, autosave: Autosave, other: Other, choice: str | None) -> None:
        if self._autosave is not autosave or choice is None:
            return
        if choice == "both":
            beside = locations.free_path(autosave.keeper.path.parent, f"{autosave.keeper.path.stem}-other")
            try:
                replace_file(self.disk, beside, other.content)
            except OSError as error:
                self.tell(f"The other version could not be kept as {beside.name}: {why(error)}. Choose again.")
                self._ask_which(autosave, other)
                return
            self.tell(f"The other version is a plan of its own now: {beside.name}.")
        elif choice == "this" and not autosave.keeper.keep_other(other):
            self.tell("The other version could not be put among the earlier ones. Choose again.")
            self._ask_which(autosave, other)
            return
        if choice == "other" and other.plan is not None:
            await self._typing_done()
            self.end_step()
            self.change(replace(other.plan, stage=self.plan.stage))
            await self.show_whole_plan()
        autosave.answered(other)

    def _take_typed(self) -> None:
        for screen in self._plan_screens():
            screen.take_typed()

    async def _typing_done(self) -> None:
        """Before the plan is changed as a whole: take over what was typed, as the fields may be gone after that."""
        for screen in self._plan_screens():
            await screen.typing_done()

    async def show_whole_plan(self) -> None:
        """Bring the pages up to a plan that was changed as a whole. No key may come in between: it would put what a
        field had before into the plan."""
        for screen in self._plan_screens():
            await screen.follow_plan()

    def _plan_screens(self) -> list[ShowsPlan]:
        """The screen of the open plan, also while others lie over it; none in the list of plans."""
        return [screen for screen in self.screen_stack if isinstance(screen, ShowsPlan)]


def _odd_words(plan: Plan) -> list[str]:
    """A sentence about keys of the file that mean nothing here."""
    odd = odd_keys(plan)
    more = f" And {len(odd) - 1} more; the review page has them all." if len(odd) > 1 else ""
    return [f"In the file: {odd[0].text}{more}"] if odd else []

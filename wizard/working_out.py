"""The app's dealings with the engine: a changed plan is worked out anew, and the screens show what it comes to."""

import time
from abc import abstractmethod
from typing import TYPE_CHECKING, Any

from textual.driver import Driver

from engine.disk import Disk
from engine.plan import Plan, page_of
from wizard.file_keeping import FileKeeping
from wizard.history import History, Step, place_of
from wizard.recalculation import Assess, Assessor, Recalculated, Recalculation, StageWorkedOut, counted
from wizard.screens.hosted import ShowsResults
from wizard.upsets import upsets

if TYPE_CHECKING:
    from engine.assessment import Assessment
    from engine.findings import Outcome

_PATIENCE = 0.25
"""Seconds before an answer that is out of date is dimmed: nearly all new ones have come by then; nothing flickers."""


class WorkingOut(FileKeeping):
    """Base of the app: the plan's latest assessment, and whether that is still being worked out."""

    def __init__(self, disk: Disk, assess: Assess | None, driver_class: type[Driver] | None = None) -> None:
        super().__init__(disk, driver_class)
        self.assess = Assessor(assess)
        self.assessment: Assessment | None = None
        self.is_updating = False
        self.failure = ""
        self.upsets: dict[str, str] = {}
        self._old_since = 0.0
        self._early: dict[str, Outcome[Any]] = {}
        self._recalculation = Recalculation(self, self.assess)
        self._before_step: Assessment | None = None

    @abstractmethod
    def has_been_built(self) -> None:
        """Something stands that stays as long as the plan is open."""

    def forget_results(self) -> None:
        """The plan is closed, or another one is there of which nothing has been worked out yet.

        A calculation that had been asked for would also hold the screen that asked.
        """
        self.assessment, self.failure, self.is_updating = None, "", True
        self._early.clear()
        self._before_step, self.upsets = None, {}
        self._recalculation.forget()

    def change(self, plan: Plan, path: str = "") -> bool:
        """Take a changed plan: it is saved soon and, when a number may change with it, worked out anew.

        path: the field in which it was changed; letters typed there one after the other are one step to take back.
        Returns: False when the plan can only be read; the owner has been told.
        """
        if plan == self.plan:
            return True
        history = self.history.recorded(self.plan, plan, path)
        is_new_step = history is not self.history and not self.history.goes_on_at(path)
        self._go_over_to(plan, history, is_new_step)
        return self.plan is plan

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

    def _go_over_to(self, plan: Plan, history: History, is_new_step: bool = True) -> None:
        if is_new_step and not self.is_updating:
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
            self._recalculation.painted()
            return
        self._early[message.stage] = message.outcome
        for screen in self._plan_screens():
            if screen.page == message.stage:
                screen.refresh_view()
                # twice: widgets tell the screen of their change after the first call, and it is painted after that
                self.call_after_refresh(self.call_after_refresh, self._recalculation.painted)

    def on_recalculated(self, message: Recalculated) -> None:
        """Show a result, unless a newer plan has overtaken it. When a plan could not be worked out, nothing is known of
        it: what an older one came to would be taken for its answers."""
        self._recalculation.ended()
        if not self._recalculation.is_current(message):
            return
        self.is_updating = False
        self._early.clear()
        self.failure = message.failure
        if self.assessment is None:
            self.has_been_built()
        self.assessment = message.assessment
        step = self.history.last
        self.upsets = upsets(self._before_step, self.assessment, page_of(place_of(step)) if step else "")
        for screen in self.screen_stack:
            if isinstance(screen, ShowsResults) and screen.is_mounted:
                screen.refresh_results()

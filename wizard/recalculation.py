"""Works the plan out in a thread as soon as it has changed, and hands on each page's results as they come; what is
overtaken by a newer plan is dropped."""

import sys
import threading
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from textual.app import App
from textual.message import Message

from engine.plan import Plan

if TYPE_CHECKING:
    from engine.assessment import Assessment
    from engine.findings import Outcome

Assess = Callable[[Plan], "Assessment"]
Told = Callable[[str, "Outcome[Any]"], None]
_TURN = 0.001
"""Seconds that the thread which calculates may keep the screen waiting for its turn. Python's own 0.005 add up: a
letter takes several turns."""
_PAINTING = 0.05
"""Seconds that the calculation lets the page that is looked at be painted in peace, at the longest."""


def give_way() -> None:
    """Have threads give way to each other soon."""
    sys.setswitchinterval(_TURN)


@dataclass
class StageWorkedOut(Message):
    """One stage of the plan has been worked out; those after it have not yet."""

    sequence: int
    stage: str
    outcome: "Outcome[Any]"


@dataclass
class Recalculated(Message):
    """The plan has been worked out, or could not be: then `failure` is a sentence for the owner."""

    sequence: int
    assessment: "Assessment | None"
    failure: str = ""


class Assessor:
    """The engine's own assessment of one plan after another; what has not changed since the last one is taken over.

    numpy is loaded by it, so it is imported in the thread, after the first frame.
    instead: takes the place of the engine, and tells nothing before all is done.
    """

    def __init__(self, instead: Assess | None = None) -> None:
        self._instead = instead
        self._latest: Assessment | None = None

    def __call__(self, plan: Plan, told: Told | None = None) -> "Assessment":
        """Work a plan out.   told: as of `engine.assessment.assess`."""
        if self._instead is not None:
            return self._instead(plan)
        from engine.assessment import assess

        self._latest = assess(plan, self._latest, told)
        return self._latest


class _OvertakenError(Exception):
    """There is a newer plan: nobody wants the rest."""


def counted(plan: Plan) -> Plan:
    """The plan without what no number depends on."""
    return replace(plan, stage="", name="", notes="", variants=())


def fault_sentence(error: Exception) -> str:
    """What the owner is told when the program is at fault."""
    return (
        "This could not be worked out, and that is a fault of the program, not yours. Your plan is safe. "
        f"For a bug report: {type(error).__name__}."
    )


class Recalculation:
    """Hands plans to a thread, one at a time, and the results back to the app: `StageWorkedOut` for each stage, and
    `Recalculated` at the end.

    While one is being worked out only the newest of the plans that follow waits: a thread can be stopped only between
    two stages, and several at once would slow down the typing.
    """

    def __init__(self, app: App[Any], assess: Assessor) -> None:
        self._app = app
        self._assess = assess
        self._is_working = False
        self._waiting: tuple[Plan, int] | None = None
        self._is_painted = threading.Event()
        self.sequence = 0

    def ask(self, plan: Plan) -> None:
        """Work this plan out as soon as all that follows from the key has been done, of several changes by one key the
        last. Results of earlier plans are out of date from now on."""
        self.forget()
        self._app.call_later(self._start_latest, plan, self.sequence)

    def forget(self) -> None:
        """Drop whatever is on its way: the plan has changed, or another one has been opened."""
        self.sequence += 1
        self._waiting = None

    def is_current(self, message: Recalculated | StageWorkedOut) -> bool:
        """False for a result that a newer plan has overtaken."""
        return message.sequence == self.sequence

    def painted(self) -> None:
        """What has come in last is on the screen, or is not looked at: the rest may be worked out."""
        self._is_painted.set()

    def ended(self) -> None:
        """A result has come in: the thread is free for the plan that waits."""
        self._is_working = False
        if self._waiting is not None:
            self._start(*self._waiting)

    def _start_latest(self, plan: Plan, sequence: int) -> None:
        if sequence == self.sequence:
            self._start(plan, sequence)

    def _start(self, plan: Plan, sequence: int) -> None:
        if self._is_working:
            self._waiting = (plan, sequence)
            return
        self._is_working, self._waiting = True, None
        self._app.run_worker(lambda: self._work(plan, sequence), thread=True, group="calculation", exit_on_error=False)

    def _work(self, plan: Plan, sequence: int) -> None:
        def told(stage: str, outcome: "Outcome[Any]") -> None:
            if sequence != self.sequence:
                raise _OvertakenError
            self._is_painted.clear()
            self._app.post_message(StageWorkedOut(sequence, stage, outcome))
            if stage == plan.stage:
                self._is_painted.wait(_PAINTING)

        try:
            message = Recalculated(sequence, self._assess(plan, told))
        except _OvertakenError:
            message = Recalculated(sequence, None)
        except Exception as error:  # the safety net: whatever goes wrong, the owner keeps the plan and the program
            message = Recalculated(sequence, None, fault_sentence(error))
        self._app.post_message(message)

"""Works out variants in a thread, one after the other. It can be stopped; a fault in one leaves the others."""

import threading
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from textual.message import Message
from textual.screen import Screen

from engine.plan import Plan
from wizard.recalculation import Assess, fault_sentence

if TYPE_CHECKING:
    from engine.assessment import Assessment


@dataclass
class Compared(Message):
    """A variant has been worked out, or could not be: then `failure` is a sentence for the owner."""

    plan: Plan
    assessment: "Assessment | None"
    failure: str = ""


class Comparing:
    """One run over some plans; each result goes to the screen as a message."""

    def __init__(self, screen: Screen[Any], assess: Assess, plans: Sequence[Plan]) -> None:
        self._screen = screen
        self._assess = assess
        self._plans = plans
        self._is_stopped = threading.Event()

    def start(self) -> None:
        """Begin; the thread belongs to the app, so that closing the screen need not wait for it."""
        self._screen.app.run_worker(self._work, thread=True, group="comparing", exit_on_error=False)

    def stop(self) -> None:
        """Nothing more is told from now on; the thread ends after the plan it is at."""
        self._is_stopped.set()

    def _work(self) -> None:
        for plan in self._plans:
            if self._is_stopped.is_set():
                return
            try:
                message = Compared(plan, self._assess(plan))
            except Exception as error:  # the safety net: a fault in one variant leaves the others and the plan
                message = Compared(plan, None, fault_sentence(error))
            if not self._is_stopped.is_set():
                self._screen.post_message(message)

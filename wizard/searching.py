"""Searches the stock wheels in a thread. It can be stopped at any moment; a fault in it leaves the plan as it is."""

import threading
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from textual.message import Message
from textual.screen import Screen

from wizard.recalculation import fault_sentence

if TYPE_CHECKING:
    from engine.assessment import Assessment
    from engine.findings import Outcome

Told = Callable[[float], None]
Search = Callable[["Assessment", Told], "Outcome[Any]"]


@dataclass
class SearchProgressed(Message):
    """The search has come this far, 0 to 1."""

    assessment: "Assessment"
    share: float


@dataclass
class SearchEnded(Message):
    """The stock has been searched for a plan, or could not be: then `failure` is a sentence for the owner."""

    assessment: "Assessment"
    outcome: "Outcome[Any] | None"
    failure: str = ""


class _StoppedError(Exception):
    """The owner does not want the result any more."""


def search_stock(assessment: "Assessment", told: Told) -> "Outcome[Any]":
    """The engine's own search. numpy is loaded by it, so it is imported in the thread."""
    from engine.assessment import search_market

    return search_market(assessment, told)


class MarketSearch:
    """One search for one assessed plan; progress and result go to the screen as messages."""

    def __init__(self, screen: Screen[Any], search: Search, assessment: "Assessment") -> None:
        self._screen = screen
        self._search = search
        self._is_stopped = threading.Event()
        self.assessment = assessment

    def start(self) -> None:
        """Begin; the thread belongs to the app, so that closing the screen need not wait for it."""
        self._screen.app.run_worker(self._work, thread=True, group="market", exit_on_error=False)

    def stop(self) -> None:
        """Nothing more is told from now on; the thread ends when it next reports how far it is."""
        self._is_stopped.set()

    def _work(self) -> None:
        try:
            ended = SearchEnded(self.assessment, self._search(self.assessment, self._told))
        except _StoppedError:
            return
        except Exception as error:  # the safety net: whatever goes wrong, the owner keeps the plan and the program
            ended = SearchEnded(self.assessment, None, fault_sentence(error))
        if not self._is_stopped.is_set():
            self._screen.post_message(ended)

    def _told(self, share: float) -> None:
        if self._is_stopped.is_set():
            raise _StoppedError
        self._screen.post_message(SearchProgressed(self.assessment, share))

"""Saves the plan soon after each change: in a thread, never two saves at once, the latest plan wins."""

import threading
from collections.abc import Callable
from typing import Any

from textual.app import App
from textual.timer import Timer

from engine.plan import Plan
from engine.planfile import PlanFileError
from wizard.history import History
from wizard.keeping.keeper import GONE, Opened
from wizard.keeping.unsaved import Other

DELAY = 0.5
"""Seconds at most between a change and its save, however long the typing goes on."""
AGAIN = 5.0
"""Seconds after which a save that failed is tried again."""
LOOKS = 2.0
"""Seconds between two looks whether another program has changed the file."""


class Autosave:
    """Keeps one plan file in step with the plan on the screen.

    tell: is called on the app's thread with a sentence about what happened.   ask: is called there with this and with
    what another program has put into the file. While a question waits, be it about what could not be saved the last
    time, nothing is saved until `answered`; what is typed in spite of that is kept beside the file.
    """

    def __init__(
        self, app: App[Any], opened: Opened, tell: Callable[[str], None], ask: Callable[["Autosave", Other], None]
    ) -> None:
        self.keeper = opened.keeper
        self._app = app
        self._tell = tell
        self._ask = ask
        self._wanted = self._saved = opened.plan
        self._history = opened.history
        self._timer: Timer | None = None
        self._looks = app.set_interval(LOOKS, self._look)
        self._writing = threading.Lock()
        self._asked = opened.unsaved
        self._is_away = False
        self.failure = ""

    @property
    def trouble(self) -> str:
        """What the owner must know as long as it is so: why nothing can be saved, or that the file is gone."""
        gone = f"{self.keeper.path.name} {GONE} The next change writes it anew, and so does leaving the plan."
        return self.failure or (gone if self._is_away else "")

    @property
    def is_saved(self) -> bool:
        """True when the file holds the plan as it is on the screen."""
        return self._wanted is self._saved

    def changed(self, plan: Plan, history: History) -> None:
        """Save this plan soon, and the steps that lead to it; changes until then go with it."""
        self._wanted, self._history = plan, history
        if self._timer is None:
            self._timer = self._app.set_timer(DELAY, self.now)

    def now(self) -> None:
        """Save in a thread, at once."""
        self._stop_waiting()
        if not self.is_saved:
            self._in_thread(self._save)

    def answered(self, other: Other) -> None:
        """The owner has chosen: what was put into the file may be replaced."""
        self.keeper.decided(other)
        self._asked = None
        self._saved = Plan()  # whatever the file holds now, it is not the plan on the screen
        self.now()

    def finish(self) -> bool:
        """Save here and now, and wait for it; also what was saved, when another program has taken the file away since.

        Returns: True when the plan is on disk.
        """
        self._stop_waiting()
        self._look_at_file()
        if self._is_away:
            self._saved = Plan()
        for sentence in self._save():
            self._tell(sentence)
        return self.is_saved

    def close(self) -> None:
        """Stop, and let another window have the plan."""
        self._stop_waiting()
        self._looks.stop()
        with self._writing:
            self.keeper.close()

    def _stop_waiting(self) -> None:
        if self._timer is not None:
            self._timer.stop()
            self._timer = None

    def _in_thread(self, do: Callable[[], list[str]]) -> None:
        def work() -> None:
            for sentence in do():
                self._app.call_later(self._tell, sentence)

        self._app.run_worker(work, thread=True, group="save", exit_on_error=False)

    def _save(self) -> list[str]:
        """Write until the latest plan is on disk or a write fails; returns what the owner should be told."""
        sentences: list[str] = []
        with self._writing:
            if self._asked is not None and self._asked.path == self.keeper.path:
                self.keeper.hold(self._wanted)
            while not self.is_saved and self._asked is None:
                plan, history = self._wanted, self._history
                saved = self.keeper.save(plan, history)
                if saved.other is not None:
                    self._put(saved.other)
                elif saved.is_done:
                    self._saved = plan
                    self._is_away = False
                    sentences += [*saved.told, *(["The plan is saved again."] if self.failure else [])]
                    self.failure = ""
                else:
                    sentences += [sentence for sentence in saved.told if sentence != self.failure]
                    self.failure = saved.told[-1]
                    self._app.call_later(self._try_again)
                    break
        return sentences

    def _look(self) -> None:
        if self.is_saved and self._asked is None:
            self._in_thread(lambda: [*self._look_at_file(), *self._save()])

    def _look_at_file(self) -> list[str]:
        """See whether the file still holds what was saved; what it does not hold is not saved any more."""
        with self._writing:
            if not self.is_saved or self._asked is not None:
                return []
            try:
                other = self.keeper.other_version()
            except PlanFileError:  # no file stands there that could hold a plan; saving says so
                self._saved = Plan()
                return []
            if other is not None:
                self._put(other)
                return []
            was_away, self._is_away = self._is_away, self.keeper.is_taken_away
            if self._is_away != was_away:
                return [self.trouble or f"{self.keeper.path.name} is there again."]
        return []

    def _put(self, other: Other) -> None:
        """Put the question to the owner, once."""
        self._asked = other
        self._saved = Plan()  # what the file holds is not the plan on the screen
        self._app.call_later(self._ask, self, other)

    def _try_again(self) -> None:
        self._stop_waiting()
        self._timer = self._app.set_timer(AGAIN, self.now)

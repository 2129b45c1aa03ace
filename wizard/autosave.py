"""Saves the plan soon after each change: in a thread, never two saves at once, the latest plan wins."""

import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

from textual.app import App
from textual.timer import Timer

from engine.plan import Plan
from engine.planfile import PlanFileError, save_plan
from wizard.history import History
from wizard.locations import free_path
from wizard.steps_file import save_steps

Write = Callable[[Plan, Path], None]
DELAY = 0.5
"""Seconds at most between a change and its save, however long the typing goes on."""


class Autosave:
    """Keeps one plan file in step with the plan on the screen.

    tell: is called on the app's thread with a sentence when a save fails, or when the file changed under our hands.
    """

    def __init__(self, app: App[Any], plan: Plan, path: Path, tell: Callable[[str], None], write: Write = save_plan):
        self.path = path
        self._app = app
        self._tell = tell
        self._write = write
        self._wanted = self._saved = plan
        self._history = History()
        self._timer: Timer | None = None
        self._writing = threading.Lock()
        self._seen = _stamp(path)
        self.failure = ""

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
        self._timer = None
        if not self.is_saved:
            self._app.run_worker(self._work, thread=True, group="save", exit_on_error=False)

    def finish(self) -> bool:
        """Save here and now, and wait for it. Returns: True when the plan is on disk."""
        if self._timer is not None:
            self._timer.stop()
        sentences = self._save()
        for sentence in sentences:
            self._tell(sentence)
        return self.is_saved

    def _work(self) -> None:
        for sentence in self._save():
            self._app.call_from_thread(self._tell, sentence)

    def _save(self) -> list[str]:
        """Write until the latest plan is on disk or a write fails; returns what the owner should be told."""
        sentences: list[str] = []
        with self._writing:
            while not self.is_saved:
                plan, history = self._wanted, self._history
                try:
                    sentences += self._keep_other_version()
                    self.path.parent.mkdir(parents=True, exist_ok=True)
                    self._write(plan, self.path)
                except (PlanFileError, OSError) as error:
                    self.failure = str(error)
                    return [*sentences, f"{error} The plan is still open here; it is tried again at the next change."]
                self.failure = ""
                self._saved = plan
                self._seen = _stamp(self.path)
                save_steps(history, plan, self.path)
        return sentences

    def _keep_other_version(self) -> list[str]:
        """When another program changed the file since we saw it, put that version beside ours before it is replaced."""
        found = _stamp(self.path)
        if found is None or self._seen is None or found == self._seen:
            return []
        beside = free_path(self.path.parent, f"{self.path.stem}-changed-elsewhere")
        beside.write_bytes(self.path.read_bytes())
        self._seen = found
        return [f"{self.path.name} was changed by another program. That version is kept as {beside.name}."]


def _stamp(path: Path) -> tuple[int, int] | None:
    try:
        state = path.stat()
    except OSError:
        return None
    return state.st_mtime_ns, state.st_size

"""The file of one open plan and all that is kept beside it. Blocking; knows nothing of screens, threads and timers."""

import contextlib
import os
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from engine.disk import Disk, sweep, why
from engine.plan import Plan
from engine.planfile import (
    NoFileError,
    PlanFileError,
    PlanMissingError,
    content_of,
    not_saved,
    plan_from_text,
    put_plan,
    read_plan_file,
    shown,
)
from wizard.history import History, changes
from wizard.keeping.earlier import APART, changed_at, is_kept, keep_version, sweep_versions
from wizard.keeping.lock import HeldError, Lock, give_back, take_lock
from wizard.keeping.steps_file import STEPS, load_steps, save_steps
from wizard.keeping.unsaved import UNSAVED, Other, find_unsaved, forget_unsaved, keep_unsaved

Now = Callable[[], datetime]
GONE = "was moved or removed by another program."
MEND = "Mend that, or move it away."


@dataclass(frozen=True)
class Saved:
    """How a save went.

    is_done: whether the file holds the plan.   told: sentences for the owner.   other: what another program has put
    into the file; nothing is saved until the owner has chosen.
    """

    is_done: bool
    told: tuple[str, ...] = ()
    other: Other | None = None


@dataclass
class Keeper:
    """Saves one plan, and keeps what was there before.

    path: the file, without links when it was opened.   spare_folder: where unsaved work goes when nothing can be put
    beside the plan.
    held_by: why the plan can only be read, as a sentence; "" when it can be changed.
    seen: what the file holds, as far as we know; once it is gone, what it held last.
    """

    path: Path
    spare_folder: Path
    disk: Disk
    now: Now
    held_by: str = ""
    lock: Lock | None = None
    seen: bytes = b""
    _is_gone: bool = field(default=False, init=False)
    _tried: bytes = field(default=b"", init=False)
    _kept_at: datetime | None = field(default=None, init=False)
    _has_told_of_versions: bool = field(default=False, init=False)

    @property
    def place(self) -> Path:
        """Where the file is now: another program may have moved it, and left a link to it in its place."""
        return Path(os.path.realpath(self.path))

    def save(self, plan: Plan, history: History) -> Saved:
        """Put the plan into its file, unless another program has changed that since we saw it."""
        try:
            return self._save(plan, history)
        except PlanFileError as error:
            return Saved(False, (self._failed(plan, str(error)),))
        except OSError as error:
            return Saved(False, (self._failed(plan, str(not_saved(error, self.path))),))
        except Exception as error:  # the safety net: nobody hears of what is raised in the thread that saves
            why_not = f"The plan could not be saved; that is a fault of the program: {type(error).__name__}."
            return Saved(False, (self._failed(plan, why_not),))

    def _save(self, plan: Plan, history: History) -> Saved:
        try:
            other = self.other_version()
        except PlanFileError as error:
            cure = "Move it away, or give it another name." if isinstance(error, NoFileError) else MEND
            raise PlanFileError(f"The plan could not be saved. {error} {cure}") from None
        if other is not None:
            self.hold(plan)
            return Saved(False, (), other)
        place = self.place
        told = () if self._is_gone else self._keep_version(place)
        self.disk.make_folder(place.parent)
        self._tried = content_of(plan, self.seen)
        put_plan(self._tried, place, self.disk)
        if self._is_gone:
            told = (*told, f"{self.path.name} {GONE} It is written anew.")
        self._is_gone = False
        self.seen = self._tried
        forget_unsaved(self.disk, place, self.spare_folder)
        save_steps(self.disk, history, plan, place)
        return Saved(True, told)

    def other_version(self) -> Other | None:
        """What another program has put into the file since we saw it; None when it is as it was, or gone.

        Raises: PlanFileError when it cannot be read.
        """
        try:
            content = read_plan_file(self.path, self.disk)
        except PlanMissingError:
            content = b""
        if content in (b"", self.seen, self._tried):
            self._is_gone = not content
            self.seen = content or self.seen  # the comments that were in it
            return None
        try:
            found = plan_from_text(content, self.path.name)
        except PlanFileError as error:
            return Other(self.path, content, None, str(error))
        with contextlib.suppress(PlanFileError):  # what we saw last may be no plan
            if changes(plan_from_text(self.seen, self.path.name), found).is_empty:
                self.seen = content  # nothing but the layout, comments, or the page that was open
                return None
        return Other(self.path, content, found)

    @property
    def is_taken_away(self) -> bool:
        """Whether another program had moved, removed or emptied the file when we saw it last; not where all of its
        folder is gone, as with a stick that was pulled out: there it is still on that."""
        with contextlib.suppress(OSError):
            return self._is_gone and self.disk.look(self.path.parent).is_folder
        return False

    def hold(self, plan: Plan) -> Path | None:
        """Keep a plan beside its file until that can be saved. Returns: where; None when it can be kept nowhere."""
        try:
            return keep_unsaved(self.disk, plan, self.place, self.spare_folder)
        except Exception:  # the safety net, as in saving
            return None

    def keep_other(self, other: Other) -> bool:
        """Keep another version among the earlier ones. Returns: whether it could be kept."""
        try:
            keep_version(self.disk, self.place, other.content, self.now())
        except OSError:
            return False
        return True

    def decided(self, other: Other) -> None:
        """The owner has decided about another version: the file may be replaced. What waits beside it goes with the
        next save, not before."""
        if other.path == self.path:
            self.seen = other.content

    def close(self) -> None:
        """Let another window have the plan."""
        if self.lock is not None:
            give_back(self.disk, self.lock)
            self.lock = None

    def _failed(self, plan: Plan, why_not: str) -> str:
        """What the owner is told of a save that failed, with the place where the plan is kept meanwhile."""
        place = self.hold(plan)
        kept = f"Meanwhile it is kept in {shown(place)}." if place else "Leave this window open until it is saved."
        return f"{why_not} It is tried again every few seconds. {kept}"

    def _keep_version(self, place: Path) -> tuple[str, ...]:
        """Keep what the file holds before it is replaced for the first time, and every so often."""
        now = self.now()
        if self._kept_at is not None and abs(now - self._kept_at) < APART:
            return ()
        self._kept_at = now
        try:
            if not is_kept(self.disk, place, self.seen):
                keep_version(self.disk, place, self.seen, changed_at(self.disk, place))
        except OSError as error:
            if self._has_told_of_versions:
                return ()
            self._has_told_of_versions = True
            return (f"No earlier version of the plan could be kept: {why(error)}.",)
        return ()


@dataclass(frozen=True)
class Opened:
    """A plan that was opened, with what goes with it.

    told: sentences for the owner.   unsaved: what could not be saved the last time.
    """

    plan: Plan
    keeper: Keeper
    history: History
    told: tuple[str, ...] = ()
    unsaved: Other | None = None


def open_kept(path: Path, spare_folder: Path, disk: Disk, now: Now = datetime.now) -> Opened:
    """Open a plan: to change it, or only to read it when another window has it or nothing can be written there.

    Raises: PlanFileError when it cannot be read.
    """
    target = Path(os.path.realpath(path))
    content = read_plan_file(target, disk)
    plan = plan_from_text(content, shown(path))
    keeper = Keeper(target, Path(os.path.realpath(spare_folder)), disk, now, seen=content)
    told: list[str] = []
    keeper.held_by = _why_only_read(disk, target)
    if not keeper.held_by:
        try:
            keeper.lock = take_lock(disk, target, now())
        except HeldError as error:
            keeper.held_by = (
                f"Open in another window: here it can only be read. To change it, close that one{_by(error)} and open "
                "the plan here again."
            )
        except OSError as error:
            told.append(f"A second window on this plan could not be kept out: {why(error)}.")
    if keeper.held_by:
        return Opened(plan, keeper, History())
    if keeper.lock is not None:
        try:  # between our reading and our lock, its last holder may have saved once more
            keeper.seen = read_plan_file(target, disk)
            plan = plan if keeper.seen == content else plan_from_text(keeper.seen, shown(path))
        except PlanFileError:
            keeper.close()
            raise
        sweep(disk, target, UNSAVED, STEPS)
        sweep_versions(disk, target)
        if keeper.lock.left_by:
            since = ""
            with contextlib.suppress(OSError):
                since = f", {changed_at(disk, target):%d %b %H:%M:%S}"
            told.append(f"This plan was not closed in the usual way last time. It is as it was last saved{since}.")
    unsaved = find_unsaved(disk, plan, target, keeper.spare_folder)
    return Opened(plan, keeper, load_steps(disk, plan, target), tuple(told), unsaved)


def _by(error: HeldError) -> str:
    return f" ({error})" if str(error) else ""


def _why_only_read(disk: Disk, target: Path) -> str:
    """Why a plan cannot be changed where it is; "" when it can."""
    with contextlib.suppress(OSError):
        if not disk.look(target).mode & 0o200:
            return f"{shown(target)} is marked as read-only: it can only be read. To change it, copy it first."
    if not os.access(target.parent, os.W_OK):
        folder = shown(target.parent)
        return f"Nothing can be written in {folder}: the plan can only be read. To change it, copy it first."
    return ""

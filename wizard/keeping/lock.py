"""One window at a time changes a plan; a second one is told who has it."""

import contextlib
import os
import platform
import tomllib
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from engine.disk import Disk, hidden_path


@dataclass(frozen=True)
class Lock:
    """A lock that we hold.   left_by: who held it before and never gave it back; "" when all is well."""

    path: Path
    handle: int
    left_by: str = ""


class HeldError(Exception):
    """Another window has the plan; the text says which, as far as is known."""


def take_lock(disk: Disk, plan_path: Path, now: datetime) -> Lock:
    """Take the lock of a plan.

    Raises: HeldError when another window has it; OSError when there can be no lock here.
    """
    path = hidden_path(plan_path, ".lock")
    try:
        handle = disk.lock(path)
    except BlockingIOError:
        raise HeldError(_holder(disk, path)) from None
    try:
        left_by = _holder(disk, path)
        disk.empty(handle)
        disk.write(handle, _words(now))
    except OSError:
        disk.close(handle)
        raise
    return Lock(path, handle, left_by)


def give_back(disk: Disk, lock: Lock) -> None:
    """Let the next window have the plan. A lock file that cannot be taken away does no harm: its holder is gone."""
    with contextlib.suppress(OSError):
        disk.remove(lock.path)
    with contextlib.suppress(OSError):
        disk.close(lock.handle)


def _words(now: datetime) -> bytes:
    import tomli_w

    who = {"process": os.getpid(), "computer": platform.node(), "since": now.replace(microsecond=0)}
    return tomli_w.dumps(who).encode("utf-8")


def _holder(disk: Disk, path: Path) -> str:
    """Who wrote a lock file; "" for one that says nothing."""
    try:
        found = tomllib.loads(disk.read(path).decode("utf-8"))
        return f"process {found['process']} on {found['computer']}, since {found['since']:%d %b %H:%M}"
    except (OSError, ValueError, KeyError, TypeError):
        return ""

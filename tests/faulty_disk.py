"""A disk on which one call goes wrong: it fails, or the machine stops there and what was not synced may be gone."""

import errno
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

from engine.disk import Disk, Look

FAULTS = ("ENOSPC", "EIO", "EACCES", "half", "killed", "power")
"""half: a write that puts half of its content on the disk and then fails.   killed: the process dies there.
power: it dies, and what was never synced is lost: contents, and files put in the place of others."""


class Died(BaseException):
    """The process is dead: nothing that it does after this reaches the disk."""


class FaultyDisk(Disk):
    """The real disk, but for the call of one number.

    fail_at: from 1; 0 for none.   fault: one of FAULTS.   calls: the names of the calls so far.
    """

    def __init__(self, fail_at: int = 0, fault: str = "EIO") -> None:
        self.fail_at, self.fault = fail_at, fault
        self.calls: list[str] = []
        self.is_dead = False
        self._handles: dict[int, Path] = {}
        self._unsynced: set[Path] = set()
        self._replaced: list[tuple[Path, bytes | None]] = []

    @property
    def has_failed(self) -> bool:
        """Whether the call that fails has come."""
        return 0 < self.fail_at <= len(self.calls)

    def _do(self, name: str, do: Callable[[], Any], instead: Callable[[], Any] = lambda: None) -> Any:
        if self.is_dead:
            raise Died
        self.calls.append(name)
        if len(self.calls) != self.fail_at:
            return do()
        if self.fault in ("killed", "power"):
            instead()
            self.is_dead = True
            if self.fault == "power":
                self._lose()
            raise Died
        if self.fault == "half":
            instead()
        number = getattr(errno, "EIO" if self.fault == "half" else self.fault)
        raise OSError(number, os.strerror(number))

    def _lose(self) -> None:
        """What a machine that lost its power may find when it starts again."""
        for target, content in reversed(self._replaced):
            target.unlink(missing_ok=True)
            if content is not None:
                target.write_bytes(content)
        for path in self._unsynced:
            if path.exists():
                path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])

    def look(self, path: Path) -> Look:
        return self._do("look", lambda: super(FaultyDisk, self).look(path))

    def read(self, path: Path) -> bytes:
        return self._do("read", lambda: super(FaultyDisk, self).read(path))

    def names(self, folder: Path) -> list[str]:
        return self._do("names", lambda: super(FaultyDisk, self).names(folder))

    def make_folder(self, folder: Path) -> None:
        self._do("make_folder", lambda: super(FaultyDisk, self).make_folder(folder))

    def create(self, path: Path) -> int:
        def create() -> int:
            handle = super(FaultyDisk, self).create(path)
            self._handles[handle] = path
            return handle

        return self._do("create", create)

    def write(self, handle: int, content: bytes) -> None:
        def write(length: int) -> None:
            super(FaultyDisk, self).write(handle, content[:length])
            if handle in self._handles:
                self._unsynced.add(self._handles[handle])

        self._do("write", lambda: write(len(content)), lambda: write(len(content) // 2))

    def empty(self, handle: int) -> None:
        self._do("empty", lambda: super(FaultyDisk, self).empty(handle))

    def set_mode(self, path: Path, mode: int) -> None:
        self._do("set_mode", lambda: super(FaultyDisk, self).set_mode(path, mode))

    def sync(self, handle: int) -> None:
        def sync() -> None:
            super(FaultyDisk, self).sync(handle)
            self._unsynced.discard(self._handles[handle])

        self._do("sync", sync)

    def close(self, handle: int) -> None:
        def close() -> None:
            super(FaultyDisk, self).close(handle)
            self._handles.pop(handle, None)

        self._do("close", close, close)

    def replace(self, source: Path, target: Path) -> None:
        def replace() -> None:
            before = target.read_bytes() if target.exists() else None
            super(FaultyDisk, self).replace(source, target)
            self._replaced.append((target, before))
            if source in self._unsynced:
                self._unsynced = self._unsynced - {source} | {target}

        self._do("replace", replace, replace)

    def sync_folder(self, folder: Path) -> None:
        def sync_folder() -> None:
            super(FaultyDisk, self).sync_folder(folder)
            self._replaced = [item for item in self._replaced if item[0].parent != folder]

        self._do("sync_folder", sync_folder)

    def remove(self, path: Path) -> None:
        self._do("remove", lambda: super(FaultyDisk, self).remove(path))

    def lock(self, path: Path) -> int:
        def lock() -> int:
            handle = super(FaultyDisk, self).lock(path)
            self._handles[handle] = path
            return handle

        return self._do("lock", lock)

    def loses_power(self) -> None:
        """The machine stops between two calls."""
        self.is_dead = True
        self._lose()

    def let_go(self) -> None:
        """Close what a dead process would have had closed for it."""
        for handle in self._handles:
            os.close(handle)
        self._handles = {}

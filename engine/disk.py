"""The calls by which files reach the disk and come back, each once, so that a test can let any one of them fail."""

import contextlib
import errno
import os
import re
import stat
from dataclasses import dataclass
from pathlib import Path

from engine.quoting import HALVES, UNSEEN

try:
    import fcntl
except ImportError:  # a system without such locks
    fcntl = None  # type: ignore[assignment]

_LONGEST_NAME = 200
"""Bytes of a file's name that go into the name of a hidden file beside it; most file systems take 255 in all."""
_PART = ".part"
_TRIES = 20


@dataclass(frozen=True)
class Look:
    """What is at a path.   size: bytes.   changed: seconds since 1970.   mode: permission bits."""

    is_file: bool
    is_folder: bool
    size: int
    changed: float
    mode: int


class Disk:
    """The disk of this machine. Every method is one step that can fail with OSError."""

    def look(self, path: Path) -> Look:
        """What is at a path, links followed."""
        found = os.stat(path)
        kind = found.st_mode
        return Look(stat.S_ISREG(kind), stat.S_ISDIR(kind), found.st_size, found.st_mtime, stat.S_IMODE(kind))

    def read(self, path: Path) -> bytes:
        """The content of a file."""
        return path.read_bytes()

    def names(self, folder: Path) -> list[str]:
        """The names in a folder."""
        return os.listdir(folder)

    def make_folder(self, folder: Path) -> None:
        """Make a folder and those above it; nothing happens when it is there."""
        folder.mkdir(parents=True, exist_ok=True)

    def create(self, path: Path) -> int:
        """A new file, open for writing. Raises FileExistsError when there is one."""
        return os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)

    def write(self, handle: int, content: bytes) -> None:
        """Write the whole content."""
        rest = memoryview(content)
        while rest:
            rest = rest[os.write(handle, rest) :]

    def empty(self, handle: int) -> None:
        """Take away what an open file holds."""
        os.ftruncate(handle, 0)

    def set_mode(self, path: Path, mode: int) -> None:
        """Set the permission bits."""
        os.chmod(path, mode)

    def sync(self, handle: int) -> None:
        """Wait until what was written is on the disk."""
        os.fsync(handle)

    def close(self, handle: int) -> None:
        """Close a file or let go of a lock."""
        os.close(handle)

    def replace(self, source: Path, target: Path) -> None:
        """Put one file in the place of another, in one step."""
        os.replace(source, target)

    def sync_folder(self, folder: Path) -> None:
        """Wait until the names in a folder are on the disk."""
        if os.name != "posix":
            return
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        except OSError as error:
            if error.errno != errno.EINVAL:  # some network file systems cannot sync a folder
                raise
        finally:
            os.close(handle)

    def remove(self, path: Path) -> None:
        """Take a file away."""
        os.unlink(path)

    def lock(self, path: Path) -> int:
        """A file that only one open window can hold; it falls free when its holder closes it or dies.

        Raises: BlockingIOError when another holds it.
        """
        for _ in range(_TRIES):
            handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o666)
            try:
                if fcntl is not None:
                    fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
                if os.path.exists(path) and os.path.samestat(os.fstat(handle), os.stat(path)):
                    return handle
            except OSError:
                os.close(handle)
                raise
            os.close(handle)  # its last holder took the file away between our two steps
        raise OSError(errno.EAGAIN, "the lock file comes and goes")


def hidden_path(target: Path, ending: str) -> Path:
    """The path of a hidden file beside another one; a very long name is cut, and stays one of its own."""
    name = os.fsencode(target.name)
    if len(name) > _LONGEST_NAME:
        name = name[:_LONGEST_NAME] + b"-" + mark_of(name).encode()
    dot = "" if name.startswith(b".") else "."
    return target.with_name(f"{dot}{os.fsdecode(name)}{ending}")


def mark_of(name: bytes) -> str:
    """Eight signs that hardly any other name or path has."""
    from hashlib import sha256  # seldom needed, and a part of the time to the first frame

    return sha256(name).hexdigest()[:8]


def replace_file(disk: Disk, target: Path, content: bytes, *, lasting: bool = True) -> None:
    """Put a content in the place of what a file holds: the file has the old one or the new one, never a part of either.

    target: a path without links.   lasting: wait until it is on the disk, so that it outlives a loss of power.
    Raises: OSError when it cannot be done; the old file is then untouched. One that was made read-only stays as it is.
    """
    mode = None
    with contextlib.suppress(FileNotFoundError):
        mode = disk.look(target).mode
    if mode is not None and not mode & stat.S_IWUSR:
        raise PermissionError(errno.EACCES, "the file is marked as read-only")
    part = hidden_path(target, f".{os.urandom(4).hex()}{_PART}")
    is_there = False
    try:
        handle = disk.create(part)
        is_there = True
        try:
            disk.write(handle, content)
            if lasting:
                disk.sync(handle)
        finally:
            disk.close(handle)
        if mode is not None:
            disk.set_mode(part, mode)
        disk.replace(part, target)
        is_there = False
        if lasting:
            disk.sync_folder(target.parent)
    finally:
        if is_there:
            with contextlib.suppress(OSError):
                disk.remove(part)


def encoded(text: str) -> bytes:
    """A text as a file holds it; halves of a pair become the sign for what cannot be shown."""
    return HALVES.sub(UNSEEN, text).encode("utf-8")


def sweep(disk: Disk, target: Path, *endings: str) -> None:
    """Take away what replacements that were cut short have left beside a file.

    endings: of hidden files beside it, of which the leftovers go too.
    """
    names = [re.escape(hidden_path(target, ending).name) for ending in ("", *endings)]
    ours = re.compile(rf"(?:{'|'.join(names)})\.[0-9a-f]{{8}}{re.escape(_PART)}")
    with contextlib.suppress(OSError):
        for name in disk.names(target.parent):
            if ours.fullmatch(name):
                disk.remove(target.with_name(name))


def why(error: OSError) -> str:
    """The reason of a failure in plain words, as the end of a sentence."""
    return _REASONS.get(error.errno or 0, "") or (error.strerror or "the disk refused").lower()


_REASONS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "your share of the disk is full",
    errno.EFBIG: "it is larger than the disk or your limits allow",
    errno.EACCES: "you have no permission for it",
    errno.EPERM: "you have no permission for it",
    errno.EROFS: "that disk can only be read",
    errno.EIO: "the disk reports a fault",
    errno.ENOENT: "the folder is not there",
    errno.ENOTDIR: "part of the path is a file, not a folder",
    errno.EISDIR: "it is a folder",
    errno.ENAMETOOLONG: "the name is too long",
    errno.ELOOP: "links lead round in a circle",
}

"""Small files beside the plans, of comforts that may be lost: written whole or not at all, and without a word."""

import contextlib
import os
from pathlib import Path

from engine.disk import Disk, encoded, replace_file, sweep


def write_aside(disk: Disk, target: Path, text: str) -> None:
    """Put a text in the place of what a file holds. Where nothing can be written, nothing happens."""
    with contextlib.suppress(OSError):
        replace_file(disk, target, encoded(text), lasting=False)


def write_out(disk: Disk, path: Path, text: str) -> None:
    """Put a text where the owner wants it: whole or not at all, or straight into what is no ordinary file.

    Raises: OSError when it cannot be written.
    """
    content = encoded(text)
    try:
        is_ordinary = disk.look(path).is_file
    except FileNotFoundError:
        is_ordinary = True
    if is_ordinary:
        target = Path(os.path.realpath(path))
        sweep(disk, target)
        replace_file(disk, target, content)
    else:
        path.write_bytes(content)

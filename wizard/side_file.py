"""Small files beside the plans, of comforts that may be lost: written whole or not at all, and without a word."""

import contextlib
import os
import tempfile
from pathlib import Path


def write_aside(target: Path, text: str) -> None:
    """Put a text in the place of what a file holds. Where nothing can be written, nothing happens."""
    temporary = ""
    with contextlib.suppress(OSError):
        handle, temporary = tempfile.mkstemp(dir=target.parent, prefix=f"{target.name}.", suffix=".part")
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
        os.replace(temporary, target)
        return
    if temporary:
        with contextlib.suppress(OSError):
            os.unlink(temporary)

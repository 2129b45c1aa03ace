"""The command line without a process of its own: a new interpreter takes longer than most commands."""

import contextlib
import io
import os
from dataclasses import dataclass
from pathlib import Path
from unittest.mock import patch

from wizard.cli import main


@dataclass(frozen=True)
class Ran:
    """What a command has printed, and its exit status."""

    returncode: int
    stdout: str
    stderr: str


def shaftlog(*words: str, cwd: Path) -> Ran:
    """Run the command in a folder, as of an owner whose home that is, with no terminal on any side."""
    printed, told = io.TextIOWrapper(io.BytesIO(), encoding="utf-8"), io.StringIO()
    status: object = 0
    with contextlib.ExitStack() as only_here:
        only_here.enter_context(contextlib.chdir(cwd))
        only_here.enter_context(patch.dict(os.environ, {"PATH": os.environ["PATH"], "HOME": str(cwd)}, clear=True))
        only_here.enter_context(patch("sys.stdin", only_here.enter_context(open(os.devnull, encoding="utf-8"))))
        only_here.enter_context(contextlib.redirect_stdout(printed))
        only_here.enter_context(contextlib.redirect_stderr(told))
        try:
            status = main(words)
        except SystemExit as ended:
            status = ended.code or 0
    assert isinstance(status, int), "an exit status, not a sentence that the interpreter would print"
    printed.flush()
    return Ran(status, printed.buffer.getvalue().decode("utf-8"), told.getvalue())

"""The wizard in a real terminal, for tests of what only a terminal shows."""

import os
import pty
import select
import signal
import sys
import time
from pathlib import Path

import pytest

WAY_OUT = b"\x1b[?1049l"
"""What takes a terminal back from the whole screen to its lines."""


class Window:
    """The wizard in a terminal.

    shielded: a process in between keeps the word of the terminal's loss from it.   is_module: else the words begin with
    a script.
    """

    def __init__(self, root: Path, words: list[str], *, shielded: bool = False, is_module: bool = True) -> None:
        self.process, self.terminal = pty.fork()
        if self.process == 0:
            if shielded:
                signal.signal(signal.SIGHUP, signal.SIG_IGN)
                wizard = os.fork()
                if wizard:
                    os._exit(os.waitstatus_to_exitcode(os.waitpid(wizard, 0)[1]))
            os.chdir(root)
            os.environ["TERM"] = "xterm-256color"
            program = ["-m", "wizard"] if is_module else []
            os.execv(sys.executable, [sys.executable, *program, *words])
        self.seen = b""

    def read(self, seconds: float, wanted: bytes = b"") -> None:
        """Take what it draws for a while, or until something wanted is among it."""
        deadline = time.monotonic() + seconds
        while time.monotonic() < deadline and not (wanted and wanted in self.seen):
            if select.select([self.terminal], [], [], 0.05)[0]:
                try:
                    self.seen += os.read(self.terminal, 65536)
                except OSError:  # the other end is closed
                    return

    def sees(self, wanted: bytes) -> "Window":
        """Wait until something is drawn, on however busy a machine."""
        self.read(60.0, wanted)
        assert wanted in self.seen, f"{wanted!r} was never drawn: {self.seen[-300:]!r}"
        return self

    def until(self, typed: bytes, wanted: bytes) -> "Window":
        """Type something, again after a while, until what it opens is drawn: a key that comes together with the Esc
        that closes a dialog, as on a busy machine, still goes to that dialog and is lost."""
        for _ in range(6):
            self.types(typed).read(10.0, wanted)
            if wanted in self.seen:
                return self
        return self.sees(wanted)

    def opened(self) -> "Window":
        """Wait for the range page."""
        return self.sees(b"far will she")

    def types(self, typed: bytes) -> "Window":
        """Type, and give it the time that a person takes to look up."""
        os.write(self.terminal, typed)
        self.read(0.3)
        return self

    def status(self) -> int:
        """Wait for its end. Returns: the exit status."""
        deadline = time.monotonic() + 10.0
        while time.monotonic() < deadline:
            ended, status = os.waitpid(self.process, os.WNOHANG)
            if ended:
                return os.waitstatus_to_exitcode(status)
            time.sleep(0.02)
        os.killpg(self.process, signal.SIGKILL)
        return pytest.fail("it does not end")

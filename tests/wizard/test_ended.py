"""Ended from outside, in a real terminal: what was typed is saved, and the terminal is given back as it was."""

import os
import pty
import select
import signal
import sys
import termios
import time
from pathlib import Path

import pytest

from engine.plan import text_at
from engine.planfile import load_plan

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


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT])
def test_a_signal_saves_what_was_typed_and_gives_the_terminal_back(root: Path, range_path: Path, number: int) -> None:
    window = Window(root, [str(range_path)]).opened().types(b"300 L")
    raw = termios.tcgetattr(window.terminal)[3] & (termios.ECHO | termios.ICANON)
    os.kill(window.process, number)
    window.sees(WAY_OUT)
    window.read(0.3)
    after = termios.tcgetattr(window.terminal)[3] & (termios.ECHO | termios.ICANON)
    assert window.status() == 0
    assert WAY_OUT in window.seen
    assert b"\x1b[?25h" in window.seen[window.seen.rindex(WAY_OUT) - 200 :], "the cursor shows again"
    assert (raw, after) == (0, termios.ECHO | termios.ICANON)
    assert text_at(load_plan(range_path), "range.tank") == "300 L"
    assert not (range_path.parent / f".{range_path.name}.lock").exists()


@pytest.mark.parametrize("shielded", [False, True])
def test_a_terminal_that_is_gone_saves_what_was_typed_and_ends(root: Path, range_path: Path, shielded: bool) -> None:
    window = Window(root, [str(range_path)], shielded=shielded).opened().types(b"300 L")
    os.close(window.terminal)
    assert window.status() == 0
    assert text_at(load_plan(range_path), "range.tank") == "300 L"
    assert not (range_path.parent / f".{range_path.name}.lock").exists()


def test_bytes_that_are_no_text_do_not_end_it(root: Path, range_path: Path) -> None:
    """As from a keyboard of another encoding: an e with an accent is one byte there."""
    window = Window(root, [str(range_path)]).opened().types(b"30\xe9\xff").types(b"5 L").types(b"\x1b[21~")
    window.sees(WAY_OUT)
    assert window.status() == 0
    assert text_at(load_plan(range_path), "range.tank").startswith("30")
    assert text_at(load_plan(range_path), "range.tank").endswith("5 L")


def test_a_name_cannot_give_the_terminal_orders(root: Path, range_path: Path) -> None:
    text = range_path.read_text(encoding="utf-8")
    range_path.write_text(text.replace('"Teasel"', '"Tea\\u001b]0;x\\u0007\\u009b2Jsel"'), encoding="utf-8")
    window = Window(root, ["--plans", str(range_path.parent)])
    window.sees(b"F10 quit")
    window.types(b"\x1b[21~").sees(WAY_OUT)
    assert b"Tea]0;x2Jsel" in window.seen
    assert b"\x1b]0;x" not in window.seen
    assert window.status() == 0

"""A program in a terminal of its own: how long until it shows something, and what it takes while it runs."""

import contextlib
import fcntl
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
LONGEST = 60.0
"""Seconds that anything is waited for."""


class Terminal:
    """The terminal's side: what the program has drawn so far, and the keys it is sent."""

    def __init__(self, master: int, process: subprocess.Popen[bytes]) -> None:
        self._master = master
        self.process = process
        self.began = time.monotonic()
        self._seen = b""

    def until(self, words: str, seconds: float = LONGEST) -> float:
        """Read what is drawn until these words come, from the start or the last clear. Returns: when they came."""
        deadline = time.monotonic() + seconds
        while words.encode() not in self._seen:
            if not self._read(deadline - time.monotonic()):
                raise TimeoutError(f"{words!r} was not drawn: {self.last_words}")
        return time.monotonic()

    def quiet(self, pause: float, seconds: float = LONGEST) -> None:
        """Read until nothing has been drawn for a while."""
        deadline = time.monotonic() + seconds
        while time.monotonic() < deadline and self._read(pause):
            pass

    def drain(self) -> None:
        """Read whatever is drawn until the program ends."""
        while self._read(LONGEST):
            pass
        self.process.wait(LONGEST)

    def press(self, keys: str) -> None:
        """Send keys; what has been drawn before is forgotten."""
        self._seen = b""
        os.write(self._master, keys.encode())

    @property
    def last_words(self) -> str:
        """The end of what was drawn."""
        return self._seen[-3000:].decode(errors="replace")

    def memory_peak(self) -> float:
        """The most memory that the program has held at once [MB]."""
        status = Path(f"/proc/{self.process.pid}/status").read_text(encoding="utf-8")
        return next(int(line.split()[1]) for line in status.splitlines() if line.startswith("VmHWM")) / 1024

    def cpu_seconds(self) -> float:
        """Processor time of the program up to now."""
        fields = Path(f"/proc/{self.process.pid}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    def _read(self, seconds: float) -> bool:
        """Take in what comes. Returns: False when nothing came in time, or nothing will any more."""
        if not select.select([self._master], [], [], max(seconds, 0.0))[0]:
            return False
        try:
            found = os.read(self._master, 65536)
        except OSError:
            return False
        self._seen = (self._seen + found)[-1_000_000:]
        return bool(found)


@contextlib.contextmanager
def in_terminal(
    words: Sequence[str], home: Path, rows: int = 24, columns: int = 80, variables: Mapping[str, str] | None = None
) -> Iterator[Terminal]:
    """Run Python with these words in a terminal; at the end it is killed if it has not gone by itself.

    variables: of its environment, beside those that every terminal has.

    "{keys}" among the words becomes the number of the terminal's own side, for a program that types by itself.
    """
    master, slave = pty.openpty()
    fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
    environment = {
        "PATH": os.environ.get("PATH", ""),
        "PYTHONPATH": str(ROOT),
        "HOME": str(home),
        "TERM": "xterm-256color",
        "LANG": "C.UTF-8",
        **(variables or {}),
    }
    command = [sys.executable, *(word.replace("{keys}", str(master)) for word in words)]
    process = subprocess.Popen(
        command,
        stdin=slave,
        stdout=slave,
        stderr=slave,
        cwd=ROOT,
        env=environment,
        start_new_session=True,
        pass_fds=(master,),
    )
    terminal = Terminal(master, process)
    os.close(slave)
    try:
        yield terminal
    finally:
        if process.poll() is None:
            process.send_signal(signal.SIGKILL)
        process.wait(LONGEST)
        os.close(master)


def command_seconds(words: Sequence[str]) -> float:
    """How long Python takes for these words, without a terminal, from start to end."""
    began = time.perf_counter()
    subprocess.run([sys.executable, *words], cwd=ROOT, stdout=subprocess.DEVNULL, check=True)
    return time.perf_counter() - began

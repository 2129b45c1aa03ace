"""The terminal as the wizard needs it: bytes that are no text do not stop it, letters of an old code page are
read as such, and a terminal that is gone ends it."""

import contextlib
import os
import selectors
import signal
import sys
from codecs import getincrementaldecoder, lookup
from collections.abc import Callable
from typing import Any, TextIO

from textual._parser import ParseError
from textual._xterm_parser import XTermParser
from textual.drivers.linux_driver import LinuxDriver

_WAIT = 0.1
"""Seconds to wait for keys before Esc counts as a key of its own; as in Textual."""
_MOST = 4096


def typed_in(keyboard: TextIO | None) -> str:
    """The encoding of what is typed: that of the terminal, of which ASCII is but a part."""
    encoding = keyboard.encoding if keyboard is not None else "utf-8"
    return "utf-8" if lookup(encoding).name == "ascii" else encoding


class TerminalDriver(LinuxDriver):
    """Textual's driver reads a lost terminal for ever, and is stopped by bytes that are not UTF-8. This one is not.

    When the terminal is gone the process gets SIGHUP, as from a terminal window that is closed.
    """

    def __init__(self, *given: Any, **named: Any) -> None:
        super().__init__(*given, **named)
        self._is_lost = False
        self._file: Any = Guarded(self._file, self._lost)

    def run_input_thread(self) -> None:
        """Hand on what is typed until the program ends or the terminal is gone."""
        parser = XTermParser(self._debug)
        decode = getincrementaldecoder(typed_in(sys.__stdin__))("replace").decode
        with selectors.SelectSelector() as selector:
            selector.register(self.fileno, selectors.EVENT_READ)
            while not self.exit_event.is_set():
                if selector.select(_WAIT):
                    content = self._read()
                    if not content:
                        self._lost()
                        return
                    if text := decode(content):  # nothing yet of a letter in several bytes; to the parser it is the end
                        for message in parser.feed(text):
                            self.process_message(message)
                for message in parser.tick():
                    self.process_message(message)
        with contextlib.suppress(EOFError, ParseError):
            for _ in parser.feed(""):
                pass

    def _read(self) -> bytes:
        try:
            return os.read(self.fileno, _MOST)
        except OSError:
            return b""

    def _lost(self) -> None:
        if not self._is_lost:
            self._is_lost = True
            os.kill(os.getpid(), signal.SIGHUP)


class Guarded:
    """What is written to a terminal that may be gone.   lost: is called when it is."""

    def __init__(self, file: TextIO, lost: Callable[[], None]) -> None:
        self._file = file
        self._lost = lost

    def write(self, text: str) -> None:
        """Write, or tell that the terminal is gone."""
        try:
            self._file.write(text)
        except OSError:
            self._lost()

    def flush(self) -> None:
        """Flush, or tell that the terminal is gone."""
        try:
            self._file.flush()
        except OSError:
            self._lost()

    def __getattr__(self, name: str) -> Any:
        return getattr(self._file, name)

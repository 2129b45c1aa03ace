"""Ended from outside, in a real terminal: what was typed is saved, and the terminal is given back as it was."""

import asyncio
import os
import signal
import termios
from pathlib import Path

import pytest

from engine.plan import text_at
from engine.planfile import load_plan
from tests.wizard.driving import is_open, planning, until
from tests.wizard.fakes import fake_assessment
from tests.wizard.test_typing_ahead import send
from tests.wizard.window import WAY_OUT, Window
from wizard.app import ShaftlogApp


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


def test_a_letter_that_comes_in_two_pieces_does_not_end_the_typing(root: Path, range_path: Path) -> None:
    window = Window(root, [str(range_path)]).opened().types(b"30").types(b"\xc3").types(b"\xa4").types(b"\x7f0 L")
    os.kill(window.process, signal.SIGTERM)
    assert window.status() == 0
    assert text_at(load_plan(range_path), "range.tank") == "300 L"


@pytest.mark.parametrize("key", ["f2", "f8", "ctrl+p"])
async def test_a_dialog_that_is_being_built_is_no_fault_when_the_program_ends(range_path: Path, key: str) -> None:
    """It missed its parts, as none are mounted any more; the terminal was left with a screenful of our code."""
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "range"), pilot)
        send(app, key)
        while app.screen is planning(app):
            await asyncio.sleep(0)
        app._ended_from_outside()
    assert app.return_code == 0

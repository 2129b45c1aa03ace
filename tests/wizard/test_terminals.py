"""Terminals of every kind: real ones of a pty, plain ones, and windows whose size changes wildly."""

import asyncio
import fcntl
import os
import pty
import random
import re
import select
import struct
import sys
import termios
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.events import Resize
from textual.geometry import Size

from tests.wizard.driving import is_open, planning, screen_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.screens.planning import PlanningScreen
from wizard.settings import DEFAULTS, load_settings, save_settings
from wizard.terminal import NoColour, PlainSigns, is_plain, plain

BLACK = Color(0, 0, 0)
KEYS = {"F1": "\x1bOP", "F2": "\x1bOQ", "F4": "\x1bOS", "F5": "\x1b[15~", "F6": "\x1b[17~", "F8": "\x1b[19~"}
KEYS |= {"F9": "\x1b[20~", "F10": "\x1b[21~", "Esc": "\x1b", "ctrl+p": "\x10", "Enter": "\r", "Down": "\x1b[B"}
A_WALK = (
    "F4",
    "F4",
    "Down",
    "F5",
    "F6",
    "Esc",
    "F2",
    "Esc",
    "F1",
    "Esc",
    "F8",
    "Esc",
    "ctrl+p",
    "Esc",
    "F9",
    "F2",
    "Esc",
)
COLOUR = re.compile(r"(?:^|;)(?:3\d|4\d|9\d|10\d)(?:;|$)")


# the filters


@pytest.mark.parametrize(
    ("signs", "expected"),
    [
        ("┌─┬┐│├┼┤└┴┘", "+-++|++++++"),
        ("╔═╗║╭╮╰╯┃━", "+-+|++++|-"),
        ("▼▲▁▔▊█▇", "v^_-|##"),
        ("• · … – ×", "* . ~ - x"),
        ("Müßig, Søren, ångström, Łódź", "Musig, Soren, angstrom, Lodz"),
        ("½²", "12"),
        ("鉄😀", "????"),
        ("🔎 Search", ">  Search"),
        ("日本 Я", "???? ?"),
    ],
)
def test_every_sign_becomes_plain_and_keeps_its_width(signs: str, expected: str) -> None:
    assert plain(signs) == expected
    assert cell_len(signs) == len(expected)


def test_all_signs_of_the_basic_plane_become_plain_signs_of_their_width() -> None:
    for code in range(0x80, 0x10000):
        sign = chr(code)
        if not 0xD800 <= code <= 0xDFFF:
            assert plain(sign).isascii()
            assert len(plain(sign)) == cell_len(sign), hex(code)
            assert plain(sign).isprintable(), hex(code)


def test_the_filters_leave_the_rest_of_a_line_as_it_is() -> None:
    line = [Segment("a│b", Style(bold=True)), Segment("plain", Style(reverse=True, color="red", bgcolor="#123456"))]
    assert [segment.text for segment in PlainSigns().apply(line, BLACK)] == ["a|b", "plain"]
    assert PlainSigns().apply(line, BLACK)[0].style == Style(bold=True)
    colourless = NoColour().apply(line, BLACK)
    assert [segment.style for segment in colourless] == [Style(bold=True), Style(reverse=True)]
    assert [segment.text for segment in colourless] == ["a│b", "plain"]


# real terminals


def in_a_terminal(root: Path, words: list[str], more: dict[str, str], keys: tuple[str, ...]) -> tuple[str, int]:
    """Run the wizard in a terminal of 80 by 24 and press keys. Returns: all that it sent, and its exit status."""
    kept = {name: os.environ[name] for name in ("PATH", "HOME") if name in os.environ}
    environment = kept | {"PYTHONPATH": str(root), "LANG": "C.UTF-8", "TEXTUAL_ANIMATIONS": "none"} | more
    process, terminal = pty.fork()
    if process == 0:
        os.chdir(root)
        os.execve(sys.executable, [sys.executable, "-m", "wizard", *words], environment)
    fcntl.ioctl(terminal, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    sent = bytearray()

    def take(quiet: float, least: int, most: float = 20.0) -> bool:
        """Read until nothing comes for a while, once there is something. Returns: whether the terminal is open."""
        end, begin = time.monotonic() + most, len(sent)
        while time.monotonic() < end:
            if not select.select([terminal], [], [], quiet)[0]:
                if len(sent) - begin >= least:
                    return True
                continue
            try:
                sent.extend(os.read(terminal, 65536))
            except OSError:
                return False
        return True

    take(0.8, 3000)
    for key in keys:
        os.write(terminal, KEYS.get(key, key).encode("iso8859-1"))
        take(0.25, 1, 3.0)
    os.write(terminal, KEYS["F10"].encode())
    if take(8.0, 1, 10.0):
        os.kill(process, 9)
    os.close(terminal)
    return sent.decode(), os.waitstatus_to_exitcode(os.waitpid(process, 0)[1])


def colour_codes(sent: str) -> set[str]:
    """The colour codes among what was sent to a terminal."""
    return {code for code in re.findall(r"\x1b\[([\d;:]*)m", sent) if COLOUR.search(code.replace(":", ";"))}


def test_colour_codes_are_found() -> None:
    sent = "\x1b[1;31mred\x1b[0m \x1b[1;4mbold\x1b[0m \x1b[48;5;16m \x1b[7m \x1b[39;49m \x1b[97m"
    assert colour_codes(sent) == {"1;31", "48;5;16", "39;49", "97"}


def test_no_colour_and_plain_signs_in_a_whole_run(root: Path, plan_path: Path) -> None:
    more = {"TERM": "xterm-256color", "COLORTERM": "truecolor", "NO_COLOR": "1"}
    words = ["--ascii", "--plans", str(plan_path.parent), str(plan_path)]
    sent, status = in_a_terminal(root, words, more, A_WALK)
    assert status == 0
    assert "Which engine" in sent or "What does that take" in sent
    assert "F10 quit" in sent
    assert "\x1b[7m" in sent, "the focus shows"
    assert colour_codes(sent) == set()
    assert {sign for sign in sent if not sign.isascii()} == set()


def test_an_empty_no_color_leaves_the_colours_on(root: Path, plan_path: Path) -> None:
    """Only a NO_COLOR that is not empty asks for none (the convention of no-color.org, from memory)."""
    more = {"TERM": "xterm-256color", "COLORTERM": "truecolor", "NO_COLOR": ""}
    sent, status = in_a_terminal(root, ["--plans", str(plan_path.parent), str(plan_path)], more, ("F4",))
    assert status == 0
    assert colour_codes(sent)


@pytest.mark.parametrize(
    ("encoding", "expected"),
    [
        ("utf-8", False),
        ("iso8859-1", True),
        ("koi8-r", True),
        ("cp437", True),
        ("ascii", True),
        (None, True),
        ("?", True),
    ],
)
def test_a_terminal_that_lacks_the_signs_drawn_here_gets_plain_ones(encoding: str | None, expected: bool) -> None:
    assert is_plain(encoding) is expected


def test_a_terminal_of_an_old_code_page_is_drawn_and_read_in_it(root: Path, plan_path: Path) -> None:
    more = {"TERM": "xterm", "PYTHONIOENCODING": "iso8859-1"}
    words = ["--plans", str(plan_path.parent)]
    sent, status = in_a_terminal(root, words, more, ("F2", *"B\xe9casse", "Enter", "Down", "Enter"))
    assert status == 0
    assert sent.isascii()
    assert "\\u2" not in sent, "a sign that cannot be sent would be spelt out"
    assert any("Bécasse" in path.read_text(encoding="utf-8") for path in plan_path.parent.glob("*.toml"))


def test_ascii_and_colours_go_together(root: Path, plan_path: Path) -> None:
    words = ["--ascii", "--plans", str(plan_path.parent), str(plan_path)]
    sent, status = in_a_terminal(root, words, {"TERM": "xterm-256color"}, ("F4",))
    assert status == 0
    assert colour_codes(sent) != set()
    assert {sign for sign in sent if not sign.isascii()} == set()


@pytest.mark.parametrize(
    ("more", "words", "expected", "other"),
    [
        ({"TERM": "xterm"}, [], r"39;49", r"[34]8;"),
        ({"TERM": "xterm-256color"}, [], r"38;5;\d+;48;5;\d+", r"38;2;"),
        ({"TERM": "xterm", "COLORTERM": "truecolor"}, ["--theme", "day"], r"48;2;247;242;230", r"48;5;"),
    ],
)
def test_the_depth_of_colour_is_the_terminals(
    root: Path, plan_path: Path, more: dict[str, str], words: list[str], expected: str, other: str
) -> None:
    sent, status = in_a_terminal(root, [*words, "--plans", str(plan_path.parent), str(plan_path)], more, ("F4",))
    codes = " ".join(re.findall(r"\x1b\[([\d;]*)m", sent))
    assert status == 0
    assert re.search(expected, codes)
    assert not re.search(other, codes)


def test_a_dumb_terminal_is_told_the_command_that_works(root: Path, plan_path: Path) -> None:
    sent, status = in_a_terminal(root, [str(plan_path)], {"TERM": "dumb"}, ())
    assert status == 2
    assert sent.splitlines()[0] == "shaftlog: The wizard needs a terminal. Without one, use: shaftlog report PLAN"
    assert "Traceback" not in sent


# sizes

Do = Callable[[ShaftlogApp, Any], Any]


async def _page(name: str, app: ShaftlogApp, pilot: Any) -> None:
    del pilot
    await planning(app).go_to(name)


async def _key(name: str, app: ShaftlogApp, pilot: Any) -> None:
    del app
    await pilot.press(name)


PLACES = {"range": (_page, "range"), "review": (_page, "review"), "f6": (_key, "f6")}


async def _shown_at(plan_path: Path, place: str, sizes: list[tuple[int, int]]) -> str:
    """What stands on the screen after windows of these sizes, one quickly after the other."""
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    go, name = PLACES[place]
    plan = plan_path.read_bytes()
    async with app.run_test(size=sizes[0]) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment, pilot)
        await go(name, app, pilot)
        await pilot.pause()
        for number, size in enumerate(sizes[1:]):
            app._driver._size = Size(*size)
            app.post_message(Resize(Size(*size), Size(*size)))
            await asyncio.sleep(0.0 if number % 10 else 0.02)  # an app takes over the latest of a burst
        await until(lambda: app.screen.size == Size(*sizes[-1]), pilot, 30.0)
        await pilot.pause(0.1)
        await until(lambda: app.screen is not planning(app) or is_seen(planning(app)), pilot)
        shown = _without_form(app)
    plan_path.write_bytes(plan)
    return shown


def _without_form(app: ShaftlogApp) -> str:
    """What is on the screen but the form and its hint, which may be scrolled a line more or less."""
    shown = [app.screen.query(place) for place in ("#rail", "#right", ".dialog", "#whole-plot", ".key-line")]
    lines = screen_text(app).splitlines()
    return "\n".join(
        line[widget.region.x : widget.region.right]
        for found in shown
        for widget in found
        for line in lines[widget.region.y : widget.region.bottom]
    )


@pytest.mark.parametrize(("place", "last"), [("range", (60, 18)), ("review", (120, 40)), ("f6", (60, 18))])
async def test_a_storm_of_sizes_leaves_the_screen_as_a_fresh_start_does(
    range_path: Path, place: str, last: tuple[int, int]
) -> None:
    dice = random.Random(f"{place}{last}")
    storm = [(dice.randint(1, 250), dice.randint(1, 80)) for _ in range(60)]
    fresh = await _shown_at(range_path, place, [last])
    assert await _shown_at(range_path, place, [(80, 24), *storm, last]) == fresh


def is_seen(screen: PlanningScreen) -> bool:
    """Whether what has the focus stands inside the part of the screen that is for the form."""
    if screen.focused is None:
        return False
    return screen.query_one("#pages").region.contains_region(screen.focused.region.crop_size((1, 1)))


async def test_sixty_by_eighteen_has_room_for_fields_answers_hint_and_keys(range_path: Path) -> None:
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=(60, 18)) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment, pilot)
        screen = planning(app)
        assert screen.query_one("#pages").size.height >= 5
        assert screen.query_one("#answers").size.height >= 4
        assert "F10 quit" in screen_text(app).splitlines()[-1]
        for page in ("hull", "engine", "propeller", "review"):
            await screen.go_to(page)
            await until(lambda: is_seen(screen), pilot)
            lines = screen_text(app).splitlines()
            assert all(cell_len(text) <= 60 for text in lines)
            assert "F10 quit" in lines[-1]


# what is remembered


def test_a_theme_is_remembered(tmp_path: Path) -> None:
    assert load_settings(tmp_path) == DEFAULTS
    save_settings(tmp_path, {"theme": "day"})
    assert load_settings(tmp_path) == {"theme": "day"}
    assert [path.name for path in tmp_path.iterdir()] == [".settings"]


@pytest.mark.parametrize(
    "content",
    [b"", b"[[[", b"\xff\xfe", b"theme = 3", b'theme = "pink"', b"theme = ['day']", b'other = "day"', b"[theme]"],
)
def test_settings_that_make_no_sense_are_the_defaults(tmp_path: Path, content: bytes) -> None:
    (tmp_path / ".settings").write_bytes(content)
    assert load_settings(tmp_path) == DEFAULTS


def test_where_nothing_can_be_written_nothing_is_remembered(tmp_path: Path) -> None:
    save_settings(tmp_path / "none", {"theme": "day"})
    (tmp_path / ".settings").mkdir()
    save_settings(tmp_path, {"theme": "day"})
    assert load_settings(tmp_path) == DEFAULTS
    assert [path.name for path in tmp_path.iterdir()] == [".settings"]

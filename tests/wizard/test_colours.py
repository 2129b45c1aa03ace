"""Every text can be read in our own themes, in 24 bits and in 256 colours; no colour at all where none is wanted.

Contrast is that of WCAG 2.2 (W3C, 2023): (L1 + 0.05) / (L2 + 0.05), L the relative luminance of sRGB as defined there;
4.5 to 1 is its criterion 1.4.3 for text.
"""

import itertools
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from textual.theme import Theme
from textual.widgets import Button

from tests.wizard.contrast import LEAST, Triplet, contrast, hard_to_read, in_256, triplet
from tests.wizard.driving import focus, is_open, planning, screen_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.settings import THEMES as WORDS
from wizard.theme import DAY, NAMES, NIGHT, TERMINAL, THEMES, usual_theme
from wizard.widgets.field import FieldChoice

PAPERS = ("background", "surface", "panel")
INKS = ("foreground", "primary", "secondary", "accent", "warning", "error", "success")


def colour_of(theme: Theme, name: str) -> Triplet:
    """A colour of a theme by its name."""
    text = theme.variables.get(name) or getattr(theme, name)
    return triplet(text)


def test_contrast_of_black_on_white_is_that_of_the_standard() -> None:
    assert contrast((0, 0, 0), (255, 255, 255)) == pytest.approx(21.0, abs=1e-9)
    assert contrast((119, 119, 119), (255, 255, 255)) == pytest.approx(
        4.48, abs=0.005
    )  # #777, the well-known near miss


def pairs() -> Iterator[tuple[str, str]]:
    """What stands on what: (ink, paper)."""
    yield from itertools.product((*INKS, "quiet"), (*PAPERS, "highlight"))
    yield from itertools.product(("foreground", "quiet"), ("focus",))
    yield "input-selection-foreground", "input-selection-background"
    yield "block-cursor-foreground", "block-cursor-background"
    yield "background", "primary"  # a button and a choice with the focus
    yield "background", "foreground"  # the cursor of a text field


@pytest.mark.parametrize("theme", [DAY, NIGHT], ids=lambda theme: theme.name)
@pytest.mark.parametrize(("ink", "paper"), list(pairs()))
def test_every_ink_can_be_read_on_every_paper(theme: Theme, ink: str, paper: str) -> None:
    one, other = colour_of(theme, ink), colour_of(theme, paper)
    assert contrast(one, other) >= LEAST
    assert contrast(in_256(one), in_256(other)) >= LEAST


async def opened(app: ShaftlogApp, page: str, pilot: Any) -> None:
    """Wait until a page is open and worked out."""
    await until(lambda: is_open(app, page)() and app.assessment, pilot)
    await pilot.pause()


@pytest.mark.parametrize(("word", "size"), [("day", (80, 24)), ("night", (120, 40))])
async def test_every_state_of_a_page_can_be_read(range_path: Path, word: str, size: tuple[int, int]) -> None:
    """Pages and dialogs as they open are looked at in test_pictures.py."""
    app = ShaftlogApp(
        range_path, range_path.parent, assess=fake_assessment, theme=word
    )  # pages and dialogs as such: test_pictures.py
    troubles: dict[str, list[str]] = {}
    async with app.run_test(size=size, notifications=True) as pilot:

        async def look(where: str) -> None:
            await pilot.pause()
            troubles[where] = hard_to_read(app)

        await opened(app, "range", pilot)
        await planning(app).go_to("engine")
        focus(app, "engine.candidate.0.rated_power")
        await pilot.press(*"lots")
        await look("a text that is not understood")
        for widget in (FieldChoice, Button):
            app.screen.set_focus(planning(app).current.query(widget).first())
            await look(widget.__name__)
        app.screen.set_focus(planning(app).current.query(FieldChoice).first())
        await pilot.press("enter")
        await look("choices")
        await pilot.press("escape")
        app.is_updating = True
        planning(app).refresh_results()
        await look("stale answers")
        app.tell("Something is told.")
        for key in ("f8", "ctrl+p"):
            await pilot.press(key)
            await look(key)
            await pilot.press("escape")
    assert [f"{where}: {text}" for where, found in troubles.items() for text in found] == []


async def test_no_color_is_honoured(range_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment, theme="day")
    assert app.theme == TERMINAL.name
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, "range", pilot)
        assert "F10 quit" in screen_text(app)
        for segment in itertools.chain.from_iterable(app.screen._compositor.render_strips()):
            assert segment.style is None or segment.style.color is segment.style.bgcolor is None


@pytest.mark.parametrize(
    ("environment", "theme"),
    [
        ({"TERM": "xterm-256color"}, NIGHT),
        ({"TERM": "tmux-256color"}, NIGHT),
        ({"TERM": "xterm-kitty"}, NIGHT),
        ({"TERM": "xterm", "COLORTERM": "truecolor"}, NIGHT),
        ({"TERM": "xterm", "COLORTERM": "24bit"}, NIGHT),
        ({"TERM": "xterm"}, TERMINAL),
        ({"TERM": "linux"}, TERMINAL),
        ({}, TERMINAL),
        ({"TERM": "xterm-256color", "COLORTERM": "truecolor", "NO_COLOR": "0"}, TERMINAL),
        ({"TERM": "xterm-256color", "COLORTERM": "truecolor", "NO_COLOR": ""}, NIGHT),
    ],
)
def test_the_usual_theme_is_one_that_the_terminal_can_show(environment: dict[str, str], theme: Theme) -> None:
    assert usual_theme(environment) == theme.name


def test_the_command_line_outweighs_the_memory_and_no_color_outweighs_both() -> None:
    many = {"TERM": "xterm-256color"}
    assert usual_theme(many, "", "day") == DAY.name
    assert usual_theme(many, "night", "day") == NIGHT.name
    assert usual_theme({"TERM": "linux"}, "", "day") == TERMINAL.name
    assert usual_theme({"TERM": "linux"}, "day", "") == DAY.name
    assert usual_theme(many | {"NO_COLOR": "1"}, "day", "day") == TERMINAL.name


def test_every_theme_has_a_word_for_it() -> None:
    assert tuple(NAMES) == WORDS
    assert set(NAMES.values()) == {theme.name for theme in THEMES}

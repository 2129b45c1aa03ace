"""What has the focus stays in sight when something comes above it, and all of a dialog in a low window; in one that is
too small for it nothing is done unseen."""

from pathlib import Path

import pytest

from tests.wizard.driving import focus, is_open, line, planning, screen_text, until
from tests.wizard.fakes import fake_assessment, made_up_market
from tests.wizard.test_typing_ahead import send
from wizard.app import ShaftlogApp
from wizard.widgets.line_input import LineInput


async def test_a_field_stays_in_sight_when_the_one_before_it_was_not_understood(plan_path: Path) -> None:
    """The sentence that comes under a field once that is left pushed the next one out at the bottom."""
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(60, 18)) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.waterline_beam")
        await pilot.pause()
        send(app, *"1 (4 to 11)", "enter")
        screen = planning(app)
        await until(lambda: screen.focused_path not in ("", "hull.waterline_beam"), pilot)
        await until(lambda: line(app, "hull.waterline_beam").texts.under, pilot)
        await pilot.pause(0.1)
        assert screen.focused is not None
        assert screen.find_widget(screen.focused).visible_region


@pytest.mark.parametrize(
    ("key", "moves", "told"),
    [
        ("f8", (*"/x", "enter"), "There is no folder"),
        ("ctrl+a", (*"5", "down", "enter"), "Give both low and high, or neither."),
    ],
)
async def test_all_of_a_dialog_can_be_seen_in_a_low_window(
    plan_path: Path, key: str, moves: tuple[str, ...], told: str
) -> None:
    """The file of a sheet, the buttons, and what is wrong with what was given were cut off."""
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(60, 18)) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.displacement")
        await pilot.press(key)
        await until(lambda: app.screen.query(LineInput), pilot)
        screen = app.screen
        for part in screen.focus_chain:
            screen.set_focus(part)
            await until(lambda part=part: screen.find_widget(part).visible_region, pilot)
        screen.set_focus(screen.query(LineInput).last())
        send(app, *moves)
        await until(lambda: told in " ".join(screen_text(app).replace("│", " ").split()), pilot)
        assert app.screen is screen


@pytest.mark.parametrize("key", ["f12", "ctrl+d", "f11"], ids=["wheels", "variants", "working"])
async def test_nothing_is_taken_unseen_over_a_page_in_a_window_too_small(plan_path: Path, key: str) -> None:
    """Enter took the wheel, made a variant or went to a field that nobody saw."""
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment, search=lambda *_: made_up_market())
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment and not app.is_updating, pilot)
        await pilot.press(key)
        await until(lambda: app.screen is not planning(app) and "Esc" in screen_text(app), pilot)
        await pilot.pause(1.1)  # what has just been found is not taken by an Enter that was meant for something else
        before, over = app.plan, app.screen
        await pilot.resize_terminal(50, 15)
        await until(lambda: "too small" in screen_text(app), pilot)
        told = " ".join(screen_text(app).split())
        assert "no key does anything but Esc" in told
        assert told.count("too small") == 1, "the page beneath says other keys"
        await pilot.press("down", "enter", "enter", "right", "enter")
        await pilot.pause(0.1)
        assert app.screen is over
        assert app.plan == before
        await pilot.press("escape")
        await until(lambda: app.screen is planning(app), pilot)

"""Keys that come all at once: each is done on the screen that the one before it has led to, once, and none is lost."""

from pathlib import Path

import pytest
from textual.command import CommandInput

from engine.plan import text_at
from tests.wizard.driving import is_open, planning, screen_text, until
from tests.wizard.fakes import fake_assessment
from tests.wizard.test_typing_ahead import opened, send
from wizard.app import ShaftlogApp
from wizard.screens.compare import CompareScreen
from wizard.screens.glossary import GlossaryScreen
from wizard.screens.palette import Palette
from wizard.screens.planning import PlanningScreen
from wizard.screens.sheet import SheetScreen
from wizard.screens.variant import VariantScreen
from wizard.stages.review import ReviewList
from wizard.widgets.line_input import LineInput


async def test_the_palette_does_what_was_typed_for_before_its_lines_were_there(plan_path: Path) -> None:
    """It took the first of all lines."""
    async with opened(plan_path) as (app, pilot):
        send(app, "ctrl+p", *"gloss", "enter", *"pitch")
        await until(lambda: isinstance(app.screen, GlossaryScreen), pilot)
        await until(lambda: app.screen.query_one("#glossary-words").value == "pitch", pilot)  # type: ignore[attr-defined]


async def test_keys_behind_the_enter_of_the_palette_come_after_what_it_does(plan_path: Path) -> None:
    async with opened(plan_path) as (app, pilot):
        send(app, "ctrl+p", *"next p", "enter", "f4", "f4")
        await until(is_open(app, "engine"), pilot)
        assert [type(screen) for screen in app.screen_stack][1:] == [PlanningScreen]


async def test_keys_go_through_the_lines_that_were_typed_for(plan_path: Path) -> None:
    async with opened(plan_path) as (app, pilot):
        send(app, "ctrl+p", *"pagx", "backspace", *"e", "down", "up", "pagedown", "enter")
        await until(lambda: not isinstance(app.screen, Palette) and is_open(app, "speed")(), pilot)


async def test_the_palette_stays_when_no_line_is_like_what_was_typed(plan_path: Path) -> None:
    async with opened(plan_path) as (app, pilot):
        send(app, "ctrl+p", *"zzqq", "enter", "enter")
        await until(
            lambda: app.screen.query(CommandInput) and app.screen.query_one(CommandInput).value == "zzqq", pilot
        )
        await pilot.pause(0.3)
        assert isinstance(app.screen, Palette)
        send(app, "escape", "f4")
        await until(is_open(app, "speed"), pilot)


async def test_letters_behind_the_enter_that_opens_a_plan_go_into_it(range_path: Path) -> None:
    app = ShaftlogApp(None, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: app.screen.query("#plans") and app.screen.focused, pilot)
        send(app, "enter")
        await until(lambda: isinstance(app.screen, PlanningScreen), pilot)
        send(app, *"300 L", "enter")
        await until(lambda: text_at(app.plan, "range.tank") == "300 L", pilot)


async def test_two_enters_on_the_plan_in_the_comparison_ask_for_a_variant(plan_path: Path) -> None:
    async with opened(plan_path) as (app, pilot):
        await until(lambda: app.assessment and not app.is_updating, pilot)
        send(app, "ctrl+d", "enter", "enter")
        await until(lambda: isinstance(app.screen, VariantScreen), pilot)
        assert sum(isinstance(screen, CompareScreen) for screen in app.screen_stack) == 1


async def test_a_choice_that_was_just_made_can_be_taken_back(plan_path: Path) -> None:
    """Its message was still on its way, and the change before it was taken back."""
    async with opened(plan_path, field_path="hull.kind") as (app, pilot):
        before = app.plan
        send(app, *"tug", "enter", "ctrl+u")
        await until(lambda: app.history.next is not None, pilot)
        for _ in range(5):
            await pilot.pause()
        assert app.plan == before
        assert app.history.next is not None
        assert app.history.next.path == "hull.kind"


@pytest.mark.parametrize("key", ["f2", "f8", "ctrl+p", "f1"])
async def test_an_enter_in_the_list_of_the_review_is_not_for_the_dialog_behind_it(range_path: Path, key: str) -> None:
    async with opened(range_path, "range") as (app, pilot):
        await planning(app).go_to("review")
        lines = planning(app).query_one(ReviewList)
        await until(lambda: any("Longest distance" in str(option.prompt) for option in lines.options), pilot)
        lines.highlighted = next(
            at for at, option in enumerate(lines.options) if "Longest distance" in str(option.prompt)
        )
        send(app, "enter", key)
        await until(lambda: not isinstance(app.screen, PlanningScreen), pilot)
        for _ in range(5):
            await pilot.pause()
        assert planning(app).page == "shaft"
        assert not isinstance(app.screen, PlanningScreen)


@pytest.mark.parametrize(("keys", "page"), [(("enter", "f4"), "speed"), (("down", "up", "enter", "f4", "f4"), "power")])
async def test_keys_behind_the_enter_that_opens_a_plan_are_for_the_plan(
    plan_path: Path, keys: tuple[str, ...], page: str
) -> None:
    """F4 asked the list of plans for the earlier versions of one, and an Enter behind it made a plan of them."""
    app = ShaftlogApp(None, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: app.screen.query("#plans") and app.screen.focused, pilot)
        send(app, *keys)
        await until(lambda: any(isinstance(screen, PlanningScreen) for screen in app.screen_stack), pilot)
        await until(is_open(app, page), pilot)


async def test_an_enter_that_came_twice_replaces_no_file(range_path: Path) -> None:
    async with opened(range_path, "range") as (app, pilot):
        target = range_path.parent / "there.txt"
        target.write_text("mine")
        send(app, "f8", "enter", "enter")
        await until(lambda: isinstance(app.screen, SheetScreen) and isinstance(app.focused, LineInput), pilot)
        app.screen.query_one(LineInput).value = str(target)
        await pilot.pause()
        send(app, "enter", "enter", "enter")
        for _ in range(5):
            await pilot.pause()
        assert isinstance(app.screen, SheetScreen)
        assert "Enter again replaces it" in screen_text(app)
        assert target.read_text() == "mine"

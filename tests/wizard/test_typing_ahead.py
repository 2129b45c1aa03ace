"""Keys typed faster than the screen is drawn go where the owner means them."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import pytest
from textual import events
from textual.app import App, ComposeResult
from textual.command import CommandList
from textual.keys import _character_to_key
from textual.pilot import Pilot

from engine.plan import text_at
from tests.wizard.driving import field, focus, is_open, planning, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.screens.dialogs import PageList
from wizard.screens.planning import PlanningScreen
from wizard.screens.sheet import SheetScreen
from wizard.sheet_choice import SHEETS
from wizard.stages.review import HeadInput, ReviewList
from wizard.widgets.choice import ChoiceList
from wizard.widgets.field import FieldChoice, FieldLine
from wizard.widgets.line_input import LineInput


def send(app: ShaftlogApp, *keys: str) -> None:
    """Hand keys to the app all at once, as a terminal under load does; longer words are names of keys."""
    for key in keys:
        is_sign = len(key) == 1
        app.post_message(events.Key(_character_to_key(key) if is_sign else key, key if is_sign else None))


@asynccontextmanager
async def opened(path: Path, page: str = "hull", field_path: str = "") -> AsyncIterator[tuple[ShaftlogApp, Pilot[Any]]]:
    """A plan open at the page it was left at, with the focus on a field if one is named."""
    app = ShaftlogApp(path, path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, page), pilot)
        if field_path:
            focus(app, field_path)
            await pilot.pause()
        yield app, pilot


async def test_letters_after_enter_go_to_the_next_field(plan_path: Path) -> None:
    async with opened(plan_path, field_path="hull.hull_draft") as (app, pilot):
        field(app, "hull.displacement").value = ""
        await until(lambda: text_at(app.plan, "hull.displacement") == "", pilot)
        send(app, *"3.1", "enter", *"9 t", "tab", "tab", *"4 ft", "down", "up")
        await until(lambda: text_at(app.plan, "hull.keel_draft") == "4 ft", pilot)
        assert text_at(app.plan, "hull.hull_draft") == "3.1 ft"
        assert text_at(app.plan, "hull.displacement") == "9 t"
        assert field(app, "hull.keel_draft").has_focus


async def test_a_unit_written_out_behind_a_number_that_had_it_anyhow_stays_whole(plan_path: Path) -> None:
    """The bare number means the same text already, and the letters between are still on their way."""
    async with opened(plan_path, field_path="hull.hull_draft") as (app, pilot):
        field(app, "hull.hull_draft").value = "3.1 "
        await until(lambda: text_at(app.plan, "hull.hull_draft") == "3.1 ft", pilot)
        await pilot.press("end")
        send(app, *"ft", "enter")
        await until(lambda: field(app, "hull.displacement").has_focus, pilot)
        await pilot.pause()
        assert field(app, "hull.hull_draft").value == "3.1 ft"
        assert text_at(app.plan, "hull.hull_draft") == "3.1 ft"


@pytest.mark.parametrize("typed", ["3.1", "x", "3 (2 to 4)"])
async def test_what_was_typed_just_before_it_is_taken_back_stays_taken_back(plan_path: Path, typed: str) -> None:
    async with opened(plan_path, field_path="hull.hull_draft") as (app, pilot):
        before = text_at(app.plan, "hull.hull_draft")
        send(app, *typed, "ctrl+u")
        await until(lambda: app.history.next is not None, pilot)
        for _ in range(5):
            await pilot.pause()
        assert text_at(app.plan, "hull.hull_draft") == field(app, "hull.hull_draft").value == before
        send(app, "ctrl+y")
        await until(lambda: text_at(app.plan, "hull.hull_draft") != before, pilot)
        assert field(app, "hull.hull_draft").value == text_at(app.plan, "hull.hull_draft")


async def test_a_name_that_is_taken_back_as_soon_as_it_was_typed_stays_taken_back(plan_path: Path) -> None:
    async with opened(plan_path) as (app, pilot):
        await planning(app).go_to("review")
        name, before = planning(app).query(HeadInput).first(), app.plan.name
        app.screen.set_focus(name)
        await pilot.press("end")
        send(app, *" II", "ctrl+u")
        await until(lambda: app.history.next is not None, pilot)
        for _ in range(5):
            await pilot.pause()
        assert app.plan.name == name.value == before


async def test_letters_after_the_button_that_adds_a_row_go_into_the_row(engine_path: Path) -> None:
    async with opened(engine_path, "engine", "engine.candidate") as (app, pilot):
        send(app, "enter", *"Blue 3", "enter", *"40 hp", "enter", *"2800")
        await until(lambda: len(app.plan.engine.candidate) == 2, pilot)
        await until(lambda: text_at(app.plan, "engine.candidate.1.rated_speed") == "2800 rpm", pilot)
        assert text_at(app.plan, "engine.candidate.1.name") == "Blue 3"
        assert text_at(app.plan, "engine.candidate.1.rated_power") == "40 hp"


async def test_letters_after_the_button_that_leads_on_go_to_the_next_page(range_path: Path) -> None:
    async with opened(range_path, "range") as (app, pilot):
        app.screen.set_focus(app.screen.query_one("#next-range"))
        await pilot.pause()
        send(app, "enter", *"2.4 m")
        await until(lambda: text_at(app.plan, "fit.room_length") == "2.4 m", pilot)


async def test_a_field_that_is_slow_to_see_its_keys_gets_them_all_before_enter_leaves_it(plan_path: Path) -> None:
    async with opened(plan_path, field_path="hull.displacement") as (app, pilot):
        field(app, "hull.displacement").value = "14800 lb (14000 lb to 16500 lb)"
        await pilot.pause()
        send(app, "end", *["backspace"] * 40, *"9 t", "enter")
        await until(lambda: not field(app, "hull.displacement").has_focus, pilot)
        await pilot.pause(0.3)
        assert text_at(app.plan, "hull.displacement") == "9 t"
        assert field(app, "hull.displacement").value == "9 t"
        assert [step.path for step in app.history.steps] == ["hull.displacement"], "and it is one step"


async def test_a_key_that_comes_together_with_the_escape_of_a_dialog_is_done(plan_path: Path) -> None:
    async with opened(plan_path) as (app, pilot):
        for opens, page in (("f1", "speed"), ("f2", "power"), ("ctrl+p", "engine"), ("ctrl+v", "gear")):
            await pilot.press(opens)
            await until(lambda: app.screen is not planning(app) and app.screen.is_mounted, pilot)
            send(app, "escape", "f4")
            await until(is_open(app, page), pilot)


async def test_letters_after_the_escape_of_a_dialog_go_into_the_field(plan_path: Path) -> None:
    async with opened(plan_path, field_path="hull.keel_draft") as (app, pilot):
        await pilot.press("ctrl+a")
        await until(lambda: app.screen is not planning(app) and app.screen.focused, pilot)
        send(app, *"9 ft", "escape", *"4 ft", "enter")
        await until(lambda: text_at(app.plan, "hull.keel_draft") == "4 ft", pilot)


async def test_what_is_typed_into_a_dialog_goes_to_the_line_that_the_arrow_led_to(plan_path: Path) -> None:
    async with opened(plan_path, field_path="hull.keel_draft") as (app, pilot):
        await pilot.press("ctrl+a")
        await until(lambda: app.screen is not planning(app) and app.screen.focused, pilot)
        send(app, *"4 ft", "up", *"3 ft", "down", "down", *"5 ft", "enter", "enter")
        await until(lambda: text_at(app.plan, "hull.keel_draft") == "4 ft (3 ft to 5 ft)", pilot)


async def test_a_new_plan_can_be_begun_at_one_stroke(tmp_path: Path) -> None:
    app = ShaftlogApp(None, tmp_path, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f2")
        await until(lambda: app.screen.query("#new-name") and app.screen.focused, pilot)
        send(app, *"Osprey", "enter", "i", "enter", "enter")
        await until(is_open(app, "hull"), pilot)
        assert (app.plan.name, app.plan.units) == ("Osprey", "imperial")


async def test_a_second_enter_in_the_list_of_plans_opens_no_second_time(plan_path: Path) -> None:
    app = ShaftlogApp(None, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: app.screen.query("#plans") and app.screen.focused, pilot)
        send(app, "enter", "enter")
        await until(is_open(app, "hull"), pilot)
        await pilot.pause()
        assert sum(isinstance(screen, PlanningScreen) for screen in app.screen_stack) == 1
        assert app.only_read_because == ""


async def test_letters_on_a_closed_choice_choose_and_one_enter_goes_on(plan_path: Path) -> None:
    async with opened(plan_path, field_path="hull.kind") as (app, pilot):
        send(app, *"tug", "enter", *"11 m", "enter")
        await until(lambda: text_at(app.plan, "hull.waterline_length").endswith("11 m"), pilot)
        assert app.plan.hull.kind == "tug"
        focus(app, "hull.propeller_place")
        await pilot.pause()
        send(app, "s", "down", "up", "enter", *"1.2 m")
        await until(lambda: text_at(app.plan, "hull.keel_draft") == "1.2 m", pilot)
        assert app.plan.hull.propeller_place == "behind a skeg", "what has a word that begins with it, not what has it"


async def test_after_a_letter_too_many_a_choice_begins_anew_with_the_last(plan_path: Path) -> None:
    """A slip must not leave the rest of the word unheard: one would take what the slip led to."""
    async with opened(plan_path, field_path="hull.kind") as (app, pilot):
        send(app, *"ftug", "enter", *"11 m", "enter")
        await until(lambda: text_at(app.plan, "hull.waterline_length").endswith("11 m"), pilot)
        assert app.plan.hull.kind == "tug"


async def test_a_sheet_is_chosen_at_one_stroke(plan_path: Path) -> None:
    async with opened(plan_path) as (app, pilot):
        await pilot.press("f8")
        await until(lambda: app.screen is not planning(app) and app.screen.focused, pilot)
        send(app, "down", "enter", "down", "down", "enter")
        await until(lambda: isinstance(app.screen.focused, LineInput), pilot)
        await until(lambda: app.screen.query_one(LineInput).value.endswith("teasel-propeller.md"), pilot)


async def held_up(screen: PlanningScreen) -> None:
    """In the place of mounting the rest of the first page."""


async def test_letters_go_into_the_first_page_before_all_of_it_is_there(
    plan_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(PlanningScreen, "_open_rest", held_up)
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        part = {line.path for line in planning(app).query(FieldLine)}
        focus(app, "hull.kind")
        await pilot.pause()
        send(app, *"tug", "enter", "f7", *["down"] * len(part), "f5")
        await until(lambda: app.plan.units == "metric" and app.plan.hull.kind == "tug", pilot)
        await until(lambda: planning(app).focused_path not in part, pilot)
        assert len(planning(app).query(FieldLine)) > len(part), "what moves on has all of the page mounted"


async def test_a_page_can_be_left_before_all_of_it_is_there(plan_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(PlanningScreen, "_open_rest", held_up)
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        part = len(planning(app).query(FieldLine))
        send(app, "f4")
        await until(is_open(app, "speed"), pilot)
        send(app, "f3")
        await until(is_open(app, "hull"), pilot)
        assert len(planning(app).query("#page-hull FieldLine")) > part


async def test_a_second_enter_on_the_list_of_pages_leaves_the_plan_open(plan_path: Path) -> None:
    async with opened(plan_path) as (app, pilot):
        send(app, "f2")
        await until(lambda: isinstance(app.screen, PageList), pilot)
        send(app, "down", "enter", "enter", "enter")
        await until(is_open(app, "speed"), pilot)
        await pilot.pause()
        assert isinstance(app.screen, PlanningScreen)


async def test_a_second_enter_on_a_sheet_of_the_review_asks_for_no_other(range_path: Path) -> None:
    async with opened(range_path, "range") as (app, pilot):
        await planning(app).go_to("review")
        lines = planning(app).query_one(ReviewList)
        title = SHEETS["yard"]
        await until(lambda: any(title in str(option.prompt) for option in lines.options), pilot)
        lines.highlighted = next(at for at, option in enumerate(lines.options) if title in str(option.prompt))
        send(app, "enter", "enter", "enter")
        await until(lambda: isinstance(app.screen, SheetScreen), pilot)
        for _ in range(5):
            await pilot.pause()
        assert [type(screen) for screen in app.screen_stack].count(SheetScreen) == 1


async def test_esc_comes_back_to_the_review_also_when_enter_on_its_line_came_twice(range_path: Path) -> None:
    async with opened(range_path, "range") as (app, pilot):
        await planning(app).go_to("review")
        lines = planning(app).query_one(ReviewList)
        await until(lambda: any("Longest distance" in str(option.prompt) for option in lines.options), pilot)
        lines.highlighted = next(
            at for at, option in enumerate(lines.options) if "Longest distance" in str(option.prompt)
        )
        send(app, "enter", "enter")
        await until(is_open(app, "shaft"), pilot)
        for _ in range(5):
            await pilot.pause()
        send(app, "escape")
        await until(is_open(app, "review"), pilot)


@pytest.mark.parametrize(("turned", "reached"), [("page_up", 0), ("page_down", 2)])
async def test_a_list_that_is_not_set_yet_is_turned_to_its_end(turned: str, reached: int) -> None:
    """A page key that came with the one that opens the review stopped the program."""
    listing = ReviewList("one", "two", "three")
    listing.display = False

    class Bare(App[None]):
        def compose(self) -> ComposeResult:
            yield listing

    async with Bare().run_test():
        listing.highlighted = 1
        getattr(listing, f"action_{turned}")()
        assert listing.highlighted == reached


async def test_a_page_key_that_comes_with_the_one_for_the_palette_does_no_harm(plan_path: Path) -> None:
    """Its list was not set yet, and the program stopped."""
    async with opened(plan_path) as (app, pilot):
        send(app, "ctrl+p", "pageup")
        await until(lambda: any(listing.options for listing in app.screen.query(CommandList)), pilot)
        send(app, "escape")
        await until(lambda: isinstance(app.screen, PlanningScreen), pilot)


async def test_a_second_enter_in_the_palette_leaves_the_plan_open(plan_path: Path) -> None:
    async with opened(plan_path) as (app, pilot):
        send(app, "ctrl+p", *"metric or")
        await until(lambda: [len(found.options) for found in app.screen.query(CommandList)] == [1], pilot)
        send(app, "enter", "enter", "enter")
        await until(lambda: app.plan.units == "metric", pilot)
        for _ in range(5):
            await pilot.pause()
        assert app.plan.units == "metric"
        assert [type(screen) for screen in app.screen_stack][1:] == [PlanningScreen]


async def test_a_letter_on_choices_just_before_the_way_out_does_no_harm(plan_path: Path) -> None:
    """It came to a line that was not on any screen any more, and the program ended with an error."""
    async with opened(plan_path, field_path="hull.kind") as (app, pilot):
        send(app, "k", "f10")
        await until(lambda: app.return_code is not None, pilot)
        assert app.return_code == 0


@pytest.mark.parametrize(("turned", "reached"), [("pageup", 0), ("pagedown", -1)])
async def test_a_list_that_is_just_opening_is_turned_to_its_end(plan_path: Path, turned: str, reached: int) -> None:
    async with opened(plan_path, field_path="hull.kind") as (app, pilot):
        choice = app.focused
        assert isinstance(choice, FieldChoice)
        send(app, "enter", turned)
        await until(lambda: isinstance(app.focused, ChoiceList), pilot)
        await pilot.pause()
        opened_list = app.focused
        assert isinstance(opened_list, ChoiceList)
        assert opened_list.highlighted == range(opened_list.option_count)[reached]


@pytest.mark.parametrize("keys", [["f11"], ["ctrl+p"], ["f2"], ["f8"], ["f9", "enter"]])
async def test_keys_behind_the_one_that_ends_the_program_do_nothing(range_path: Path, keys: list[str]) -> None:
    """A dialog that opened on screens that were being taken down ended it with an error."""
    async with opened(range_path, "range") as (app, pilot):
        await until(lambda: app.assessment is not None and not app.is_updating, pilot)
        screens = len(app.screen_stack)
        send(app, "ctrl+q", *keys)
        for _ in range(10):
            await pilot.pause()
        assert len(app.screen_stack) <= screens

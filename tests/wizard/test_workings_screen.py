"""The screen "how it was worked out": by keyboard from a number to what goes into it, to its field, and back."""

import threading
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from textual.binding import Binding
from textual.pilot import Pilot
from textual.widgets import OptionList

from engine.assessment import Assessment
from engine.findings import Outcome
from engine.plan import Plan, with_text
from tests.wizard.driving import is_open, screen_text, until, words
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.keys import WORKINGS_ACTIONS, keys_of
from wizard.screens.help import HelpScreen
from wizard.screens.workings import TITLE, WorkingsScreen
from wizard.working_text import Number, Part, numbers_of, working_parts

SIZES = [(60, 18), (80, 24), (120, 40)]
BOTH = [(80, 24), (120, 40)]
NAMES = ["80x24", "120x40"]


@pytest.fixture(autouse=True)
def styled(monkeypatch: pytest.MonkeyPatch) -> None:
    """The app has the style sheet of this screen."""
    sheets = [str(sheet) for sheet in ShaftlogApp.CSS_PATH or () if sheet != "workings.tcss"]  # type: ignore[union-attr]
    monkeypatch.setattr(ShaftlogApp, "CSS_PATH", [*sheets, "workings.tcss"])


def open_on(page: str, path: Path, assess: Any = fake_assessment) -> ShaftlogApp:
    path.write_text(path.read_text(encoding="utf-8").replace('stage = "hull"', f'stage = "{page}"'), encoding="utf-8")
    return ShaftlogApp(path, path.parent, assess=assess)


async def opened(app: ShaftlogApp, page: str, pilot: Pilot[Any], name: str = "") -> list[tuple[str, str] | None]:
    """Wait for the answers and open the screen, on a number if one is named. Returns: where its result will stand."""
    results: list[tuple[str, str] | None] = []
    await until(lambda: is_open(app, page)() and app.assessment and not app.is_updating, pilot)
    assert app.assessment is not None
    await app.push_screen(WorkingsScreen(page, app.plan, app.assessment), results.append)
    await pilot.pause()
    if name:
        place = numbers_of(page, app.assessment).index(Number(page, name))
        await pilot.press("home", *["down"] * place)
        await pilot.pause()
    return results


def listing(app: ShaftlogApp, name: str) -> OptionList:
    return app.screen.query_one(f"#{name}", OptionList)


def head(app: ShaftlogApp) -> str:
    """What the working that is shown is of, on one line."""
    return " ".join(words(app, "#working-head").split())


def highlighted(app: ShaftlogApp) -> str:
    """The line of the working that has the highlight, on one line."""
    option = listing(app, "working").highlighted_option
    return " ".join(str(option.prompt).split()) if option else ""


async def go_along_to(start: str, app: ShaftlogApp, pilot: Pilot[Any]) -> None:
    """Go down in a working to the line that starts so."""
    for _ in listing(app, "working").options:
        if not highlighted(app).startswith(start):
            await pilot.press("down")
    assert highlighted(app).startswith(start), highlighted(app)


def is_in_sight(app: ShaftlogApp, name: str) -> bool:
    """Whether the highlighted line of a list is drawn."""
    option = listing(app, name).highlighted_option
    return option is not None and str(option.prompt).splitlines()[0].rstrip() in screen_text(app)


@pytest.mark.parametrize("size", SIZES, ids=["60x18", *NAMES])
async def test_it_opens_with_the_first_number_and_its_working(plan_path: Path, size: tuple[int, int]) -> None:
    app = open_on("power", plan_path)
    async with app.run_test(size=size) as pilot:
        await opened(app, "power", pilot)
        lines = screen_text(app).splitlines()
        assert len(lines) == size[1]
        assert f"{TITLE}: Power" in lines[0]
        assert "Esc closes" in lines[-1]
        assert head(app) == "Method method [x]", "as it is, though brackets are markup elsewhere"
        assert "method [x]" in screen_text(app)
        assert "Formula" in screen_text(app)
        assert app.focused is listing(app, "numbers")
        for name in ("numbers", "working"):
            found = listing(app, name)
            room = found.scrollable_content_region.width
            texts = [line for option in found.options for line in str(option.prompt).splitlines()]
            assert all(len(line) <= room for line in texts), f"{name} is set for its width"


@pytest.mark.parametrize("size", BOTH, ids=NAMES)
async def test_arrows_choose_a_number_and_its_working_follows(plan_path: Path, size: tuple[int, int]) -> None:
    app = open_on("power", plan_path)
    async with app.run_test(size=size) as pilot:
        await opened(app, "power", pilot)
        await pilot.press("down", "down")
        assert head(app).startswith("Thrust deduction")
        assert "k w + usual" in screen_text(app)
        await pilot.press("up")
        assert head(app).startswith("Wake")
        await pilot.press("end")
        await pilot.pause()
        assert head(app) == "What to measure next: It settles one value in each row of the table"
        assert is_in_sight(app, "numbers")
        await pilot.press("down", "home", "up")
        assert head(app).startswith("Method"), "the list has ends"


@pytest.mark.parametrize(("key", "size"), [("left", BOTH[0]), ("backspace", BOTH[1]), ("escape", BOTH[0])])
async def test_from_answer_to_answer_and_back_step_by_step(plan_path: Path, size: tuple[int, int], key: str) -> None:
    app = open_on("power", plan_path)
    async with app.run_test(size=size) as pilot:
        results = await opened(app, "power", pilot, "cruise_effective_power_kw")
        await pilot.press("enter")
        await pilot.pause()
        assert app.focused is listing(app, "working")
        assert highlighted(app).startswith("Resistance at cruise:")
        await pilot.press("down", "right")
        await pilot.pause()
        assert head(app).startswith("Cruising speed")
        assert f"{TITLE}: Power > Speed" in screen_text(app)
        assert is_in_sight(app, "working")
        await pilot.press(key)
        await pilot.pause()
        assert head(app).startswith("Effective power at cruise")
        assert highlighted(app).startswith("Cruising speed:"), "where one was"
        await pilot.press(key)
        await pilot.pause()
        assert app.focused is listing(app, "numbers")
        assert is_in_sight(app, "numbers")
        await pilot.press(key)
        await pilot.pause()
        assert isinstance(app.screen, WorkingsScreen) is (key != "escape"), "only Esc closes"
        assert results == ([None] if key == "escape" else [])


async def test_the_trail_leads_back_through_the_pages(plan_path: Path) -> None:
    app = open_on("gear", plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, "gear", pilot, "ratio")
        await pilot.press("enter")
        for label in ("Recommended ratio: ", "Wake: ", "Block coefficient: "):
            await go_along_to(label, app, pilot)
            await pilot.press("enter")
        assert words(app, "#workings-title") == f"{TITLE}: Gear > Gear > Power > Hull"


@pytest.mark.parametrize("size", BOTH, ids=NAMES)
async def test_enter_on_a_field_gives_its_page_and_path(plan_path: Path, size: tuple[int, int]) -> None:
    app = open_on("power", plan_path)
    async with app.run_test(size=size) as pilot:
        results = await opened(app, "power", pilot, "thrust_deduction")
        await pilot.press("enter", "down")
        assert highlighted(app).startswith("Where the propeller works:")
        await pilot.press("right")
        assert isinstance(app.screen, WorkingsScreen), "Right does not leave"
        await pilot.press("enter")
        await until(lambda: not isinstance(app.screen, WorkingsScreen), pilot)
        assert results == [("hull", "hull.propeller_place")]


@pytest.mark.parametrize("key", keys_of("help"))
async def test_the_help_is_on_the_field_in_the_line_and_closes_to_it(plan_path: Path, key: str) -> None:
    """F1 did nothing here, while the key line of every page promises help."""
    app = open_on("power", plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, "power", pilot, "thrust_deduction")
        await pilot.press(key)
        await until(lambda: isinstance(app.screen, HelpScreen), pilot)
        assert "This is how the numbers of the page were worked out" in words(app, "#help-text")
        await pilot.press("escape", "enter", "down", key)
        await until(lambda: isinstance(app.screen, HelpScreen), pilot)
        text = words(app, "#help-text")
        assert text.startswith("Where the propeller works")
        assert "Go to a page" not in text, "a key of the pages, which does nothing here"
        await pilot.press(key)
        await until(lambda: isinstance(app.screen, WorkingsScreen), pilot)
        assert highlighted(app).startswith("Where the propeller works:")


def test_the_keys_that_the_help_tells_of_do_what_it_says() -> None:
    bound = {
        key: binding.action.partition("(")[0]
        for binding in WorkingsScreen.BINDINGS
        if isinstance(binding, Binding)
        for key in binding.key.split(",")
    }
    told = {key: action.id for action in WORKINGS_ACTIONS for key in action.keys}
    assert told == {key: does for key, does in bound.items() if key in told}
    assert set(bound) - set(told) == {"escape", "home", "end"}


async def test_keys_typed_ahead_do_what_they_would_have_done_one_by_one(plan_path: Path) -> None:
    app = open_on("power", plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        results = await opened(app, "power", pilot)
        keys = ("down", "down", "enter", "down", "down", "enter", "left", "up", "enter")
        for key in keys:
            pilot.app.simulate_key(key)
        await until(lambda: not isinstance(app.screen, WorkingsScreen), pilot)
        assert results == [("hull", "hull.propeller_place")]


@pytest.mark.parametrize("key", ["f11", "ctrl+w"])
async def test_the_key_that_opens_it_closes_it_from_anywhere(plan_path: Path, key: str) -> None:
    app = open_on("power", plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        results = await opened(app, "power", pilot, "cruise_effective_power_kw")
        await pilot.press("enter", "enter", key)
        await until(lambda: not isinstance(app.screen, WorkingsScreen), pilot)
        assert results == [None]


@pytest.mark.parametrize("size", SIZES, ids=["60x18", *NAMES])
async def test_page_keys_scroll_the_text_from_the_list_and_in_it(plan_path: Path, size: tuple[int, int]) -> None:
    app = open_on("power", plan_path)
    async with app.run_test(size=size) as pilot:
        await opened(app, "power", pilot, "cruise_resistance_n")
        working = listing(app, "working")
        scrolls = working.max_scroll_y > 0
        await pilot.press("pagedown")
        assert (working.scroll_y > 0) is scrolls
        assert head(app).startswith("Resistance at cruise"), "the same number"
        await pilot.press("pageup", "pageup", "enter", *["pagedown"] * 8)
        await pilot.pause()
        assert working.scroll_y == working.max_scroll_y
        assert "Where it holds" in screen_text(app)
        await pilot.press("up")
        await pilot.pause()
        assert is_in_sight(app, "working")


async def test_tab_goes_to_the_other_pane_and_back_to_the_number(plan_path: Path) -> None:
    app = open_on("power", plan_path)
    async with app.run_test(size=(120, 40)) as pilot:
        await opened(app, "power", pilot, "cruise_effective_power_kw")
        await pilot.press("tab")
        await until(lambda: highlighted(app).startswith("Resistance at cruise:"), pilot)
        await pilot.press("enter")
        assert head(app).startswith("Resistance at cruise")
        await pilot.press("tab")
        await until(lambda: head(app).startswith("Effective power at cruise"), pilot)
        assert app.focused is listing(app, "numbers")


async def test_a_narrow_window_gives_the_working_all_its_room_inside(plan_path: Path) -> None:
    app = open_on("power", plan_path)
    async with app.run_test(size=(60, 18)) as pilot:
        await opened(app, "power", pilot, "cruise_resistance_n")
        before = listing(app, "working").size.height
        await pilot.press("enter")
        await pilot.pause()
        assert not listing(app, "numbers").display
        assert listing(app, "working").size.height > before
        assert is_in_sight(app, "working")
        await pilot.press("left")
        await pilot.pause()
        assert listing(app, "numbers").display
        assert is_in_sight(app, "numbers")


async def test_another_width_keeps_the_place(plan_path: Path) -> None:
    app = open_on("power", plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, "power", pilot, "cruise_effective_power_kw")
        await pilot.press("enter", "down")
        await pilot.resize_terminal(120, 40)
        await until(lambda: listing(app, "numbers").display, pilot)
        assert highlighted(app).startswith("Cruising speed:")
        assert app.focused is listing(app, "working")


async def test_while_the_plan_is_worked_out_anew_the_title_says_so_and_the_place_is_kept(plan_path: Path) -> None:
    may_finish = threading.Event()
    may_finish.set()

    def held(plan: Plan) -> Assessment:
        assert may_finish.wait(timeout=10)
        return fake_assessment(plan)

    app = open_on("power", plan_path, held)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, "power", pilot, "thrust_deduction")
        screen = app.screen
        assert isinstance(screen, WorkingsScreen)
        assert "updating" not in words(app, "#workings-title")
        await pilot.press("enter", "down")
        may_finish.clear()
        app.change(with_text(app.plan, "hull.propeller_place", "on a strut or bracket"))
        screen.refresh_results()
        assert "(updating)" in words(app, "#workings-title")
        may_finish.set()
        await until(lambda: not app.is_updating, pilot)
        screen.refresh_results()
        assert "updating" not in words(app, "#workings-title")
        assert head(app).startswith("Thrust deduction")
        assert highlighted(app).startswith("Where the propeller works: on a strut")


async def test_a_number_that_has_gone_gives_way_to_the_first(plan_path: Path) -> None:
    app = open_on("power", plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, "power", pilot, "before_log_kw")
        screen, before = app.screen, app.assessment
        assert isinstance(screen, WorkingsScreen)
        assert before is not None
        power = replace(before.outcomes["power"].answers, before_log_kw=None)
        app.assessment = Assessment(before.plan, {**before.outcomes, "power": Outcome(power)})
        await pilot.press("enter")
        screen.refresh_results()
        await pilot.pause()
        assert head(app).startswith("Method")
        assert app.focused is listing(app, "numbers")


async def test_a_page_without_answers_leads_to_the_field_that_is_missing(plan_path: Path) -> None:
    def waiting(plan: Plan) -> Assessment:
        return fake_assessment(with_text(plan, "hull.waterline_length", ""))

    app = open_on("speed", plan_path, waiting)
    async with app.run_test(size=(80, 24)) as pilot:
        results = await opened(app, "speed", pilot)
        assert "The speed page waits for: the waterline length." in screen_text(app)
        await pilot.press("enter", "enter")
        await until(lambda: not isinstance(app.screen, WorkingsScreen), pilot)
        assert results == [("speed", "speed.cruise")]


async def test_on_the_review_page_the_numbers_stand_under_their_pages(plan_path: Path) -> None:
    app = open_on("power", plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "power")() and app.assessment and not app.is_updating, pilot)
        assert app.assessment is not None
        await app.push_screen(WorkingsScreen("review", app.plan, app.assessment))
        await pilot.pause()
        headings = [str(option.prompt) for option in listing(app, "numbers").options if option.disabled]
        assert headings[:3] == ["Hull", "Speed", "Power"]
        await pilot.press(*["down"] * len(numbers_of("hull", app.assessment)))
        assert head(app).startswith("Cruising speed"), "past the heading"


async def test_a_window_that_is_too_small_says_so_and_keeps_the_place(plan_path: Path) -> None:
    app = open_on("power", plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, "power", pilot, "thrust_deduction")
        await pilot.resize_terminal(40, 10)
        await until(lambda: "too small" in screen_text(app), pilot)
        await pilot.resize_terminal(80, 24)
        await until(lambda: "Formula" in screen_text(app), pilot)
        assert head(app).startswith("Thrust deduction")
        await until(lambda: app.focused is listing(app, "numbers"), pilot)


async def test_it_opens_without_a_wait(plan_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    may_finish = threading.Event()
    may_finish.set()
    calls, set_out = [], []

    def held(plan: Plan) -> Assessment:
        calls.append(plan)
        assert may_finish.wait(timeout=10)
        return fake_assessment(plan)

    def noted(number: Number, *more: Any) -> list[Part]:
        set_out.append(number)
        return working_parts(number, *more)

    monkeypatch.setattr("wizard.screens.workings.working_parts", noted)
    app = open_on("propeller", plan_path, held)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "propeller")() and app.assessment and not app.is_updating, pilot)
        assert app.assessment is not None
        may_finish.clear()
        app.change(with_text(app.plan, "hull.propeller_place", "on a strut or bracket"))
        before = len(calls)
        await until(lambda: len(calls) > before, pilot)
        working_out = len(calls)
        await app.push_screen(WorkingsScreen("propeller", app.plan, app.assessment))
        await pilot.pause()
        assert "Formula" in screen_text(app), "though the plan is still being worked out in the thread"
        assert app.is_updating
        assert len(calls) == working_out, "nothing is worked out anew to show it"
        assert len(numbers_of("propeller", app.assessment)) > 10
        assert set(set_out) == {numbers_of("propeller", app.assessment)[0]}, "nor are workings set that are not seen"
        may_finish.set()
        await until(lambda: not app.is_updating, pilot)

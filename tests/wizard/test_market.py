"""The stock wheels: searched in a thread, shown in two lists, and one of them taken into the plan with Enter."""

import threading
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from time import monotonic
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Button, OptionList

from engine.assessment import Assessment
from engine.findings import Outcome, fits
from engine.plan import Plan, text_at
from engine.planfile import load_plan, save_plan
from engine.stages.market import other_sections_finding
from tests.wizard.driving import field, focus, is_open, line, planning, screen_text, until, words
from tests.wizard.fakes import fake_assessment, made_up_market, made_up_wheel
from wizard.app import ShaftlogApp
from wizard.screens.market import KEYS_FOUND, KEYS_NOTHING, KEYS_SEARCHING, NOTHING, SETTLES, MarketScreen
from wizard.searching import Search, Told
from wizard.wheels import detail_lines, taken
from wizard.widgets.field import FieldChoice
from wizard.widgets.scrolled import ScrolledText

SIZES = [(80, 24), (60, 18), (120, 40)]


def found(assessment: Assessment, told: Told) -> Outcome[Any]:
    del assessment
    told(0.0)
    return made_up_market()


class HeldSearch:
    """Waits until it is let go, and then tells how far it is; knows whether it was stopped."""

    def __init__(self) -> None:
        self.may_go_on = threading.Event()
        self.has_begun = threading.Event()
        self.was_stopped = threading.Event()
        self.plans: list[Plan] = []

    def __call__(self, assessment: Assessment, told: Told) -> Outcome[Any]:
        self.plans.append(assessment.plan)
        told(0.37)
        self.has_begun.set()
        assert self.may_go_on.wait(timeout=10)
        try:
            told(0.5)
        except Exception:
            self.was_stopped.set()
            raise
        return made_up_market()


def open_on(page: str, path: Path, search: Search = found, assess: Any = fake_assessment) -> ShaftlogApp:
    path.write_text(path.read_text(encoding="utf-8").replace('stage = "hull"', f'stage = "{page}"'), encoding="utf-8")
    return ShaftlogApp(path, path.parent, assess=assess, search=search)


async def opened(app: ShaftlogApp, page: str, pilot: Pilot[Any]) -> None:
    """Wait for the page and its answers, then open the screen of the wheels."""
    await until(lambda: is_open(app, page)() and app.assessment and not app.is_updating, pilot)
    await pilot.press("f12")
    await until(lambda: isinstance(app.screen, MarketScreen), pilot)


def shows_keys(app: ShaftlogApp, keys: str) -> bool:
    return isinstance(app.screen, MarketScreen) and words(app, "#market-keys").startswith(keys)


async def test_enter_takes_the_highlighted_wheel_in_one_change(
    plan_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = open_on("propeller", plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "propeller")() and app.assessment and not app.is_updating, pilot)
        focus(app, "propeller.diameter")
        changes, told = [], []
        change = app.change
        monkeypatch.setattr(app, "change", lambda plan: (changes.append(plan), change(plan)))
        monkeypatch.setattr(app, "tell", told.append)
        await pilot.press("ctrl+e")
        await until(lambda: shows_keys(app, KEYS_FOUND), pilot)
        await pilot.press("down", "enter")
        await until(lambda: not isinstance(app.screen, MarketScreen), pilot)
        wheel = made_up_wheel("18 x 13.5 in, 3 blades")
        for path, text in wheel.changes.items():
            assert text_at(app.plan, path) == text, path
        assert len(changes) == 1
        await until(lambda: app.assessment and app.assessment.plan == app.plan, pilot)
        assert field(app, "propeller.diameter").value == "18 in", "also the field that has the focus"
        assert field(app, "propeller.pitch").value == "13.5 in"
        assert line(app, "propeller.sections").query_one(FieldChoice).selection == "flat-faced (Gawn)"
        (sentence,) = told
        assert sentence.startswith("Taken into the plan: 18 x 13.5 in, 3 blades, flat-faced (Gawn), with 2.63:1.")
        assert "empty diameter, pitch and ratio" in sentence
        await until(lambda: text_at(load_plan(plan_path), "gear.ratio") == "2.63", pilot)
        await pilot.press("f3")
        await until(is_open(app, "gear"), pilot)
        assert field(app, "gear.ratio").value == "2.63"


async def test_an_enter_that_comes_with_the_list_takes_nothing(plan_path: Path) -> None:
    app = open_on("gear", plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, "gear", pilot)
        await until(lambda: shows_keys(app, KEYS_FOUND), pilot)
        app.screen._appeared = monotonic()
        before = app.plan
        await pilot.press("enter")
        assert isinstance(app.screen, MarketScreen)
        app.screen._appeared = monotonic() - 2 * SETTLES
        await pilot.press("enter")
        await until(lambda: not isinstance(app.screen, MarketScreen), pilot)
        assert app.plan is not before


async def test_escape_leaves_the_plan_as_it_is(plan_path: Path) -> None:
    app = open_on("gear", plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, "gear", pilot)
        before = app.plan
        await until(lambda: shows_keys(app, KEYS_FOUND), pilot)
        await pilot.press("down", "escape")
        await until(lambda: not isinstance(app.screen, MarketScreen), pilot)
        assert app.plan is before
        assert not app.is_updating


async def test_a_second_press_of_the_button_opens_no_second_search(plan_path: Path) -> None:
    app = open_on("gear", plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "gear")() and app.assessment and not app.is_updating, pilot)
        button = app.screen.query_one(".search", Button)
        button.press()
        button.press()
        await until(lambda: shows_keys(app, KEYS_FOUND), pilot)
        assert [type(screen) for screen in app.screen_stack].count(MarketScreen) == 1


async def test_escape_stops_a_search_that_is_under_way(plan_path: Path) -> None:
    search = HeldSearch()
    app = open_on("gear", plan_path, search)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, "gear", pilot)
        await until(lambda: "37 %" in screen_text(app), pilot)
        assert shows_keys(app, KEYS_SEARCHING)
        before = app.plan
        await pilot.press("enter")
        assert isinstance(app.screen, MarketScreen), "there is nothing to take yet"
        await pilot.press("escape")
        await until(lambda: not isinstance(app.screen, MarketScreen), pilot)
        assert not search.was_stopped.is_set(), "the screen does not wait for the thread"
        search.may_go_on.set()
        await until(search.was_stopped.is_set, pilot)
        assert app.plan is before


@pytest.mark.parametrize("size", SIZES, ids=["80x24", "60x18", "120x40"])
async def test_both_lists_and_the_details_are_shown_and_nothing_is_cut(plan_path: Path, size: tuple[int, int]) -> None:
    app = open_on("gear", plan_path)
    async with app.run_test(size=size) as pilot:
        await opened(app, "gear", pilot)
        await until(lambda: shows_keys(app, KEYS_FOUND), pilot)
        await pilot.pause()
        lines = screen_text(app).splitlines()
        text = "\n".join(lines)
        assert KEYS_FOUND in lines[-1]
        assert "Recommended: flat-faced (Gawn)" in text
        assert "Others, by a series of their own: airfoil (Wageningen B)" in text
        row = next(found for found in lines if "18 x 13.5 in, 3 blades" in found)
        assert "2.63:1" in row
        assert "911 of 1,000" in row
        assert "0.631" in row, "burn in the owner's units"
        listing = app.screen.query_one(OptionList)
        assert listing.highlighted == 1, "the recommended one"
        room = listing.scrollable_content_region.width
        assert all(len(str(option.prompt)) <= room for option in listing.options), "no line is wrapped"
        details = " ".join(words(app, "#wheel-details").split())
        for part in ("Tip clearance", "16 %", "Mind", "even blades [behind] a keel"):
            assert part in details
        beside = words(app, "#market-findings")
        assert ("Ask the shop." in beside) is (size[0] >= 110)
        assert ("Ask the shop." in details) is (size[0] < 110)


@pytest.mark.parametrize("is_found", [True, False], ids=["wheels", "no wheel"])
@pytest.mark.parametrize("size", SIZES, ids=["80x24", "60x18", "120x40"])
async def test_no_row_of_the_findings_ends_between_a_number_and_its_unit(
    plan_path: Path, size: tuple[int, int], is_found: bool
) -> None:
    market = made_up_market() if is_found else Outcome[Any](None, waits_for="a wheel that suits.")
    shares = fits(" ".join(f"of {count} wheels (1.6 %)" for count in range(30)), "")
    app = open_on("gear", plan_path, lambda *_: replace(market, findings=(shares,)))
    async with app.run_test(size=size) as pilot:
        await opened(app, "gear", pilot)
        await until(lambda: shows_keys(app, KEYS_FOUND if is_found else KEYS_NOTHING), pilot)
        where = "#market-state" if not is_found else "#market-findings" if size[0] >= 110 else "#wheel-details"
        rows = await rows_scrolled_through(app, pilot, where)
        assert sum(row.count("(1.6 %)") for row in rows) == 30
        assert not any(row.endswith("(1.6") for row in rows)


async def rows_scrolled_through(app: ShaftlogApp, pilot: Pilot[Any], where: str) -> list[str]:
    """What one has seen of a long text at the end, pressing PgDn."""
    pane = app.screen.query_one(where, ScrolledText)
    seen: dict[int, str] = {}
    for _ in range(20):
        for y in range(pane.size.height):
            seen[pane.scroll_offset.y + y] = pane.render_line(y).text.rstrip()
        if pane.scroll_offset.y == pane.max_scroll_y:
            break
        await pilot.press("pagedown")
        await pilot.pause()
    return list(seen.values())


async def test_the_arrows_pass_over_headings_and_page_down_scrolls_the_details(plan_path: Path) -> None:
    app = open_on("gear", plan_path)
    async with app.run_test(size=(60, 18)) as pilot:
        await opened(app, "gear", pilot)
        await until(lambda: shows_keys(app, KEYS_FOUND), pilot)
        await pilot.press("down", "down")
        assert "20 x 12 in" in words(app, "#wheel-details")
        highlighted = app.screen.query_one(OptionList).highlighted
        await pilot.press("pagedown")
        await until(lambda: app.screen.query_one("#wheel-details").scroll_y > 0, pilot)
        assert app.screen.query_one(OptionList).highlighted == highlighted


async def test_the_wheel_that_the_plan_has_is_marked_in_words(plan_path: Path) -> None:
    def with_wheel(plan: Plan) -> Assessment:
        outcomes = dict(fake_assessment(plan).outcomes)
        propeller, gear = outcomes["propeller"].answers, outcomes["gear"].answers
        outcomes["propeller"] = Outcome(replace(propeller, size=rows[1].size))
        outcomes["gear"] = Outcome(replace(gear, ratio=rows[1].ratio))
        return Assessment(taken(plan, rows[1]), outcomes)

    size = "19 x 13 in, 3 blades"
    rows = (made_up_wheel(size, "airfoil (Wageningen B)"), made_up_wheel(size), made_up_wheel(size, ratio=2.99))
    app = open_on("gear", plan_path, lambda *_: made_up_market(*rows), with_wheel)
    async with app.run_test(size=(60, 18)) as pilot:
        await opened(app, "gear", pilot)
        await until(lambda: shows_keys(app, KEYS_FOUND), pilot)
        prompts = [str(option.prompt) for option in app.screen.query_one(OptionList).options]
        assert [prompt.endswith(" now") for prompt in prompts[:5]] == [False, False, False, True, False]
        await pilot.press("down")
        assert "The plan has this wheel now." in words(app, "#wheel-details")


async def test_an_incomplete_plan_says_what_it_waits_for_and_enter_goes_back(plan_path: Path) -> None:
    app = open_on("gear", plan_path, lambda *_: Outcome[Any](None, waits_for="the engine page: a candidate [x]."))
    async with app.run_test(size=(60, 18)) as pilot:
        await opened(app, "gear", pilot)
        await until(lambda: shows_keys(app, KEYS_NOTHING), pilot)
        assert words(app, "#market-state") == "Waits for: the engine page: a candidate [x]."
        before = app.plan
        await pilot.press("enter")
        await until(lambda: not isinstance(app.screen, MarketScreen), pilot)
        assert app.plan is before


async def test_where_no_wheel_suits_what_stands_against_them_is_said_and_nothing_is_taken(
    tmp_path: Path, launch: Plan, change: Callable[[Plan, dict[str, str]], Plan]
) -> None:
    path = tmp_path / "launch.toml"
    tight = {"propeller.room": "400 mm", "gear.ratios": "2", "gear.ratio": "2"}
    save_plan(replace(change(launch, tight), stage="propeller"), path)
    app = ShaftlogApp(path, tmp_path)
    async with app.run_test(size=(60, 18)) as pilot:
        await until(lambda: is_open(app, "propeller")() and app.assessment and not app.is_updating, pilot, 30.0)
        before = app.plan
        await pilot.press("f12")
        await until(lambda: shows_keys(app, KEYS_NOTHING), pilot, 30.0)
        said, shown = words(app, "#market-state"), screen_text(app)
        assert said.startswith(f"{NOTHING}\n! stop: None of ")
        assert "Waits for" not in said
        assert all(word in shown for word in said.split()), "all of it is in sight in the smallest window"
        await pilot.press("enter")
        await until(lambda: not isinstance(app.screen, MarketScreen), pilot)
        assert app.plan is before


async def test_a_fault_in_the_search_leaves_the_plan_and_says_so(plan_path: Path) -> None:
    def faulty(*_: Any) -> Outcome[Any]:
        raise ZeroDivisionError

    app = open_on("gear", plan_path, faulty)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, "gear", pilot)
        await until(lambda: shows_keys(app, KEYS_NOTHING), pilot)
        said = words(app, "#market-state")
        assert "Your plan is safe." in said
        assert "ZeroDivisionError" in said
        await pilot.press("escape")
        await until(lambda: not isinstance(app.screen, MarketScreen), pilot)


async def test_the_search_waits_for_the_plan_to_be_worked_out(plan_path: Path) -> None:
    may_finish = threading.Event()
    searched: list[Plan] = []

    def slow(plan: Plan) -> Assessment:
        assert may_finish.wait(timeout=10)
        return fake_assessment(plan)

    def noting(assessment: Assessment, told: Told) -> Outcome[Any]:
        searched.append(assessment.plan)
        return found(assessment, told)

    app = open_on("propeller", plan_path, noting, slow)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "propeller"), pilot)
        await pilot.press("f12")
        await until(lambda: isinstance(app.screen, MarketScreen), pilot)
        await pilot.pause()
        assert "still being worked out" in screen_text(app)
        assert searched == []
        may_finish.set()
        await until(lambda: shows_keys(app, KEYS_FOUND), pilot)
        assert searched == [app.plan]


async def test_a_result_for_an_older_plan_is_not_shown(plan_path: Path) -> None:
    search = HeldSearch()
    app = open_on("range", plan_path, search)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, "range", pilot)
        await until(search.has_begun.is_set, pilot)
        app.change(replace(app.plan, hull=replace(app.plan.hull, screws=2)))
        app.screen.refresh_results()  # type: ignore[attr-defined]
        search.may_go_on.set()
        await until(search.was_stopped.is_set, pilot)
        await until(lambda: shows_keys(app, KEYS_FOUND), pilot)
        assert [plan.hull.screws for plan in search.plans][-1] == 2
        assert search.plans[-1] == app.plan


async def test_a_wheel_of_an_older_plan_that_is_chosen_just_then_is_not_taken(plan_path: Path) -> None:
    app = open_on("propeller", plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, "propeller", pilot)
        await until(lambda: shows_keys(app, KEYS_FOUND), pilot)
        screen, before = app.screen, app.plan
        assert isinstance(screen, MarketScreen)
        await pilot.press("down")
        screen.query_one(OptionList).action_select()
        app.is_updating = True
        screen.refresh_results()
        await pilot.pause()
        assert app.screen is screen
        assert app.plan == before


@pytest.mark.parametrize("page", ["gear", "propeller"])
async def test_a_button_opens_the_search_and_enter_passes_it_by(plan_path: Path, page: str) -> None:
    app = open_on(page, plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, page)() and app.assessment and not app.is_updating, pilot)
        button = planning(app).current.query_one(".search", Button)
        assert str(button.label) == "Try every stock wheel with every ratio"
        controls = planning(app).current.controls()
        app.screen.set_focus(controls[controls.index(button) - 1])
        await pilot.pause()
        planning(app).current.go_on(app.focused)  # type: ignore[union-attr]
        await until(lambda: planning(app).query_one(f"#next-{page}").has_focus, pilot)
        await pilot.press("up", "enter")
        await until(lambda: isinstance(app.screen, MarketScreen), pilot)


@pytest.mark.parametrize("units", ["imperial", "metric"])
def test_the_numbers_of_a_wheel_stand_in_two_columns_in_a_window_of_120(units: str) -> None:
    wheel = made_up_wheel(tip_speed_m_per_s=24.0, cruise_l_per_h=2.49)
    columns = 120 * 66 // 100 - 3
    lines = detail_lines(wheel, units, columns)
    assert max(map(len, lines)) <= columns
    (beside,) = (text for text in lines if "Tip speed" in text)
    assert not beside.startswith("Tip speed"), "another number stands before it"
    narrow = detail_lines(wheel, units, 60)
    assert max(map(len, narrow)) <= 60
    assert any(text.startswith("Tip speed") for text in narrow), "each on a line of its own"


@pytest.mark.parametrize(
    ("drawn", "words"),
    [
        (1.91, "4.5 % less by its own series."),
        (1.91, "The series differ by 3 to 5 % for the same wheel, so that decides nothing."),
        (1.75, "and that is more: ask the shop for such a wheel as well."),
        (2.25, "12.5 % more by its own series."),
        (2.25, "and that is more: nothing speaks for it."),
    ],
)
def test_a_gain_beyond_what_series_differ_by_is_not_called_nothing(drawn: float, words: str) -> None:
    best, other = (made_up_wheel(cruise_l_per_h=burn) for burn in (2.0, drawn))
    assert words in other_sections_finding(best, other).text

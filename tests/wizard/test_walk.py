"""The wizard as the owner uses it: all ten pages by keyboard, in a small window and in a wide one."""

import threading
from dataclasses import replace
from pathlib import Path

import pytest
from textual import events
from textual.widgets import Button, OptionList

from engine.assessment import Assessment
from engine.findings import Outcome
from engine.plan import PAGES, QUESTIONS, Plan
from tests.wizard.driving import field, focus, is_open, line, planning, screen_text, type_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.screens.dialogs import PageList
from wizard.screens.help import HelpScreen, unsure_text
from wizard.screens.plot import PlotScreen
from wizard.widgets.field import FieldInput
from wizard.widgets.view import StageView

SMALL, WIDE = (80, 24), (120, 40)


def app_for(path: Path | None, folder: Path | None = None, assess: object = fake_assessment) -> ShaftlogApp:
    return ShaftlogApp(path, folder or (path.parent if path else Path()), assess=assess)  # type: ignore[arg-type]


@pytest.mark.parametrize("size", [SMALL, WIDE], ids=str)
async def test_all_pages_can_be_walked_by_keyboard_and_no_label_is_cut(plan_path: Path, size: tuple[int, int]) -> None:
    app = app_for(plan_path)
    async with app.run_test(size=size) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment, pilot)
        for page in PAGES:
            await until(is_open(app, page), pilot)
            await pilot.pause()
            text = screen_text(app)
            assert QUESTIONS[page] in text
            for name in PAGES:
                assert name in text.splitlines()[0], f"the rail lacks {name}"
            assert app.focused is not None, page
            asked = [line for line in planning(app).query(f"#page-{page} FieldLine") if line.display]
            for found in asked:
                assert set(found.texts.label.split()) <= set(str(found.render()).split()), found
                assert found.region.right <= size[0], found
            await pilot.press("f4")
        await pilot.press("ctrl+o", "ctrl+o")
        await until(is_open(app, PAGES[-3]), pilot)
        assert app.plan.stage == PAGES[-3]


async def test_enter_goes_from_field_to_field_and_then_to_the_next_page(plan_path: Path) -> None:
    app = app_for(plan_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)
        await pilot.press("f4")
        await until(is_open(app, "speed"), pilot)
        focus(app, "speed.cruise")
        await pilot.press("enter")
        await until(lambda: field(app, "speed.top").has_focus, pilot)
        await pilot.press("enter", "enter")
        await until(is_open(app, "power"), pilot)


async def test_arrows_move_between_fields_and_past_choices(plan_path: Path) -> None:
    app = app_for(plan_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.kind")
        await pilot.press("down")
        assert field(app, "hull.waterline_length").has_focus
        await pilot.press("down", "up", "up")
        assert line(app, "hull.kind").has_focus_within


async def test_a_choice_is_picked_by_keyboard_and_the_focus_moves_on(plan_path: Path) -> None:
    app = app_for(plan_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.water")
        await pilot.press("enter", "down", "down", "enter")
        await until(lambda: app.plan.hull.water == "brackish", pilot)
        await until(lambda: field(app, "hull.water_temperature").has_focus, pilot)


async def test_the_list_of_pages_jumps_anywhere(range_path: Path) -> None:
    app = app_for(range_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "range"), pilot)
        await pilot.press("f2")
        await until(lambda: isinstance(app.screen, PageList), pilot)
        assert app.screen.query_one(OptionList).highlighted == 7
        await pilot.press("up", "up", "enter")
        await until(is_open(app, "propeller"), pilot)
        assert app.plan.stage == "propeller"


@pytest.mark.parametrize(("page", "key", "which"), [("review", "f4", "last"), ("hull", "f3", "first")])
async def test_at_either_end_a_key_says_where_one_is(range_path: Path, page: str, key: str, which: str) -> None:
    app = app_for(range_path)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await until(is_open(app, "range"), pilot)
        await planning(app).go_to(page)
        await pilot.press(key)
        await until(lambda: f"This is the {which} page. F2 goes to any page." in screen_text(app), pilot)
        assert app.plan.stage == page


async def test_letters_and_numbers_lead_through_the_list_of_pages(range_path: Path) -> None:
    """Each from the fit page, which none of them leads to."""
    led = {"p": "power", "pp": "propeller", "P": "power", "3": "power", "11": "trial", "12": "review"}
    app = app_for(range_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "range"), pilot)
        for keys, page in led.items():
            await planning(app).go_to("fit")
            await pilot.press("f2")
            await until(lambda: isinstance(app.screen, PageList), pilot)
            await pilot.press(*keys, "x", "enter")
            await until(is_open(app, page), pilot)


async def test_field_help_tells_what_how_and_what_it_changes(plan_path: Path) -> None:
    app = app_for(plan_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.waterline_length")
        await pilot.press("f1")
        await until(lambda: isinstance(app.screen, HelpScreen), pilot)
        await pilot.pause()
        text = screen_text(app)
        for words in ("What it is", "How to measure it aboard", "What it changes", "drop a plumb"):
            assert words in text
        await pilot.press("escape")
        await until(lambda: field(app, "hull.waterline_length").has_focus, pilot)


def test_help_says_how_unsure_a_number_by_itself_is_taken_to_be() -> None:
    assert "by -5 % to +10 %" in unsure_text("hull.displacement")
    assert "by -0.5 to +0.5" in unsure_text("hull.buoyancy_centre")
    assert unsure_text("range.tank") == ""


async def test_the_views_are_cycled_by_key(plan_path: Path) -> None:
    app = app_for(plan_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment, pilot)
        view = planning(app).query_one(StageView)
        assert view.current == "answers"
        await pilot.press("f5")
        await pilot.pause()
        assert "look again" in screen_text(app)
        await pilot.press("f5")
        await pilot.pause()
        assert view.current == "plot"
        assert "The boat in the ranges" in screen_text(app)
        await pilot.press("f6")
        await until(lambda: isinstance(app.screen, PlotScreen), pilot)
        await pilot.press("escape")
        assert app.screen is planning(app)


async def test_findings_by_themselves_have_the_whole_height(plan_path: Path) -> None:
    app = app_for(plan_path)
    async with app.run_test(size=WIDE) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment, pilot)
        view = planning(app).query_one(StageView)
        pane = view.query_one("#findings")
        together = pane.size.height
        await pilot.press("f5", "f5")
        await pilot.pause()
        assert view.current == "findings"
        assert pane.size.height > max(together, 0.8 * view.size.height)


async def test_the_wide_window_shows_findings_answers_and_plot_together(plan_path: Path) -> None:
    app = app_for(plan_path)
    async with app.run_test(size=WIDE) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment, pilot)
        await pilot.pause()
        text = screen_text(app)
        for words in ("! stop", "Displacement", "The boat in the ranges"):
            assert words in text


async def test_units_switch_without_touching_what_was_typed(plan_path: Path) -> None:
    app = app_for(plan_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment, pilot)
        await pilot.pause()
        assert "lb" in screen_text(app)
        await pilot.press("f7")
        await until(lambda: app.plan.units == "metric" and not app.is_updating, pilot)
        assert field(app, "hull.waterline_length").value == "31 ft 6 in"
        assert field(app, "hull.hull_draft").placeholder == "m"
        await pilot.pause()
        assert "2 kg" in screen_text(app)


async def test_a_waiting_page_offers_the_page_that_can_mend_it(tmp_path: Path) -> None:
    app = app_for(None, tmp_path)
    async with app.run_test(size=SMALL) as pilot:
        app.begin_plan(Plan(name="Empty", stage="gear"))
        await until(lambda: is_open(app, "gear")() and app.assessment, pilot)
        await until(lambda: "Waits for: the waterline length." in screen_text(app), pilot)
        button = planning(app).query_one("#mend-gear")
        assert button.display
        button.focus()
        await pilot.press("enter")
        await until(is_open(app, "hull"), pilot)


async def test_the_review_lists_everything_and_goes_to_the_field(plan_path: Path) -> None:
    app = app_for(plan_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment, pilot)
        await planning(app).go_to("review")
        await until(lambda: "Not yet." in screen_text(app), pilot)
        text = screen_text(app)
        assert "! hull       This stops." in text
        assert "not a certificate" in text
        lines = planning(app).query_one("#review-list", OptionList)
        lines.highlighted = next(i for i, line in enumerate(lines.options) if "This stops." in str(line.prompt))
        await pilot.press("enter")
        await until(is_open(app, "hull"), pilot)
        await until(lambda: field(app, "hull.hull_draft").has_focus, pilot)


async def test_the_plan_is_renamed_on_the_review_page(range_path: Path) -> None:
    app = app_for(range_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "range"), pilot)
        await planning(app).go_to("review")
        await pilot.press("up", "up", "end")
        await type_text(pilot, " II")
        await until(lambda: app.plan.name == "Teasel II", pilot)


async def test_a_storm_of_resizes_does_no_harm(range_path: Path) -> None:
    app = app_for(range_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment, pilot)
        for width, height in [(20, 5), (200, 60), (59, 17), (60, 18), (110, 18), (109, 50), (1, 1), (80, 24)]:
            await pilot.resize_terminal(width, height)
            await pilot.pause()
        assert "How far will she go?" in screen_text(app)
        await pilot.resize_terminal(50, 15)
        await pilot.pause()
        assert "The window is too small" in screen_text(app)
        await pilot.resize_terminal(60, 18)
        await pilot.pause()
        assert "How far will she go?" in screen_text(app)
        assert app.focused is not None, "the focus comes back with the window"


async def test_nothing_is_typed_unseen_in_a_window_too_small_to_show_it(range_path: Path) -> None:
    app = app_for(range_path)
    async with app.run_test(size=(50, 15)) as pilot:
        await until(lambda: "The window is too small" in screen_text(app), pilot)
        told = " ".join(screen_text(app).split())
        assert "no key does anything but F10 or ctrl+q: save and quit" in told
        before = app.plan
        await pilot.press("f4", "enter", "x", "1", "backspace", "f2", "ctrl+u")
        await pilot.pause()
        assert app.plan == before
        assert app.screen is planning(app)
        await pilot.resize_terminal(*SMALL)
        await until(is_open(app, "range"), pilot)
        await pilot.press("f4")
        await until(is_open(app, "fit"), pilot)
        await pilot.resize_terminal(50, 15)
        await pilot.press("f10")
    assert app.return_code == 0


async def test_a_failing_calculation_is_told_in_words_and_the_app_goes_on(range_path: Path) -> None:
    def broken(_: Plan) -> Assessment:
        raise ZeroDivisionError("secret details")

    app = app_for(range_path, assess=broken)
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: is_open(app, "range")() and app.failure, pilot)
        await pilot.pause()
        text = screen_text(app)
        assert "ZeroDivisionError" in text
        assert "secret details" not in text
        focus(app, "range.tank")
        await type_text(pilot, "300 L")
        await until(lambda: app.plan.range.tank, pilot)


async def test_a_result_that_was_overtaken_is_dropped(range_path: Path) -> None:
    from wizard.recalculation import Recalculated

    app = app_for(range_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment, pilot)
        latest = app.assessment
        app.post_message(Recalculated(0, fake_assessment(Plan())))
        await pilot.pause()
        assert app.assessment is latest


async def test_old_answers_are_marked_while_new_ones_are_on_their_way(range_path: Path) -> None:
    may_finish = threading.Event()

    def slow_from_the_second_time(plan: Plan) -> Assessment:
        if plan.speed.cruise is not None and plan.speed.cruise.si < 3.0:
            assert may_finish.wait(10)
        return fake_assessment(plan)

    app = app_for(range_path, assess=slow_from_the_second_time)
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment, pilot)
        await planning(app).go_to("speed")
        view = planning(app).query_one(StageView)
        await until(lambda: not view.has_class("-stale"), pilot)
        field(app, "speed.cruise").value = "4 kn"
        await until(lambda: view.has_class("-stale"), pilot)
        assert "updating" in screen_text(app)
        assert "Speed-length ratio" in screen_text(app), "the old answers stay"
        may_finish.set()
        await until(lambda: not view.has_class("-stale"), pilot)
        assert "updating" not in screen_text(app)


@pytest.mark.parametrize("by_button", [False, True], ids=["F4", "button"])
async def test_what_is_typed_while_the_next_page_opens_lands_on_it(plan_path: Path, by_button: bool) -> None:
    app = app_for(plan_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment, pilot)
        await planning(app).go_to("gear")
        if by_button:
            planning(app).set_focus(planning(app).query_one("#next-gear"))
        await pilot.pause()
        before = app.plan.gear
        keys = [("enter", None) if by_button else ("f4", None), *((sign, sign) for sign in "37")]
        for key, sign in keys:  # all at once, as from a fast typist: none waits for the one before
            app.post_message(events.Key(key, sign))
        await until(lambda: is_open(app, "propeller")() and app.focused is not None, pilot)
        assert isinstance(app.focused, FieldInput)
        assert app.focused.path.startswith("propeller.")
        assert app.focused.value.endswith("37")
        assert app.plan.gear == before


async def test_a_waiting_page_names_what_is_missing_and_leads_to_that_field(plan_path: Path) -> None:
    def waiting(plan: Plan) -> Assessment:
        found = fake_assessment(plan)
        return replace(found, outcomes={**found.outcomes, "speed": Outcome(None, (), "the hull page.", behind="hull")})

    app = ShaftlogApp(plan_path, plan_path.parent, assess=waiting)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment and not app.is_updating, pilot)
        focus(app, "hull.keel_draft")
        await planning(app).go_to("speed")
        button = app.screen.query_one("#mend-speed", Button)
        assert str(button.label) == "Missing: Hull draft, keel left out. Go to: hull"
        app.screen.set_focus(button)
        await pilot.press("enter")
        await until(is_open(app, "hull"), pilot)
        assert field(app, "hull.hull_draft").has_focus

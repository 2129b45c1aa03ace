"""Typing into the form: what is understood, what is not, and that nothing typed is ever lost."""

from pathlib import Path

import pytest
from textual import events
from textual.pilot import Pilot
from textual.widgets import Button

from engine.plan import Plan, text_at
from engine.planfile import load_plan
from tests.wizard.driving import field, focus, is_open, line, planning, screen_text, type_text, until, words
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.screens.planning import BUTTON_HINT
from wizard.stages.forms import groups
from wizard.widgets.field import FieldChoice, FieldLine

SMALL = (80, 24)


async def test_typing_changes_the_plan_and_the_echo(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.hull_draft")
        await type_text(pilot, "3.1")
        await until(lambda: app.plan.hull.hull_draft, pilot)
        draft = app.plan.hull.hull_draft
        assert draft is not None
        assert draft.si == pytest.approx(3.1 * 0.3048)
        assert field(app, "hull.hull_draft").value == "3.1", "the text is not rewritten while it is being typed"
        await until(lambda: "= 0.9449 m = 3 ft 1 1/4 in" in screen_text(app), pilot)
        await pilot.press("enter")
        await until(lambda: field(app, "hull.hull_draft").value == "3.1 ft", pilot)
        assert field(app, "hull.displacement").has_focus


async def test_a_bare_number_keeps_its_unit_when_the_units_switch_under_it(plan_path: Path) -> None:
    """The next key read the number that stood in the field again, in the other unit: 3.1 ft became 3.1 m."""
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.hull_draft")
        await type_text(pilot, "3.1")
        await pilot.press("f7")
        assert app.plan.units == "metric"
        assert field(app, "hull.hull_draft").value == "3.1 ft"
        await pilot.press("enter")
        assert text_at(app.plan, "hull.hull_draft") == "3.1 ft"


async def test_bad_text_gets_a_sentence_and_survives_saving_and_reopening(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.hull_draft")
        await type_text(pilot, "3 parsec")
        await pilot.press("enter")
        await until(lambda: "is not a unit of length" in screen_text(app), pilot)
        await pilot.press("f10")
    assert text_at(load_plan(plan_path), "hull.hull_draft") == "3 parsec"
    again = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with again.run_test(size=SMALL) as pilot:
        await until(is_open(again, "hull"), pilot)
        assert field(again, "hull.hull_draft").value == "3 parsec"
        await until(lambda: "is not a unit of length" in screen_text(again), pilot)
        focus(again, "hull.hull_draft")
        await pilot.press("home", *["delete"] * 8)
        await type_text(pilot, "3 ft")
        await until(lambda: again.plan.hull.hull_draft and not again.plan.unread, pilot)


async def test_the_last_letter_before_a_quick_quit_is_kept(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.hull_draft")
        await pilot.pause()
        field(app, "hull.hull_draft").value = "3.25 ft"
        planning(app).action_leave()
    assert text_at(load_plan(plan_path), "hull.hull_draft") == "3.25 ft"


async def test_a_candidate_is_added_filled_chosen_and_removed(engine_path: Path) -> None:
    app = ShaftlogApp(engine_path, engine_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "engine"), pilot)
        await press_button(app, "add.engine.candidate", pilot)
        await pilot.press("enter")
        await until(lambda: len(app.plan.engine.candidate) == 2, pilot)
        await until(lambda: field(app, "engine.candidate.1.name").has_focus, pilot)
        await press_button(app, "choose.engine.candidate.1", pilot)
        await pilot.press("enter")
        await pilot.pause()
        assert app.plan.engine.chosen == "", "a candidate without a name cannot be chosen"
        focus(app, "engine.candidate.1.name")
        await type_text(pilot, "Blue 3")
        await press_button(app, "choose.engine.candidate.1", pilot)
        await pilot.press("enter")
        await until(lambda: app.plan.engine.chosen == "Blue 3", pilot)
        await until(lambda: "Chosen: later pages use it" in screen_text(app), pilot)
        focus(app, "engine.candidate.1.name")
        await pilot.press("end", "x")
        await until(lambda: app.plan.engine.chosen == "Blue 3x", pilot)
        await press_button(app, "remove.engine.candidate.0", pilot)
        await pilot.press("enter", "escape")
        await pilot.pause()
        assert len(app.plan.engine.candidate) == 2, "Esc keeps the row"
        await press_button(app, "remove.engine.candidate.0", pilot)
        await pilot.press("enter", "right", "enter")
        await until(lambda: [row.name for row in app.plan.engine.candidate] == ["Blue 3x"], pilot)
        await until(lambda: field(app, "engine.candidate.0.name").value == "Blue 3x", pilot)


async def test_a_reading_is_added_to_the_log(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)
        await press_button(app, "add.present.log", pilot)
        await pilot.press("enter")
        await until(lambda: len(app.plan.present.log) == 1, pilot)
        await until(lambda: field(app, "present.log.0.engine_speed").has_focus, pilot)
        await type_text(pilot, "1800\n5.9\n")
        await until(lambda: app.plan.present.log[0].speed, pilot)
        assert text_at(app.plan, "present.log.0.engine_speed") == "1800 rpm"


async def test_enter_alone_leads_through_a_reading_and_on_to_the_next(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)
        await press_button(app, "add.present.log", pilot)
        await pilot.press("enter")
        await until(lambda: len(app.plan.present.log) == 1, pilot)
        await until(lambda: field(app, "present.log.0.engine_speed").has_focus, pilot)
        await type_text(pilot, "1800\n5.9\n")
        await until(lambda: line(app, "present.log.0.measured").has_focus_within, pilot)
        await pilot.press("enter", "enter")  # the choice that stands is picked again
        await until(lambda: field(app, "present.log.0.fuel_flow").has_focus, pilot)
        assert app.plan.present.log[0].measured is None
        await type_text(pilot, "2.5\nflat\n")
        await until(lambda: isinstance(app.screen.focused, Button), pilot)
        assert app.screen.focused is not None
        assert app.screen.focused.name == "add.present.log", "Enter passes the button that removes"
        await pilot.press("enter")
        await until(lambda: len(app.plan.present.log) == 2, pilot)
        await until(lambda: field(app, "present.log.1.engine_speed").has_focus, pilot)
        row = app.plan.present.log[0]
        assert row.fuel_flow is not None
        assert row.note == "flat"


async def test_the_button_that_removes_a_row_is_reached_by_arrow(engine_path: Path) -> None:
    app = ShaftlogApp(engine_path, engine_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "engine"), pilot)
        await press_button(app, "choose.engine.candidate.0", pilot)
        await pilot.press("down")
        assert app.screen.focused is not None
        assert app.screen.focused.name == "remove.engine.candidate.0"


async def test_an_unread_choice_is_told_and_can_be_mended(plan_path: Path) -> None:
    text = plan_path.read_text(encoding="utf-8").replace("full-keel launch", "rowing boat")
    plan_path.write_text(text, encoding="utf-8")
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)
        await pilot.pause()
        assert "'rowing boat' is not among the choices" in " ".join(screen_text(app).split())
        assert app.plan.unread == {"hull.kind": "rowing boat"}
        assert line(app, "hull.kind").has_focus_within
        await pilot.press("enter", "down", "enter")
        await until(lambda: not app.plan.unread and app.plan.hull.kind, pilot)


async def press_button(app: ShaftlogApp, name: str, pilot: Pilot[None]) -> None:
    """Put the focus on a button of the open page, once it is there: the first page is put up in two parts."""

    def found() -> list[Button]:
        return [button for button in planning(app).query(Button) if button.name == name]

    await until(found, pilot)
    found()[0].focus()


async def test_a_new_plan_has_every_page_waiting(tmp_path: Path) -> None:
    app = ShaftlogApp(None, tmp_path, assess=fake_assessment)
    async with app.run_test(size=(120, 40)) as pilot:
        app.begin_plan(Plan(name="Empty"))
        await until(is_open(app, "hull"), pilot)
        await until(lambda: "- todo" in screen_text(app), pilot)


async def test_a_choice_made_at_once_with_the_list_opening_is_made(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)
        planning(app).set_focus(line(app, "hull.propeller_place").query_one(FieldChoice))
        await pilot.pause()
        for key in ("enter", "down", "down", "enter"):  # all at once, as from a fast typist
            app.post_message(events.Key(key, None))
        await until(lambda: app.plan.hull.propeller_place is not None, pilot)
        assert app.plan.hull.propeller_place == "behind a long keel with fair deadwood, open aft"


async def test_a_choice_is_not_lost_to_a_plan_that_was_shown_before_it_was_told(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)
        choice = line(app, "hull.propeller_place").query_one(FieldChoice)
        before = app.plan
        choice.action_show_overlay()
        await pilot.press("down")
        await pilot.pause()
        choice.pick()
        choice.show(before)  # as leaving the line does, while the message is on its way
        await until(lambda: app.plan.hull.propeller_place is not None, pilot)
        assert choice.selection == app.plan.hull.propeller_place


async def test_a_button_does_not_stand_under_the_help_of_the_field_before_it(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.displacement")
        await until(lambda: "What she weighs" in words(app, "#hint"), pilot)
        button = planning(app).current.query(Button).last()
        app.screen.set_focus(button)
        await until(lambda: words(app, "#hint") == BUTTON_HINT, pilot)
        focus(app, "hull.displacement")
        await until(lambda: words(app, "#hint") != BUTTON_HINT, pilot)


@pytest.mark.parametrize("width", [60, 120, 170])
async def test_what_was_understood_of_a_long_text_stands_under_the_text(plan_path: Path, width: int) -> None:
    long = "14800 lb (14000 lb to 16500 lb)"
    plan_path.write_text(plan_path.read_text(encoding="utf-8").replace("14800 lb", long), encoding="utf-8")
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(width, 40)) as pilot:
        await until(is_open(app, "hull"), pilot)
        await until(lambda: "= 6713 kg" in screen_text(app), pilot)
        lines = screen_text(app).splitlines()
        columns = {
            min(text.find(words) for words in (long, "= 6713 kg") if words in text)
            for text in lines
            if "14000 lb" in text
        }
        assert sum("14000 lb" in text for text in lines) == 2
        assert len(columns) == 1, "both begin in one column"


async def test_enter_in_passing_adds_no_row(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.screws")
        await pilot.press("enter")
        await until(lambda: field(app, "present.engine_power").has_focus, pilot)
        assert not app.plan.hull.appendage


async def test_an_empty_row_goes_without_a_question_and_a_full_one_is_named_in_it(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await until(is_open(app, "hull"), pilot)
        await press_button(app, "add.present.log", pilot)
        await pilot.press("enter")
        await until(lambda: len(app.plan.present.log) == 1, pilot)
        await press_button(app, "remove.present.log.0", pilot)
        await pilot.press("enter")
        await until(lambda: not app.plan.present.log, pilot)
        await planning(app).go_to("engine")
        await press_button(app, "remove.engine.candidate.0", pilot)
        await pilot.press("enter")
        await until(lambda: "Take out Candidate 1: Grey 4 (chosen)? ctrl+u brings it back." in screen_text(app), pilot)
        await pilot.press("right", "enter")
        await until(
            lambda: "Taken out: Candidate 1: Grey 4 (chosen). ctrl+u brings it back." in screen_text(app), pilot
        )


async def test_what_is_guessed_follows_the_other_fields(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)
        field(app, "hull.hull_draft").value = "?"
        await until(lambda: "hull.hull_draft" in app.plan.not_known, pilot)
        told = line(app, "hull.hull_draft")
        before = told.texts.beside
        assert before.startswith("taken: ")
        field(app, "hull.waterline_beam").value = "14 ft"
        await until(lambda: told.texts.beside != before, pilot)
        assert told.texts.beside.startswith("taken: ")


@pytest.mark.parametrize("width", [60, 80, 120])
async def test_no_button_of_a_candidate_is_cut_off(engine_path: Path, width: int) -> None:
    app = ShaftlogApp(engine_path, engine_path.parent, assess=fake_assessment)
    async with app.run_test(size=(width, 40)) as pilot:
        await until(is_open(app, "engine"), pilot)
        page = planning(app).current
        for button in page.query(Button):
            if button.display and (button.name or "").endswith(".0"):
                assert button.region.right <= page.region.right, button.label


def test_the_runs_of_a_trial_are_asked_before_what_is_read_at_full_throttle() -> None:
    order = [group.table or group.paths[0] for group in groups("trial")]
    assert order.index("trial.run") == order.index("trial.air") - 1
    assert order[-1] == "trial.season"


async def test_the_label_of_the_field_with_the_focus_stands_out_and_no_other(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)

        def bold() -> list[str]:
            strips = app.screen._compositor.render_strips()
            drawn = [part.text.strip() for strip in strips for part in strip if part.style and part.style.bold]
            return [line.path for line in planning(app).query(FieldLine) if line.texts.label in drawn]

        focus(app, "hull.waterline_length")
        for path in ("hull.waterline_beam", "hull.hull_draft", "hull.displacement"):
            await pilot.press("down")
            await until(lambda path=path: field(app, path).has_focus, pilot)
            await until(lambda path=path: bold() == [path], pilot, seconds=3.0)


async def test_shift_home_marks_a_field_whole_also_after_its_text_was_taken_back(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.displacement")
        for text in ("9 t", "8 t"):
            await pilot.press("shift+home")
            await type_text(pilot, text)
            await until(lambda text=text: text_at(app.plan, "hull.displacement") == text, pilot)
            await pilot.press("ctrl+u")
            await until(lambda: field(app, "hull.displacement").value == "14800 lb", pilot)
        await pilot.press("home", "up", "down", "backspace")
        await until(lambda: text_at(app.plan, "hull.displacement") == "14800 l", pilot)


async def test_ctrl_c_copies_what_is_marked(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.displacement")
        await pilot.press("shift+home", "ctrl+c")
        assert app.clipboard == field(app, "hull.displacement").value != ""
        assert not app._notifications


@pytest.mark.parametrize("path", ["hull.displacement", "hull.kind"])
async def test_ctrl_c_with_nothing_marked_says_how_to_leave(plan_path: Path, path: str) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, path)
        await pilot.press("ctrl+c")
        await until(lambda: any("F10 leaves the program." in toast.message for toast in app._notifications), pilot)


@pytest.mark.parametrize(
    ("typed", "back_on"),
    [("hull.hull_draft", "hull.hull_draft"), ("hull.keel_draft", "hull.windage_area")],
)
async def test_coming_back_leads_to_what_the_page_waits_for_and_else_to_where_the_owner_was(
    plan_path: Path, typed: str, back_on: str
) -> None:
    """A needed field that was not understood may be out of sight; one that is not needed holds nothing up."""
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "hull"), pilot)
        await until(lambda: planning(app).current.is_all_there, pilot)
        focus(app, typed)
        await type_text(pilot, "about so")
        await until(lambda: text_at(app.plan, typed) == "about so", pilot)
        focus(app, "hull.windage_area")
        await pilot.press("f4")
        await until(is_open(app, "speed"), pilot)
        await pilot.press("f3")
        await until(is_open(app, "hull"), pilot)
        await until(lambda: app.focused is field(app, back_on), pilot)


async def test_up_to_the_first_field_shows_the_question_over_it_again(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        await planning(app).go_to("power")
        page = planning(app).current
        await pilot.press(*["down"] * 8)
        await until(lambda: page.scroll_y > 0, pilot)
        await pilot.press(*["up"] * 8)
        await until(lambda: "What does that take?" in screen_text(app), pilot)
        assert planning(app).focused_path == "power.method"

"""What stands beside fields and in tables: both unit systems, defaults, plain sentences, nothing cut."""

import dataclasses
import textwrap
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from textual.widgets._toast import Toast

from engine.constants import INCH
from engine.entries import Kind, is_given, tables
from engine.plan import SECTIONS, STAGES, Plan, entry_at, paths, why_unread, with_row, with_text
from engine.planfile import save_plan
from tests.conftest import LAUNCH
from tests.engine.one_after_another import assess
from tests.engine.random_plans import path_patterns
from tests.wizard.driving import is_open, planning, screen_text, until, words
from tests.wizard.fakes import fake_assessment, stage_answers
from wizard.app import ShaftlogApp
from wizard.echo import _between, both_units, echo, hint, limits_text
from wizard.handover import report
from wizard.keeping.keeper import Opened, open_kept
from wizard.stages.forms import groups
from wizard.states import DONE, LOOK, STOPPED, TODO, WAITING, mending_page, states_of
from wizard.tables import answer_lines, tables_of


def test_a_length_is_echoed_in_both_unit_systems() -> None:
    plan = with_text(Plan(), "hull.waterline_length", "36 ft 6 in")
    assert echo(plan, "hull.waterline_length") == "11.13 m = 36 ft 6 in"


def test_an_unsure_value_is_echoed_with_its_band() -> None:
    plan = with_text(Plan(), "hull.displacement", "6.5 t (6 t to 7.2 t)")
    assert echo(plan, "hull.displacement") == "6500 kg = 14330 lb (6000 kg to 7200 kg)"


def test_an_empty_field_tells_its_default_or_that_it_is_needed() -> None:
    assert echo(Plan(), "power.sea_margin") == "empty: 15 %"
    assert echo(Plan(), "speed.cruise") == "needed"
    assert "ship practice" in hint(Plan(), "power.sea_margin")


def test_what_is_usual_and_what_can_be_believed_are_in_whole_inches() -> None:
    """To a quarter of an inch they looked as if they were measured."""
    entry = entry_at("hull.waterline_length")
    assert limits_text(entry, "imperial") == "13 ft 2 in to 98 ft 5 in"  # 4 m and 30 m are 13.12 ft and 98.43 ft
    assert limits_text(entry_at("shaft.span"), "imperial") == "8 in to 26 ft 2 in"  # 0.2 m and 8 m: 7.87 in, 314.96 in


def test_what_is_usual_from_a_whole_inch_on_is_told_from_that_inch_on() -> None:
    """987 in were told as 988: they are 987.0000000000001 of them as a computer reckons."""
    assert _between(entry_at("hull.waterline_length"), "imperial", 987.0 * INCH, 1100.0 * INCH) == (
        "82 ft 3 in to 91 ft 8 in"
    )


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_every_limit_that_is_told_can_be_entered(units: str) -> None:
    """7.87 in was "less than can be believed here (7.874 in to 118.1 in)", and 122 F more than 122 F."""
    fields = [entry_at(path) for path in path_patterns()]
    asked = [entry for entry in fields if entry.kind in (Kind.QUANTITY, Kind.QUANTITIES)]
    assert len(asked) > 150
    for entry in asked:
        with pytest.raises(ValueError, match="believed") as refused:
            entry.read("1e30", units)
        beneath = str(refused.value).partition("(")[2].partition(")")[0]
        in_help = limits_text(entry).replace(", or ", " to ")
        for told in (*limits_text(entry, units).split(" to "), *beneath.split(" to "), *in_help.split(" to ")):
            assert is_given(entry.read(told, units)), (entry.label, told)


def test_text_that_is_not_understood_gets_one_plain_sentence() -> None:
    plan = with_text(Plan(), "speed.cruise", "seven parsec")
    assert echo(plan, "speed.cruise") == "not understood"
    assert why_unread(plan, "speed.cruise").endswith(".")
    assert why_unread(Plan(), "speed.cruise") == ""


def test_limits_are_told_in_both_units() -> None:
    """The help had "4 m = 13 ft 1 1/2 in, up to 30 m = 98 ft 5 in": beneath what is accepted, and no round number."""
    assert limits_text(entry_at("hull.waterline_length")) == "4 m to 30 m, or 13 ft 2 in to 98 ft 5 in"
    assert limits_text(entry_at("speed.cruise")) == "1 kn to 20 kn"
    assert limits_text(entry_at("propeller.blades")) == "a whole number from 2 to 5"
    assert both_units(3.0, entry_at("speed.cruise")) == "5.832 kn"


def test_every_field_of_a_stage_is_asked_once() -> None:
    for stage in STAGES:
        asked = [path for group in groups(stage) for path in group.paths]
        assert len(asked) == len(set(asked))
        assert asked or any(group.table for group in groups(stage))


TABLES_OF_PLAN = [f"{section}.{table}" for section, kind in SECTIONS.items() for table in tables(kind)]


def test_every_table_of_a_plan_can_be_edited_and_printed() -> None:
    asked = [group.table for stage in STAGES for group in groups(stage) if group.table]
    assert sorted(asked) == sorted(TABLES_OF_PLAN)
    plan = with_text(with_row(Plan(), "hull.appendage"), "hull.appendage.0.area", "3 m2")
    assert "Keel, rudder, struts and shafts as entered" in report(fake_assessment(plan), "text")


@pytest.mark.parametrize("stage", STAGES)
@pytest.mark.parametrize("width", [36, 48, 76])
def test_answers_and_tables_keep_to_their_width_and_lose_nothing(stage: str, width: int) -> None:
    answers = stage_answers(stage)
    lines = answer_lines(answers, "imperial", width)
    assert max(map(len, lines)) <= width
    titles = []
    for title, table in tables_of(answers, "metric", width):
        titles.append(title)
        assert max(map(len, table)) <= max(width, 40), title
    assert titles or stage not in ("power", "range")


def test_states_are_told_in_words() -> None:
    plan = Plan()
    assert states_of(plan, None)["speed"] is TODO
    filled = with_text(with_text(plan, "speed.cruise", "6"), "speed.top", "7")
    assert states_of(filled, None)["speed"] is TODO, "the hull page comes first"
    for path, text in LAUNCH.items():
        if path.startswith("hull."):
            filled = with_text(filled, path, text)
    assert states_of(filled, None)["speed"] is WAITING
    assessment = fake_assessment(filled)
    assert states_of(filled, assessment)["speed"] is LOOK
    assert states_of(filled, assessment)["range"] is TODO
    assert states_of(filled, assessment)["hull"] is STOPPED
    assert states_of(filled, assessment)["review"] is STOPPED
    assert {DONE.word, LOOK.word, TODO.word, STOPPED.word} == {"done", "look", "todo", "stop"}


def test_a_page_that_nobody_filled_in_is_todo_and_does_not_hold_up_the_review(launch: Plan) -> None:
    """The costs say what the fuel burns and find nothing wrong, and nobody has said what anything costs."""
    assessment = assess(launch)
    assert assessment.is_complete
    assert {page: states_of(launch, assessment)[page] for page in ("range", "fit", "costs", "trial", "review")} == {
        "range": DONE,
        "fit": TODO,
        "costs": TODO,
        "trial": TODO,
        "review": LOOK,
    }
    priced = with_text(launch, "costs.engine", "9000")
    assert states_of(priced, assess(priced))["costs"] is not TODO


def test_a_waiting_page_names_the_page_that_can_mend_it() -> None:
    assessment = assess(Plan())
    assert mending_page("gear", assessment) == "hull"
    assert mending_page("hull", assessment) == ""


def test_a_page_names_none_that_it_does_not_wait_for(launch: Plan) -> None:
    """The range asks nothing of the shaft, which is also not known yet."""
    assessment = assess(with_text(with_text(launch, "shaft.span", ""), "range.tank", ""))
    assert assessment.outcomes["shaft"].answers is None
    assert assessment.outcomes["range"].waits_for == "what the fuel tanks hold."
    assert mending_page("range", assessment) == ""


def test_a_page_that_can_mend_itself_names_no_other(launch: Plan) -> None:
    plan = with_text(launch, "propeller.room", "")
    assessment = assess(plan)
    assert assessment.outcomes["gear"].waits_for == "the room for the propeller, asked on the propeller page."
    assert assessment.outcomes["propeller"].waits_for == "the room for the propeller."
    assert mending_page("propeller", assessment) == ""
    assert mending_page("shaft", assessment) == "propeller"


@pytest.mark.parametrize(("width", "rows"), [(78, 4), (78, 3), (58, 2)])
def test_no_hint_is_longer_than_the_lines_it_has_and_each_says_first_what_is_asked(width: int, rows: int) -> None:
    """Windows of 80 by 30, 80 by 24 and 60 by 18, see HINT_ROWS. In the last, 15 fields did not say what they are."""
    plan = Plan()
    for table in TABLES_OF_PLAN:
        plan = with_row(plan, table)
    for section in SECTIONS:
        for path in paths(plan, section):
            told = hint(plan, path, width=width, rows=rows)
            assert len(textwrap.wrap(told, width)) <= rows, path
            assert told.startswith(entry_at(path).what[:80]), path


@pytest.mark.parametrize("width", [1, 2, 5, 19, 20])
def test_a_window_too_narrow_for_words_cuts_a_hint_without_a_fault(width: int) -> None:
    assert len(textwrap.wrap(hint(Plan(), "power.sea_margin", width=width, rows=2), width)) <= 2


async def test_the_longest_help_leaves_the_form_most_of_a_small_window(plan_path: Path) -> None:
    """It left six rows of 24 to the form."""
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        await planning(app).go_to("power", "power.method")
        await until(lambda: "regression that gives the resistance" in words(app, "#hint"), pilot)
        assert planning(app).query_one("#pages").size.height >= 8


async def test_what_is_told_covers_its_rows_whole(plan_path: Path) -> None:
    """The ends of the rows behind it stood in its last two columns."""
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(60, 18), notifications=True) as pilot:
        await until(is_open(app, "hull"), pilot)
        app.tell("Something is told.")
        await until(lambda: app.screen.query(Toast) and app.screen.query_one(Toast).region.width, pilot)
        assert app.screen.query_one(Toast).region.width == 60


async def test_the_palette_asks_in_our_words_and_signs(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        await pilot.press("ctrl+p")
        await until(lambda: "Find an action by its name" in screen_text(app), pilot)
        assert "\N{RIGHT-POINTING MAGNIFYING GLASS}" not in screen_text(app)


def told(app: ShaftlogApp) -> list[str]:
    """What is told in strips over the key line; round a dialog the screen under it shows."""
    return [str(toast._notification.message) for screen in app.screen_stack for toast in screen.query(Toast)]


@pytest.mark.parametrize(
    ("goes_on", "page"), [("f4", "power"), ("ctrl+v", "speed"), ("f2", "speed"), ("ctrl+p", "speed")]
)
async def test_what_is_told_of_a_page_goes_when_another_page_or_screen_is_opened(
    plan_path: Path, goes_on: str, page: str
) -> None:
    """It stood over the next one for up to eight seconds, and on two of its rows."""
    plan_path.write_text(plan_path.read_text().replace('stage = "hull"', 'stage = "speed"'))
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await until(is_open(app, "speed"), pilot)
        await pilot.press("f7")
        await until(lambda: any("Units are" in said for said in told(app)), pilot)
        await pilot.press(goes_on)
        await until(lambda: is_open(app, page)() and (goes_on == "f4" or app.screen is not planning(app)), pilot)
        await until(lambda: not told(app), pilot, seconds=3.0)
        if goes_on != "f4":
            await pilot.press("escape")
            await until(lambda: app.screen is planning(app), pilot)
            assert not told(app), "nor does it come back"


async def test_what_must_be_read_stays_when_the_page_is_turned(plan_path: Path) -> None:
    """What came of a sheet, and that the plan could not be saved."""
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await until(is_open(app, "hull"), pilot)
        await pilot.press("f7")
        app.tell("The sheet could not be written.")
        app._tell_of_saving("The plan could not be saved.")
        await pilot.press("f4")
        await until(is_open(app, "speed"), pilot)
        await until(lambda: {*told(app)} == {"The sheet could not be written.", "The plan could not be saved."}, pilot)
        assert len(told(app)) == 2
        await pilot.press("f1")
        await until(lambda: app.screen is not planning(app), pilot)
        await until(lambda: {*told(app)} == {"The sheet could not be written.", "The plan could not be saved."}, pilot)


async def test_all_that_is_told_of_a_file_that_is_opened_can_be_read(
    plan_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """That it was not closed in the usual way, say, and that a key in it means nothing."""

    def opened(*given: Any) -> Opened:
        return dataclasses.replace(open_kept(*given), told=("It was not closed.", "One more."))

    monkeypatch.setattr("wizard.app.open_kept", opened)
    plan_path.write_text(f"{plan_path.read_text()}\n[hulk]\nbeam = 3\n", encoding="utf-8")
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await until(
            lambda: any(said.startswith("It was not closed. One more. In the file: ") for said in told(app)), pilot
        )


async def test_that_a_demonstration_is_a_copy_is_told_on_its_page(tmp_path: Path, root: Path) -> None:
    app = ShaftlogApp(root / "saved_plans" / "mirabel.toml", tmp_path, assess=fake_assessment)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await until(lambda: any("a copy was made as mirabel.toml" in said for said in told(app)), pilot)
        await until(lambda: planning(app).focused is not None, pilot)
        await pilot.press("f4")
        await until(lambda: not told(app), pilot, seconds=3.0)


async def test_what_is_told_at_once_after_another_thing_takes_its_place_as_well(plan_path: Path) -> None:
    """Three undos in a row left three strips, on six rows."""
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await until(is_open(app, "hull"), pilot)
        app._tell_of_saving("The plan could not be saved.")
        for count in range(3):
            app.tell(f"Told {count}.")
        await until(lambda: {*told(app)} == {"The plan could not be saved.", "Told 2."}, pilot)


@pytest.mark.parametrize(("sizes", "is_told"), [("", True), ("inch", False)])
async def test_other_units_say_that_the_shaft_is_of_other_bar_now(
    plan_path: Path, launch: Plan, sizes: str, is_told: bool
) -> None:
    """A key that shows other units chose another shaft, and only the line on what changed later had a hint of it."""
    save_plan(with_text(replace(launch, units="imperial"), "shaft.sizes", sizes), plan_path)
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await until(lambda: app.assessment is not None and not app.is_updating, pilot)
        await pilot.press("f7")
        await until(lambda: any("Units are metric now." in said for said in told(app)), pilot)
        assert any("among metric bar now, no longer inch" in said for said in told(app)) is is_told

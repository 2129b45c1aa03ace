"""The engine page by keyboard: diesels and electric drives side by side, and examples to start from."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Button, OptionList

from engine.machinery.generic_engines import GENERIC_ENGINES
from engine.plan import Variant, text_at, with_row
from engine.planfile import load_plan, save_plan
from tests.wizard.driving import field, focus, is_open, planning, screen_text, type_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.examples import TABLES, examples_for, summary, with_example
from wizard.screens.dialogs import ExampleList
from wizard.widgets.field import FieldLine

SMALL = (80, 24)


def app_for(path: Path) -> ShaftlogApp:
    return ShaftlogApp(path, path.parent, assess=fake_assessment)


def headings(app: ShaftlogApp) -> str:
    """The headings of all rows of the open page, one on a line."""
    return "\n".join(str(heading.render()) for heading in planning(app).query(".row-heading"))


def press(app: ShaftlogApp, name: str) -> None:
    """Put the focus on a button of the open page."""
    planning(app).set_focus(next(found for found in planning(app).query(Button) if found.name == name))


async def test_an_electric_candidate_is_added_and_chosen_by_keyboard(engine_path: Path) -> None:
    app = app_for(engine_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "engine"), pilot)
        press(app, "add.engine.motor")
        await pilot.press("enter")
        await until(lambda: field(app, "engine.motor.0.name").has_focus, pilot)
        await type_text(pilot, "Quiet\n20\n1500\n40\n")
        await until(lambda: app.plan.engine.motor[0].battery, pilot)
        assert [text_at(app.plan, f"engine.motor.0.{name}") for name in ("rated_power", "rated_speed", "battery")] == [
            "20 hp",
            "1500 rpm",
            "40 kWh",
        ]
        press(app, "choose.engine.motor.0")
        await pilot.press("enter")
        await until(lambda: app.plan.engine.selected is app.plan.engine.motor[0], pilot)
        await until(lambda: "Motor 1: Quiet (chosen)" in headings(app), pilot)
        assert "Grey 4 (chosen)" not in headings(app)
        focus(app, "engine.motor.0.name")
        await pilot.press("end")
        await type_text(pilot, " II")
        await until(lambda: app.plan.engine.chosen == "Quiet II", pilot)
        await pilot.press("f10")
    assert load_plan(engine_path).engine.chosen == "Quiet II"


@pytest.mark.parametrize("button", ["add.engine.candidate", "example.engine.candidate"])
async def test_a_diesel_to_compare_does_not_take_the_place_of_the_motor(engine_path: Path, button: str) -> None:
    """The first candidate is chosen while none is by name, and diesels come first."""
    head = engine_path.read_text(encoding="utf-8").split("[[engine.candidate]]")[0]
    engine_path.write_text(f'{head}[[engine.motor]]\nname = "Hush"\nrated_power = "10 kW"\n', encoding="utf-8")
    app = app_for(engine_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "engine"), pilot)
        assert app.plan.engine.chosen == ""
        press(app, button)
        await pilot.press("enter")
        if button.startswith("example"):
            await until(lambda: app.screen is not planning(app), pilot)
            await pilot.press("enter")
        await until(lambda: len(app.plan.engine.candidate) == 1, pilot)
        assert app.plan.engine.selected is app.plan.engine.motor[0]
        await until(lambda: "Motor 1: Hush (chosen)" in headings(app), pilot)
        await until(lambda: planning(app).focused_path.startswith("engine.candidate.0"), pilot)
        await pilot.press("ctrl+u")
        await until(lambda: not app.plan.engine.candidate, pilot)
        assert app.plan.engine.chosen == ""


async def test_a_renamed_candidate_stays_the_engine_of_the_variants_that_chose_it(engine_path: Path) -> None:
    plan = with_row(load_plan(engine_path), "engine.motor", {"name": "Quiet"})
    others = (Variant("Electric", {"engine.chosen": "Quiet"}), Variant("As it is", {"engine.chosen": "Grey 4"}))
    save_plan(replace(plan, variants=others), engine_path)
    app = app_for(engine_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "engine"), pilot)
        await planning(app).go_to("engine", "engine.motor.0.name")
        await until(lambda: field(app, "engine.motor.0.name").has_focus, pilot)
        await pilot.press("end")
        await type_text(pilot, " II")
        await until(lambda: app.plan.engine.motor[0].name == "Quiet II", pilot)
        assert [each.choices["engine.chosen"] for each in app.plan.variants] == ["Quiet II", "Grey 4"]
        assert app.plan.engine.chosen == plan.engine.chosen


@asynccontextmanager
async def name_of_the_chosen(engine_path: Path) -> AsyncIterator[tuple[ShaftlogApp, Pilot[Any]]]:
    """An open plan with the focus on the name of its chosen motor, "Quiet", which is also that of its variant."""
    plan = with_row(load_plan(engine_path), "engine.motor", {"name": "Quiet"})
    plan = replace(plan, variants=(Variant("Electric", {"engine.chosen": "Quiet"}),))
    save_plan(replace(plan, engine=replace(plan.engine, chosen="Quiet")), engine_path)
    app = app_for(engine_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "engine"), pilot)
        await planning(app).go_to("engine", "engine.motor.0.name")
        await until(lambda: field(app, "engine.motor.0.name").has_focus, pilot)
        yield app, pilot


@asynccontextmanager
async def name_of_the_chosen_deleted(engine_path: Path) -> AsyncIterator[tuple[ShaftlogApp, Pilot[Any]]]:
    """The same when that name has just been deleted."""
    async with name_of_the_chosen(engine_path) as (app, pilot):
        await pilot.press("shift+home", "backspace")
        await until(lambda: app.plan.engine.motor[0].name == "", pilot)
        yield app, pilot


async def test_a_candidate_whose_name_is_deleted_and_typed_anew_stays_chosen(engine_path: Path) -> None:
    """Also in the variants. While it has no name, and when it gets none, nothing is chosen by name."""
    async with name_of_the_chosen_deleted(engine_path) as (app, pilot):
        await type_text(pilot, "Silent")
        await until(lambda: app.plan.engine.motor[0].name == "Silent", pilot)
        assert app.plan.engine.selected is app.plan.engine.motor[0]
        assert [each.choices["engine.chosen"] for each in app.plan.variants] == ["Silent"]
        assert "Silent (chosen)" in headings(app)


async def test_a_candidate_whose_name_is_deleted_letter_by_letter_stays_chosen(engine_path: Path) -> None:
    """Also when the first new name is deleted in the same way before the next one is typed."""
    async with name_of_the_chosen(engine_path) as (app, pilot):
        await pilot.press("end")
        for text in ("Quiet", "Mute"):
            for left in reversed(range(len(text))):
                await pilot.press("backspace")
                await until(lambda text=text, left=left: app.plan.engine.motor[0].name == text[:left], pilot)
            assert (app.plan.engine.chosen, *app.plan.variants[0].choices.values()) == ("Quiet", "Quiet")
            await type_text(pilot, "Mute")
            await until(lambda: app.plan.engine.motor[0].name == "Mute", pilot)
            assert (app.plan.engine.chosen, *app.plan.variants[0].choices.values()) == ("Mute", "Mute")


async def test_left_and_right_lead_to_the_buttons_side_by_side_and_in_a_field_stay_in_it(engine_path: Path) -> None:
    app = app_for(engine_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "engine"), pilot)
        press(app, "choose.engine.candidate.0")
        for key, name in (
            ("right", "remove.engine.candidate.0"),
            ("right", "remove.engine.candidate.0"),
            ("left", "choose.engine.candidate.0"),
            ("left", "turn.engine.candidate.0"),
            ("left", "turn.engine.candidate.0"),
        ):
            await pilot.press(key)
            assert planning(app).focused is not None
            assert planning(app).focused.name == name  # type: ignore[union-attr]
        focus(app, "engine.candidate.0.name")
        await pilot.press("left")
        await type_text(pilot, "x")
        await until(lambda: app.plan.engine.candidate[0].name == "Grey x4", pilot)


async def test_a_new_candidate_is_not_chosen_for_one_without_a_name_that_stood_in_its_row(engine_path: Path) -> None:
    async with name_of_the_chosen_deleted(engine_path) as (app, pilot):
        press(app, "remove.engine.motor.0")
        await pilot.press("enter")
        await until(lambda: not app.plan.engine.motor, pilot)
        press(app, "add.engine.motor")
        await pilot.press("enter")
        await until(lambda: field(app, "engine.motor.0.name").has_focus, pilot)
        await type_text(pilot, "Other")
        await until(lambda: app.plan.engine.motor[0].name == "Other", pilot)
        assert app.plan.engine.selected is app.plan.engine.candidate[0]
        assert [each.choices["engine.chosen"] for each in app.plan.variants] == ["Quiet"]


async def test_a_new_candidate_does_not_follow_the_name_of_one_whose_adding_was_undone(engine_path: Path) -> None:
    """Its name was typed and deleted again before that; the variant has kept it from an engine that is gone."""
    plan = replace(load_plan(engine_path), variants=(Variant("Electric", {"engine.chosen": "Quiet"}),))
    save_plan(plan, engine_path)
    app = app_for(engine_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "engine"), pilot)
        for text in ("Quiet", "Other"):
            press(app, "add.engine.motor")
            await pilot.press("enter")
            await until(lambda: field(app, "engine.motor.0.name").has_focus, pilot)
            await type_text(pilot, text)
            await until(lambda text=text: app.plan.engine.motor[0].name == text, pilot)
            if text == "Quiet":
                await pilot.press("shift+home", "backspace", "ctrl+u")
                await until(lambda: not app.plan.engine.motor, pilot)
        assert [each.choices["engine.chosen"] for each in app.plan.variants] == ["Quiet"]


async def test_a_name_deleted_before_others_were_taken_back_is_still_followed(engine_path: Path) -> None:
    """The deleting is a step of its own, the new name another one, which is taken back and typed otherwise; a row that
    is added meanwhile comes behind and moves nothing."""
    async with name_of_the_chosen_deleted(engine_path) as (app, pilot):
        await pilot.press("down", "up")
        await type_text(pilot, "Silent")
        await until(lambda: app.plan.engine.chosen == "Silent", pilot)
        await pilot.press("ctrl+u")
        await until(lambda: app.plan.engine.motor[0].name == "", pilot)
        press(app, "add.engine.motor")
        await pilot.press("enter")
        await until(lambda: field(app, "engine.motor.1.name").has_focus, pilot)
        await planning(app).go_to("engine", "engine.motor.0.name")
        await type_text(pilot, "Hush")
        await until(lambda: app.plan.engine.motor[0].name == "Hush", pilot)
        assert app.plan.engine.selected is app.plan.engine.motor[0]
        assert [each.choices["engine.chosen"] for each in app.plan.variants] == ["Hush"]


async def test_a_name_that_begins_like_that_of_the_chosen_candidate_leaves_it_chosen(engine_path: Path) -> None:
    app = app_for(engine_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "engine"), pilot)
        press(app, "choose.engine.candidate.0")
        await pilot.press("enter")
        await until(lambda: app.plan.engine.chosen == "Grey 4", pilot)
        press(app, "add.engine.candidate")
        await pilot.press("enter")
        await until(lambda: field(app, "engine.candidate.1.name").has_focus, pilot)
        await type_text(pilot, "Grey 44\n")
        await until(lambda: [item.name for item in app.plan.engine.candidate] == ["Grey 4", "Grey 44"], pilot)
        assert app.plan.engine.chosen == "Grey 4"


async def test_the_other_list_tells_what_is_chosen_when_the_chosen_row_goes(engine_path: Path) -> None:
    app = app_for(engine_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "engine"), pilot)
        app.change(with_example(app.plan, "engine.motor", next(iter(examples_for("engine.motor")))))
        await planning(app).current.rebuild_rows(app.plan, "engine.motor")  # type: ignore[union-attr]
        assert "Grey 4 (chosen)" in headings(app)
        press(app, "remove.engine.candidate.0")
        await pilot.press("enter", "right", "enter")
        await until(lambda: not app.plan.engine.candidate, pilot)
        await until(lambda: headings(app).endswith("(chosen)"), pilot)


@pytest.mark.parametrize("asked", ["remove", "unsure"])
async def test_a_row_that_has_gone_while_one_was_asked_about_it_is_left_alone(engine_path: Path, asked: str) -> None:
    """As when the plan goes over to the version that another program has put into its file."""
    app = app_for(engine_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "engine"), pilot)
        before = app.plan
        for name in ("Red 3", "Mine"):
            app.change(with_row(app.plan, "engine.candidate", {"name": name}))
        await planning(app).follow_plan()
        if asked == "remove":
            press(app, "remove.engine.candidate.1")
            await pilot.press("enter", "right")
        else:
            focus(app, "engine.candidate.2.rated_power")
            await pilot.press("ctrl+a", *"80", "down", "down")
        other = with_row(before, "engine.candidate", {"name": "Theirs"})
        app.change(other)
        await pilot.press("enter")
        await until(is_open(app, "engine"), pilot)
        assert app.plan == other


async def test_a_candidate_starts_from_an_example(engine_path: Path) -> None:
    app = app_for(engine_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "engine"), pilot)
        for table in TABLES:
            name, example = next(iter(examples_for(table).items()))
            index = len(getattr(app.plan.engine, table.partition(".")[2]))
            press(app, f"example.{table}")
            await pilot.press("enter")
            await until(lambda: isinstance(app.screen, ExampleList), pilot)
            await pilot.pause()
            assert summary(example, app.plan.units) in " ".join(screen_text(app).split())
            await pilot.press("enter")
            await until(lambda row=f"{table}.{index}": field(app, f"{row}.name").has_focus, pilot)
            for changed, text in example.changes.items():
                assert text_at(app.plan, f"{table}.{index}.{changed}") == text
            assert field(app, f"{table}.{index}.name").value == name
        assert app.plan.unread == {}
        assert len(app.plan.engine.all) == 3


async def test_esc_takes_no_example(engine_path: Path) -> None:
    app = app_for(engine_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "engine"), pilot)
        press(app, "example.engine.candidate")
        await pilot.press("enter")
        await until(lambda: isinstance(app.screen, ExampleList), pilot)
        assert app.screen.query_one(OptionList).option_count == len(examples_for("engine.candidate"))
        await pilot.press("escape")
        await until(lambda: app.screen is planning(app), pilot)
        assert [item.name for item in app.plan.engine.all] == ["Grey 4"]


def test_every_example_is_offered_once_and_two_of_a_kind_get_names_of_their_own(engine_path: Path) -> None:
    offered = [name for table in TABLES for name in examples_for(table)]
    assert sorted(offered) == sorted(GENERIC_ENGINES)
    plan = load_plan(engine_path)
    for table in TABLES:
        for name in examples_for(table):
            plan = with_example(with_example(plan, table, name), table, name)
    names = [item.name for item in plan.engine.all]
    assert len(set(names)) == len(names) == 2 * len(offered) + 1
    assert plan.unread == {}


async def test_the_fit_page_shows_its_checks_and_its_plot(engine_path: Path) -> None:
    app = app_for(engine_path)
    async with app.run_test(size=(120, 60)) as pilot:
        await until(lambda: is_open(app, "engine")() and app.assessment, pilot)
        await planning(app).go_to("fit")
        await until(lambda: "Does it all fit?" in screen_text(app), pilot)
        await pilot.pause()
        assert "How she floats after the change of weight" in screen_text(app)
        answers = str(planning(app).query_one("#answers").render())
        assert "What must fit" in answers
        assert "standing [x]" in answers
        assert answers.index("What must fit") < answers.index("Vents, least free area"), "the checks come first"
        labels = [str(label.render()) for label in planning(app).query("#page-fit .group")]
        assert labels == [
            "Room",
            "Air for a diesel",
            "Exhaust of a diesel",
            "Raw water for a diesel",
            "Fuel line of a diesel",
            "Starting a diesel",
            "Mounts",
            "Where the weights are",
        ]


def shown_rows(app: ShaftlogApp) -> set[str]:
    """The candidates whose fields show on the open page: "engine.motor.0"."""
    return {found.path.rpartition(".")[0] for found in planning(app).query("#page-engine FieldLine").results(FieldLine)}


async def test_a_plan_opens_on_the_row_that_was_changed_last_though_it_is_put_away(engine_path: Path) -> None:
    """A candidate beside the chosen one, as a run of the trial, is one line when the plan is opened again."""
    texts = {"name": "Blue 3", "rated_power": "30 hp", "rated_speed": "3000 rpm"}
    save_plan(with_row(load_plan(engine_path), "engine.candidate", texts), engine_path)
    app = app_for(engine_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "engine"), pilot)
        await planning(app).go_to("engine", "engine.candidate.1.weight")
        await type_text(pilot, "200 kg")
        await until(lambda: text_at(app.plan, "engine.candidate.1.weight") == "200 kg", pilot)
        await pilot.press("f10")
    again = app_for(engine_path)
    async with again.run_test(size=SMALL) as pilot:
        await until(is_open(again, "engine"), pilot)
        await until(lambda: isinstance(again.focused, Button), pilot)
        assert isinstance(again.focused, Button)
        assert again.focused.name == "turn.engine.candidate.1"


async def test_only_the_chosen_candidate_shows_its_data_sheet_until_asked(engine_path: Path) -> None:
    first = engine_path.read_text(encoding="utf-8")
    engine_path.write_text(
        f'{first}\n[[engine.candidate]]\nname = "Blue 3"\nrated_power = "30 hp"\nrated_speed = "3000 rpm"\n'
        '\n[[engine.candidate]]\nname = "No figures yet"\n',
        encoding="utf-8",
    )
    app = app_for(engine_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "engine"), pilot)
        shown = shown_rows(app)
        assert {"engine.candidate.0", "engine.candidate.2"} < shown
        assert "engine.candidate.1" not in shown
        press(app, "turn.engine.candidate.1")
        await pilot.press("enter")
        await until(lambda: field(app, "engine.candidate.1.name").has_focus, pilot)
        press(app, "turn.engine.candidate.1")
        await pilot.press("enter")
        await until(lambda: "engine.candidate.1" not in shown_rows(app), pilot)
        await planning(app).go_to("engine", "engine.candidate.1.rated_power")
        await until(lambda: field(app, "engine.candidate.1.rated_power").has_focus, pilot)

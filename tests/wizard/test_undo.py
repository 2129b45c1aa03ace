"""Taking changes back on the screen, over pages, rows, wheels and a restart."""

from dataclasses import replace
from pathlib import Path

from textual.widgets import Button, Static

from engine.plan import text_at, with_row
from engine.planfile import load_plan, save_plan
from tests.wizard.driving import field, focus, is_open, planning, screen_text, type_text, until
from tests.wizard.fakes import fake_assessment, made_up_wheel
from wizard.app import ShaftlogApp
from wizard.screens.plan_actions import PlanActions


async def test_changes_on_two_pages_go_back_and_the_page_follows(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.hull_draft")
        await type_text(pilot, "3.1\n")
        await planning(app).go_to("speed")
        focus(app, "speed.cruise")
        await pilot.press("end", *["backspace"] * 4, "5")
        await until(lambda: text_at(app.plan, "speed.cruise") == "5 kn", pilot)
        await planning(app).go_to("range")
        await pilot.press("ctrl+u")
        await until(is_open(app, "speed"), pilot)
        assert text_at(app.plan, "speed.cruise") == "6 kn"
        assert field(app, "speed.cruise").value == "6 kn"
        assert field(app, "speed.cruise").has_focus
        await until(lambda: "Taken back: Cruising speed: 6 kn" in screen_text(app), pilot)
        await pilot.press("shift+f4")
        await until(is_open(app, "hull"), pilot)
        assert text_at(app.plan, "hull.hull_draft") == ""
        await pilot.press("ctrl+u")
        await until(lambda: "There is nothing to take back." in screen_text(app), pilot)
        await pilot.press("ctrl+y", "shift+f5")
        await until(lambda: text_at(app.plan, "speed.cruise") == "5 kn", pilot)
        assert text_at(app.plan, "hull.hull_draft") == "3.1 ft"


async def test_rows_come_back_and_go(engine_path: Path) -> None:
    app = ShaftlogApp(engine_path, engine_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "engine"), pilot)
        page = planning(app)
        button = next(found for found in page.query(Button) if found.name == "remove.engine.candidate.0")
        page.set_focus(button)
        await pilot.press("enter")
        await until(lambda: not isinstance(app.screen, PlanActions), pilot)
        await pilot.press("right", "enter")
        await until(lambda: not app.plan.engine.candidate, pilot)
        assert "Grey 4" not in screen_text(app)
        await pilot.press("ctrl+u")
        await until(lambda: page.query(".row-heading"), pilot)
        assert "Grey 4" in str(page.query_one(".row-heading", Static).content)
        assert field(app, "engine.candidate.0.rated_power").value == "55 hp"
        await pilot.press("ctrl+y")
        await until(lambda: not app.plan.engine.candidate and not page.query(".row-heading"), pilot)


async def test_a_wheel_that_was_taken_goes_back_in_one_step(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        await planning(app).go_to("propeller")
        before = app.plan
        await planning(app)._take_wheel(made_up_wheel())
        assert field(app, "propeller.pitch").value == "13 in"
        await pilot.press("ctrl+u")
        await until(lambda: replace(app.plan, stage="propeller") == before, pilot)
        await planning(app).go_to("propeller")
        assert field(app, "propeller.pitch").value == ""


async def test_undo_works_after_a_restart(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.hull_draft")
        await type_text(pilot, "3.1")
        await pilot.press("f10")
    again = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with again.run_test(size=(80, 24)) as pilot:
        await until(is_open(again, "hull"), pilot)
        assert text_at(again.plan, "hull.hull_draft") == "3.1 ft"
        await pilot.press("ctrl+u")
        await until(lambda: text_at(again.plan, "hull.hull_draft") == "", pilot)


async def test_the_name_and_the_units_go_back_too(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        await planning(app).go_to("review")
        await pilot.press("up", "up")
        await type_text(pilot, " II")
        await until(lambda: app.plan.name == "Teasel II", pilot)
        await pilot.press("f7")
        await until(lambda: app.plan.units == "metric", pilot)
        await pilot.press("ctrl+u")
        await until(lambda: app.plan.units == "imperial", pilot)
        await pilot.press("ctrl+u")
        await until(lambda: app.plan.name == "Teasel", pilot)
        assert "Teasel II" not in screen_text(app)


async def test_what_was_taken_back_is_told_in_one_strip_over_the_key_line(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.hull_draft")
        await type_text(pilot, "3.1\n")
        focus(app, "hull.keel_draft")
        await type_text(pilot, "4\n")
        await pilot.press("ctrl+u")
        await until(lambda: "Taken back: Draft to the bottom of the keel: empty" in screen_text(app), pilot)
        await pilot.press("ctrl+u")
        await until(lambda: "Taken back: Hull draft, keel left out: empty" in screen_text(app), pilot)
        assert "Taken back: Draft to the bottom of the keel" not in screen_text(app), "one at a time"
        lines = screen_text(app).splitlines()
        assert any("Taken back" in text for text in lines[-3:-1]), "right over the key line"
        assert not any("Taken back" in text for text in lines[:-3])


async def test_who_takes_a_row_out_of_the_middle_stays_there(plan_path: Path) -> None:
    """The focus went to the end of the table, and stayed there when the row was brought back."""
    plan = load_plan(plan_path)
    for knots in ("5", "6", "7", "8"):
        plan = with_row(plan, "present.log", {"engine_speed": "1500 rpm", "speed": f"{knots} kn"})
    save_plan(plan, plan_path)
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        for index, left, place in ((1, 3, "1"), (2, 2, "1")):
            name = f"remove.present.log.{index}"
            planning(app).set_focus(next(found for found in planning(app).query(Button) if found.name == name))
            await pilot.press("enter", "right", "enter")
            await until(lambda left=left: len(app.plan.present.log) == left, pilot)
            await until(lambda place=place: planning(app).focused_path == f"present.log.{place}.engine_speed", pilot)
        for place in ("2", "1"):
            await pilot.press("ctrl+u")
            await until(lambda place=place: planning(app).focused_path == f"present.log.{place}.engine_speed", pilot)
        assert app.plan.present.log == plan.present.log

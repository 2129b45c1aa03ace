"""A page asks what only a diesel needs when one is among the candidates, and loses nothing that was said of it."""

from dataclasses import replace
from pathlib import Path

import pytest

from engine.plan import Plan, with_row, with_text
from tests.wizard.driving import focus, is_open, line, planning, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.stages.forms import Group, groups, is_asked_in_row, left_out
from wizard.stages.page import StagePage

MOTOR = """
[[engine.motor]]
name = "Hush"
rated_power = "10 kW"
rated_speed = "1500 rpm"
battery = "20 kWh"
"""
ELECTRIC = with_row(Plan(), "engine.motor", {"name": "Hush"})
BOTH = with_row(ELECTRIC, "engine.candidate", {"name": "Grey 4"})


def asked(plan: Plan, stage: str) -> list[str]:
    return [group.begins for group in groups(stage) if group.is_asked(plan)]


def left(plan: Plan, stage: str) -> list[Group]:
    return [group for group in groups(stage) if not group.is_asked(plan)]


@pytest.mark.parametrize("plan", [Plan(), BOTH, replace(BOTH, engine=replace(BOTH.engine, chosen="Hush"))])
@pytest.mark.parametrize("stage", ["engine", "range", "fit", "trial"])
def test_all_is_asked_while_a_diesel_may_be_had(plan: Plan, stage: str) -> None:
    assert not left(plan, stage)
    assert left_out(left(plan, stage)) == ""


def test_of_a_motor_alone_no_tank_exhaust_or_smoke_is_asked() -> None:
    assert asked(ELECTRIC, "range") == ["range.reserve", "range.leg", "range.electricity_price"]
    assert asked(ELECTRIC, "fit") == ["fit.room_length", "fit.mounts_ahead", "fit.present_place"]
    assert asked(ELECTRIC, "engine") == ["engine.candidate", "engine.motor", "engine.altitude"]
    assert left_out(left(ELECTRIC, "engine")) == "Left out while no diesel is among the candidates: air and raw water."
    assert "trial.air" in asked(ELECTRIC, "trial")
    assert "trial.no_load_speed" not in asked(ELECTRIC, "trial")
    assert left_out(left(ELECTRIC, "fit")) == (
        "Left out while no diesel is among the candidates: air, exhaust, raw water, fuel line, starting."
    )


def test_no_price_of_electricity_is_asked_of_diesels_alone() -> None:
    diesel = with_row(Plan(), "engine.candidate", {"name": "Grey 4"})
    assert asked(diesel, "range") == ["range.tank", "range.reserve", "range.leg", "range.measured"]
    assert left_out(left(diesel, "range")) == (
        "Left out while no electric drive is among the candidates: price of electricity."
    )
    assert "range.electricity_price" in asked(with_text(diesel, "range.electricity_price", "0.4"), "range")


@pytest.mark.parametrize("path", ["gear.ratio", "gear.ratios"])
def test_no_gear_oil_is_asked_where_the_motor_turns_the_shaft(path: str) -> None:
    direct = with_text(ELECTRIC, path, "1")
    assert "trial.gear_oil" in asked(ELECTRIC, "trial")
    assert "trial.gear_oil" not in asked(direct, "trial")
    assert left_out(left(direct, "trial")) == (
        "Left out while no diesel is among the candidates: smoke, water, exhaust and oil, the maker's limits. "
        "Left out while the motor turns the shaft itself: gear oil."
    )
    assert "trial.gear_oil" in asked(with_text(direct, "gear.rating", "2 kW per 100 rpm"), "trial")
    assert "trial.gear_oil" in asked(with_text(direct, "trial.gear_oil", "70 C"), "trial")
    assert "trial.gear_oil" in asked(with_text(Plan(), path, "1"), "trial")


def test_a_generator_takes_fuel_from_a_tank() -> None:
    serial = with_text(ELECTRIC, "engine.motor.0.generator_power", "6 kW")
    assert not left(serial, "range")
    assert "fit.exhaust" not in asked(serial, "fit")


@pytest.mark.parametrize("text", ["200 L", "some", "not known"])
def test_what_holds_something_is_asked(text: str) -> None:
    assert "range.tank" in asked(with_text(ELECTRIC, "range.tank", text), "range")
    assert "range.measured" in asked(with_row(ELECTRIC, "range.measured"), "range")


def test_a_run_of_a_motor_has_no_coolant() -> None:
    run, season = (with_row(ELECTRIC, table) for table in ("trial.run", "trial.season"))
    for name in ("coolant", "back_pressure", "fuel_flow"):
        path = f"trial.run.0.{name}"
        assert not is_asked_in_row(run, path)
        assert is_asked_in_row(with_row(BOTH, "trial.run"), path)
        assert is_asked_in_row(with_text(run, path, "much"), path)
    assert is_asked_in_row(run, "trial.run.0.speed")
    assert not is_asked_in_row(season, "trial.season.0.fuel_flow")


def test_what_is_drawn_is_asked_of_the_motor_that_is_chosen() -> None:
    path = "trial.run.0.drawn"
    assert is_asked_in_row(with_row(ELECTRIC, "trial.run"), path)
    both = with_row(BOTH, "trial.run")
    motor, diesel = (
        with_text(both, "engine.chosen", item[0].name) for item in (BOTH.engine.motor, BOTH.engine.candidate)
    )
    assert is_asked_in_row(motor, path)
    assert not is_asked_in_row(diesel, path)
    assert is_asked_in_row(with_text(diesel, path, "4 kW"), path)


@pytest.fixture
def motor_path(plan_path: Path) -> Path:
    """The plan of an electric drive, left on its range page."""
    head = plan_path.read_text(encoding="utf-8").split("[[engine.candidate]]")[0]
    plan_path.write_text(head.replace('stage = "hull"', 'stage = "range"') + MOTOR, encoding="utf-8")
    return plan_path


def controls(app: ShaftlogApp) -> list[str]:
    """The paths and names of what the keys lead to, in order."""
    page = planning(app).current
    assert isinstance(page, StagePage)
    return [getattr(part, "path", part.name or "") for part in page.controls()]


async def test_keys_pass_over_what_is_left_out_and_it_comes_with_a_diesel(motor_path: Path) -> None:
    app = ShaftlogApp(motor_path, motor_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "range"), pilot)
        page = planning(app).current
        assert isinstance(page, StagePage)
        await until(lambda: page.is_all_there, pilot)
        assert controls(app)[0] == "range.reserve"
        assert not page.focus_path("range.tank")
        assert "no diesel" in str(page.query_one(".left-out").render())

        app.change(with_row(app.plan, "engine.candidate", {"name": "Grey 4"}))
        await planning(app).follow_plan()
        assert controls(app)[0] == "range.tank"
        assert not page.query_one(".left-out").display


async def test_the_group_that_one_is_in_stays_while_it_is_emptied(motor_path: Path) -> None:
    motor_path.write_text(motor_path.read_text(encoding="utf-8") + '\n[range]\ntank = "80 L"\n', encoding="utf-8")
    app = ShaftlogApp(motor_path, motor_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "range"), pilot)
        focus(app, "range.tank")
        await pilot.press("shift+home", "delete")
        await until(lambda: not app.plan.range.tank, pilot)
        await planning(app).follow_plan()
        assert line(app, "range.tank").display
        assert controls(app)[0] == "range.tank"
        await planning(app).go_to("fit")
        await planning(app).go_to("range")
        assert "range.tank" not in controls(app)


async def test_fields_of_a_row_are_passed_over_and_come_with_a_diesel(motor_path: Path) -> None:
    app = ShaftlogApp(motor_path, motor_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "range"), pilot)
        app.change(with_row(app.plan, "trial.run"))
        await planning(app).go_to("trial")
        assert "trial.run.0.speed" in controls(app)
        assert "trial.run.0.coolant" not in controls(app)
        app.change(with_row(app.plan, "engine.candidate", {"name": "Grey 4"}))
        await planning(app).go_to("trial")
        assert "trial.run.0.coolant" in controls(app)
        assert "trial.smoke" in controls(app)


async def test_a_field_that_is_led_to_is_shown(motor_path: Path) -> None:
    app = ShaftlogApp(motor_path, motor_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "range"), pilot)
        await planning(app).go_to("fit", "fit.exhaust_bore")
        assert planning(app).focused_path == "fit.exhaust_bore"

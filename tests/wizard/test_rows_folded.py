"""Rows whose fields are put away stay so wherever they stand, when others come, go, or are taken back."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from engine.plan import Plan, with_row, with_text, without_row
from engine.planfile import load_plan
from tests.wizard.driving import is_open, planning, screen_text, until
from tests.wizard.fakes import fake_assessment
from tests.wizard.test_candidates import press, shown_rows
from wizard.app import ShaftlogApp
from wizard.widgets.rows import RowsEditor

TABLE = "engine.candidate"
COMPLETE = {"rated_power": "30 hp", "rated_speed": "3000 rpm"}


def four(plan: Plan) -> Plan:
    """Grey 4, which is chosen, and three more."""
    for name in ("Red", "Green", "Blue"):
        plan = with_row(plan, TABLE, {"name": name, **COMPLETE})
    return plan


def folded(plan: Plan, shut: set[str]) -> RowsEditor:
    """The rows of a plan of which those with these names are put away."""
    rows = RowsEditor(plan, TABLE)
    rows._shut = {at for at, row in enumerate(plan.engine.candidate) if row.name in shut}
    return rows


def four_turned(plan: Plan) -> Plan:
    """The first row behind the others."""
    first = {"name": "Grey 4", "rated_power": "55 hp", "rated_speed": "2800 rpm"}
    return with_row(without_row(plan, TABLE, 0), TABLE, first)


CHANGES: Mapping[str, Callable[[Plan], Plan]] = {
    "a row gone before them": lambda plan: without_row(plan, TABLE, 0),
    "a row come behind them": lambda plan: with_row(plan, TABLE, {"name": "White"}),
    "another row changed": lambda plan: with_text(plan, f"{TABLE}.0.weight", "200 kg"),
    "a row of theirs changed": lambda plan: with_text(plan, f"{TABLE}.2.weight", "200 kg"),
    "the first row behind the others": four_turned,
}


def rows_open(app: ShaftlogApp) -> set[int]:
    """The rows whose fields show."""
    return {int(row.removeprefix(f"{TABLE}.")) for row in shown_rows(app) if row.startswith(TABLE)}


@pytest.mark.parametrize("what", CHANGES)
def test_what_is_put_away_goes_by_the_row_and_not_by_its_place(engine_path: Path, what: str) -> None:
    plan = four(load_plan(engine_path))
    other = CHANGES[what](plan)
    kept = folded(plan, {"Green", "Blue"}).shut_in(other)
    assert {other.engine.candidate[at].name for at in kept} == {"Green", "Blue"}


async def test_a_removed_row_that_is_taken_back_leaves_the_others_as_they_were(engine_path: Path) -> None:
    app = ShaftlogApp(engine_path, engine_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "engine"), pilot)
        app.change(four(app.plan))
        await planning(app).follow_plan()
        for at in (1, 3):  # away with Red and Blue
            press(app, f"turn.{TABLE}.{at}")
            await pilot.press("enter")
            await until(lambda at=at: at not in rows_open(app), pilot)
        press(app, f"remove.{TABLE}.1")
        await pilot.press("enter", "right", "enter")
        await until(lambda: len(app.plan.engine.candidate) == 3, pilot)
        await until(lambda: rows_open(app) == {0, 1}, pilot)
        await pilot.press("ctrl+u")
        await until(lambda: len(app.plan.engine.candidate) == 4, pilot)
        await until(lambda: rows_open(app) == {0, 1, 2}, pilot)


async def test_a_row_that_is_put_away_stays_in_sight(engine_path: Path) -> None:
    """The page stayed where its long form had been scrolled to, with the button and what the row is called above it."""
    app = ShaftlogApp(engine_path, engine_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "engine"), pilot)
        press(app, f"turn.{TABLE}.0")
        await until(lambda: planning(app).current.scroll_y, pilot)
        await pilot.press("enter")
        await until(lambda: "Candidate 1: Grey 4" in screen_text(app), pilot)
        assert "Show it" in screen_text(app)
        assert planning(app).find_widget(planning(app).control).visible_region

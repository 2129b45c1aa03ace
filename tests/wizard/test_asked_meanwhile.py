"""The plan goes over to another version while one is asked about a part of it, as when another program has changed the
file: what is not as it was then is left alone, and the owner is told."""

from dataclasses import replace
from pathlib import Path

import pytest

from engine.plan import Plan, Variant, text_at, with_row, with_text
from engine.variants import MOST_VARIANTS
from tests.wizard.driving import focus, is_open, planning, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.screens.compare import CompareScreen
from wizard.screens.dialogs import DoList, PageList
from wizard.screens.unsure import UnsureScreen
from wizard.screens.variant import VariantScreen

CHANGED = "has changed meanwhile, so nothing was done"
ASKS = {"app.py", "file_keeping.py", "screens/hosted.py"}
"""Modules that put up a screen by themselves: the app its own, and what lays a dialog over another screen."""


def app_for(path: Path) -> ShaftlogApp:
    return ShaftlogApp(path, path.parent, assess=fake_assessment)


def says(app: ShaftlogApp) -> str:
    return " ".join(toast.message for toast in app._notifications)


def with_candidates(plan: Plan, *names: str) -> Plan:
    for name in names:
        plan = with_row(plan, "engine.candidate", {"name": name})
    return plan


async def test_another_row_in_the_place_of_the_one_that_was_asked_about_is_left_alone(engine_path: Path) -> None:
    app = app_for(engine_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "engine"), pilot)
        before = app.plan
        app.change(with_candidates(before, "Mine"))
        await planning(app).follow_plan()
        focus(app, "engine.candidate.1.rated_power")
        await pilot.press("ctrl+a", *"80", "down", "down")
        other = with_candidates(before, "Theirs")
        app.change(other)
        await pilot.press("enter")
        await until(lambda: not isinstance(app.screen, UnsureScreen), pilot)
        assert app.plan == other
        assert CHANGED in says(app)


@pytest.mark.parametrize(("field", "typed"), [("hull.displacement", "9 t"), ("hull.keel_draft", "9 ft")])
async def test_a_field_takes_the_answer_when_only_others_have_changed(plan_path: Path, field: str, typed: str) -> None:
    app = app_for(plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, field)
        await pilot.press("ctrl+a", "end", "shift+home", *typed, "down", "down")
        app.change(with_text(app.plan, "hull.displacement", "8 t"))
        await pilot.press("enter")
        await until(lambda: not isinstance(app.screen, UnsureScreen), pilot)
        is_changed = field == "hull.displacement"
        assert text_at(app.plan, field) == ("8 t" if is_changed else typed)
        assert (CHANGED in says(app)) is is_changed


async def test_a_variant_too_many_is_not_added(plan_path: Path) -> None:
    """The program ended with an error."""
    app = app_for(plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment and not app.is_updating, pilot)
        await pilot.press("ctrl+d")
        await until(lambda: isinstance(app.screen, CompareScreen), pilot)
        await pilot.press("enter")
        await until(lambda: isinstance(app.screen, DoList), pilot)
        await pilot.press("enter")
        await until(lambda: app.screen.query("#keep"), pilot)
        theirs = replace(app.plan, variants=tuple(Variant(f"V{at}", {}) for at in range(MOST_VARIANTS)))
        app.change(theirs)
        app.screen.set_focus(app.screen.query_one("#keep"))
        await pilot.press("enter")
        await until(lambda: not isinstance(app.screen, VariantScreen), pilot)
        assert app.plan == theirs
        assert CHANGED in says(app)


def test_every_dialog_is_laid_over_its_screen_by_the_one_rule(root: Path) -> None:
    wizard = root / "wizard"
    found = {path.relative_to(wizard).as_posix() for path in wizard.rglob("*.py") if "push_screen(" in path.read_text()}
    assert found == ASKS


async def test_what_is_about_no_part_of_the_plan_is_done(plan_path: Path) -> None:
    app = app_for(plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        await pilot.press("f2")
        await until(lambda: isinstance(app.screen, PageList), pilot)
        app.change(with_text(app.plan, "hull.displacement", "8 t"))
        await pilot.press("down", "enter")
        await until(is_open(app, "speed"), pilot)
        assert not says(app)


async def test_the_pages_follow_a_variant_that_is_adopted_while_they_lie_under_it(plan_path: Path) -> None:
    app = app_for(plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment and not app.is_updating, pilot)
        await planning(app).go_to("speed")
        app.change(replace(app.plan, variants=(Variant("Slow", {"speed.cruise": "5 kn"}),)))
        await pilot.press("ctrl+d")
        await until(lambda: isinstance(app.screen, CompareScreen), pilot)
        await pilot.press("right", "enter")
        await until(lambda: isinstance(app.screen, DoList), pilot)
        await pilot.press("enter")
        await until(lambda: text_at(planning(app).current.plan, "speed.cruise") == "5 kn", pilot)

"""A text that was not understood may be out of sight: its page names the field."""

from pathlib import Path

import pytest

from engine.plan import Plan, problems, with_row, with_text
from engine.planfile import load_plan, save_plan
from tests.wizard.driving import focus, is_open, planning, screen_text, type_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.echo import unread_words
from wizard.widgets.field import FieldLine
from wizard.widgets.view import StageView

NARROW, WIDE = (80, 24), (120, 40)


@pytest.mark.parametrize("size", [NARROW, WIDE])
async def test_a_page_names_the_fields_that_were_not_understood(plan_path: Path, size: tuple[int, int]) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)  # type: ignore[arg-type]
    named = "Not understood, so not counted: Prismatic"  # a row of the wide window ends behind it
    async with app.run_test(size=size) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment, pilot)
        focus(app, "hull.prismatic")
        await type_text(pilot, "14 C")
        await until(lambda: "hull.prismatic" in app.plan.unread, pilot)
        await pilot.pause()
        assert named not in screen_text(app)  # the field itself says so, and it is being typed in
        focus(app, "hull.kind")
        await until(lambda: named in screen_text(app), pilot)
        await pilot.press("f5")  # the findings by themselves, in a wide window the answers
        await until(lambda: planning(app).query_one(StageView).current in ("findings", "answers"), pilot)
        assert named in screen_text(app)
        focus(app, "hull.prismatic")
        await pilot.press("shift+home", "delete")
        focus(app, "hull.kind")
        await until(lambda: named not in screen_text(app), pilot)


def test_of_many_fields_some_are_named_and_the_rest_counted() -> None:
    plan = Plan()
    assert unread_words(plan, "hull") == ""
    for name in ("waterline_length", "waterline_beam", "hull_draft", "displacement"):
        plan = with_text(plan, f"hull.{name}", "x")
    assert unread_words(plan, "speed") == unread_words(plan, "review") == ""
    assert unread_words(plan, "hull") == (
        "Not understood, so not counted: Waterline length; Waterline beam; Hull draft, keel left out; 1 more."
    )
    assert unread_words(plan, "hull", but="hull.waterline_length").startswith(
        "Not understood, so not counted: Waterline b"
    )


def test_of_a_table_of_several_rows_it_is_said_in_which_one() -> None:
    """A trial has nine runs and more, most of them put away."""
    plan = with_text(with_row(Plan(), "trial.run"), "trial.run.0.speed", "61 kn")
    assert unread_words(plan, "trial") == "Not understood, so not counted: Speed, one way."
    plan = with_text(with_row(plan, "trial.run"), "trial.run.1.speed", "62 kn")
    assert unread_words(plan, "trial").endswith("Speed, one way (run 1); Speed, one way (run 2).")
    told = [problem.text for problem in problems(plan, "trial")]
    assert "Still missing: Engine speed (run 2)." in told
    assert any(text.startswith("Speed, one way (run 2): 62 kn is more than can be believed") for text in told)


async def test_what_is_wrong_with_a_field_is_in_sight_when_its_page_is_opened(plan_path: Path) -> None:
    """The field alone was, in the last row of the form; the sentence under it was not."""
    plan = with_text(load_plan(plan_path), "hull.keel_draft", "29 m")
    for path, text in (
        ("hull.kind", "full-keel launch"),
        ("hull.waterline_length", "11 m"),
        ("hull.waterline_beam", "3.5 m"),
        ("hull.hull_draft", "0.7 m"),
        ("hull.displacement", "10 t"),
        ("hull.propeller_place", "behind a long keel with fair deadwood, open aft"),
    ):
        plan = with_text(plan, path, text)
    save_plan(plan, plan_path)
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)  # type: ignore[arg-type]
    end = " its unit."  # of the sentence, in its second row
    async with app.run_test(size=NARROW) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment and end in screen_text(app), pilot)
        assert planning(app).focused_path == "hull.keel_draft"


async def test_going_down_a_page_of_misread_fields_each_is_seen_with_what_is_wrong(plan_path: Path) -> None:
    names = ("waterline_length", "waterline_beam", "hull_draft", "displacement", "keel_draft", "prismatic", "midship")
    plan = load_plan(plan_path)
    for name in (*names, "waterplane", "buoyancy_centre"):
        plan = with_text(plan, f"hull.{name}", "999999 x")
    save_plan(plan, plan_path)
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)  # type: ignore[arg-type]
    async with app.run_test(size=NARROW) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment, pilot)
        focus(app, "hull.kind")
        seen = set()
        while "hull.buoyancy_centre" not in seen:
            await pilot.press("down")
            await pilot.pause()
            line = next(line for line in planning(app).query(FieldLine) if line.has_focus_within)
            await until(lambda line=line: planning(app).current.region.contains_region(line.region), pilot)  # type: ignore[misc]
            seen.add(line.path)
        assert {f"hull.{name}" for name in names} < seen

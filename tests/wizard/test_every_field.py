"""Every text field of every page is fed what no one should type: it is kept, told of in a sentence, and drawn."""

from pathlib import Path

import pytest
from textual import events
from textual.widgets import Input

from engine.entries import tables
from engine.plan import SECTIONS, STAGES, Plan, text_at, with_row
from engine.planfile import LARGEST, load_plan, save_plan
from tests.wizard.driving import is_open, planning, screen_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.stages.review import HeadInput
from wizard.widgets.field import FieldInput
from wizard.widgets.line_input import one_line

BRACKETS = "[/x] [kW]"
"""Markup to Textual."""
ODD = (
    BRACKETS,
    "a\x1b[31m\x07\x00\x9b5mb",
    "9" * 10_000,
    "([{ " * 2_500,
    "1e308 m",
    "-0.000000001e-30",
    "nan; inf; \u0662",
    "\u202e12 m\u200f",
)


@pytest.fixture
def odd_path(tmp_path: Path) -> Path:
    """A plan with a row in every table, on the first page."""
    plan = Plan(name="Odd")
    for section, kind in SECTIONS.items():
        for table in tables(kind):
            plan = with_row(plan, f"{section}.{table}")
    save_plan(plan, tmp_path / "odd.toml")
    return tmp_path / "odd.toml"


@pytest.mark.parametrize("page", STAGES)
async def test_every_text_field_of_a_page_takes_anything(odd_path: Path, page: str, nightly: bool) -> None:
    """Field after field another of the texts; at night every text in every field."""
    app = ShaftlogApp(odd_path, odd_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        if page != "hull":
            await planning(app).go_to(page)
        fields = list(planning(app).current.query(FieldInput))
        assert fields
        for turn in range(len(ODD) if nightly else 1):
            given = {}
            for number, field in enumerate(fields):
                field.value = BRACKETS
                given[field.path] = field.value = ODD[(number + turn) % len(ODD)]
                if number % 10 == 0:
                    field.focus()
                    await pilot.pause()
            await until(lambda given=given: all(text_at(app.plan, path) for path in given), pilot)
            for path, text in given.items():
                kept = text_at(app.plan, path)
                assert kept.startswith(text.strip()) or kept == " ".join(text.split()), path
            assert planning(app).current.stage == page
            assert "F10 quit" in screen_text(app)
        wanted = app.plan
        await pilot.press("f10")
    assert load_plan(odd_path) == wanted
    assert app.return_code == 0


async def test_name_and_notes_take_anything_too(odd_path: Path) -> None:
    app = ShaftlogApp(odd_path, odd_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        await planning(app).go_to("review")
        for field in app.screen.query(HeadInput):
            for text in ODD:
                field.value = text
                await pilot.pause()
                assert getattr(app.plan, field.part) == text
        await pilot.press("f9")
        await until(lambda: app.screen.query("#plans"), pilot)
        await pilot.press("f10")
    assert load_plan(odd_path).name == ODD[-1]


async def test_what_is_pasted_comes_on_one_line_without_what_cannot_be_typed(range_path: Path) -> None:
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "range"), pilot)
        field = app.screen.focused
        assert isinstance(field, Input)
        field.post_message(events.Paste("300\x1b[31m L;\r\n\t200 L\x00"))
        await until(lambda: field.value, pilot)
        assert field.value == "300[31m L; 200 L"


async def test_a_whole_file_pasted_by_mistake_is_refused_in_a_sentence(range_path: Path) -> None:
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await until(is_open(app, "range"), pilot)
        field = app.screen.focused
        assert isinstance(field, Input)
        field.post_message(events.Paste("x" * LARGEST))
        await until(lambda: "Not pasted: 1000000 characters" in screen_text(app), pilot)
        assert field.value == ""
        field.post_message(events.Paste("300 L"))
        await until(lambda: field.value == "300 L", pilot)
        await pilot.press("f10")
    assert load_plan(range_path).range.tank[0].text == "300 L"


def test_joiners_and_marks_of_direction_are_typed_and_so_pasted() -> None:
    assert one_line("\u200fمحرك\u200d\n\x85 x") == "\u200fمحرك\u200d x"

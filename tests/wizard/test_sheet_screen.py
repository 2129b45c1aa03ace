"""Writing a sheet from the wizard: which one, in which form, where to, by keyboard alone."""

import json
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import OptionList

from tests.wizard.driving import is_open, screen_text, type_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.handover import report
from wizard.screens.sheet import SheetScreen
from wizard.sheet_choice import FORMS, SHEETS, proposed
from wizard.widgets.line_input import LineInput

TITLES = {"plan": "The whole plan", "yard": "Yard sheet [kW]"}


@pytest.fixture(autouse=True)
def two_sheets(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two sheets to choose from, and what is written says which."""
    for module in ("wizard.screens.sheet", "wizard.app"):
        monkeypatch.setattr(f"{module}.SHEETS", TITLES)
    monkeypatch.setattr("wizard.handover.files.report", lambda _, form, __, ___, sheet: f"{sheet} as {form}\n")
    monkeypatch.setattr("engine.assessment.search_market", lambda _: None)


async def asked(app: ShaftlogApp, pilot: Pilot[int]) -> None:
    await until(lambda: is_open(app, "range")() and app.assessment and not app.is_updating, pilot)
    await pilot.press("f8")
    await until(lambda: isinstance(app.screen, SheetScreen) and app.focused is not None, pilot)


def app_for(path: Path) -> ShaftlogApp:
    return ShaftlogApp(path, path.parent, assess=fake_assessment)


def file_field(app: ShaftlogApp) -> LineInput:
    return app.screen.query_one(LineInput)


async def test_enter_by_enter_the_first_sheet_is_written_beside_the_plan(range_path: Path) -> None:
    app = app_for(range_path)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await asked(app, pilot)
        await pilot.press("enter", "enter", "enter")
        target = range_path.with_name("teasel-plan.txt")
        await until(target.exists, pilot)
        assert target.read_text(encoding="utf-8") == "plan as text\n"
        await until(lambda: 'The sheet "The whole plan" is in' in screen_text(app), pilot)


async def test_another_sheet_in_another_form_has_another_name(range_path: Path) -> None:
    app = app_for(range_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await asked(app, pilot)
        await pilot.press("down", "enter", "down", "enter")
        assert file_field(app).has_focus
        assert file_field(app).value == str(range_path.with_name("teasel-yard.html"))
        await pilot.press("enter")
        await until(range_path.with_name("teasel-yard.html").exists, pilot)
    assert range_path.with_name("teasel-yard.html").read_text(encoding="utf-8") == "yard as html\n"


async def test_a_name_that_was_typed_stays(range_path: Path) -> None:
    app = app_for(range_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await asked(app, pilot)
        await pilot.press("tab", "tab")
        await until(lambda: file_field(app).has_focus, pilot)
        await pilot.press("end", "2", "shift+tab", "shift+tab", "down")
        await until(lambda: app.screen.query_one("#sheet", OptionList).highlighted == 1, pilot)
        assert file_field(app).value == f"{range_path.with_name('teasel-plan.txt')}2"


async def test_a_file_that_is_there_is_asked_about_and_a_plan_is_never_replaced(range_path: Path) -> None:
    target = range_path.with_name("teasel-plan.txt")
    target.write_text("mine", encoding="utf-8")
    app = app_for(range_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await asked(app, pilot)
        await pilot.press("enter", "enter", "enter")
        await until(lambda: "Enter again replaces it." in screen_text(app), pilot)
        assert target.read_text(encoding="utf-8") == "mine"
        file_field(app).value = str(range_path)
        await pilot.press("enter")
        await until(lambda: "a name for plans" in screen_text(app), pilot)
        link = range_path.with_name("teasel.html")
        link.symlink_to(range_path)
        file_field(app).value = str(link)
        await pilot.press("enter", "enter")
        await until(lambda: "That is a plan" in screen_text(app), pilot)
        file_field(app).value = " "
        await pilot.press("enter")
        await until(lambda: "Write the name of a file." in screen_text(app), pilot)
        file_field(app).value = str(target)
        await pilot.press("enter")
        await until(lambda: "Enter again" in screen_text(app), pilot)
        await pilot.press("enter")
        await until(lambda: target.read_text(encoding="utf-8") == "plan as text\n", pilot)


async def test_esc_writes_nothing(range_path: Path) -> None:
    app = app_for(range_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await asked(app, pilot)
        await pilot.press("enter", "escape")
        await until(is_open(app, "range"), pilot)
    assert not range_path.with_name("teasel-plan.txt").exists()


@pytest.mark.parametrize("folder", ["none", "~nobody-of-that-name"])
async def test_a_folder_that_is_not_there_is_named_while_the_name_can_still_be_mended(
    range_path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, folder: str
) -> None:
    """The dialog had closed by the time that one was told, and all had to be chosen again."""
    monkeypatch.chdir(tmp_path)
    app = app_for(range_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await asked(app, pilot)
        await pilot.press("enter", "enter")
        file_field(app).value = f"{folder}/x.txt"
        await pilot.press("enter")
        await until(lambda: f"There is no folder {folder}. Write the name" in screen_text(app), pilot)
        await pilot.press("shift+home", *"mended")
        await pilot.press("enter")
        await until((tmp_path / "mended").exists, pilot)


async def test_what_cannot_be_written_is_told_with_its_reason(
    range_path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    name, reason = "x" * 300, "too long"
    monkeypatch.chdir(tmp_path)
    app, told = app_for(range_path), list[str]()
    monkeypatch.setattr(app, "tell", told.append)
    async with app.run_test(size=(80, 24)) as pilot:
        await asked(app, pilot)
        await pilot.press("enter", "enter")
        file_field(app).value = name
        await pilot.press("enter")
        await until(lambda: told, pilot)
        assert told[0].startswith('The sheet "The whole plan" could not be written to ')
        assert reason in told[0]


def test_every_form_has_an_ending_of_its_own_and_is_named_after_sheet_and_plan() -> None:
    assert len({form.ending for form in FORMS.values()}) == len(FORMS)
    assert proposed(Path("x/bittern.toml"), "yard", "markdown") == Path("x/bittern-yard.md")


@pytest.mark.parametrize("form", FORMS)
def test_every_form_of_every_sheet_there_is_can_be_made(form: str) -> None:
    from engine.plan import Plan
    from tests.engine.one_after_another import assess

    for sheet in SHEETS:
        if form == "csv":
            continue
        text = report(assess(Plan()), form, sheet=sheet)
        assert "Untitled" in text
        if form == "json":
            assert json.loads(text)


async def test_the_curves_go_into_a_folder_one_file_each(range_path: Path) -> None:
    app = app_for(range_path)
    folder = range_path.with_name("teasel-curves")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await asked(app, pilot)
        await pilot.press("down", "enter", "up", "enter")
        await until(lambda: file_field(app).has_focus, pilot)
        assert file_field(app).value == str(folder)
        await pilot.press("enter")
        await until(lambda: "The curves are those of the whole plan" in screen_text(app), pilot)
        await pilot.press("shift+tab", "shift+tab", "up", "enter", "enter")
        await until(lambda: file_field(app).has_focus, pilot)
        folder.write_text("a file", encoding="utf-8")
        await pilot.press("enter")
        await until(lambda: "That is a file" in screen_text(app), pilot)
        folder.unlink()
        await pilot.press("enter")
        await until(lambda: (folder / "power_curve.csv").exists(), pilot)
        await until(lambda: "is in" in screen_text(app), pilot)
    head, first = (folder / "power_curve.csv").read_text(encoding="utf-8").splitlines()[:2]
    assert head.startswith("speed_kn,resistance_n_low,resistance_n_best")
    assert len(first.split(",")) == len(head.split(","))


async def test_the_whole_name_is_marked_when_one_goes_to_it_with_tab(range_path: Path) -> None:
    """The cursor stood where the shorter name of the first form had ended, so that the rest of it stayed."""
    app = app_for(range_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await asked(app, pilot)
        await pilot.press("down", "tab", "down", "tab", "shift+home")
        await type_text(pilot, "order.html")
        await until(lambda: file_field(app).value == "order.html", pilot)

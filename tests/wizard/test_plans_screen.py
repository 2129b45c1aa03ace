"""The list of plans: newest first, new, resumed, unreadable, and demonstrations that are only ever copied."""

import errno
import os
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from textual.widgets import OptionList

from engine.assessment import assess
from engine.disk import Disk
from engine.plan import PAGES, STAGES, Plan, text_at, with_text
from engine.planfile import load_plan, save_plan
from tests.conftest import ROOT
from tests.wizard.driving import is_open, planning, screen_text, type_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.screens.help import HelpScreen
from wizard.screens.plans import Listed, NewPlanScreen, PlansScreen, listed_plans
from wizard.states import TODO, states_of

SMALL = (80, 24)
WIDTH = 76
"""Columns for the text of the list in a window of 80."""
PLACE = "in an aperture behind a full keel"


@pytest.fixture(autouse=True)
def one_demonstration(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder that looks like a checkout, with one demonstration in it; the tests run there."""
    checkout = tmp_path / "checkout"
    for part in ("engine/planfile.py", "pyproject.toml", "saved_plans/bittern.toml"):
        (checkout / part).parent.mkdir(parents=True, exist_ok=True)
        (checkout / part).touch()
    demonstration = checkout / "saved_plans" / "bittern.toml"
    save_plan(Plan(name="Bittern", stage="power"), demonstration)
    monkeypatch.chdir(checkout)
    return demonstration


def app_in(folder: Path) -> ShaftlogApp:
    return ShaftlogApp(None, folder, assess=fake_assessment)


async def test_plans_are_listed_newest_first_with_how_far_they_got(plan_path: Path) -> None:
    older = plan_path.parent / "older.toml"
    save_plan(Plan(name="Old one", stage="gear"), older)
    os.utime(older, (1e9, 1e9))
    app = app_in(plan_path.parent)
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: "Old one" in screen_text(app), pilot)
        text = screen_text(app)
        assert text.index("Teasel") < text.index("Old one") < text.index("Bittern")
        assert f"[...........] 0 of {len(STAGES)} pages filled in; left on gear; 9 Sep 2001" in text
        assert "Old one  older.toml" in text


@pytest.mark.parametrize("name", ["bittern", "dunlin", "mirabel", "two-sisters"])
def test_the_list_counts_the_pages_that_the_open_plan_does_not_mark_as_todo(name: str) -> None:
    path = ROOT / "saved_plans" / f"{name}.toml"
    plan = load_plan(path)
    states = states_of(plan, assess(plan))
    filled = sum(states[stage] is not TODO for stage in STAGES)
    shown = Listed(path, plan, datetime.fromtimestamp(0)).content(datetime.fromtimestamp(0), WIDTH).plain
    assert 0 < filled < len(STAGES) or name == "dunlin"
    assert f"[{'#' * filled}{'.' * (len(STAGES) - filled)}] {filled} of {len(STAGES)} pages filled in" in shown


@pytest.mark.parametrize("stage", PAGES)
def test_how_far_a_plan_got_has_room_in_one_line_of_80_columns(stage: str) -> None:
    """The name of the file broke over to the margin of the next line, where the next plan's name should begin."""
    long_ago = datetime(2001, 9, 28)
    listed = Listed(Path("teasel.toml"), Plan(name="Teasel", stage=stage), long_ago)
    first, second = listed.content(datetime(2026, 5, 3), WIDTH).plain.splitlines()
    assert first == "Teasel  teasel.toml"
    assert second.endswith(f"left on {stage}; 28 Sep 2001")
    assert len(second) <= 76


def test_a_slip_on_one_page_is_told_and_the_others_count() -> None:
    plan = with_text(load_plan(ROOT / "saved_plans" / "dunlin.toml"), "hull.waterline_beam", "wide")
    listed = Listed(Path("dunlin.toml"), plan, datetime(2001, 9, 28)).content(datetime(2026, 5, 3), WIDTH)
    assert "10 of 11 pages filled in; something on hull is not understood; left on" in " ".join(listed.plain.split())


async def test_no_line_of_the_list_is_wider_than_a_window_of_60_columns(plan_path: Path) -> None:
    """What stands under a name broke over to the margin, and of a demonstration the last word was not there at all."""
    app = app_in(plan_path.parent)
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: "Teasel" in screen_text(app), pilot)
        await pilot.resize_terminal(60, 24)
        await until(lambda: "     copy" in [row.rstrip() for row in screen_text(app).splitlines()], pilot)
        await pilot.resize_terminal(*SMALL)
        await until(lambda: "filled in; opens as a copy" in screen_text(app), pilot)


async def test_another_width_sets_the_list_without_reading_it_anew(plan_path: Path) -> None:
    class Counting(Disk):
        looks = 0

        def names(self, folder: Path) -> list[str]:
            self.looks += 1
            return super().names(folder)

    app = app_in(plan_path.parent)
    app.disk = disk = Counting()
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: "filled in; opens as a copy" in screen_text(app), pilot)
        looks = disk.looks
        assert looks > 0
        await pilot.resize_terminal(60, 24)
        await until(lambda: "     copy" in [row.rstrip() for row in screen_text(app).splitlines()], pilot)
        assert disk.looks == looks


async def test_the_list_counts_anew_what_was_filled_in_meanwhile(plan_path: Path) -> None:
    """Teasel lacks her draft and where her propeller turns: nothing on the pages after hull counts before."""
    app = app_in(plan_path.parent)
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: "0 of 11 pages filled in" in screen_text(app), pilot)
        path = "hull.hull_draft"
        plan = with_text(with_text(load_plan(plan_path), path, "2 ft 6 in"), "hull.propeller_place", PLACE)
        save_plan(plan, plan_path)
        await pilot.press("f1")
        await until(lambda: isinstance(app.screen, HelpScreen), pilot)
        await pilot.press("escape")
        await until(lambda: "[####.......] 4 of 11 pages filled in" in screen_text(app), pilot)


async def test_enter_resumes_the_newest_plan(plan_path: Path) -> None:
    app = app_in(plan_path.parent)
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: "Teasel" in screen_text(app), pilot)
        await pilot.press("enter")
        await until(is_open(app, "hull"), pilot)
        assert app.plan_path == plan_path
        await pilot.press("f9")
        await until(lambda: isinstance(app.screen, PlansScreen), pilot)


@pytest.mark.parametrize(("missing", "place"), [(False, "costs.yard"), (True, "costs.hours_per_year")])
async def test_a_plan_opens_on_the_field_that_was_changed_last_where_nothing_is_missing(
    plan_path: Path, missing: bool, place: str
) -> None:
    """It was the first of the page, fifteen prices above. What is wrong comes first, as on every visit."""
    plan = with_text(load_plan(plan_path), "costs.hours_per_year", "many") if missing else load_plan(plan_path)
    save_plan(replace(plan, stage="costs"), plan_path)
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "costs"), pilot)
        await planning(app).go_to("costs", "costs.yard")
        await pilot.press("1", "2")
        await until(lambda: text_at(app.plan, "costs.yard") == "12", pilot)
        await pilot.press("f10")
    again = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with again.run_test(size=SMALL) as pilot:
        await until(is_open(again, "costs"), pilot)
        await until(lambda: planning(again).focused_path == place, pilot)


async def test_an_unreadable_plan_is_listed_with_its_reason_and_left_alone(plan_path: Path) -> None:
    broken = plan_path.parent / "broken.toml"
    broken.write_text("format = [/x]", encoding="utf-8")
    app = app_in(plan_path.parent)
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await until(lambda: "broken.toml" in screen_text(app), pilot)
        assert "cannot be read" in screen_text(app)
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, PlansScreen)
    assert broken.read_text(encoding="utf-8") == "format = [/x]"


async def test_a_new_plan_asks_name_and_units_and_never_overwrites(tmp_path: Path) -> None:
    folder = tmp_path / "not" / "there" / "yet"
    for expected in ("sea-otter.toml", "sea-otter-2.toml"):
        app = app_in(folder)
        async with app.run_test(size=SMALL) as pilot:
            await until(lambda app=app: isinstance(app.screen, PlansScreen), pilot)
            await pilot.press("f2")
            await until(lambda app=app: isinstance(app.screen, NewPlanScreen), pilot)
            await type_text(pilot, "Sea Otter")
            await pilot.press("enter", "enter", "down", "enter")
            await until(lambda app=app: app.focused is not None and app.focused.id == "begin", pilot)
            await pilot.press("enter")
            await until(is_open(app, "hull"), pilot)
            assert app.plan_path is not None
            assert app.plan_path.name == expected
            await pilot.press("f10")
    assert load_plan(folder / "sea-otter.toml").units == "imperial"
    assert len(listed_plans(folder, Disk())) == 2


async def test_a_folder_that_cannot_be_read_leaves_the_demonstrations_in_the_list() -> None:
    class Shut(Disk):
        def names(self, folder: Path) -> list[str]:
            raise PermissionError(errno.EACCES, "no", str(folder))

    app = app_in(Path("/shut"))
    app.disk = Shut()
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: "cannot be read: you have no permission for it." in screen_text(app), pilot)
        assert "Bittern" in screen_text(app)


def test_a_link_that_leads_to_itself_leaves_the_other_plans_in_the_list(plan_path: Path) -> None:
    loop = plan_path.with_name("loop.toml")
    loop.symlink_to(loop)
    trouble = {item.path: item.trouble for item in listed_plans(plan_path.parent, Disk())}
    assert trouble[plan_path] == ""
    assert trouble[loop] == "The plan cannot be read: links lead round in a circle."


def test_a_link_that_cannot_be_followed_leaves_the_other_plans_in_the_list(plan_path: Path) -> None:
    link = plan_path.with_name("link.toml")
    link.symlink_to("x" * 300)
    trouble = {item.path: item.trouble for item in listed_plans(plan_path.parent, Disk())}
    assert trouble[plan_path] == ""
    assert trouble[link] == "The plan cannot be read: the name is too long."


def test_a_plan_that_was_changed_in_no_year_of_the_calendar_is_in_the_list(
    plan_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    as_it_is = Disk.look
    monkeypatch.setattr(Disk, "look", lambda disk, path: replace(as_it_is(disk, path), changed=1e12))
    assert plan_path in [item.path for item in listed_plans(plan_path.parent, Disk()) if item.plan is not None]


async def test_a_new_plan_in_a_folder_that_cannot_be_looked_into_is_refused_in_a_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / ("x" * 300)
    app, told = app_in(folder), list[str]()
    monkeypatch.setattr(app, "tell", told.append)
    monkeypatch.setattr(Disk, "make_folder", lambda *_: None)
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: isinstance(app.screen, PlansScreen), pilot)
        app.begin_plan(Plan(name="Sea Otter"))
        assert told[0].startswith("The plan could not be saved: the name is too long")


@pytest.mark.parametrize(("keys", "line"), [((), 1), (("down",), 2), (("down", "down"), 4), (("end",), 7)])
async def test_the_line_that_one_was_on_is_there_again_after_a_dialog(
    keys: tuple[str, ...], line: int, plan_path: Path
) -> None:
    older = plan_path.with_name("older.toml")
    save_plan(Plan(name="Old one"), older)
    os.utime(older, (1e9, 1e9))
    app = app_in(plan_path.parent)
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: "Old one" in screen_text(app), pilot)
        await pilot.press(*keys, "f1")
        await until(lambda: isinstance(app.screen, HelpScreen), pilot)
        await pilot.press("escape")
        await until(lambda: isinstance(app.screen, PlansScreen), pilot)
        assert app.screen.query_one("#plans", OptionList).highlighted == line


async def test_a_new_plan_wants_a_name(tmp_path: Path) -> None:
    app = app_in(tmp_path)
    async with app.run_test(size=SMALL) as pilot:
        await pilot.press("f2")
        await until(lambda: isinstance(app.screen, NewPlanScreen), pilot)
        app.screen.query_one("#begin").focus()
        await pilot.press("enter")
        await until(lambda: "Give the plan a name" in screen_text(app), pilot)
        await pilot.press("escape")
        await until(lambda: isinstance(app.screen, PlansScreen), pilot)


def told(app: ShaftlogApp) -> str:
    """The words on the screen, a sentence that is broken into rows in one piece."""
    return " ".join(word for word in screen_text(app).split() if word != "▌")


async def test_a_demonstration_is_copied_never_edited_in_place(one_demonstration: Path) -> None:
    before = one_demonstration.read_bytes()
    folder = one_demonstration.parent  # as in a checkout, where plans live beside the demonstrations
    app = app_in(folder)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await until(lambda: "opens as a copy" in screen_text(app), pilot)
        await pilot.press("down", "down", "enter")
        await until(is_open(app, "power"), pilot)
        assert app.plan_path == folder / "bittern-2.toml"
        await until(lambda: "The demonstration stays as it is: a copy was made as bittern-2.toml." in told(app), pilot)
        await pilot.press("f4", "f10")
    assert one_demonstration.read_bytes() == before
    assert load_plan(folder / "bittern-2.toml").stage == "engine"


async def test_a_demonstration_named_on_the_command_line_is_copied_too(tmp_path: Path, one_demonstration: Path) -> None:
    folder = tmp_path / "mine"
    app = ShaftlogApp(one_demonstration, folder, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "power"), pilot)
        assert app.plan_path == folder / "bittern.toml"


async def test_the_palette_finds_every_action(plan_path: Path) -> None:
    from wizard.keys import LIST_ACTIONS, PLAN_ACTIONS

    app = app_in(plan_path.parent)
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: isinstance(app.screen, PlansScreen), pilot)
        titles = {command.title for command in app.get_system_commands(app.screen)}
        assert {action.title for action in LIST_ACTIONS} <= titles
        await pilot.press("enter")
        await until(is_open(app, "hull"), pilot)
        titles = {command.title for command in app.get_system_commands(app.screen)}
        assert {action.title for action in PLAN_ACTIONS} | {"Day theme", "Night theme"} <= titles

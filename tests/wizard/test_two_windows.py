"""What the owner sees when a plan has two versions or two windows, and how he goes on."""

import os
from pathlib import Path

import pytest
from textual import events
from textual.widgets import Button, OptionList

from engine.disk import Disk
from engine.plan import Plan, text_at, with_text
from engine.planfile import load_plan, save_plan
from tests.wizard.driving import field, focus, is_open, planning, screen_text, type_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.keeping.earlier import versions
from wizard.keeping.keeper import open_kept
from wizard.screens.two_versions import TwoVersionsScreen

SIZE = (80, 24)


def wizard(path: Path) -> ShaftlogApp:
    return ShaftlogApp(path, path.parent, assess=fake_assessment)


def asks(app: ShaftlogApp) -> bool:
    return isinstance(app.screen, TwoVersionsScreen) and app.screen.focused is not None


def change_outside(path: Path) -> bytes:
    content = path.read_bytes() + b'\n[shaft]\nspan = "3 ft"\n'
    path.write_bytes(content)
    return content


def unsaved_of(path: Path) -> Path:
    """Where what cannot be saved waits."""
    return path.with_name(f".{path.name}.unsaved")


def change_here(path: Path) -> Plan:
    """A window is opened, a tank is typed in, and it is closed again."""
    opened = open_kept(path, path.parent, Disk())
    plan = with_text(opened.plan, "range.tank", "300 L")
    assert opened.keeper.save(plan, opened.history.recorded(opened.plan, plan, "range.tank")).is_done
    opened.keeper.close()
    return plan


async def typed_against_a_change(app: ShaftlogApp, path: Path, pilot: object) -> bytes:
    """Open, let another program change the file, type, and wait for the question."""
    await until(is_open(app, "range"), pilot)  # type: ignore[arg-type]
    theirs = change_outside(path)
    focus(app, "range.tank")
    await type_text(pilot, "300 L")  # type: ignore[arg-type]
    await until(lambda: asks(app), pilot)  # type: ignore[arg-type]
    return theirs


async def discard(path: Path, unsaved: Path) -> None:
    """Open a plan beside which something waits that was not saved, discard that, and quit."""
    app = wizard(path)
    async with app.run_test(size=SIZE) as pilot:
        await until(lambda: asks(app), pilot)
        await pilot.press("enter")
        await until(lambda: not asks(app) and not unsaved.exists(), pilot)
        await pilot.press("f10")


async def test_the_owner_goes_on_with_his_own_version(range_path: Path) -> None:
    app = wizard(range_path)
    async with app.run_test(size=SIZE) as pilot:
        theirs = await typed_against_a_change(app, range_path, pilot)
        shown = screen_text(app)
        assert "Another program has changed the file" in shown
        assert "on this screen: 300" in shown
        assert range_path.read_bytes() == theirs, "nothing is saved until the choice"
        await pilot.press("enter")
        await until(lambda: load_plan(range_path).range.tank, pilot)
        assert load_plan(range_path).shaft.span is None
        assert theirs in [version.path.read_bytes() for version in versions(Disk(), range_path)]
        await type_text(pilot, "0")
        await until(lambda: text_at(load_plan(range_path), "range.tank") == text_at(app.plan, "range.tank"), pilot)


async def test_the_owner_takes_the_files_version_and_undo_brings_his_own_back(range_path: Path) -> None:
    app = wizard(range_path)
    async with app.run_test(size=SIZE) as pilot:
        await typed_against_a_change(app, range_path, pilot)
        await pilot.press("down", "enter")
        await until(lambda: app.plan.shaft.span and not asks(app), pilot)
        assert not app.plan.range.tank
        await until(lambda: field(app, "range.tank").value == "", pilot)
        await pilot.press("ctrl+u")
        await until(lambda: app.plan.range.tank, pilot)
        await until(lambda: load_plan(range_path).range.tank and not load_plan(range_path).shaft.span, pilot)


async def test_the_owner_keeps_both(range_path: Path) -> None:
    app = wizard(range_path)
    async with app.run_test(size=SIZE) as pilot:
        theirs = await typed_against_a_change(app, range_path, pilot)
        await pilot.press("down", "down", "enter")
        await until(lambda: load_plan(range_path).range.tank, pilot)
    assert (range_path.parent / "teasel-other.toml").read_bytes() == theirs


async def test_a_change_is_noticed_while_nothing_is_typed(range_path: Path, monkeypatch: object) -> None:
    monkeypatch.setattr("wizard.keeping.autosave.LOOKS", 0.1)  # type: ignore[attr-defined]
    app = wizard(range_path)
    async with app.run_test(size=SIZE) as pilot:
        await until(is_open(app, "range"), pilot)
        change_outside(range_path)
        await until(lambda: asks(app), pilot)
        await pilot.press("down", "enter")
        await until(lambda: app.plan.shaft.span, pilot)
        await pilot.pause(0.5)
        assert not asks(app), "it is asked once"


async def test_a_file_that_is_taken_away_is_told_of_and_there_again_after_leaving(
    range_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("wizard.keeping.autosave.LOOKS", 0.1)
    app = wizard(range_path)
    async with app.run_test(size=SIZE, notifications=True) as pilot:
        await until(is_open(app, "range"), pilot)
        focus(app, "range.tank")
        await type_text(pilot, "300 L")
        await until(lambda: text_at(load_plan(range_path), "range.tank") == "300 L", pilot)
        range_path.unlink()
        await until(lambda: "moved or removed by another program" in screen_text(app), pilot)
        assert not range_path.exists(), "whoever took it away may have meant it"
        await pilot.press("f10")
    assert text_at(load_plan(range_path), "range.tank") == "300 L"


async def test_that_a_file_is_gone_stands_there_until_it_is_back(
    range_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The sentence went after some seconds, and nothing told any more that the plan was in no file."""
    monkeypatch.setattr("wizard.keeping.autosave.LOOKS", 0.1)
    app, away = wizard(range_path), range_path.with_name("away")
    async with app.run_test(size=SIZE) as pilot:  # with no sentences that go
        await until(is_open(app, "range"), pilot)
        range_path.rename(away)
        await until(lambda: "moved or removed by another program" in screen_text(app), pilot)
        away.rename(range_path)
        await until(lambda: "moved or removed" not in screen_text(app), pilot)
        range_path.unlink()
        await until(lambda: "moved or removed" in screen_text(app), pilot)
        focus(app, "range.tank")
        await type_text(pilot, "300 L")
        await until(lambda: "moved or removed" not in screen_text(app), pilot)
    assert text_at(load_plan(range_path), "range.tank") == "300 L"


async def test_a_folder_in_the_place_of_the_file_is_noticed_also_when_all_had_been_saved(
    range_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The program left with "The plan is saved in", and it was nowhere."""
    monkeypatch.setattr("wizard.keeping.autosave.LOOKS", 0.1)
    monkeypatch.setattr("wizard.keeping.autosave.AGAIN", 0.1)
    app = wizard(range_path)
    async with app.run_test(size=SIZE, notifications=True) as pilot:
        await until(is_open(app, "range"), pilot)
        focus(app, "range.tank")
        await type_text(pilot, "300 L")
        await until(lambda: text_at(load_plan(range_path), "range.tank") == "300 L", pilot)
        range_path.unlink()
        range_path.mkdir()
        await until(lambda: "The plan could not be saved. " in app.trouble, pilot)
        cure = "is a folder, not the file of a plan. Move it away, or give it another name. It is tried again"
        assert cure in app.trouble
        assert app.trouble.endswith(f"Meanwhile it is kept in {unsaved_of(range_path)}.")
        assert text_at(load_plan(unsaved_of(range_path)), "range.tank") == "300 L"
        await pilot.press("f10")
        await pilot.pause()
        assert app.is_running, "the first quit says that it is not saved"
        range_path.rmdir()
        await until(lambda: not app.trouble, pilot)
        assert text_at(load_plan(range_path), "range.tank") == "300 L"


async def test_what_another_program_has_just_written_is_asked_about_before_the_plan_is_closed(range_path: Path) -> None:
    """It was looked at every two seconds, and who left in between heard nothing of it."""
    app = wizard(range_path)
    async with app.run_test(size=SIZE) as pilot:
        await until(is_open(app, "range"), pilot)
        focus(app, "range.tank")
        await type_text(pilot, "300 L")
        assert app.is_safe()
        change_outside(range_path)
        await pilot.press("f10")
        await until(lambda: asks(app), pilot)
        assert text_at(load_plan(unsaved_of(range_path)), "range.tank") == "300 L"
        await pilot.press("enter")
        await until(lambda: not asks(app) and not load_plan(range_path).shaft.span, pilot)


async def test_a_file_that_is_no_plan_any_more_can_be_kept_or_replaced(range_path: Path) -> None:
    app = wizard(range_path)
    async with app.run_test(size=SIZE) as pilot:
        await until(is_open(app, "range"), pilot)
        range_path.write_bytes(b"half a pl")
        focus(app, "range.tank")
        await type_text(pilot, "300 L")
        await until(lambda: asks(app), pilot)
        assert "cannot be read as a plan" in screen_text(app)
        assert app.screen.query_one(OptionList).option_count == 2
        await pilot.press("down", "enter")
        await until(lambda: load_plan(range_path).range.tank, pilot)
    assert (range_path.parent / "teasel-other.toml").read_bytes() == b"half a pl"


async def test_quitting_with_the_question_open_loses_neither(range_path: Path) -> None:
    app = wizard(range_path)
    async with app.run_test(size=SIZE) as pilot:
        theirs = await typed_against_a_change(app, range_path, pilot)
        app._ended_from_outside()
        await until(lambda: not app.is_running or app._exit, pilot)
    assert range_path.read_bytes() == theirs
    again = wizard(range_path)
    async with again.run_test(size=SIZE) as pilot:
        await until(lambda: asks(again), pilot)
        shown = screen_text(again)
        assert "could not be saved in its file" in shown
        assert "not saved: 300" in shown
        await pilot.press("down", "enter")
        await until(lambda: again.plan.range.tank, pilot)
        await until(lambda: load_plan(range_path).range.tank, pilot)
    assert not (unsaved_of(range_path)).exists()


async def test_letters_that_come_just_before_the_question_are_kept_beside_the_file_too(range_path: Path) -> None:
    """They were in memory alone for as long as the question stood."""
    app = wizard(range_path)
    async with app.run_test(size=SIZE) as pilot:
        await typed_against_a_change(app, range_path, pilot)
        app.change(with_text(app.plan, "range.tank", "300 L; 50 L"))
        await until(lambda: text_at(load_plan(unsaved_of(range_path)), "range.tank") == "300 L; 50 L", pilot)


async def test_a_question_about_a_plan_that_has_been_closed_is_not_put_about_the_next_one(range_path: Path) -> None:
    """With keys typed ahead its answer would have gone into the other plan."""
    other_boat = range_path.with_name("other-boat.toml")
    other_boat.write_bytes(range_path.read_bytes())
    os.utime(other_boat, (0, 0))  # the second in the list
    save_plan(with_text(load_plan(range_path), "range.tank", "300 L"), unsaved_of(range_path))
    app = ShaftlogApp(None, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=SIZE) as pilot:
        await until(lambda: app.screen.query("#plans") and app.screen.focused, pilot)
        for key in ("enter", "f9", "down", "enter"):
            app.post_message(events.Key(key, None))
        await until(lambda: is_open(app, "range")() and app.plan_path == other_boat, pilot)
        await pilot.pause(0.2)
        assert not asks(app)
    assert unsaved_of(range_path).exists()


async def test_what_was_not_saved_can_be_discarded_and_is_still_among_the_earlier_versions(range_path: Path) -> None:
    unsaved = unsaved_of(range_path)
    save_plan(with_text(load_plan(range_path), "range.tank", "300 L"), unsaved)
    content, before = unsaved.read_bytes(), range_path.read_bytes()
    await discard(range_path, unsaved)
    assert text_at(load_plan(range_path), "range.tank") == ""
    assert before == range_path.read_bytes()
    assert content in [version.path.read_bytes() for version in versions(Disk(), range_path)]


# a second window


async def test_in_the_smallest_window_the_second_one_still_says_what_to_do(range_path: Path) -> None:
    """Which process holds the plan came first, and what to do broke off after "close"."""
    first = open_kept(range_path, range_path.parent, Disk())
    app = wizard(range_path)
    async with app.run_test(size=(60, 18)) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment, pilot)
        await until(lambda: "To change it, close that one" in " ".join(screen_text(app).split()), pilot)
    first.keeper.close()


async def test_a_second_window_shows_the_plan_and_refuses_changes_in_a_sentence(range_path: Path) -> None:
    first = open_kept(range_path, range_path.parent, Disk())
    before = range_path.read_bytes()
    app = wizard(range_path)
    async with app.run_test(size=SIZE, notifications=True) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment, pilot)
        assert "Open in another window" in screen_text(app)
        focus(app, "range.tank")
        await type_text(pilot, "3")
        await until(lambda: field(app, "range.tank").value == "", pilot)
        await pilot.press("f3")
        await until(is_open(app, "shaft"), pilot)
        await pilot.press("ctrl+r")
        await pilot.pause()
        assert app.plan.units == "imperial"
        assert range_path.read_bytes() == before
        plan = with_text(first.plan, "shaft.span", "4 ft")
        assert first.keeper.save(plan, first.history).is_done
        await until(lambda: field(app, "shaft.span").value == "4 ft", pilot)
        await pilot.press("f9")
        await until(lambda: app.screen.query("#plans"), pilot)
    assert load_plan(range_path) == plan
    first.keeper.close()


async def test_what_a_second_window_cannot_do_it_does_not_say_to_have_done(
    engine_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = open_kept(engine_path, engine_path.parent, Disk())
    app, told = wizard(engine_path), list[str]()
    async with app.run_test(size=SIZE) as pilot:
        await until(lambda: is_open(app, "engine")() and app.assessment, pilot)
        monkeypatch.setattr(app, "tell", told.append)
        await pilot.press("f7")
        await until(lambda: told, pilot)
        page = planning(app).current
        planning(app).set_focus(
            next(button for button in page.query(Button) if button.name == "turn.engine.candidate.0")
        )
        await pilot.press("down", "down", "enter", "right", "enter")
        await until(lambda: len(told) > 1, pilot)
        await pilot.pause()
        assert len(app.plan.engine.candidate) == 1
        assert all("can only be read" in sentence for sentence in told), told
    first.keeper.close()


async def test_closing_a_plan_lets_another_window_have_it(range_path: Path) -> None:
    app = wizard(range_path)
    async with app.run_test(size=SIZE) as pilot:
        await until(is_open(app, "range"), pilot)
        assert open_kept(range_path, range_path.parent, Disk()).keeper.held_by
        await pilot.press("f9")
        await until(lambda: app.screen.query("#plans"), pilot)
        after = open_kept(range_path, range_path.parent, Disk())
        assert after.keeper.held_by == ""
        after.keeper.close()


# earlier versions


async def test_an_earlier_version_opens_as_a_plan_of_its_own(range_path: Path) -> None:
    change_here(range_path)
    now = range_path.read_bytes()
    app = ShaftlogApp(None, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=SIZE) as pilot:
        await until(lambda: app.screen.query("#plans") and app.screen.focused, pilot)
        await pilot.press("f4")
        await until(lambda: "Earlier versions of" in screen_text(app), pilot)
        assert "differs in: Fuel tanks" in screen_text(app)
        await pilot.press("enter")
        await until(is_open(app, "range"), pilot)
        assert app.plan_path is not None
        assert app.plan_path != range_path
        assert text_at(app.plan, "range.tank") == ""
    assert range_path.read_bytes() == now


async def test_a_plan_that_cannot_be_read_offers_its_earlier_versions(range_path: Path) -> None:
    change_here(range_path)
    range_path.write_bytes(b"\x00" * 500)
    app = ShaftlogApp(None, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=SIZE, notifications=True) as pilot:
        await until(lambda: app.screen.query("#plans") and app.screen.focused, pilot)
        await pilot.press("enter")
        await until(lambda: "Earlier versions of" in screen_text(app), pilot)
        assert "not a readable plan" in screen_text(app)
        await pilot.press("enter")
        await until(is_open(app, "range"), pilot)
    assert range_path.read_bytes() == b"\x00" * 500


async def test_steps_can_still_be_taken_back_after_a_choice_that_came_before_any_change(range_path: Path) -> None:
    changed = change_here(range_path)
    unsaved = unsaved_of(range_path)
    save_plan(with_text(changed, "range.tank", "310 L"), unsaved)
    await discard(range_path, unsaved)
    again = wizard(range_path)
    async with again.run_test(size=SIZE) as pilot:
        await until(is_open(again, "range"), pilot)
        assert text_at(again.plan, "range.tank") == "300 L"
        await pilot.press("ctrl+u")
        await until(lambda: text_at(again.plan, "range.tank") == "", pilot)

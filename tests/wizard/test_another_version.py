"""Keys that come while the plan goes over to another version, in which the fields they are for may be gone."""

import asyncio
from dataclasses import replace
from pathlib import Path

import pytest
from textual import events

from engine.disk import Disk
from engine.plan import Plan, without_row
from engine.planfile import load_plan, save_plan
from tests.wizard.driving import focus, is_open, type_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.history import History
from wizard.keeping.keeper import open_kept
from wizard.screens.two_versions import TwoVersionsScreen

SIZE = (80, 24)


def asks(app: ShaftlogApp) -> bool:
    return isinstance(app.screen, TwoVersionsScreen) and app.screen.focused is not None


@pytest.mark.parametrize("key", ["7", "backspace", "f4", "tab"])
async def test_a_key_typed_ahead_of_the_files_version_does_not_meet_rows_that_it_has_not(
    engine_path: Path, key: str
) -> None:
    """It ended the program, or put what the field had before into the version that had been chosen."""
    app = ShaftlogApp(engine_path, engine_path.parent, assess=fake_assessment)
    theirs = replace(load_plan(engine_path), engine=Plan().engine)
    async with app.run_test(size=SIZE) as pilot:
        await until(is_open(app, "engine"), pilot)
        save_plan(theirs, engine_path)
        focus(app, "engine.candidate.0.name")
        await type_text(pilot, "5")
        await until(lambda: asks(app), pilot)
        for each in ("down", "enter", key):
            app.post_message(events.Key(each, each if len(each) == 1 else None))
        await until(lambda: not asks(app) and not app.plan.engine.candidate, pilot)
        await until(lambda: app.is_safe() and load_plan(engine_path) == app.plan, pilot)
        assert replace(app.plan, stage="engine") == theirs


async def test_a_row_taken_out_in_the_first_window_does_not_end_the_second_in_the_middle_of_a_key(
    engine_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = open_kept(engine_path, engine_path.parent, Disk())
    monkeypatch.setattr("wizard.file_keeping.LOOKS", 0.05)

    async def seen_late(_: object) -> None:
        await asyncio.sleep(0.5)

    app = ShaftlogApp(engine_path, engine_path.parent, assess=fake_assessment)
    async with app.run_test(size=SIZE) as pilot:
        await until(lambda: is_open(app, "engine")() and app.assessment, pilot)
        focus(app, "engine.candidate.0.name")
        monkeypatch.setattr("wizard.screens.plan_actions.seen_by", seen_late)
        app.post_message(events.Key("f4", None))
        assert first.keeper.save(without_row(first.plan, "engine.candidate", 0), History()).is_done
        await until(lambda: not app.plan.engine.candidate and is_open(app, "gear")(), pilot)
    first.keeper.close()

"""Autosave, quitting, resuming, and being ended from outside."""

import errno
import threading
import time
from pathlib import Path
from typing import Any

import pytest

from engine.disk import Disk
from engine.plan import text_at, with_text
from engine.planfile import load_plan
from tests.faulty_disk import FaultyDisk
from tests.wizard.driving import focus, is_open, planning, screen_text, type_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.keeping.autosave import DELAY

SMALL = (80, 24)


async def test_a_change_is_on_disk_within_a_second(range_path: Path) -> None:
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "range"), pilot)
        focus(app, "range.tank")
        await type_text(pilot, "300 L")
        await until(lambda: load_plan(range_path).range.tank, pilot)
        assert DELAY < 1.0, "seconds after a change; it is saved by itself, with no other key"


async def test_quitting_and_resuming_opens_the_same_page(range_path: Path) -> None:
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "range"), pilot)
        await planning(app).go_to("gear")
        await pilot.press("f10")
    assert app.return_code == 0
    assert load_plan(range_path).stage == "gear"
    again = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    async with again.run_test(size=SMALL) as pilot:
        await until(is_open(again, "gear"), pilot)


async def test_opening_and_leaving_a_plan_does_not_touch_its_file(range_path: Path) -> None:
    before = range_path.read_bytes()
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment, pilot)
        await pilot.press("down", "down", "f10")
    assert range_path.read_bytes() == before


class FullDisk(Disk):
    """A disk on which nothing can be written while it is full."""

    def __init__(self) -> None:
        self.is_full = True

    def create(self, path: Path) -> int:
        if self.is_full:
            raise OSError(errno.ENOSPC, "No space left on device")
        return super().create(path)


async def test_a_failed_save_is_told_editing_goes_on_and_it_is_tried_again(range_path: Path, monkeypatch: Any) -> None:
    monkeypatch.setattr("wizard.keeping.autosave.AGAIN", 0.3)
    disk = FullDisk()
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment, disk=disk)
    told: list[str] = []
    notify = app.notify
    monkeypatch.setattr(app, "notify", lambda sentence, **how: (told.append(sentence), notify(sentence, **how)))
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await until(is_open(app, "range"), pilot)
        focus(app, "range.tank")
        await type_text(pilot, "300")
        await until(lambda: "the disk is full" in screen_text(app), pilot)
        await type_text(pilot, " L")
        await pilot.press("f10")
        await pilot.pause()
        assert app.is_running, "the first quit does not throw the changes away"
        assert len([sentence for sentence in told if "the disk is full" in sentence]) == 1, "once, not at every try"
        disk.is_full = False
        await until(lambda: any("saved again" in sentence for sentence in told), pilot)
        assert not app.trouble
        assert load_plan(range_path).range.tank[0].text == "300 L"


async def test_a_second_quit_leaves_although_nothing_can_be_saved(range_path: Path) -> None:
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment, disk=FullDisk())
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "range"), pilot)
        focus(app, "range.tank")
        await type_text(pilot, "300 L")
        await pilot.press("f10", "f10")
        await until(lambda: not app.is_running or app._exit, pilot)


async def test_each_loss_is_warned_of_before_quitting(range_path: Path, monkeypatch: Any) -> None:
    monkeypatch.setattr("wizard.keeping.autosave.AGAIN", 0.1)
    disk = FullDisk()
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment, disk=disk)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await until(is_open(app, "range"), pilot)
        focus(app, "range.tank")
        await type_text(pilot, "300 L")
        await pilot.press("f10")
        await pilot.pause()
        disk.is_full = False
        await until(lambda: not app.trouble, pilot)
        disk.is_full = True
        await type_text(pilot, "; 2 L")
        await pilot.press("f10")
        await pilot.pause()
        assert app.is_running, "what was warned of is on the disk by now; this is another loss"
        await until(lambda: "Quit again" in screen_text(app), pilot)


async def test_a_plan_that_cannot_be_saved_stays_open_with_a_word(range_path: Path) -> None:
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment, disk=FullDisk())
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await until(is_open(app, "range"), pilot)
        focus(app, "range.tank")
        await type_text(pilot, "300 L")
        await until(lambda: app.trouble, pilot)
        await pilot.press("f9")
        await until(lambda: "the plan stays open" in screen_text(app), pilot)
        assert is_open(app, "range")()


async def test_there_are_never_two_saves_at_once_and_the_latest_wins(range_path: Path) -> None:
    inside, most, written = 0, 0, []
    lock = threading.Lock()

    class SlowDisk(Disk):
        def replace(self, source: Path, target: Path) -> None:
            nonlocal inside, most
            is_plan = target == range_path
            with lock:
                inside += is_plan
                most = max(most, inside)
            time.sleep(0.05 if is_plan else 0.0)
            super().replace(source, target)
            if is_plan:
                written.append(load_plan(target))
            with lock:
                inside -= is_plan

    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment, disk=SlowDisk())
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "range"), pilot)
        focus(app, "range.usable")
        for hundreds in range(2, 8):
            app.change(with_text(app.plan, "range.tank", f"{hundreds}00 L"))
            app.save_now()
            await pilot.pause()
        await until(lambda: written and written[-1] == app.plan, pilot)
        await pilot.press("f10")
    assert most == 1
    assert [tank.text for tank in load_plan(range_path).range.tank] == ["700 L"]


@pytest.mark.parametrize("fault", ["ENOSPC", "EIO", "EACCES", "half"])
async def test_whichever_disk_call_fails_editing_goes_on_and_it_is_saved_in_the_end(
    range_path: Path, fault: str, nightly: bool, monkeypatch: Any
) -> None:
    """A few of the calls by day, all of them by night; test_keeping.py has all of them below the screen."""
    monkeypatch.setattr("wizard.keeping.autosave.AGAIN", 0.1)
    original = range_path.read_bytes()
    for number in (
        range(1, 60) if nightly else {"ENOSPC": (2, 21), "EIO": (4, 14), "EACCES": (13, 16), "half": (17,)}[fault]
    ):
        range_path.write_bytes(original)
        app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment, disk=FaultyDisk(number, fault))
        async with app.run_test(size=SMALL, notifications=True) as pilot:
            await until(lambda app=app: is_open(app, "range")() or app._notifications, pilot)
            if not is_open(app, "range")():
                app.open_plan(range_path)
                await until(is_open(app, "range"), pilot)
            if app.only_read_because:
                continue
            focus(app, "range.tank")
            await type_text(pilot, "300 L")
            await until(lambda: text_at(load_plan(range_path), "range.tank") == "300 L", pilot)
            await until(lambda app=app: not app.trouble, pilot)
            await pilot.press("f10")
        assert app.return_code == 0, number
        assert text_at(load_plan(range_path), "range.tank") == "300 L"

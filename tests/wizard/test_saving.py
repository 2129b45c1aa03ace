"""Autosave, quitting, resuming, and being ended from outside."""

import os
import pty
import select
import signal
import sys
import threading
import time
from pathlib import Path

from engine.plan import Plan, with_text
from engine.planfile import PlanFileError, load_plan, save_plan
from tests.wizard.driving import focus, is_open, planning, type_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp

SMALL = (80, 24)


async def test_a_change_is_on_disk_within_a_second(range_path: Path) -> None:
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "range"), pilot)
        focus(app, "range.tank")
        await type_text(pilot, "300 L")
        changed = time.monotonic()
        await until(lambda: load_plan(range_path).range.tank, pilot)
        assert time.monotonic() - changed < 2.0, "saved late, even for a busy machine"


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


async def test_a_failed_save_is_told_and_editing_goes_on(range_path: Path) -> None:
    is_full = True

    def write(plan: Plan, path: Path) -> None:
        if is_full:
            raise PlanFileError("The plan could not be saved: no space left on device.")
        save_plan(plan, path)

    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment, write=write)
    async with app.run_test(size=SMALL, notifications=True) as pilot:
        await until(is_open(app, "range"), pilot)
        focus(app, "range.tank")
        await type_text(pilot, "300 L")
        await until(lambda: any("no space left" in note.message for note in app._notifications), pilot)
        await pilot.press("f10")
        await pilot.pause()
        assert app.is_running, "the first quit does not throw the changes away"
        is_full = False
        await pilot.press("f10")
    assert load_plan(range_path).range.tank


async def test_there_are_never_two_saves_at_once_and_the_latest_wins(range_path: Path) -> None:
    inside, most, written = 0, 0, []
    lock = threading.Lock()

    def slow(plan: Plan, path: Path) -> None:
        nonlocal inside, most
        with lock:
            inside += 1
            most = max(most, inside)
        time.sleep(0.05)
        save_plan(plan, path)
        written.append(plan)
        with lock:
            inside -= 1

    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment, write=slow)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "range"), pilot)
        focus(app, "range.usable")
        for hundreds in range(2, 8):
            app.change(with_text(app.plan, "range.tank", f"{hundreds}00 L"))
            app.save_now()
            await pilot.pause()
        await until(lambda: written and written[-1] is app.plan, pilot)
        await pilot.press("f10")
    assert most == 1
    assert [tank.text for tank in load_plan(range_path).range.tank] == ["700 L"]


async def test_a_file_changed_by_another_program_is_kept_beside(range_path: Path) -> None:
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "range"), pilot)
        other = range_path.read_text(encoding="utf-8") + '\n[shaft]\nspan = "3 ft"\n'
        range_path.write_text(other, encoding="utf-8")
        focus(app, "range.tank")
        await type_text(pilot, "300 L")
        await pilot.press("f10")
    kept = range_path.parent / "teasel-changed-elsewhere.toml"
    assert kept.read_text(encoding="utf-8") == other
    assert load_plan(range_path).range.tank


async def test_a_terminate_signal_saves_and_ends(range_path: Path) -> None:
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=SMALL) as pilot:
        await until(is_open(app, "range"), pilot)
        focus(app, "range.tank")
        await type_text(pilot, "300 L")
        os.kill(os.getpid(), signal.SIGTERM)
        await until(lambda: not app.is_running or app._exit, pilot)
    assert load_plan(range_path).range.tank


def test_the_same_goes_for_a_hang_up_in_a_real_terminal(range_path: Path) -> None:
    """SIGHUP, as when a terminal window is closed: the program of its own accord saves and ends."""
    pid, terminal = pty.fork()
    if pid == 0:
        os.environ["TERM"] = "xterm-256color"
        os.execv(sys.executable, [sys.executable, "-m", "wizard", str(range_path)])
    seen = b""
    deadline = time.monotonic() + 20
    while b"far will she" not in seen:
        assert time.monotonic() < deadline, "the wizard did not come up"
        seen += os.read(terminal, 65536)
    os.write(terminal, b"300 L")
    _drain(terminal, 1.0)
    os.kill(pid, signal.SIGHUP)
    _drain(terminal, 1.0)
    _, status = os.waitpid(pid, 0)
    assert os.waitstatus_to_exitcode(status) == 0
    assert [tank.text for tank in load_plan(range_path).range.tank] == ["300 L"]


def _drain(terminal: int, seconds: float) -> None:
    """Read what the program writes, so that it never waits for us."""
    deadline = time.monotonic() + seconds
    while time.monotonic() < deadline:
        ready, _, _ = select.select([terminal], [], [], 0.1)
        if ready:
            try:
                os.read(terminal, 65536)
            except OSError:  # the other end is closed
                return

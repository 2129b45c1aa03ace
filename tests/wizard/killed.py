"""Kill the wizard in the middle of editing, again and again. A program of its own, so that it forks without threads.

    python -m tests.wizard.killed FOLDER typing|saving|careless KILLS

Every child edits a plan of its own and reports each letter, or each save, the moment it is there; it is killed with -9
at a random moment; then its plan must open, and hold what is promised. Prints one line of what was found.
"""

import asyncio
import os
import random
import select
import signal
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from engine.disk import Disk
from engine.plan import Plan, with_text
from engine.planfile import PlanFileError, content_of, load_plan, save_plan
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.history import History
from wizard.keeping.keeper import open_kept
from wizard.stages.review import HeadInput

LETTERS = "abcdefghijklmnopqrstuvwxyz" * 40
PATIENCE = 1.0
"""Seconds of typing that may be lost."""


@dataclass
class Child:
    """A process that edits. reports: (when it came, how much there was then)."""

    process: int
    pipe: int
    path: Path
    reports: list[tuple[float, int]]
    dies_at: float = 0.0


def typing(path: Path, report: Callable[[int], None]) -> None:
    """Type letters into the name of the plan, as the owner does, some twenty in a second."""

    async def edit() -> None:
        app = ShaftlogApp(path, path.parent, assess=fake_assessment)
        async with app.run_test(size=(80, 24)) as pilot:
            while not app.screen.query(HeadInput):
                await asyncio.sleep(0.01)
            app.screen.set_focus(app.screen.query(HeadInput).first())
            await pilot.pause()
            for count, letter in enumerate(LETTERS, 1):
                await pilot.press(letter)
                report(count)
                await asyncio.sleep(0.04)

    asyncio.run(edit())


def saving(path: Path, report: Callable[[int], None]) -> None:
    """Save one plan after the other, as quickly as can be."""
    keeper = open_kept(path, path.parent, Disk()).keeper
    for count in range(1, len(LETTERS)):
        plan = with_text(Plan(name=LETTERS[:count], stage="review"), "range.tank", f"{count} L")
        if keeper.save(plan, History()).is_done:
            report(count)


def careless(path: Path, report: Callable[[int], None]) -> None:
    """Save as no program should: straight into the file."""
    for count in range(1, len(LETTERS)):
        path.write_bytes(content_of(Plan(name=LETTERS[:count], stage="review")))
        report(count)


def fork(path: Path, edit: Callable[[Path, Callable[[int], None]], None]) -> Child:
    save_plan(Plan(name="", stage="review"), path)
    ours, theirs = os.pipe()
    process = os.fork()
    if process:
        os.close(theirs)
        return Child(process, ours, path, [])
    try:
        os.close(ours)
        edit(path, lambda count: os.write(theirs, count.to_bytes(4, "big")) and None)
    finally:
        os._exit(1)  # whoever is not killed has made a mistake


def is_due(child: Child, dice: random.Random, longest: float) -> bool:
    """Take in what a child reports, set the hour of its death at the first report, and say whether it has come."""
    while select.select([child.pipe], [], [], 0)[0]:
        told = os.read(child.pipe, 4)
        if not told:
            raise SystemExit("a child ended before it was killed")
        child.reports.append((time.monotonic(), int.from_bytes(told, "big")))
        child.dies_at = child.dies_at or time.monotonic() + dice.uniform(0.0, longest)
    return 0.0 < child.dies_at <= time.monotonic()


def loss(child: Child, killed: float, patience: float) -> tuple[bool, float]:
    """Whether the plan can be read, and the seconds of work that are not in it beyond what may be lost."""
    try:
        plan = load_plan(child.path)
    except PlanFileError:
        return False, 0.0
    assert LETTERS.startswith(plan.name), "what is there was typed"
    missing = [when for when, count in child.reports if count > len(plan.name)]
    return True, max(killed - missing[0] - patience, 0.0) if missing else 0.0


def main(folder: Path, kind: str, kills: int) -> None:
    """Kill so many children, three at a time, and say what was lost."""
    edit = {"typing": typing, "saving": saving, "careless": careless}[kind]
    longest, patience = (1.6, PATIENCE) if kind == "typing" else (0.05, 0.0)
    dice = random.Random(kills)
    unreadable = worst = late = 0.0
    alive: list[Child] = []
    begun = done = 0
    while done < kills:
        while len(alive) < min(3, kills - done):
            alive.append(fork(folder / f"plan-{begun}.toml", edit))
            begun += 1
        for child in list(alive):
            if not is_due(child, dice, longest):
                continue
            killed = time.monotonic()
            os.kill(child.process, signal.SIGKILL)
            os.waitpid(child.process, 0)
            os.close(child.pipe)
            is_readable, lost = loss(child, killed, patience)
            unreadable += not is_readable
            late += lost > 0.0
            worst = max(worst, lost)
            if is_readable:
                opened = open_kept(child.path, folder, Disk())
                if opened.keeper.held_by or list(folder.glob(f".{child.path.name}*.part")):
                    raise SystemExit("a dead window keeps the plan, or has left litter")
                opened.keeper.close()
            alive.remove(child)
            done += 1
        time.sleep(0.002)
    print(f"{done} kills, {unreadable:.0f} unreadable, {late:.0f} lost too much, at worst {worst:.2f} s too much")


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2], int(sys.argv[3]))

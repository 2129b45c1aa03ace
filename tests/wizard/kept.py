"""A plan whose file is kept by a Keeper, and a clock for it."""

from datetime import datetime
from pathlib import Path

from engine.disk import Disk
from engine.plan import Plan, text_at, with_text
from engine.planfile import load_plan
from wizard.keeping.keeper import Opened, open_kept

NOON = datetime(2026, 5, 12, 12, 0, 0)


class Clock:
    """A clock that a test sets."""

    def __init__(self) -> None:
        self.time = NOON

    def __call__(self) -> datetime:
        return self.time


def with_tank(plan: Plan, text: str) -> Plan:
    return with_text(plan, "range.tank", text)


def tank_in(path: Path) -> str:
    return text_at(load_plan(path), "range.tank")


def opened_at(path: Path, disk: Disk | None = None, spare: Path | None = None, now: Clock | None = None) -> Opened:
    return open_kept(path, spare or path.parent, disk or Disk(), now or Clock())

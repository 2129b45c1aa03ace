"""Forms that type into themselves, as a terminal would, and write down when what was painted.

python -m tests.bench.watched_forms wizard|bare KEYS ROUNDS TO [PLAN]

KEYS is the number of the terminal's own side; TO the file that gets the times, as JSON.
"""

import asyncio
import json
import os
import sys
import time
from collections.abc import Callable
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any, ClassVar

import wizard
from engine.plan import PAGES
from tests.bench.bare_form import BareForm
from wizard.app import ShaftlogApp
from wizard.driver import TerminalDriver
from wizard.litter import let_lie
from wizard.recalculation import give_way
from wizard.screens.planning import PlanningScreen
from wizard.stages.page import StagePage
from wizard.widgets.field import FieldInput
from wizard.widgets.view import StageView

FIELDS = {
    "hull": ("hull.displacement", "14800.0 lb"),
    "speed": ("speed.cruise", "6.30 kn"),
    "power": ("power.sea_margin", "20.0 %"),
    "engine": ("engine.candidate.0.rated_power", "27.0 hp"),
    "gear": ("gear.ratio", "2.60:1"),
    "propeller": ("propeller.room", "24.0 in"),
    "shaft": ("shaft.span", "47.0 in"),
    "range": ("range.tank", "42.0 US gal"),
    "fit": ("fit.room_length", "60.0 in"),
    "costs": ("costs.hours_per_year", "120.0 h"),
}
"""Page -> a field of it, and a text with a point behind which a 5 can come and go without harm."""
PATIENCE = 20.0
TICK = 0.002
BURST, BURST_PAUSE = 30, 0.08
"""Keys typed without waiting for answers, and the seconds between them: quick typing."""


@dataclass
class Times:
    """What came out, in seconds. to_letter: key to its letter.   to_answers: to the answers of its page.
    to_all: until everything is worked out.   frozen_typing, frozen_turning: the longest times without a turn of the
    loop, while typing, and while going from page to page."""

    to_letter: list[float] = field(default_factory=list)
    to_answers: dict[str, list[float]] = field(default_factory=dict)
    to_all: list[float] = field(default_factory=list)
    frozen_typing: list[float] = field(default_factory=list)
    frozen_turning: list[float] = field(default_factory=list)


class Ticker:
    """Looks how long the loop is kept from turning."""

    def __init__(self) -> None:
        self.longest = 0.0

    async def run(self) -> None:
        while True:
            due = time.monotonic() + TICK
            await asyncio.sleep(TICK)
            self.longest = max(self.longest, time.monotonic() - due)

    def taken(self) -> float:
        """The longest since the last time it was asked."""
        longest, self.longest = self.longest, 0.0
        return longest


async def until(condition: Callable[[], bool]) -> None:
    deadline = time.monotonic() + PATIENCE
    while not condition():
        if time.monotonic() > deadline:
            raise TimeoutError
        await asyncio.sleep(0.004)


class WatchedBare(BareForm):
    """Types letters, and notes when the next frame is painted."""

    def __init__(self, keys: int, rounds: int) -> None:
        super().__init__(driver_class=TerminalDriver)
        self._keys, self._rounds = keys, rounds
        self._painted = 0.0
        self.times = Times()

    def _display(self, screen: Any, renderable: Any) -> None:
        super()._display(screen, renderable)
        self._painted = time.monotonic()

    def on_mount(self) -> None:
        self.run_worker(self._type())

    async def _type(self) -> None:
        await asyncio.sleep(0.5)
        for _ in range(self._rounds * len(FIELDS)):
            began = time.monotonic()
            os.write(self._keys, b"5")
            await until(lambda began=began: self._painted > began)
            self.times.to_letter.append(self._painted - began)
            await asyncio.sleep(0.05)
        self.exit()


@dataclass(frozen=True)
class Frame:
    """A painted frame: when, of which state of the plan, and whether its page is up to date in it."""

    at: float
    sequence: int
    is_fresh: bool


class WatchedWizard(ShaftlogApp):
    """Types into one field after another of the real wizard."""

    CSS_PATH: ClassVar[Any] = [Path(wizard.__file__).parent / str(name) for name in ShaftlogApp.CSS_PATH or ()]

    def __init__(self, path: Path, keys: int, rounds: int) -> None:
        super().__init__(path, path.parent, driver_class=TerminalDriver, has_process=True)
        self._keys, self._rounds = keys, rounds
        self._frames: list[Frame] = []
        self._ticker = Ticker()
        self.times = Times()

    def _display(self, screen: Any, renderable: Any) -> None:
        super()._display(screen, renderable)
        self._frames.append(Frame(time.monotonic(), self._recalculation.sequence, self._is_fresh()))

    def _is_fresh(self) -> bool:
        if not self._plan_screens() or not self.is_current(page := self._planning.page):
            return False
        return self.screen.query_one(StageView).outcome is self.outcome_of(page)

    def on_mount(self) -> None:
        self.run_worker(self._ticker.run())
        self.run_worker(self._type())

    @property
    def _planning(self) -> PlanningScreen:
        return next(screen for screen in self.screen_stack if isinstance(screen, PlanningScreen))

    def _is_done(self) -> bool:
        return self.assessment is not None and not self.is_updating

    async def _type(self) -> None:
        await until(self._is_done)
        for page in (*PAGES, *FIELDS):  # twice: mounting, and coming back
            self._ticker.taken()
            await self._planning.go_to(page)
            await asyncio.sleep(0.2)
            self.times.frozen_turning.append(self._ticker.taken())
        for page, (path, text) in FIELDS.items():
            await self._prepare(page, path, text)
            for turn in range(self._rounds):
                await self._press(page, b"\x7f" if turn % 2 else b"5")
            self._ticker.taken()
            for turn in range(BURST):
                os.write(self._keys, b"\x7f" if turn % 2 else b"5")
                await asyncio.sleep(BURST_PAUSE)
            await until(self._is_done)
            self.times.frozen_typing.append(self._ticker.taken())
        self.exit(0)

    async def _prepare(self, page: str, path: str, text: str) -> None:
        await self._planning.go_to(page, path)
        await asyncio.sleep(0.1)
        form, line = self._planning.current, self.focused
        assert isinstance(form, StagePage)
        assert isinstance(line, FieldInput)
        assert line.path == path, f"{path} has no focus, but {line.path}"
        before = self._recalculation.sequence
        line.value = text
        line.cursor_position = text.index(".") + 1
        await asyncio.sleep(0.1)
        await until(lambda: self._is_done() and self._recalculation.sequence >= before)
        assert path not in self.plan.unread, f"{path} does not understand {text}"

    async def _press(self, page: str, key: bytes) -> None:
        await asyncio.sleep(0.25)
        self._frames.clear()
        self._ticker.taken()
        before, began = self._recalculation.sequence, time.monotonic()
        os.write(self._keys, key)
        await until(lambda: self._recalculation.sequence > before and self._is_fresh())
        shown = time.monotonic()
        await until(self._is_done)
        self.times.to_all.append(time.monotonic() - began)
        await asyncio.sleep(0.1)
        painted = [f.at for f in self._frames if f.sequence > before and f.is_fresh]
        self.times.to_letter.append(self._frames[0].at - began)
        # nothing is painted when the answers look as before
        self.times.to_answers.setdefault(page, []).append((painted[0] if painted else shown) - began)
        self.times.frozen_typing.append(self._ticker.taken())


def main(kind: str, keys: int, rounds: int, to: Path, *plan: str) -> None:
    let_lie()
    give_way()
    app = WatchedWizard(Path(plan[0]), keys, rounds) if kind == "wizard" else WatchedBare(keys, rounds)
    app.run(mouse=False)
    if app.return_code:
        raise SystemExit(app.return_code)
    to.write_text(json.dumps(asdict(app.times)), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), int(sys.argv[3]), Path(sys.argv[4]), *sys.argv[5:])

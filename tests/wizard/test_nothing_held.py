"""What has been closed is held by nothing: neither its screens, nor what they drew, nor their results."""

import gc
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from types import SimpleNamespace

import pytest
from textual._styles_cache import StylesCache
from textual.pilot import Pilot
from textual.widget import Widget

from engine.assessment import Assessment
from tests.wizard.driving import is_open, planning, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.litter import Broom
from wizard.screens.plans import PlansScreen

OVER = ("f1", "f2", "f6", "f11", "ctrl+a", "ctrl+d", "ctrl+v", "f8")
"""Keys that lay a screen over the page."""


@pytest.fixture(autouse=True)
def only_what_is_new() -> Iterator[None]:
    """What the tests before have left is passed over here: to go through all of it takes seconds each time."""
    gc.collect()
    gc.freeze()
    yield
    gc.unfreeze()


@pytest.fixture
def swept(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """How many widgets that are gone each sweep has left; Python's own rules stay as they are in this process."""
    left: list[int] = []

    def collect() -> None:
        gc.collect()
        left.append(sum(isinstance(one, Widget) and not one.is_attached for one in gc.get_objects()))

    no_rules = dict.fromkeys(("freeze", "unfreeze", "enable", "set_threshold"), lambda *_: None)
    monkeypatch.setattr("wizard.litter.gc", SimpleNamespace(collect=collect, **no_rules))
    return left


class Living:
    """Objects of some types that there are now and were not there when this began."""

    def __init__(self, *types: type) -> None:
        self._types = types
        self._before = self._all()

    def _all(self) -> list[object]:
        gc.collect()
        return [found for found in gc.get_objects() if isinstance(found, self._types)]

    def new(self) -> list[object]:
        """Those that are new, in no order."""
        before = set(map(id, self._before))
        return [found for found in self._all() if id(found) not in before]


def counted(found: Iterable[object], kind: type) -> int:
    return sum(isinstance(one, kind) for one in found)


async def open_and_close(app: ShaftlogApp, pilot: Pilot[int], keys: Iterable[str]) -> None:
    """Open the plan from the list, go through some of it, and close it."""
    await until(is_open(app, "range"), pilot)
    await until(lambda: app.assessment is not None and not app.is_updating, pilot)
    for page in ("power", "review", "range"):
        await planning(app).go_to(page)
        await pilot.pause()
    for key in keys:
        await pilot.press(key)
        await until(lambda: app.screen is not planning(app), pilot)
        await pilot.press("escape")
        await until(lambda: app.screen is planning(app), pilot)
    await pilot.press("f9")
    await until(lambda: isinstance(app.screen, PlansScreen), pilot)


async def test_a_closed_plan_leaves_no_widget_behind_and_nothing_that_was_drawn(range_path: Path) -> None:
    living = Living(Widget, StylesCache, Assessment)
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        for keys in (OVER, ()):
            await open_and_close(app, pilot, keys)
            await pilot.pause()
            found = living.new()
            gone = {type(one).__name__ for one in found if isinstance(one, Widget) and not one.is_attached}
            assert gone == set()
            assert counted(found, StylesCache) == counted(found, Widget) > 0
            assert counted(found, Assessment) <= 1
            await pilot.press("enter")
        await until(is_open(app, "range"), pilot)


async def test_what_a_dialog_drew_is_let_go_when_it_closes(range_path: Path) -> None:
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "range"), pilot)
        living = Living(Widget, StylesCache)
        for _ in range(2):
            await pilot.press("f1")
            await until(lambda: app.screen is not planning(app), pilot)
            assert living.new()
            await pilot.press("escape")
            await until(lambda: app.screen is planning(app), pilot)
        assert living.new() == []


async def test_a_closed_plan_is_swept_up_wholly_and_once(
    range_path: Path, swept: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("wizard.litter.QUIET", 0.01)
    gc.collect()
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment, has_process=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await open_and_close(app, pilot, ())
        await until(lambda: swept, pilot)
        await pilot.press("down", "enter")
        await pilot.pause()
    assert swept == [0]


async def test_every_key_puts_the_sweep_off(
    range_path: Path, swept: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("wizard.litter.QUIET", 3600.0)
    timers: list[object] = []
    monkeypatch.setattr(Broom, "put_off", lambda broom: timers.append(broom._timer))
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment, has_process=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await open_and_close(app, pilot, ())
        await until(lambda: app._broom._timer is not None, pilot)
        for key in ("down", "up", "x"):
            timers.clear()
            await pilot.press(key)
            assert app._broom._timer in timers, key
    assert swept == []


def test_the_broom_waits_anew_after_a_key_and_leaves_the_litter_of_one_plan_at_most(swept: list[int]) -> None:
    timers: list[SimpleNamespace] = []
    told: list[str] = []

    def set_timer(_seconds: float, does: Callable[[], None]) -> SimpleNamespace:
        timers.append(SimpleNamespace(does=does, reset=lambda: told.append("reset"), stop=lambda: told.append("stop")))
        return timers[-1]

    broom = Broom(SimpleNamespace(set_timer=set_timer))
    broom.put_off()
    assert (len(timers), told) == (0, [])
    broom.wanted()
    broom.put_off()
    assert (len(timers), told, len(swept)) == (1, ["reset"], 0)
    timers[0].does()
    broom.put_off()
    assert (told, len(swept)) == (["reset"], 1)
    broom.wanted()
    broom.wanted()
    assert (len(timers), told, len(swept)) == (2, ["reset", "stop"], 2)
    broom.wanted()
    assert len(timers) == 3

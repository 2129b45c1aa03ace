"""What has been closed is held by nothing: neither its screens, nor what they drew, nor their results."""

import gc
from collections.abc import Iterable
from pathlib import Path

from textual._styles_cache import StylesCache
from textual.pilot import Pilot
from textual.widget import Widget

from engine.assessment import Assessment
from tests.wizard.driving import is_open, planning, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.screens.plans import PlansScreen

OVER = ("f1", "f2", "f6", "f11", "ctrl+a", "ctrl+d", "ctrl+v", "f8")
"""Keys that lay a screen over the page."""


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

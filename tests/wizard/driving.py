"""Small helpers to drive the app: wait for something, type text, find the open page."""

import asyncio
import time
from collections.abc import Callable
from typing import Any

from textual.pilot import Pilot
from textual.widgets import Static

from wizard.app import ShaftlogApp
from wizard.screens.planning import PlanningScreen
from wizard.stages.page import StagePage
from wizard.widgets.field import FieldInput, FieldLine

_NAMES = {" ": "space", "\n": "enter"}


async def until(condition: Callable[[], object], pilot: Pilot[Any], seconds: float = 30.0) -> None:
    """Let the app run until a condition holds; fail when it does not come true in time."""
    deadline = time.monotonic() + seconds
    while not condition():
        assert time.monotonic() < deadline, "what the test waits for did not happen"
        await asyncio.sleep(0.01)
    await pilot.pause()


async def type_text(pilot: Pilot[Any], text: str) -> None:
    """Type text key by key."""
    await pilot.press(*[_NAMES.get(sign, sign) for sign in text])


def planning(app: ShaftlogApp) -> PlanningScreen:
    """The screen of the open plan."""
    return next(screen for screen in app.screen_stack if isinstance(screen, PlanningScreen))


def is_open(app: ShaftlogApp, page: str) -> Callable[[], bool]:
    """A condition: this page is open and something on it has the focus."""

    def condition() -> bool:
        screens = [screen for screen in app.screen_stack if isinstance(screen, PlanningScreen)]
        if not screens or screens[0].page != page or not screens[0].query(f"#page-{page}"):
            return False
        return screens[0].focused is not None

    return condition


def line(app: ShaftlogApp, path: str) -> FieldLine:
    """The line of one field on the open page."""
    return next(found for found in planning(app).query(FieldLine) if found.path == path)


def field(app: ShaftlogApp, path: str) -> FieldInput:
    """The text field at a path on the open page."""
    return line(app, path).query_one(FieldInput)


def focus(app: ShaftlogApp, path: str) -> None:
    """Put the focus on a field of the open page."""
    page = planning(app).current
    assert isinstance(page, StagePage)
    assert page.focus_path(path), f"there is no {path} on the {page.stage} page"


def words(app: ShaftlogApp, selector: str) -> str:
    """The text of a Static or of a long text on the open screen, all of it."""
    part = app.screen.query_one(selector)
    return str(part.content if isinstance(part, Static) else part.render())


def screen_text(app: ShaftlogApp) -> str:
    """Everything that is on the screen, as text."""
    strips = app.screen._compositor.render_strips()
    return "\n".join("".join(segment.text for segment in strip) for strip in strips)

"""Pictures of every page and screen as text, at both sizes, with made-up answers; and all of it can be read.

A change that is meant is taken over with SHAFTLOG_PICTURES=new; look at the difference before it is committed.
"""

import os
from pathlib import Path

import pytest
from textual.pilot import Pilot

from engine.plan import PAGES
from tests.wizard.contrast import hard_to_read
from tests.wizard.driving import focus, is_open, planning, screen_text, until
from tests.wizard.fakes import fake_assessment, made_up_market
from wizard.app import ShaftlogApp
from wizard.screens.plans import PlansScreen

PICTURES = Path(__file__).parent / "pictures"
SIZES = [(80, 24), (120, 40)]
THEMES = {(80, 24): "day", (120, 40): "night"}
OVER = {
    "help": ("hull", "hull.displacement", "f1"),
    "pages": ("hull", "hull.displacement", "f2"),
    "plot": ("power", "power.method", "f6"),
    "workings": ("power", "power.method", "f11"),
    "unsure": ("hull", "hull.displacement", "ctrl+a"),
    "market": ("propeller", "propeller.room", "f12"),
    "glossary": ("hull", "hull.kind", "ctrl+v"),
    "compare": ("hull", "hull.kind", "ctrl+d"),
    "sheet": ("hull", "hull.kind", "f8"),
}
"""Screen over a page -> the page, the field with the focus, and the key that opens it."""


def compared(name: str, size: tuple[int, int], shown: str) -> list[str]:
    """The name of the picture when what is shown differs from it; a new one is written where it is asked for."""
    path = PICTURES / f"{name}-{size[0]}x{size[1]}.txt"
    text = "\n".join(line.rstrip() for line in shown.splitlines()) + "\n"
    if os.environ.get("SHAFTLOG_PICTURES") == "new":
        path.write_text(text, encoding="utf-8")
    if path.is_file() and path.read_text(encoding="utf-8") == text:
        return []
    return [f"{path.name} shows now:\n{text}"]


async def settled(app: ShaftlogApp, pilot: Pilot[int]) -> str:
    """The screen once it has stopped changing."""
    before = ""
    for _ in range(40):
        await pilot.pause(0.05)
        shown = screen_text(app)
        if shown == before:
            return shown
        before = shown
    raise AssertionError("the screen does not come to rest")


@pytest.mark.parametrize("size", SIZES)
async def test_every_page_looks_as_it_did(size: tuple[int, int], plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment, theme=THEMES[size])
    differing: list[str] = []
    async with app.run_test(size=size) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment and not app.is_updating, pilot)
        for page in PAGES:
            await planning(app).go_to(page)
            differing += compared(page, size, await settled(app, pilot)) + hard_to_read(app)
    assert not differing, "\n".join(differing)


@pytest.mark.parametrize("size", SIZES)
async def test_every_screen_over_a_page_looks_as_it_did(
    size: tuple[int, int], plan_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("wizard.screens.market.SETTLES", 0.0)
    monkeypatch.setattr("wizard.screens.sheet.proposed", lambda *_: Path("plans/teasel-plan.txt"))
    search = made_up_market()
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment, search=lambda *_: search, theme=THEMES[size])
    differing: list[str] = []
    async with app.run_test(size=size) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment and not app.is_updating, pilot)
        for name, (page, path, key) in OVER.items():
            await planning(app).go_to(page)
            focus(app, path)
            await pilot.press(key)
            await until(lambda: app.screen is not planning(app), pilot)
            differing += compared(name, size, await settled(app, pilot)) + hard_to_read(app)
            await pilot.press("escape")
            await until(lambda: app.screen is planning(app), pilot)
    assert not differing, "\n".join(differing)


@pytest.mark.parametrize("size", SIZES)
async def test_the_list_of_plans_looks_as_it_did(
    size: tuple[int, int], plan_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    os.utime(plan_path, (1e9, 1e9))
    monkeypatch.setattr(PlansScreen, "folder_line", lambda _: "Enter opens. Plans are kept in ...")
    app = ShaftlogApp(None, plan_path.parent, assess=fake_assessment, theme=THEMES[size])
    async with app.run_test(size=size) as pilot:
        await until(lambda: "Teasel" in screen_text(app), pilot)
        differing = compared("plans", size, await settled(app, pilot)) + hard_to_read(app)
        await pilot.press("f2")
        await until(lambda: "A new plan" in screen_text(app), pilot)
        differing += compared("new-plan", size, await settled(app, pilot)) + hard_to_read(app)
    assert not differing, "\n".join(differing)


def test_no_picture_is_left_over() -> None:
    names = {*PAGES, *OVER, "plans", "new-plan"}
    expected = {f"{name}-{width}x{height}.txt" for name in names for width, height in SIZES}
    assert {path.name for path in PICTURES.iterdir()} == expected

"""The rail: every page and how it stands, in every window that the wizard works in."""

from pathlib import Path

import pytest

from engine.plan import PAGES, with_text
from engine.planfile import load_plan, save_plan
from tests.wizard.driving import is_open, planning, screen_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.states import states_of


async def test_every_page_is_on_the_rail_with_its_mark_under_it(range_path: Path) -> None:
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=(60, 24)) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment, pilot)
        for width in (60, 61, 62, 63, 72, 80, 110):
            await pilot.resize_terminal(width, 24)
            await until(lambda width=width: app.screen.size.width == width, pilot)
            over, under = screen_text(app).splitlines()[:2]
            names = over.split()
            assert len(names) == len(PAGES)
            assert all(page.startswith(name) for page, name in zip(PAGES, names, strict=True))
            for page, name in zip(PAGES, names, strict=True):
                state = states_of(planning(app).plan, app.assessment)[page]
                place = f" {over} ".index(f" {name} ")
                assert under[place:].startswith(state.mark), f"{page} at {width}"


@pytest.mark.parametrize(("width", "is_whole"), [(100, True), (62, False)])
async def test_marks_have_words_beside_them_where_there_is_room(range_path: Path, width: int, is_whole: bool) -> None:
    plan = with_text(load_plan(range_path), "hull.hull_draft", "2 ft 6 in")
    save_plan(with_text(plan, "hull.propeller_place", "in an aperture behind a full keel"), range_path)
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=(width, 24)) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment, pilot)
        await pilot.pause()
        over, under = screen_text(app).splitlines()[:2]
        assert ("? look" in under) is ("- todo" in under) is is_whole
        assert ("propeller" in over) is is_whole

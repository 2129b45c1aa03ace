"""A page is put up when it is first wanted: what shows at first, and what may come between."""

import asyncio
from pathlib import Path

from tests.wizard.driving import is_open, planning, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.stages.page import StagePage
from wizard.widgets.view import StageView


async def test_a_page_closed_while_it_is_put_up_does_no_harm(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment, pilot)
        for turns in range(0, 12, 2):
            page = StagePage(app.plan, "engine")
            await app.screen.mount(page)
            putting_up = asyncio.create_task(page.put_up())
            for _ in range(turns):
                await asyncio.sleep(0)
            await page.remove()
            await putting_up
            assert not page.is_all_there, f"closed after {turns} turns of the loop"


async def test_a_long_page_is_shown_before_the_rest_of_it_and_its_answers_are_there(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment and not app.is_updating, pilot)
        screen = planning(app)
        view = screen.query_one(StageView)
        await screen.go_to("range")
        page = screen.query_one("#page-range", StagePage)
        assert page.display
        assert screen.focused is not None
        assert screen.focused in page.controls()
        assert not page.is_all_there
        assert view.outcome is app.outcome_of("hull")
        await until(lambda: page.is_all_there and view.outcome is app.outcome_of("range"), pilot)


async def test_a_page_asked_for_again_before_it_is_there_is_made_once(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment, pilot)
        screen = planning(app)
        await asyncio.gather(*(screen.go_to(page) for page in ("engine", "engine", "review", "review", "engine")))
        assert len(screen.query("#page-engine")) == len(screen.query("#page-review")) == 1
        assert is_open(app, "engine")()

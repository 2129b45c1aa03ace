"""The stock wheels searched anew, as when the plan goes over to another version: where the highlight stands then."""

from pathlib import Path
from typing import Any

import pytest

from engine.assessment import Assessment
from engine.findings import Outcome
from engine.plan import with_text
from engine.stages.market import WheelRow
from tests.wizard.driving import screen_text, until
from tests.wizard.fakes import made_up_market, made_up_wheel
from tests.wizard.test_market import open_on, opened, shows_keys
from wizard.app import ShaftlogApp
from wizard.screens.glossary import GlossaryScreen
from wizard.screens.market import KEYS_FOUND, SETTLES, MarketScreen
from wizard.searching import Told

BEST, OTHER, THIRD = (made_up_wheel(f"{inches} x 13 in, 3 blades") for inches in (19, 18, 17))


class Searches:
    """Finds other wheels in the first search than in those after it."""

    def __init__(self, first: tuple[WheelRow, ...], then: tuple[WheelRow, ...]) -> None:
        self._first, self._then = first, then
        self.done = 0

    def __call__(self, assessment: Assessment, told: Told) -> Outcome[Any]:
        del assessment, told
        self.done += 1
        return made_up_market(*(self._first if self.done == 1 else self._then))


def highlighted(app: ShaftlogApp) -> WheelRow | None:
    assert isinstance(app.screen, MarketScreen)
    return app.screen._highlighted_row


@pytest.mark.parametrize(
    ("steps", "then", "wanted"),
    [
        (1, (THIRD, BEST, OTHER), OTHER),
        (1, (THIRD, BEST), THIRD),
        (0, (THIRD, BEST, OTHER), THIRD),
    ],
    ids=["stays on the wheel", "the wheel is gone", "the best is another one"],
)
async def test_the_highlight_stays_on_the_wheel_that_was_gone_to_else_on_the_best(
    plan_path: Path, steps: int, then: tuple[WheelRow, ...], wanted: WheelRow
) -> None:
    search = Searches((BEST, OTHER), then)
    app = open_on("gear", plan_path, search)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, "gear", pilot)
        await until(lambda: shows_keys(app, KEYS_FOUND), pilot)
        await pilot.press(*["down"] * steps)
        app.change(with_text(app.plan, "hull.displacement", "8 t"))
        await until(lambda: search.done == 2 and shows_keys(app, KEYS_FOUND), pilot)
        assert highlighted(app) is wanted
        await pilot.resize_terminal(60, 18)
        await pilot.pause()
        assert highlighted(app) is wanted


async def test_a_wheel_found_for_the_plan_as_it_was_is_not_taken_into_another(plan_path: Path) -> None:
    """The list is only taken away when the other plan has been worked out."""
    app = open_on("gear", plan_path, Searches((BEST, OTHER), (THIRD,)))
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, "gear", pilot)
        await until(lambda: shows_keys(app, KEYS_FOUND), pilot)
        await pilot.press("down")
        await pilot.pause(2 * SETTLES)
        plan = with_text(app.plan, "hull.displacement", "8 t")
        app.change(plan)
        await pilot.press("enter")
        await until(lambda: not app.is_updating, pilot)
        assert isinstance(app.screen, MarketScreen)
        assert app.plan == plan


@pytest.mark.parametrize("size", [(60, 18), (80, 24)])
async def test_the_words_of_the_list_can_be_looked_up_over_it(plan_path: Path, size: tuple[int, int]) -> None:
    """Regret and light running were told in no place that could be reached from here."""
    app = open_on("gear", plan_path, Searches((BEST, OTHER), (THIRD,)))
    async with app.run_test(size=size) as pilot:
        await opened(app, "gear", pilot)
        await until(lambda: shows_keys(app, KEYS_FOUND), pilot)
        assert ("ctrl+v words" in screen_text(app).splitlines()[-1]) is (size[0] == 80)
        market, before = app.screen, highlighted(app)
        await pilot.press("down", "ctrl+v")
        await until(lambda: isinstance(app.screen, GlossaryScreen), pilot)
        await pilot.press("escape")
        await until(lambda: app.screen is market, pilot)
        assert highlighted(app) is OTHER is not before

"""Results come page by page while the rest is worked out; what is overtaken is given up between two pages."""

import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import engine.assessment
from engine.assessment import Assessment
from engine.findings import Outcome
from engine.plan import STAGES, Plan
from tests.wizard.driving import field, is_open, planning, screen_text, until
from tests.wizard.fakes import fake_assessment
from wizard import recalculation
from wizard.app import ShaftlogApp
from wizard.widgets.view import StageView


class StepByStep:
    """In the engine's place: tells one stage each time it may, or all at once."""

    def __init__(self) -> None:
        self.is_slow = False
        self.may_go_on = threading.Semaphore(0)
        self.plans: list[Plan] = []
        self.told: list[str] = []
        self.given_up = 0
        self.when: Callable[[str], None] = lambda _stage: None

    def __call__(
        self, plan: Plan, earlier: Assessment | None, told: Callable[[str, Outcome[Any]], None] | None
    ) -> Assessment:
        del earlier
        self.plans.append(plan)
        found = fake_assessment(plan)
        for stage in STAGES:
            if self.is_slow:
                assert self.may_go_on.acquire(timeout=10)
            self.told.append(stage)
            self.when(stage)
            if told is not None:
                try:
                    told(stage, found.outcomes[stage])
                except BaseException:
                    self.given_up += 1
                    raise
        return found


@pytest.fixture
def steps(monkeypatch: pytest.MonkeyPatch) -> StepByStep:
    """The engine, step by step."""
    stand_in = StepByStep()
    monkeypatch.setattr(engine.assessment, "assess", stand_in)
    return stand_in


async def test_a_page_shows_its_results_before_the_later_ones_are_there(range_path: Path, steps: StepByStep) -> None:
    app = ShaftlogApp(range_path, range_path.parent)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment and not app.is_updating, pilot)
        view, before = planning(app).query_one(StageView), app.assessment
        steps.is_slow, steps.told = True, []
        field(app, "range.tank").value = "100 L"
        await until(lambda: view.has_class("-stale"), pilot)
        steps.may_go_on.release(STAGES.index("range"))
        await until(lambda: steps.told == list(STAGES[: STAGES.index("range")]), pilot)
        assert "updating" in screen_text(app), "its own stage has not been told"
        steps.may_go_on.release()
        await until(lambda: not view.has_class("-stale"), pilot)
        assert "updating" not in screen_text(app)
        assert app.is_updating
        assert app.assessment is before, "what sheets are made of is complete"
        await planning(app).go_to("fit")
        await until(lambda: view.has_class("-stale"), pilot)
        await planning(app).go_to("hull")
        await until(lambda: not view.has_class("-stale"), pilot)
        steps.may_go_on.release(len(STAGES))
        await until(lambda: not app.is_updating, pilot)
        assert app.assessment is not None
        assert app.assessment.plan.range == app.plan.range


async def test_a_calculation_that_is_overtaken_is_given_up_at_the_next_page(
    range_path: Path, steps: StepByStep
) -> None:
    app = ShaftlogApp(range_path, range_path.parent)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment and not app.is_updating, pilot)
        steps.is_slow, steps.plans = True, []
        field(app, "range.tank").value = "100 L"
        await until(lambda: steps.plans, pilot)
        steps.may_go_on.release()
        await until(lambda: app.is_current("hull"), pilot)
        field(app, "range.tank").value = "200 L"
        await until(lambda: not app.is_current("hull"), pilot)
        steps.may_go_on.release()
        await until(lambda: len(steps.plans) == 2, pilot)
        assert steps.given_up == 1
        assert not app.is_current("hull"), "what the first plan came to is not shown for the second"
        steps.may_go_on.release(len(STAGES))
        await until(lambda: not app.is_updating, pilot)
        assert app.assessment is not None
        assert app.assessment.plan is steps.plans[-1]
        assert app.plan.range.tank[0].si == pytest.approx(0.2)


async def test_the_rest_is_worked_out_once_the_page_at_hand_is_painted(
    range_path: Path, steps: StepByStep, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(recalculation, "_PAINTING", 20.0)
    app = ShaftlogApp(range_path, range_path.parent)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment and not app.is_updating, pilot)
        view, after = planning(app).query_one(StageView), STAGES[STAGES.index("range") + 1]
        shown: list[Outcome[Any] | None] = []
        steps.when = lambda stage: shown.append(view.outcome) if stage == after else None
        field(app, "range.tank").value = "100 L"
        await until(lambda: shown and not app.is_updating, pilot)
        assert app.assessment is not None
        assert shown == [app.assessment.outcomes["range"]]
        await planning(app).go_to("review")  # and nobody waits for a page that is not painted
        app.work_out()
        await until(lambda: len(shown) == 2 and not app.is_updating, pilot)

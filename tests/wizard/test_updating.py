"""The thread behind the pages: typing goes on, one calculation at a time, and nothing old replaces what is newer."""

import threading
from pathlib import Path

from engine.assessment import Assessment
from engine.plan import Plan
from tests.wizard.driving import field, focus, is_open, planning, screen_text, type_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.widgets.view import StageView


class SlowEngine:
    """Holds each calculation until it is let go; knows how many ran at once, and which plans they were given."""

    def __init__(self) -> None:
        self.is_slow = False
        self.may_finish = threading.Semaphore(0)
        self.plans: list[Plan] = []
        self.running = 0
        self.most_at_once = 0
        self.was_waited_for = False

    def __call__(self, plan: Plan) -> Assessment:
        self.plans.append(plan)
        self.running += 1
        self.most_at_once = max(self.most_at_once, self.running)
        if self.is_slow:
            self.was_waited_for = not self.may_finish.acquire(timeout=10)
            assert not self.was_waited_for
        self.running -= 1
        return fake_assessment(plan)


async def test_the_newest_plan_waits_for_the_thread_and_those_between_are_skipped(range_path: Path) -> None:
    engine = SlowEngine()
    app = ShaftlogApp(range_path, range_path.parent, assess=engine)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment and not app.is_updating, pilot)
        engine.is_slow = True
        before = len(engine.plans)
        tank = field(app, "range.tank")
        for i, text in enumerate(("100 L", "200 L", "300 L")):
            tank.value = text
            await until(lambda: app.plan.range.tank, pilot)
            await pilot.pause(0.005)
            assert app.is_updating, i
        assert len(engine.plans) == before + 1, "the first is still at work"
        engine.may_finish.release()
        await until(lambda: len(engine.plans) == before + 2, pilot)
        assert app.is_updating, "the result of an older plan is no news"
        await until(lambda: "updating" in screen_text(app), pilot)
        engine.may_finish.release()
        await until(lambda: not app.is_updating, pilot)
        latest = app.assessment
        assert latest is not None
        assert [plan.range.tank[0].si for plan in engine.plans[before:] if plan.range.tank] == [0.1, 0.3]
        assert latest.plan == app.plan
        assert engine.most_at_once == 1


async def test_typing_does_not_wait_for_a_calculation(range_path: Path) -> None:
    engine = SlowEngine()
    app = ShaftlogApp(range_path, range_path.parent, assess=engine)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment and not app.is_updating, pilot)
        engine.is_slow = True
        focus(app, "range.tank")
        await type_text(pilot, "300")
        await until(lambda: engine.running == 1, pilot)
        await type_text(pilot, " L")
        assert field(app, "range.tank").value == "300 L"
        assert engine.running == 1, "the calculation was under way all the time"
        assert not engine.was_waited_for, "nobody has let it go yet"
        view = planning(app).query_one(StageView)
        assert view.has_class("-stale")
        engine.may_finish.release(2)
        await until(lambda: not app.is_updating and not view.has_class("-stale"), pilot)


async def test_a_result_for_a_plan_that_was_closed_does_not_reach_the_next_one(range_path: Path) -> None:
    engine = SlowEngine()
    app = ShaftlogApp(range_path, range_path.parent, assess=engine)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment and not app.is_updating, pilot)
        engine.is_slow = True
        field(app, "range.tank").value = "100 L"
        await until(lambda: engine.running == 1, pilot)
        await app.close_plan()
        app.begin_plan(Plan(name="Other", stage="speed"))
        await until(is_open(app, "speed"), pilot)
        engine.may_finish.release()
        await until(lambda: len(engine.plans) >= 3 and engine.running == 1, pilot)
        assert app.assessment is None
        engine.may_finish.release()
        await until(lambda: app.assessment is not None, pilot)
        assert app.assessment is not None
        assert app.assessment.plan.name == "Other"


async def test_the_list_of_pages_follows_a_result(range_path: Path) -> None:
    engine = SlowEngine()
    app = ShaftlogApp(range_path, range_path.parent, assess=engine)
    engine.is_slow = True
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "range"), pilot)
        await pilot.press("f2")
        await until(lambda: app.screen is not planning(app) and app.screen.focused, pilot)
        before = screen_text(app)
        engine.may_finish.release()
        await until(lambda: app.assessment, pilot)
        await until(lambda: screen_text(app) != before, pilot)
        assert "Go to a page" in screen_text(app)


async def test_a_page_that_waits_says_so_in_the_place_of_its_plot(tmp_path: Path) -> None:
    app = ShaftlogApp(None, tmp_path, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        app.begin_plan(Plan(name="Empty"))
        await until(lambda: is_open(app, "hull")() and app.assessment and not app.is_updating, pilot)
        await pilot.press("f5", "f5")
        assert app.screen.query_one(StageView).current == "plot"
        await until(lambda: "Waits for: " in screen_text(app), pilot)


async def test_a_page_that_waits_is_not_said_to_have_no_findings(tmp_path: Path) -> None:
    app = ShaftlogApp(None, tmp_path, assess=fake_assessment)
    async with app.run_test(size=(120, 40)) as pilot:
        app.begin_plan(Plan(name="Empty"))
        await until(lambda: is_open(app, "hull")() and app.assessment and not app.is_updating, pilot)
        assert "Waits for: " in screen_text(app)
        assert "No findings on this page." not in screen_text(app)


async def test_a_plan_that_cannot_be_worked_out_is_not_told_of_by_what_an_older_one_came_to(range_path: Path) -> None:
    def broken_by_a_tank(plan: Plan) -> Assessment:
        if plan.range.tank:
            raise ZeroDivisionError
        return fake_assessment(plan)

    app = ShaftlogApp(range_path, range_path.parent, assess=broken_by_a_tank)
    async with app.run_test(size=(109, 24)) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment, pilot)
        await planning(app).go_to("review")
        await pilot.pause()
        assert planning(app).query_one("#verdict").size.height == 1
        assert "Do not order the engine yet" in screen_text(app)
        await planning(app).go_to("range")
        focus(app, "range.tank")
        await type_text(pilot, "300 L")
        await until(lambda: app.failure and not app.is_updating, pilot)
        await until(lambda: "ZeroDivisionError." in screen_text(app), pilot)
        await planning(app).go_to("review")
        await until(lambda: "Not yet. This could not be worked out" in screen_text(app), pilot)
        await until(lambda: planning(app).query_one("#verdict").size.height == 2, pilot)
        assert "ZeroDivisionError." in screen_text(app)
        assert "Do not order the engine yet" not in screen_text(app)
        await planning(app).go_to("range")
        focus(app, "range.tank")
        await pilot.press(*["backspace"] * 5)
        await until(lambda: app.assessment and not app.failure, pilot)
        await until(lambda: "could not be worked out" not in screen_text(app), pilot)

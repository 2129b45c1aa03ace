"""The power page says at once what the owner's log changed, and the trial page what the runs say; no scrolling, in
either window."""

from dataclasses import replace
from pathlib import Path

import pytest

from engine.assessment import Assessment
from engine.findings import fits, look, stop
from engine.plan import Plan
from tests.wizard.driving import is_open, planning, screen_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp

CHANGED = fits("The log (4 rows) moves shaft power at cruise up by 9 %.", "a source", "present.log")
UNUSED = look("What you have read is not used yet: say which pitch was fitted.", "a source", "trial.propeller_pitch")


def with_log(plan: Plan) -> Assessment:
    """Made-up answers; what the log changed, and what is said of the runs, stands last in the order of the engine."""
    assessment = fake_assessment(plan)
    findings = (*(look(f"Look again, number {i}." * 4, "a source") for i in range(6)), stop("This stops.", "a rule"))
    outcomes = dict(assessment.outcomes)
    for page, last in (("power", CHANGED), ("trial", UNUSED)):
        outcomes[page] = replace(outcomes[page], findings=(*findings, last))
    return Assessment(plan, outcomes)


@pytest.mark.parametrize("size", [(80, 24), (120, 40)], ids=["80x24", "120x40"])
async def test_what_the_log_changed_is_seen_when_the_page_opens(range_path: Path, size: tuple[int, int]) -> None:
    app = ShaftlogApp(range_path, range_path.parent, assess=with_log)
    async with app.run_test(size=size) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment, pilot)
        await planning(app).go_to("power")
        await until(lambda: "The log (4 rows)" in screen_text(app), pilot)


async def test_that_the_runs_are_not_used_is_seen_when_the_trial_page_opens(range_path: Path) -> None:
    app = ShaftlogApp(range_path, range_path.parent, assess=with_log)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment, pilot)
        await planning(app).go_to("trial")
        await until(lambda: "What you have read is not used yet" in screen_text(app), pilot)


async def test_among_the_findings_only_what_stops_stands_before_the_log(range_path: Path) -> None:
    app = ShaftlogApp(range_path, range_path.parent, assess=with_log)
    async with app.run_test(size=(80, 40)) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment, pilot)
        await planning(app).go_to("power")
        await pilot.press("f5")
        await until(lambda: "look again: Look again, number 0." in screen_text(app), pilot)
        text = screen_text(app)
        assert text.index("This stops.") < text.index("The log (4 rows)") < text.index("Look again, number 0.")

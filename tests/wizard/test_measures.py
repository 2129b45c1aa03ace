"""What to measure next: merged from two pages, sorted, and a way to the field that takes the result."""

import asyncio
from dataclasses import replace
from pathlib import Path

import pytest
from textual.widgets import OptionList

from engine.assessment import Assessment
from engine.findings import Outcome
from engine.plan import Plan
from engine.stages.doubt import DoubtRow
from tests.wizard.driving import field, is_open, planning, screen_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.measures import measures

WEIGH = "Weigh her on the travel lift, in cruising trim."
APERTURE = "Measure the aperture, or the room under the hull."
LOG_MORE = "Log two more speeds of the present engine, well apart from the others."


def with_doubts(plan: Plan) -> Assessment:
    """Made-up answers, and doubts on two pages of which one action is the same; nothing stops the plan."""
    assessment = fake_assessment(plan)
    outcomes = dict(assessment.outcomes)
    doubts = {
        "power": (
            DoubtRow(WEIGH, 0.40, "displacement", "hull.displacement"),
            DoubtRow(LOG_MORE, 0.2, "method", "present.log"),
        ),
        "propeller": (
            DoubtRow(APERTURE, 0.55, "room", "propeller.room"),
            DoubtRow(WEIGH, 0.10, "displacement", "hull.displacement"),
        ),
    }
    for stage, outcome in outcomes.items():
        answers = outcome.answers
        if answers is not None and stage in doubts:
            answers = replace(answers, doubt=doubts[stage])
        outcomes[stage] = Outcome(answers, outcome.findings[:2], outcome.waits_for)
    return Assessment(plan, outcomes)


def filled() -> Plan:
    from engine.plan import with_text

    return with_text(Plan(), "hull.waterline_length", "10 m")


def test_actions_of_both_pages_are_merged_and_sorted_by_the_larger_share() -> None:
    found = measures(with_doubts(filled()))
    assert [(measure.action, measure.power, measure.full_throttle) for measure in found] == [
        (APERTURE, 0.0, 0.55),
        (WEIGH, 0.40, 0.10),
        (LOG_MORE, 0.2, 0.0),
    ]
    assert [measure.shares for measure in found] == [("-", "55 %"), ("40 %", "10 %"), ("20 %", "-")]


def test_each_action_knows_the_field_that_takes_its_result() -> None:
    found = measures(with_doubts(filled()))
    assert [(measure.page, measure.path) for measure in found] == [
        ("propeller", "propeller.room"),
        ("hull", "hull.displacement"),
        ("hull", "present.log"),
    ]


def test_there_is_nothing_to_measure_before_there_are_answers() -> None:
    assert measures(fake_assessment(Plan())) == ()


async def test_the_review_shows_both_shares_and_leads_to_the_field(range_path: Path) -> None:
    app = ShaftlogApp(range_path, range_path.parent, assess=with_doubts)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment, pilot)
        await planning(app).go_to("review")
        listing = planning(app).query_one("#review-list", OptionList)
        await until(lambda: listing.option_count, pilot)
        prompts = [str(listing.get_option_at_index(i).prompt) for i in range(listing.option_count)]
        heading = next(i for i, words in enumerate(prompts) if "What to measure next" in words)
        assert len(prompts[heading]) <= 76
        assert prompts[heading + 1].split() == f"- 55 % {APERTURE}".split()
        assert prompts[heading + 2].split() == f"40 % 10 % {WEIGH}".split()
        listing.highlighted = heading
        await pilot.press("down", "down", "enter")
        await until(is_open(app, "hull"), pilot)
        await until(lambda: field(app, "hull.displacement").has_focus, pilot)


@pytest.mark.parametrize("layout_waits", [0.0, 0.3])
async def test_a_field_far_down_a_page_that_is_opened_for_it_is_scrolled_into_view(
    range_path: Path, layout_waits: float
) -> None:
    """At once, and when the page is laid out later than all that was to come after a refresh."""
    app = ShaftlogApp(range_path, range_path.parent, assess=with_doubts)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment, pilot)
        with app.batch_update():
            await planning(app).go_to("hull", "present.shaft_diameter")
            await asyncio.sleep(layout_waits)
        planning(app).check_idle()
        await until(lambda: "Present shaft, diameter" in screen_text(app), pilot)
        assert field(app, "present.shaft_diameter").has_focus

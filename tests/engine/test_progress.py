"""Which pages are filled in, seen from the plan alone: as the whole calculation finds them."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.assessment import Assessment, assess
from engine.findings import Verdict
from engine.plan import SECTIONS, STAGES, Plan, entry_at, paths, stage_problems, with_row, with_text
from engine.planfile import load_plan
from engine.progress import ONLY_THE_OWNERS, progress_of
from engine.sections.engine import Engine
from tests.engine.random_plans import any_plans
from tests.engine.test_any_plan import drawn

Change = Callable[[Plan, dict[str, str]], Plan]
PLACE = "hull.propeller_place"
NEEDED = tuple(
    path for section in SECTIONS for path in paths(Plan(), section) if entry_at(path).needed or path == "range.tank"
)


def filled_in(plan: Plan) -> frozenset[str]:
    return progress_of(plan).filled_in


def waiting(found: Assessment) -> set[str]:
    """Stages that have no answers. The speed page has some before it is known where the propeller turns, and the page
    in front of it still waits."""
    waits = {stage for stage, outcome in found.outcomes.items() if outcome.answers is None}
    return waits | {"speed"} if any(problem.path == PLACE for problem in stage_problems(found.plan, "hull")) else waits


def test_of_an_empty_plan_no_page_is_filled_in() -> None:
    assert filled_in(Plan()) == frozenset()


def test_a_page_that_needs_nothing_is_filled_in_when_something_is_said_on_it(launch: Plan, change: Change) -> None:
    assert filled_in(launch) == set(STAGES) - set(ONLY_THE_OWNERS)
    said = change(launch, {"fit.exhaust_bore": "50 mm", "costs.engine": "9000", "trial.day": "2026-06-12"})
    assert filled_in(said) == set(STAGES) - {"trial"}, "the day of a trial does not say what she did"
    tried = change(with_row(said, "trial.run"), {"trial.run.0.engine_speed": "1400 rpm", "trial.run.0.speed": "6 kn"})
    assert filled_in(tried) == set(STAGES)
    assert "trial" not in filled_in(with_text(tried, "trial.air", "mild")), "what is not understood is not done"


def test_what_is_not_understood_on_a_page_takes_nothing_from_what_was_entered_on_the_others(launch: Plan) -> None:
    """The list of plans counted no page of eleven for a slip in one field of the hull page."""
    slip = progress_of(with_text(launch, "hull.waterline_length", "about right"))
    assert slip.entered == filled_in(launch) - {"hull"}
    assert slip.not_understood == ("hull",)
    assert slip.filled_in == frozenset(), "the open plan has no answers on any page all the same"
    missing = progress_of(with_text(launch, "hull.waterline_length", ""))
    assert (missing.entered, missing.not_understood) == (frozenset(), ())


def test_the_note_of_the_demonstration_that_is_only_begun_names_the_pages_that_are_filled_in(root: Path) -> None:
    plan = load_plan(root / "saved_plans" / "mirabel.toml")
    told = plan.notes.split(" are filled in")[0]
    assert filled_in(plan) == {stage for stage in STAGES if stage in told}


@pytest.mark.parametrize("path", NEEDED)
def test_a_page_behind_one_that_waits_is_not_filled_in(path: str, launch: Plan) -> None:
    plan = with_text(launch, path, "")
    assert set(STAGES) - filled_in(plan) == waiting(assess(plan)) | {path.partition(".")[0], *ONLY_THE_OWNERS}


def test_a_candidate_that_is_not_chosen_holds_up_its_own_page_only(launch: Plan, change: Change) -> None:
    second = with_text(change(launch, {"engine.chosen": "first"}), "engine.candidate.1.rated_power", "")
    assert filled_in(launch) - filled_in(second) == {"engine"}
    nameless = with_text(second, "engine.candidate.0.name", "")
    assert filled_in(launch) - filled_in(nameless) == {"engine"}, "a name is asked for, and nothing waits for it"
    for plan in (change(second, {"engine.chosen": "second"}), replace(launch, engine=Engine())):
        assert filled_in(plan) == {"hull", "speed", "power"}


@drawn(short=25, nightly=1000)
@given(plan=any_plans(), emptied=st.lists(st.sampled_from(NEEDED), max_size=2))
def test_of_any_plan_that_nothing_stops_the_calculation_has_the_pages_that_are_filled_in(
    plan: Plan, emptied: list[str]
) -> None:
    for path in emptied:
        plan = with_text(plan, path, "")
    missing = {stage for stage in STAGES if stage_problems(plan, stage)}
    found = assess(plan)
    waits, stops = waiting(found), any(finding.verdict is Verdict.STOP for _, finding in found.findings())
    owners = set(STAGES) - filled_in(plan) - missing - waits
    assert owners <= set(ONLY_THE_OWNERS)
    assert stops or filled_in(plan).isdisjoint(waits)

"""The chain as a whole: order, waiting, the demonstration plans, and whatever an owner may type."""

import dataclasses
import math
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from engine import assess, load_plan, save_plan
from engine.bands import Band
from engine.findings import Outcome, Verdict
from engine.plan import SECTIONS, STAGES, Plan, paths, with_text, with_value
from engine.stages.chain import STEPS, stage_of, step_of
from tests.engine import one_after_another
from tests.engine.steps import said

DEMONSTRATIONS = ("bittern", "mirabel", "two-sisters", "dunlin")
Change = Callable[[Plan, dict[str, str]], Plan]


def test_every_stage_takes_only_what_comes_before_it() -> None:
    steps = list(STEPS)
    assert tuple(step for step in steps if step in STAGES) == STAGES
    for step, (_, needs) in STEPS.items():
        assert stage_of(step) in STAGES
        assert all(steps.index(step_of(need)) < steps.index(step) for need in needs)


def test_an_empty_plan_waits_everywhere_and_says_for_what() -> None:
    assessment = assess(Plan())
    for stage in STAGES:
        assert assessment.outcomes[stage].answers is None
        assert assessment.outcomes[stage].waits_for
    assert not assessment.is_complete


def test_what_is_missing_early_is_waited_for_later(launch: Plan) -> None:
    outcomes = assess(with_value(launch, "speed.cruise", None)).outcomes
    assert outcomes["hull"].answers is not None
    assert outcomes["range"].answers is None
    assert outcomes["range"].waits_for.startswith("the speed page")


def test_what_is_waited_for_names_the_page_where_it_began(launch: Plan) -> None:
    outcomes = assess(with_value(launch, "hull.displacement", None)).outcomes
    assert outcomes["range"].waits_for == f"the hull page: {outcomes['hull'].waits_for}"


def test_what_a_guess_stands_for_once_the_rest_is_there_is_not_waited_for(launch: Plan, change: Change) -> None:
    """Who had said that he does not know the draft was still asked for it."""
    begun = change(launch, {"hull.hull_draft": "?", "hull.displacement": ""})
    assert assess(begun).outcomes["hull"].waits_for == "her weight."
    nothing = change(Plan(), {"hull.kind": "tug", "hull.hull_draft": "?", "hull.waterline_length": "?"})
    assert assess(nothing).outcomes["hull"].waits_for == "her beam and her weight."


def test_of_an_engine_that_is_half_entered_the_missing_half_is_named(launch: Plan, change: Change) -> None:
    alone = dataclasses.replace(
        launch, engine=dataclasses.replace(launch.engine, candidate=launch.engine.candidate[:1])
    )
    half = change(alone, {"engine.candidate.0.rated_speed": ""})
    assert assess(half).outcomes["engine"].waits_for == "the rated speed of first."
    nameless = change(half, {"engine.candidate.0.name": ""})
    assert assess(nameless).outcomes["engine"].waits_for == "the rated speed of the candidate without a name."
    none = change(nameless, {"engine.candidate.0.rated_power": ""})
    assert assess(none).outcomes["engine"].waits_for.startswith("an engine with its rated power and rated speed; ")


def test_only_what_is_missing_is_waited_for(launch: Plan, change: Change) -> None:
    assert assess(Plan()).outcomes["hull"].waits_for.endswith("her length, her beam, her hull draft and her weight.")
    some = change(launch, {"hull.waterline_length": "", "speed.top": ""})
    assert assess(some).outcomes["hull"].waits_for == "her length."
    assert (
        assess(change(some, {"hull.waterline_length": "11 m"})).outcomes["speed"].waits_for == "the top speed wanted."
    )


def test_the_complete_launch_is_complete(launch: Plan) -> None:
    assert assess(launch).is_complete


def test_findings_come_with_the_most_urgent_first(launch: Plan, change: Change) -> None:
    urgencies = [f.verdict.urgency for _, f in assess(change(launch, {"hull.hull_draft": "1.1 m"})).findings()]
    assert urgencies == sorted(urgencies)
    assert urgencies[0] == 0


@pytest.mark.parametrize("name", DEMONSTRATIONS)
def test_every_demonstration_can_be_saved_and_read_again(name: str, root: Path, tmp_path: Path) -> None:
    plan = load_plan(root / "saved_plans" / f"{name}.toml")
    assert not plan.unread
    assert not plan.extra
    save_plan(plan, tmp_path / "copy.toml")
    assert load_plan(tmp_path / "copy.toml") == plan


@pytest.mark.parametrize(("name", "complete"), [("bittern", True), ("mirabel", False), ("two-sisters", True)])
def test_the_demonstrations_are_as_far_as_they_should_be(name: str, complete: bool, root: Path) -> None:
    assessment = one_after_another.assess(load_plan(root / "saved_plans" / f"{name}.toml"))
    assert assessment.is_complete is complete
    assert assessment.is_sound is complete


def test_the_demonstration_with_a_trial_has_all_that_the_trial_page_can_show(root: Path) -> None:
    assessment = one_after_another.assess(load_plan(root / "saved_plans" / "dunlin.toml"))
    assert assessment.is_complete
    assert {page for page, finding in assessment.findings() if finding.verdict is Verdict.STOP} == {"trial"}
    trial = assessment.outcomes["trial"].answers
    assert trial.reached_rpm < trial.rated_rpm
    assert trial.pitch_change_m < 0.0
    assert trial.cause.startswith("the propeller: it works like one of")
    assert [row.counts == "yes" for row in trial.runs].count(False) == 1
    (left_out,) = (each for _, each in assessment.findings() if each.text.startswith("The run of 2100 rpm"))
    assert "propeller that was fitted" in left_out.source
    assert trial.rise_fraction.low > 0.0
    assert trial.clean_after_months > 1.0
    assert len(trial.checks) > 8


@pytest.mark.parametrize("name", DEMONSTRATIONS)
def test_methods_lie_within_a_fifth_of_their_mean_below_hull_speed_on_the_demonstrations(name: str, root: Path) -> None:
    outcomes = one_after_another.assess(load_plan(root / "saved_plans" / f"{name}.toml")).outcomes
    hull = outcomes["hull"].answers
    hull_kn = hull.hull_speed_kn.best
    inside = [row.method for row in hull.methods if row.standing.startswith("inside")]
    assert len(inside) >= 2
    rows = [row for row in outcomes["power"].answers.curve if 0.5 * hull_kn < row.speed_kn < 0.97 * hull_kn]
    assert rows
    for row in rows:
        applying = {method: power for method, power in row.methods.items() if power is not None}
        assert set(applying) & set(inside)
        assert max(applying.values()) / min(applying.values()) < 1.3, row.speed_kn
        for method, power in applying.items():
            assert abs(power / row.consensus_kw - 1.0) < 0.2, (method, row.speed_kn)


@pytest.mark.parametrize("name", DEMONSTRATIONS)
def test_power_at_least_doubles_in_an_eighth_more_speed_above_hull_speed(name: str, root: Path) -> None:
    outcomes = one_after_another.assess(load_plan(root / "saved_plans" / f"{name}.toml")).outcomes
    curve = outcomes["power"].answers.curve
    hull_kn = outcomes["hull"].answers.hull_speed_kn.best
    speeds = [row.speed_kn for row in curve]
    for power in ("effective_power_kw", "shaft_power_kw"):
        values = [getattr(row, power).best for row in curve]
        at, faster = np.exp(np.interp([hull_kn, 1.12 * hull_kn], speeds, np.log(values)))
        assert speeds[-1] >= 1.12 * hull_kn - 1e-9
        assert faster >= 2.0 * at


def numbers_of(answers: Any) -> list[float]:
    found: list[float] = []
    for item in dataclasses.fields(answers):
        value = getattr(answers, item.name)
        if "label" in item.metadata and isinstance(value, float):
            found.append(value)
        if "label" in item.metadata and isinstance(value, Band):
            found += [value.low, value.best, value.high]
            assert value.low <= value.best <= value.high, item.name
        if "table" in item.metadata:
            found += [number for row in value for number in numbers_of(row)]
    return found


@pytest.mark.parametrize("name", DEMONSTRATIONS)
def test_no_answer_of_a_demonstration_is_infinite_or_undefined(name: str, root: Path) -> None:
    for outcome in one_after_another.assess(load_plan(root / "saved_plans" / f"{name}.toml")).outcomes.values():
        if outcome.answers is not None:
            assert all(math.isfinite(number) for number in numbers_of(outcome.answers))


UNDEFINED = re.compile(r"\b(nan|inf)\b")
ALL_PATHS = [path for section in SECTIONS for path in paths(Plan(), section)]
TYPED = st.one_of(
    st.sampled_from(
        ["", "0", "1", "-1", "3", "0.5", "9", "25", "400", "1e9", "[/x] [kW]", "12 kn", "2 m", "90 %", "7 t"]
    ),
    st.floats(0.01, 5000.0).map(lambda number: f"{number:.3g}"),
    st.text(max_size=12),
)


@settings(max_examples=settings.default.max_examples // 6, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(st.sampled_from(ALL_PATHS), TYPED), min_size=1, max_size=4))
def test_whatever_is_typed_the_plan_is_assessed(launch: Plan, typed: list[tuple[str, str]]) -> None:
    plan, before = launch, one_after_another.assess(launch)
    for path, text in typed:
        plan = with_text(plan, path, text)
    outcomes = assess(plan, before).outcomes
    assert set(outcomes) == set(STAGES)
    for outcome in outcomes.values():
        assert (outcome.answers is None) == bool(outcome.waits_for)
        assert not any(UNDEFINED.search(finding.text) for finding in outcome.findings)


@settings(max_examples=settings.default.max_examples // 8, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.floats(5.0, 24.0),
    st.floats(2.2, 6.0),
    st.floats(0.2, 2.5),
    st.floats(0.3, 0.8),
    st.floats(0.5, 1.6),
    st.sampled_from(["full-keel launch", "tug", "trawler yacht", "fin-keel sailing yacht"]),
    st.floats(3.0, 400.0),
)
def test_boats_of_every_shape_are_assessed(
    launch: Plan,
    length: float,
    length_beam: float,
    draft: float,
    block: float,
    relative_speed: float,
    kind: str,
    power_kw: float,
) -> None:
    beam = length / length_beam
    mass = block * length * beam * draft * 1026.0
    plan = launch
    for path, text in {
        "hull.kind": kind,
        "hull.waterline_length": f"{length:.3f} m",
        "hull.waterline_beam": f"{beam:.3f} m",
        "hull.hull_draft": f"{draft:.3f} m",
        "hull.displacement": f"{mass:.1f} kg",
        "speed.cruise": f"{relative_speed * 0.8 * length**0.5 * 2.43:.2f} kn",
        "speed.top": f"{relative_speed * length**0.5 * 2.43:.2f} kn",
        "engine.candidate.0.rated_power": f"{power_kw:.1f} kW",
    }.items():
        plan = with_text(plan, path, text)
    for outcome in assess(plan).outcomes.values():
        assert (outcome.answers is None) == bool(outcome.waits_for)
        for finding in outcome.findings:
            assert not UNDEFINED.search(finding.text), finding.text
            assert finding.source


def test_each_outcome_is_told_as_soon_as_it_is_there(launch: Plan, change: Change) -> None:
    plan = change(launch, {"hull.displacement": "?"})
    told: dict[str, Outcome[Any]] = {}
    found = assess(plan, told=told.__setitem__)
    assert list(told) == list(STAGES)
    assert all(told[stage] is found.outcomes[stage] for stage in STAGES)
    assert "not known" in found.outcomes["hull"].findings[0].text


def test_what_is_raised_while_telling_stops_the_rest(launch: Plan) -> None:
    told: list[str] = []

    def stop(stage: str, outcome: Outcome[Any]) -> None:
        del outcome
        told.append(stage)
        if stage == "speed":
            raise InterruptedError

    with pytest.raises(InterruptedError):
        assess(launch, told=stop)
    assert told == ["hull", "speed"]


@pytest.mark.parametrize(
    ("page", "before_it"),
    [
        ("speed", {"hull"}),
        ("propeller", {"hull", "speed"}),
        ("range", {"hull", "speed", "propeller"}),
        ("review", set()),
    ],
)
def test_the_page_that_the_plan_is_left_on_is_told_before_what_it_does_not_need(
    launch: Plan, page: str, before_it: set[str]
) -> None:
    told: dict[str, Outcome[Any]] = {}
    found = assess(dataclasses.replace(launch, stage=page), told=told.__setitem__)
    assert sorted(told, key=STAGES.index) == list(found.outcomes) == list(STAGES)
    if page in STAGES:
        assert set(list(told)[: len(before_it)]) == before_it
        assert list(told)[len(before_it)] == page
    assert [said(each) for each in found.outcomes.values()] == [said(each) for each in assess(launch).outcomes.values()]

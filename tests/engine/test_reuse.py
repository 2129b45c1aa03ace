"""An assessment after another one says the same as one by itself, and does not work out again what still stands."""

import dataclasses
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from engine.assessment import Assessment, assess, search_market
from engine.findings import Outcome
from engine.machinery.generic_engines import GENERIC_ENGINES
from engine.plan import STAGES, Plan, with_row, with_text, without_row
from engine.planfile import content_of, plan_from_text
from engine.stages.chain import STEPS
from engine.stages.reuse import is_same, watched
from tests.engine.generic_candidates import with_generic
from tests.engine.steps import said, worked_out

Change = Callable[[Plan, dict[str, str]], Plan]

EDITS: dict[str, Callable[[Plan], Plan]] = {
    "a number of the first page": lambda plan: with_text(plan, "hull.displacement", "9.5 t"),
    "not known": lambda plan: with_text(plan, "hull.displacement", "?"),
    "a text that is not understood": lambda plan: with_text(plan, "speed.cruise", "six"),
    "put right": lambda plan: with_text(plan, "speed.cruise", "6.2 kn"),
    "units": lambda plan: dataclasses.replace(plan, units="imperial"),
    "a row more": lambda plan: with_text(with_row(plan, "engine.candidate"), "engine.candidate.2.name", "third"),
    "a row less": lambda plan: without_row(plan, "engine.candidate", 2),
    "read by pages before its own": lambda plan: with_text(plan, "shaft.angle", "9 deg"),
    "the wheel": lambda plan: with_text(plan, "propeller.blades", "4"),
    "the last page": lambda plan: with_text(plan, "fit.new_place", "3 m"),
}


def reworked(after: Assessment, before: Assessment) -> list[str]:
    return [stage for stage in STAGES if after.worked[stage] is not before.worked[stage]]


def test_change_after_change_says_the_same_as_each_by_itself(launch: Plan) -> None:
    plan, latest = launch, assess(launch)
    for name, edit in EDITS.items():
        plan = edit(plan)
        latest, alone = assess(plan, latest), assess(plan)
        for stage in STAGES:
            assert said(latest.outcomes[stage]) == said(alone.outcomes[stage]), f"{name}: {stage}"
        assert latest.plan is plan
    assert said(search_market(latest)) == said(search_market(alone))


@pytest.mark.parametrize("is_electric", [False, True])
def test_a_plan_that_was_read_anew_is_worked_out_on_what_stands_of_its_equal(launch: Plan, is_electric: bool) -> None:
    """After undo, or from its file, a plan has candidates of its own that only equal those of the answers before."""
    plan = with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"]) if is_electric else launch
    before, anew = assess(plan), plan_from_text(content_of(plan), "a plan")
    assert anew.engine.selected is not plan.engine.selected
    for path, text in (
        ("gear.efficiency", "95 %"),
        ("range.leg", "30 nmi"),
        ("shaft.angle", "9 deg"),
        ("fit.new_place", "3 m"),
    ):
        changed = with_text(anew, path, text)
        after, alone = assess(changed, before), assess(changed)
        for stage in STAGES:
            assert is_same(said(after.outcomes[stage]), said(alone.outcomes[stage])), (path, stage)


@pytest.mark.parametrize(
    ("path", "text", "expected"),
    [
        ("fit.new_place", "3 m", {"fit", "engine"}),
        ("fit.exhaust_length", "3 m", {"fit"}),
        ("shaft.span", "1.3 m", {"shaft"}),
        ("hull.displacement", "9.2 t", set(STAGES)),
    ],
)
def test_only_what_takes_the_change_is_worked_out_again(
    launch: Plan, change: Change, path: str, text: str, expected: set[str]
) -> None:
    before = assess(launch)
    again = set(reworked(assess(change(launch, {path: text}), before), before))
    assert expected <= again
    first = min(STAGES.index(stage) for stage in expected)
    assert not again & set(STAGES[:first]), "what comes before it stands"
    assert reworked(assess(launch, before), before) == []
    assert reworked(assess(dataclasses.replace(launch, name="other", notes="so"), before), before) == []


def test_a_stage_stands_when_only_what_it_does_not_take_of_the_answers_before_has_changed(
    launch: Plan, change: Change
) -> None:
    """The range of the candidates stands on the engine page, of which the gear takes the drive alone."""
    before = assess(launch)
    after = assess(change(launch, {"range.tank": "280 L"}), before)
    assert after.outcomes["engine"].answers is not before.outcomes["engine"].answers
    assert not {"gear", "propeller", "trial"} & set(reworked(after, before))


def test_answers_take_nothing_from_the_plan_once_their_stage_is_done(launch: Plan) -> None:
    """The steps here are one by one as the chain runs them, then the market and everything that is said of them."""
    outcomes: dict[str, Outcome[Any]] = {}
    places: dict[str, tuple[set[str], frozenset[str]]] = {}
    for step in STEPS:
        shown, taken = watched(launch)
        outcomes[step] = worked_out(shown, step, {name: outcome.answers for name, outcome in outcomes.items()})
        places[step] = taken, frozenset(taken)
    search_market(Assessment(launch, outcomes))
    assert all(said(outcomes[stage]) for stage in STAGES)
    assert all(places[stage][1] for stage in STAGES)
    for step, (taken, then) in places.items():
        assert taken == then, f"{step} took more later"


def test_a_watched_plan_notes_what_is_read_and_is_the_plan_still(launch: Plan) -> None:
    shown, taken = watched(launch)
    assert isinstance(shown, Plan)
    assert taken == set()
    assert shown.engine.selected == launch.engine.selected
    assert shown.units == launch.units
    assert taken == {"engine.candidate", "engine.motor", "engine.chosen", "units"}
    assert dataclasses.replace(shown.hull, screws=2).screws == 2


def test_a_field_that_has_the_name_of_a_section_is_noted_too() -> None:
    shown, taken = watched(Plan())
    assert shown.costs.engine is None
    assert taken == {"costs.engine"}


PRICED = {"range.price": "1.5 per L", "fit.new_place": "3 m", "engine.raw_water": "25 C"}


@pytest.mark.parametrize(
    ("path", "text", "expected"),
    [
        ("range.price", "1.6 per L", {"engine", "range", "costs"}),
        ("fit.new_place", "3.1 m", {"engine", "fit"}),
        ("shaft.span", "1.3 m", {"shaft"}),
    ],
)
def test_later_pages_stand_when_a_page_comes_out_the_same(
    launch: Plan, change: Change, path: str, text: str, expected: set[str]
) -> None:
    """The engine page reads prices and places, and says the same of them all: what is made of it is not made anew."""
    plan = change(launch, PRICED)
    before = assess(plan)
    after = assess(change(plan, {path: text}), before)
    assert set(reworked(after, before)) <= expected
    alone = assess(change(plan, {path: text}))
    for stage in STAGES:
        assert said(after.outcomes[stage]) == said(alone.outcomes[stage]), stage
    back = assess(plan, after)
    for stage in STAGES:
        assert said(back.outcomes[stage]) == said(before.outcomes[stage]), stage


@dataclasses.dataclass(frozen=True, eq=False)
class Held:
    """Answers that hold something."""

    value: object


def test_the_same_all_the_way_down() -> None:
    numbers, other = np.array([[1.0, np.nan]]), np.array([[1.0, 2.0]])
    pairs = [
        (numbers, numbers.copy()),
        (np.nan, float("nan")),
        ((1, "a"), (1, "a")),
        ({"a": numbers}, {"a": numbers + 0}),
    ]
    for one, same in pairs:
        assert is_same(Held((one,)), Held((same,)))
    for one, differs in [
        (numbers, other),
        (numbers, numbers[0]),
        (1, 1.0),
        ((1,), (1, 2)),
        ({"a": 1}, {"b": 1}),
        ({"a": 1}, {"a": 2}),
        (abs, lambda x: x),
        (None, 0.0),
    ]:
        assert not is_same(Held((one,)), Held((differs,)))


def test_of_a_plan_that_is_kept_counts_what_was_taken(launch: Plan, change: Change) -> None:
    one, taken = watched(launch)
    assert one.range.tank
    elsewhere, _ = watched(change(launch, {"range.hotel": "3 L/h"}))
    there, _ = watched(change(launch, {"range.tank": "200 L"}))
    assert is_same(Held(one), Held(elsewhere))
    assert is_same(Held(one.range), Held(elsewhere.range))
    assert not is_same(Held(one), Held(there))
    assert not is_same(Held(one.range), Held(there.range))
    assert taken == {"range.tank"}, "to look whether they are the same takes nothing"


def test_what_either_of_two_plans_took_counts(launch: Plan, change: Change) -> None:
    """One stage may have asked more of its plan than the other did of its own."""
    one, _ = watched(launch)
    other, _ = watched(change(launch, {"range.tank": "200 L"}))
    assert is_same(Held(one), Held(other)), "nothing was taken from either"
    assert other.range.tank
    assert not is_same(Held(one), Held(other))
    assert not is_same(Held(other), Held(one))

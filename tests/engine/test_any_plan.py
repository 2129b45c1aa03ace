"""Any plan, in or out of limits, at odds with itself or not, gives answers or findings: never an exception, a warning
of the arithmetic (pytest makes errors of them), or a number on screen or paper that is none.

A value that is missing is None or NaN in an answers object and "-" or null where it is shown; infinity is not allowed.
"""

import dataclasses
import json
import math
import re
from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from engine.assessment import Assessment, assess, search_market
from engine.bands import UNKNOWN, Band
from engine.findings import Finding, Outcome, Verdict
from engine.machinery.range import fastest_speed_for_leg
from engine.plan import SECTIONS, Plan, entry_at, paths, problems, text_at, value_at, with_row, with_text
from engine.propeller.wageningen import reynolds_correction
from tests.engine.random_plans import contradictory_plans, fuller_plans, plausible_plans, texts, wild_plans
from tests.engine.random_trials import tried_plans
from tests.engine.steps import stage_worked_out
from wizard.echo import echo, hint, limits_text
from wizard.handover import report
from wizard.tables import answer_lines, tables_of

Change = Callable[[Plan, dict[str, str]], Plan]
NO_NUMBER = re.compile(r"\b(nan|NaN|inf|Infinity|None)\b(?! of | suits)")
EXPONENT = re.compile(r"\d[eE][-+]?\d")


def drawn(short: int, nightly: int) -> settings:
    """How many plans are worked out: each takes a second."""
    is_night = settings.default.max_examples > 1000
    checks = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.large_base_example]
    return settings(max_examples=nightly if is_night else short, suppress_health_check=checks)


NEVER = {"payback_years"}
"""Answers in which infinite stands for never; words and JSON have it so, see `repaid_in`."""


def numbers_in(answers: Any) -> Iterator[tuple[str, float]]:
    """(name, number) of everything in an answers object that is shown or handed on, tables included."""
    for item in dataclasses.fields(answers):
        value = getattr(answers, item.name)
        if "label" in item.metadata or "detail" in item.metadata:
            yield from ((item.name, number) for number in _parts(value))
        if "table" in item.metadata:
            for row in value:
                yield from numbers_in(row)


def _parts(value: Any) -> Iterator[float]:
    if isinstance(value, Band):
        yield from (value.low, value.best, value.high)
    elif isinstance(value, dict):
        yield from (number for part in value.values() for number in _parts(part))
    elif isinstance(value, float):
        yield value


def assert_said(outcome: Outcome[Any], stage: str) -> None:
    """The outcome is an answer or a wait, its bands are in order, and its sentences have no number that is none."""
    assert (outcome.answers is None) == bool(outcome.waits_for), stage
    for finding in outcome.findings:
        assert finding.text, stage
        assert finding.source, finding.text
        assert not NO_NUMBER.search(finding.text), finding.text
        assert not EXPONENT.search(finding.text), finding.text
        assert "  " not in finding.text, finding.text
    for name, number in numbers_in(outcome.answers) if outcome.answers is not None else ():
        assert name in NEVER or not math.isinf(number), f"{stage}: {name}"


def assert_shown(assessment: Assessment, market: Outcome[Any], width: int) -> None:
    """Pages and reports say it in words and numbers, and the JSON is strict."""
    for stage, outcome in assessment.outcomes.items():
        answers, units = outcome.answers, assessment.plan.units
        if answers is not None:
            tables = [line for _, lines in tables_of(answers, units, width) for line in lines]
            for line in (*answer_lines(answers, units, width), *tables):
                assert not NO_NUMBER.search(line), f"{stage}: {line}"
    for line in report(assessment, "text", market=market).splitlines():
        assert not NO_NUMBER.search(line), line

    def refused(word: str) -> None:
        raise AssertionError(f"{word} is no JSON")

    found = json.loads(report(assessment, "json", market=market), parse_constant=refused)
    assert found["stages"].keys() == assessment.outcomes.keys()


SORTS: dict[str, tuple[SearchStrategy[Plan], int, int]] = {
    "hanging together": (plausible_plans(), 2, 1000),
    "at odds in a few fields": (contradictory_plans(), 4, 5500),
    "with nearly all fields filled": (fuller_plans(), 3, 2500),
    "drawn field by field": (wild_plans(), 3, 1500),
    "after her trial": (tried_plans(), 3, 1500),
}
"""Sort -> how it is drawn, how many by day, how many by night: 12,000."""


@pytest.mark.parametrize("sort", SORTS)
def test_any_plan_gives_answers_or_findings_and_nothing_else(sort: str) -> None:
    plans, short, nightly = SORTS[sort]

    @drawn(short, nightly)
    @given(plans, st.sampled_from([40, 76, 120]))
    def holds(plan: Plan, width: int) -> None:
        assessment = assess(plan)
        market = search_market(assessment)
        for stage, outcome in (*assessment.outcomes.items(), ("market", market)):
            assert_said(outcome, stage)
        assert_shown(assessment, market, width)

    holds()


@drawn(15, 2000)
@given(contradictory_plans())
def test_what_stands_beside_a_field_is_words_and_numbers(plan: Plan) -> None:
    for section in SECTIONS:
        for problem in problems(plan, section):
            assert not NO_NUMBER.search(problem.text), problem.text
        for path in paths(plan, section):
            for told in (echo(plan, path), hint(plan, path), limits_text(entry_at(path), plan.units)):
                assert not NO_NUMBER.search(told), (path, told)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.data())
def test_every_text_that_a_field_gives_back_reads_as_the_same_value(data: st.DataObject) -> None:
    plan = Plan(units=data.draw(st.sampled_from(["metric", "imperial"])))
    plan = with_row(with_row(plan, "engine.candidate"), "engine.motor")
    path = data.draw(st.sampled_from([path for section in SECTIONS for path in paths(plan, section)]))
    plan = with_text(plan, path, data.draw(texts(entry_at(path))))
    again = with_text(plan, path, text_at(plan, path))
    assert value_at(again, path) == value_at(plan, path)
    assert (again.unread, again.not_known) == (plan.unread, plan.not_known)


# what such plans have shown, one by one


def stage_of(name: str, plan: Plan, outcomes: dict[str, Outcome[Any]] | None = None) -> Outcome[Any]:
    """One stage by itself, on the answers of the stages before."""
    outcome = stage_worked_out(plan, name, {before: found.answers for before, found in (outcomes or {}).items()})
    assert_said(outcome, name)
    return outcome


def finding_at(outcome: Outcome[Any], path: str, words: str) -> Finding:
    return next(finding for finding in outcome.findings if finding.path == path and words in finding.text)


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("hull.displacement", "9 t (4 t to 11 t)"),
        ("hull.waterline_length", "11.2 m (5 m to 12 m)"),
        ("hull.waterline_beam", "3.1 m (1.2 m to 4 m)"),
        ("hull.hull_draft", "0.65 m (0.2 m to 0.8 m)"),
        ("hull.entrance_angle", "30 deg (6 deg to 40 deg)"),
        ("hull.waterplane", "0.85 (0.6 to 0.95)"),
        ("hull.prismatic", "0.56 (0.5 to 0.8)"),
        ("hull.appendage_area", "5 m2 (1 m2 to 8 m2)"),
    ],
)
def test_who_is_very_unsure_gets_boats_that_can_be_believed_and_is_told(
    launch: Plan, change: Change, path: str, text: str
) -> None:
    outcome = stage_of("hull", change(launch, {path: text}))
    assert finding_at(outcome, path, "is so unsure").verdict is Verdict.LOOK
    value = entry_at(path).read(text)
    band = getattr(outcome.answers, f"{path.removeprefix('hull.')}_kg", None)
    if band is not None:
        assert not isinstance(value, str | int | tuple)
        assert value.low is not None
        assert band.low == pytest.approx(value.low.si, rel=1e-4)


def test_who_is_a_little_unsure_is_told_nothing_of_it(launch: Plan, change: Change) -> None:
    outcome = stage_of("hull", change(launch, {"hull.displacement": "9 t (8 t to 10.5 t)"}))
    assert not any("is so unsure" in finding.text for finding in outcome.findings)


LOGGED = {
    "present.gear_ratio": "2:1",
    "present.propeller_diameter": "600 mm",
    "present.propeller_pitch": "400 mm",
    "present.log.0.engine_speed": "2000 rpm",
    "present.log.0.speed": "6 kn",
}
TOO_LIGHT = {"hull.midship": "0.99", "hull.displacement": "3 t"}
"""So fine at the ends that the method which carries every boat on has no value for her."""


def test_a_log_that_no_boat_can_be_worked_out_for_is_left_out_and_named(launch: Plan, change: Change) -> None:
    plan = change(with_row(launch, "present.log"), LOGGED | TOO_LIGHT)
    outcome = stage_of("hull", plan)
    assert "no boat like this one" in finding_at(outcome, "present.log", "No row of the log counts").text


def test_an_absurdly_heavy_boat_is_told_her_ratio_without_an_exponent(launch: Plan, change: Change) -> None:
    heavy = {"hull.waterline_length": "4 m", "hull.waterline_beam": "9 m", "hull.displacement": "25 t"}
    outcome = stage_of("hull", change(launch, heavy | {"hull.hull_draft": "2 m", "hull.keel_draft": "2.5 m"}))
    assert re.search(r"displacement-length ratio is \d{5};", " ".join(found.text for found in outcome.findings))


def test_blades_too_small_for_the_tests_are_told_without_an_exponent() -> None:
    (record,) = reynolds_correction(0.8, 0.55, 3, 4e5).outside
    assert "in millions, is under 1;" in record.sentence()


def test_a_hull_that_no_method_knows_is_sent_to_her_dimensions_and_not_to_another_method(
    launch: Plan, change: Change
) -> None:
    plan = change(launch, TOO_LIGHT)
    outcome = stage_of("speed", plan, {"hull": stage_of("hull", plan)})
    assert outcome.answers is None
    found = finding_at(outcome, "hull.displacement", "have no value")
    assert "dimensions" in found.text
    assert found.verdict is Verdict.STOP


def test_a_transom_larger_than_the_largest_section_stops_the_plan(launch: Plan, change: Change) -> None:
    plan = change(launch, {"hull.transom_area": "2 m2", "power.method": "Holtrop & Mennen 1982"})
    hull = stage_of("hull", plan)
    assert finding_at(hull, "hull.transom_area", "larger than the largest section").verdict is Verdict.STOP
    assert stage_of("speed", plan, {"hull": hull}).answers is None
    small = stage_of("hull", change(launch, {"hull.transom_area": "0.2 m2"}))
    assert not any(finding.path == "hull.transom_area" for finding in small.findings)


def test_a_half_knot_that_no_method_prices_is_said_in_words(launch: Plan) -> None:
    from engine.stages.speed import _findings

    hull = stage_of("hull", launch)
    answers = stage_of("speed", launch, {"hull": hull}).answers
    steps = tuple(dataclasses.replace(step, step_cost_fraction=UNKNOWN) for step in answers.steps)
    said = [finding.text for finding in _findings(launch, hull.answers, dataclasses.replace(answers, steps=steps))]
    assert any("the methods in use cannot say" in text for text in said)
    assert not any(NO_NUMBER.search(text) for text in said)


def test_a_half_knot_that_takes_less_power_is_told_so(launch: Plan) -> None:
    """Beyond hull speed of a hull that no method was made for the curves may fall: '-2 % more' is no plain word."""
    from engine.stages.speed import _findings

    hull = stage_of("hull", launch)
    answers = stage_of("speed", launch, {"hull": hull}).answers
    steps = tuple(dataclasses.replace(step, step_cost_fraction=Band(-0.02, -0.05, 0.01)) for step in answers.steps)
    (told,) = [
        f.text
        for f in _findings(launch, hull.answers, dataclasses.replace(answers, steps=steps))
        if "half knot" in f.text
    ]
    assert "takes 2 % less power" in told
    assert "-" not in told


def test_a_leg_against_too_strong_a_current_has_no_fastest_speed() -> None:
    speeds, rates = np.array([1.0, 2.0, 3.0]), np.array([1e-4, 2e-4, 4e-4])
    assert math.isnan(float(np.asarray(fastest_speed_for_leg(speeds, rates, 1e4, 100.0, head_current=3.0))))


def test_a_mile_has_no_price_where_she_makes_no_way(launch: Plan, change: Change) -> None:
    against = {"range.current": "6 kn", "speed.cruise": "5 kn", "range.price": "2 per L"}
    assessment = assess(change(launch, against))
    rows = assessment.outcomes["range"].answers.at_cruise
    assert len(rows) == 2
    assert not any(np.isfinite(row.cost_per_mile_money or math.nan) for row in rows)
    for stage, outcome in assessment.outcomes.items():
        assert_said(outcome, stage)


@pytest.mark.parametrize(("change", "gain"), [(0.08, math.nan), (math.nan, 0.1), (math.nan, math.nan)])
def test_a_deeper_ratio_of_which_one_thing_cannot_be_told_is_told_in_words(change: float, gain: float) -> None:
    from engine.stages.gear_findings import _buys

    assert "cannot be told" in _buys(change, gain)
    assert not NO_NUMBER.search(_buys(change, gain))


def test_an_engine_that_idles_above_its_governed_speed_has_no_power_and_no_sense(launch: Plan, change: Change) -> None:
    engine = "engine.candidate.0"
    plan = change(launch, {f"{engine}.idle_speed": "1500 rpm", f"{engine}.governed_speed": "1138 rpm"})
    for stage, outcome in assess(plan).outcomes.items():
        assert_said(outcome, stage)

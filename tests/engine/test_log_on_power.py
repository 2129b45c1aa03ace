"""A log beside the power curve, row by row."""

import re
from collections.abc import Callable

import pytest

from engine.findings import Verdict
from engine.plan import Plan, with_row, with_text
from engine.planfile import load_plan
from engine.stages.wording import more_or_less, more_or_less_than
from tests.conftest import ROOT
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (0.27, "27 % more than before"),
        (-0.03, "3 % less than before"),
        (1.0, "100 % more than before"),
        (5.32, "6.3 times as much as before"),
    ],
)
def test_what_is_more_than_the_double_is_told_as_so_many_times(change: float, told: str) -> None:
    assert more_or_less_than(change, "before") == told
    assert told.startswith(more_or_less(change))


def test_what_growth_may_have_taken_in_a_log_is_not_held_against_the_plan(launch: Plan, change: Change) -> None:
    logged = change(
        with_row(launch, "present.log"),
        {
            "present.gear_ratio": "2:1",
            "present.propeller_diameter": "18 in",
            "present.propeller_pitch": "13 in",
            "present.log.0.engine_speed": "1800 rpm",
            "present.log.0.speed": "6 kn",
        },
    )
    found = assess(logged).outcomes["power"]
    assert found.answers.logged[0].grown_shaft_power_kw is None
    (clean,) = [finding for finding in found.findings if "reads as" in finding.text]
    assert clean.verdict is Verdict.LOOK
    assert "as she was" not in clean.text
    found = assess(change(logged, {"present.time_since_cleaning": "6 months"})).outcomes["power"]
    (point,) = found.answers.logged
    assert point.counts == "yes"
    assert point.grown_shaft_power_kw.best > 1.2 * point.expected_shaft_power_kw.best
    (grown,) = [finding for finding in found.findings if "reads as" in finding.text]
    gap = point.shaft_power_kw / point.grown_shaft_power_kw.best - 1.0
    assert abs(gap) < 0.25
    assert grown.verdict is Verdict.FITS
    assert re.search(rf"and {abs(gap):.0%} (more|less) than of her as she was, 6 months".replace("%", " %"), grown.text)


def test_a_row_that_was_run_against_a_current_is_named_and_told_what_to_do(launch: Plan, change: Change) -> None:
    rows = ((1200, "4.6"), (1500, "5.6"), (1700, "6.2"), (1900, "5.6"), (2100, "7.1"))
    plan, given = launch, {"present.gear_ratio": "2:1"}
    given |= {"present.propeller_diameter": "18 in", "present.propeller_pitch": "13 in"}
    for index, (rpm, knots) in enumerate(rows):
        plan = with_row(plan, "present.log")
        given |= {f"present.log.{index}.engine_speed": f"{rpm} rpm", f"present.log.{index}.speed": f"{knots} kn"}
    hull = assess(change(plan, given)).outcomes["hull"]
    assert set(hull.answers.logbook.left_out) == {3}
    (told,) = [finding for finding in hull.findings if "is left out" in finding.text]
    assert told.text.startswith("The row of 1900 rpm and 5.6 kn is left out: it does not agree")
    assert told.text.endswith("A current, a wind or a slip may be in it: take it again, both ways.")


def test_who_chose_a_method_without_a_value_for_her_is_not_sent_to_take_her_log_again(
    launch: Plan, change: Change
) -> None:
    """Van Oortmerssen's has none for a beam of five and a half hull drafts."""
    logged = change(
        with_row(launch, "present.log"),
        {
            "hull.hull_draft": "0.56 m",
            "power.method": "van Oortmerssen 1971",
            "present.gear_ratio": "2:1",
            "present.propeller_diameter": "18 in",
            "present.propeller_pitch": "13 in",
            "present.log.0.engine_speed": "1800 rpm",
            "present.log.0.speed": "6 kn",
        },
    )
    (told,) = [f for f in assess(logged).outcomes["hull"].findings if "of the log counts" in f.text]
    assert told.text.endswith("has no value at that speed. Choose another method on the power page, or all that apply.")
    assert told.path == "power.method"


def test_a_log_that_contradicts_the_sea_trial_gives_way_to_it() -> None:
    """Each by itself could be of such a boat; no boat made both."""
    plan = load_plan(ROOT / "saved_plans" / "dunlin.toml")
    after_trial = assess(plan).outcomes
    for index, (knots, rpm) in enumerate(((5.0, 1400), (6.0, 1722), (6.8, 2002), (7.4, 2254))):
        plan = with_row(plan, "present.log")
        plan = with_text(plan, f"present.log.{index}.engine_speed", f"{rpm} rpm")
        plan = with_text(plan, f"present.log.{index}.speed", f"{knots} kn")
    found = assess(plan).outcomes
    hull = found["hull"].answers
    assert set(hull.logbook.left_out.values()) == {"it does not agree with the sea trial, which tells how she is now"}
    assert hull.logbook.used == 0
    assert hull.trial.used == after_trial["hull"].answers.trial.used > 0
    powers = [each["power"].answers.cruise_shaft_power_kw.best for each in (found, after_trial)]
    assert powers[0] == pytest.approx(powers[1])


@pytest.mark.parametrize(("screws", "where"), [("1", "at the shaft"), ("2", "at both shafts together")])
def test_the_power_of_two_propellers_is_told_as_that_of_both(
    launch: Plan, change: Change, screws: str, where: str
) -> None:
    """Figures of the power page are of all shafts; those of the propeller page of one."""
    plan = change(
        with_row(launch, "present.log"),
        {
            "hull.screws": screws,
            "present.gear_ratio": "2:1",
            "present.propeller_diameter": "18 in",
            "present.propeller_pitch": "13 in",
            "present.log.0.engine_speed": "1800 rpm",
            "present.log.0.speed": "6 kn",
        },
    )
    texts = [finding.text for finding in assess(plan).outcomes["power"].findings]
    assert any(f" kW {where}, " in text for text in texts if "reads as" in text)
    assert any(f" kW {where} with your margin" in text for text in texts)

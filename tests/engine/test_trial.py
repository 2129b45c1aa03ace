"""The sea trial: what is entered is read, compared and judged; hidden boats with one thing wrong are seen through."""

from dataclasses import replace
from datetime import date
from typing import Any

import numpy as np
import pytest

from engine.assessment import Assessment
from engine.bands import Band
from engine.constants import HOUR, KNOT, LITRE, RPM
from engine.diagnosis import Diagnosis, Suspect
from engine.findings import Verdict
from engine.machinery.generic_engines import GENERIC_ENGINES
from engine.plan import Plan, text_at, value_at, with_row, with_text
from engine.stages.logged_drive import TWO_RUNS, Reading
from engine.stages.trial_boats import TrialBoats
from engine.stages.trial_cause import cause_finding, cause_of, cause_words, tells_apart
from engine.stages.trial_checks import fairness_findings, least_depth, trial_checks, vibration_findings
from tests.engine.generic_candidates import with_generic
from tests.engine.one_after_another import assess
from tests.engine.trials import Faults, Yard


@pytest.fixture(scope="module")
def tried(yard: Yard, hidden: tuple[TrialBoats, ...]) -> Assessment:
    """The trial of a boat with nothing wrong, entered by the owner."""
    return assess(yard.with_trial(yard.readings(hidden[2], Faults(), np.random.default_rng(1))))


@pytest.mark.parametrize(
    ("faults", "cause"),
    [
        (Faults(hull=1.3), "hull"),
        (Faults(pitch=1.1), "propeller"),
        (Faults(pitch=0.9), "propeller"),
        (Faults(engine=0.8), "engine"),
    ],
)
def test_what_is_wrong_with_a_hidden_boat_is_found(
    yard: Yard, hidden: tuple[TrialBoats, ...], faults: Faults, cause: str
) -> None:
    rng = np.random.default_rng(5)
    found = [cause_of(yard.expected, yard.readings(boat, faults, rng)) for boat in hidden]
    assert sum(each is not None and each.leader.cause == cause for each in found) >= 8


def test_what_is_better_than_planned_is_no_fault_and_a_motor_has_no_air_filter() -> None:
    def said(cause: str, size: float, is_electric: bool = False) -> Any:
        suspects = (Suspect(cause, 0.9, size), Suspect("nothing", 0.1, 0.0))
        return cause_finding(Diagnosis(suspects), is_electric)

    assert said("hull", -0.1).verdict is Verdict.FITS
    assert "no fault" in said("engine", 0.1).text
    assert said("hull", 0.1).verdict is Verdict.LOOK
    assert "air filter" in said("engine", -0.1).text
    assert "voltage under load" in said("engine", -0.1, is_electric=True).text
    assert "measured before anything is changed" in said("propeller", -0.1).text


def test_the_last_size_of_a_fault_that_was_looked_at_is_told_as_the_least_that_it_is() -> None:
    def said(cause: str, size: float) -> str:
        return cause_words(Diagnosis((Suspect(cause, 0.9, size, is_at_end=True), Suspect("nothing", 0.1, 0.0))))

    assert said("propeller", 0.16) == "the propeller: it works like one of at least 16 % more pitch"
    assert said("hull", 0.6) == "the hull: at least 60 % more resistance than the boat that the plan has"
    assert said("engine", -0.35) == "the engine: it gives at least 35 % less than it should"


def test_a_trial_without_a_fault_is_not_said_to_be_as_planned() -> None:
    """Within the doubts of the plan a wheel can still be wrong, and the page may ask for another pitch above it."""
    clear = Diagnosis((Suspect("nothing", 0.9, 0.0), Suspect("engine", 0.1, -0.05)))
    words = cause_words(clear)
    assert words == "no fault, only the doubts of the plan"
    found = cause_finding(clear, is_electric=True)
    assert found.verdict is Verdict.FITS
    assert found.text.startswith("It takes no fault of hull, propeller or motor to explain the trial")


def test_what_would_tell_the_causes_apart_is_what_the_runs_lack(yard: Yard, hidden: tuple[TrialBoats, ...]) -> None:
    whole = yard.readings(hidden[2], Faults(), np.random.default_rng(1))
    without_flow = tuple(replace(each, fuel_flow=None) for each in whole)
    part = tuple(replace(each, full_throttle=False) for each in without_flow)
    assert "uel flow" not in tells_apart(whole, is_electric=False)
    assert "full throttle" not in tells_apart(whole, is_electric=False)
    assert tells_apart(without_flow, is_electric=False).startswith("Fuel flow at each run would")
    assert tells_apart(part, is_electric=False).startswith("Fuel flow at each run and one run at full throttle")
    assert tells_apart(part, is_electric=True).startswith("The power drawn at each run and one run at full throttle")
    read = tuple(replace(each, drawn=1e3) for each in part)
    assert tells_apart(read, is_electric=True).startswith("One run at full throttle would")


def test_a_cause_is_told_with_an_if_where_the_readings_are_doubted_as_a_whole(
    yard: Yard, hidden: tuple[TrialBoats, ...]
) -> None:
    """A hull that drags twice as much as the plan's, her tachometer not checked: the runs look read 15 % high."""
    readings = yard.readings(hidden[3], Faults(hull=1.9), np.random.default_rng(5))
    unchecked = with_text(yard.with_trial(readings), "trial.tachometer", "")
    texts = [finding.text for finding in assess(unchecked).outcomes["trial"].findings]
    (counts,) = [text for text in texts if text.startswith("No run of the trial counts")]
    (cause,) = [text for text in texts if "explains the trial is" in text]
    fault = counts.partition(": ")[2].partition(".")[0]
    assert cause.startswith("If the readings are right, what explains the trial is the hull")
    assert cause.endswith(f"But it may be the readings: {fault}. Settle that first.")


def test_a_sound_boat_is_seldom_accused(yard: Yard, hidden: tuple[TrialBoats, ...]) -> None:
    rng = np.random.default_rng(5)
    found = [cause_of(yard.expected, yard.readings(boat, Faults(), rng)) for boat in hidden]
    assert sum(each is not None and (each.leader.cause == "nothing" or not each.is_clear) for each in found) >= 8


def test_without_fuel_and_full_throttle_a_cause_is_told_less_surely(yard: Yard, hidden: tuple[TrialBoats, ...]) -> None:
    readings = yard.readings(hidden[3], Faults(engine=0.8), np.random.default_rng(5))
    blind = tuple(replace(each, fuel_flow=None, full_throttle=False) for each in readings)
    full, without = (cause_of(yard.expected, each) for each in (readings, blind))
    assert full is not None
    assert without is not None
    assert full.leader.cause == "engine"
    assert full.is_clear
    assert without.leader.cause != "engine"
    assert cause_of(yard.expected, readings[:1]) is None


def test_two_ways_average_out_a_current(yard: Yard, hidden: tuple[TrialBoats, ...]) -> None:
    readings = yard.readings(hidden[0], Faults(), np.random.default_rng(2))
    for current in (0.0, 1.5):
        plan = yard.with_trial(readings, current)
        read = yard.fitted.readings(plan)
        assert [each.speed for each in read] == pytest.approx([each.speed for each in readings], abs=2e-3 * KNOT)
        assert {each.measured for each in read} == {TWO_RUNS}
    alone = with_text(plan, "trial.run.0.speed_back", "")
    first = yard.fitted.readings(alone)[0]
    assert first.measured == "one run over the ground"
    assert first.speed_kn == pytest.approx(readings[0].speed_kn + 1.5, abs=2e-3)


def test_the_trial_weighs_the_boats_again_and_the_range_follows(tried: Assessment, yard: Yard) -> None:
    hull, found = tried.outcomes["hull"].answers, tried.outcomes["trial"].answers
    assert hull.before_trial is not None
    assert width(found.after_cruise_rpm) < width(found.cruise_rpm)
    before = assess(yard.plan).outcomes["range"].answers
    assert width(tried.outcomes["range"].answers.cruise_range_nmi) < width(before.cruise_range_nmi)
    assert hull.logbook.used == len(tried.plan.present.log)
    texts = [finding.text for finding in tried.outcomes["trial"].findings]
    assert any(text.startswith("The trial weighs the boats again") for text in texts)


def test_the_power_page_says_what_log_and_trial_have_changed(tried: Assessment) -> None:
    book, plan = tried.outcomes["hull"].answers, tried.plan
    alone = assess(replace(plan, present=replace(plan.present, log=())))
    rows, runs = book.logbook.used, book.trial.used
    for found, begins in (
        (tried, f"The log ({rows} rows) and the sea trial ({runs} runs) move shaft power at cruise"),
        (alone, f"The sea trial ({runs} runs) moves shaft power at cruise"),
    ):
        (finding,) = [each for each in found.outcomes["power"].findings if each.text.startswith(begins)]
        assert finding.source.count("at the logged speeds") >= 1
    assert finding.path == "trial.run"


def test_a_trial_is_taken_back_without_a_trace(tried: Assessment, yard: Yard) -> None:
    empty = replace(tried.plan, trial=replace(tried.plan.trial, run=()))
    after, before = (assess(plan).outcomes["range"].answers.cruise_range_nmi for plan in (empty, yard.plan))
    assert after == before


def width(band: Band) -> float:
    return (band.high - band.low) / band.best


def test_runs_stand_beside_what_was_expected(tried: Assessment) -> None:
    found = tried.outcomes["trial"].answers
    assert len(found.runs) == len(tried.plan.trial.run)
    for row, run in zip(found.runs, tried.plan.trial.run, strict=True):
        assert run.speed is not None
        assert run.speed_back is not None
        assert row.speed_kn == pytest.approx(0.5 * (run.speed.si + run.speed_back.si) / KNOT)
        assert row.off_fraction == pytest.approx(row.speed_kn / row.expected_speed_kn.best - 1.0)
        assert row.expected_burn_l_per_h.low < row.expected_burn_l_per_h.best
    *steps, full = [row.engine_rpm for row in found.predicted]
    assert np.diff(steps) == pytest.approx(200.0)
    assert [step % 200.0 for step in steps] == pytest.approx([0.0] * len(steps), abs=1e-6)
    assert full == pytest.approx(found.full_throttle_rpm.best)
    assert 60.0 <= full - steps[-1] < 260.0


def checks_of(plan: Plan) -> dict[str, Any]:
    return {check.row.item: check.finding for check in trial_checks(plan, 50.0, 2.0)}


@pytest.mark.parametrize(
    ("path", "good", "bad"),
    [
        ("trial.no_load_speed", "3240 rpm", "2000 rpm"),
        ("trial.exhaust_hose", "55 C", "85 C"),
        ("trial.intake_depression", "2 kPa", "9 kPa"),
        ("trial.oil_pressure", "4 bar", "1.5 bar"),
        ("trial.idle_oil_pressure", "20 psi", "0.5 bar"),
        ("trial.gear_oil", "70 C", "110 C"),
        ("trial.smoke", "none", "black and steady"),
        ("trial.run.0.coolant", "82 C", "104 C"),
        ("trial.run.0.coolant", "82 C", "40 C"),
        ("trial.run.0.back_pressure", "3 kPa", "40 kPa"),
    ],
)
def test_each_line_that_a_trial_is_accepted_by_can_be_met_and_missed(
    tried: Assessment, path: str, good: str, bad: str
) -> None:
    before, well, badly = (
        checks_of(plan) for plan in (tried.plan, *(with_text(tried.plan, path, text) for text in (good, bad)))
    )
    (item,) = (item for item in before if well[item] is not None)
    assert before[item] is None
    assert well[item].verdict is Verdict.FITS
    assert badly[item].verdict is (Verdict.STOP if "smoke" in item else Verdict.LOOK)
    assert {each for each in badly if badly[each] is not None} == {item}


@pytest.mark.parametrize(("units", "least", "read"), [("metric", "3 bar", "4 bar"), ("imperial", "44 psi", "58 psi")])
def test_oil_pressure_is_told_in_the_units_of_the_plan(tried: Assessment, units: str, least: str, read: str) -> None:
    plan = with_text(replace(tried.plan, units=units), "trial.oil_pressure", "4 bar")
    (row,) = (each.row for each in trial_checks(plan, 50.0, 2.0) if each.row.item.endswith("hot, at full throttle"))
    assert row.wanted == f"at least {least}"
    assert row.yours == read


@pytest.mark.parametrize(("cold", "warm"), [("trial.sea", "trial.raw_water_out"), ("trial.air", "trial.engine_room")])
def test_rises_are_told_from_two_readings(tried: Assessment, cold: str, warm: str) -> None:
    half = with_text(tried.plan, cold, "18 C")
    assert not any(checks_of(half).values())
    for degrees, word in (("28 C", Verdict.FITS), ("48 C", Verdict.LOOK), ("10 C", Verdict.LOOK)):
        (said,) = (each for each in checks_of(with_text(half, warm, degrees)).values() if each is not None)
        assert said.verdict is word, (warm, degrees)


@pytest.mark.parametrize(
    ("path", "text", "says"),
    [
        ("trial.tachometer", "not checked", "The tachometer was not checked"),
        ("trial.load", "light, tanks nearly empty", "She was light"),
        ("trial.load", "heavier than planned", "She was heavier"),
        ("trial.time_since_cleaning", "5 months", "Bottom and propeller were not clean"),
        ("trial.time_since_cleaning", "8 months", "on the wheel no more than light growth"),
        ("trial.depth", "3 m", "shallow water slows her"),
        ("trial.run.1.speed_back", "", "runs has a speed of one way only"),
    ],
)
def test_what_makes_a_trial_unfair_is_said(yard: Yard, tried: Assessment, path: str, text: str, says: str) -> None:
    plan = with_text(tried.plan, path, text)
    before, after = (list(fairness_findings(each, yard.fitted.readings(each))) for each in (tried.plan, plan))
    assert not any(says in each.text for each in before)
    (said,) = (each for each in after if says in each.text)
    assert said.verdict is Verdict.LOOK


@pytest.mark.parametrize(("keel_draft", "metres"), [("1.1 m", 5.5), ("0.8 m", 4.48)])
def test_a_fair_trial_wants_five_drafts_of_water_or_four_tenths_of_her_length(
    launch: Plan, keel_draft: str, metres: float
) -> None:
    """From memory. She is 11.2 m long. That the sentence names both is held where the words of sheets are."""
    assert least_depth(with_text(launch, "hull.keel_draft", keel_draft)) == pytest.approx(metres)


def test_a_trial_without_full_throttle_judges_no_propeller(yard: Yard, tried: Assessment) -> None:
    last = len(tried.plan.trial.run) - 1
    plan = with_text(tried.plan, f"trial.run.{last}.throttle", "part")
    found = [each.text for each in fairness_findings(plan, yard.fitted.readings(plan))]
    assert any("No run is marked as full throttle" in text for text in found)


def test_vibration_is_noted(launch: Plan) -> None:
    assert not list(vibration_findings(launch))
    (said,) = vibration_findings(with_text(launch, "trial.vibration", "1500; 1700"))
    assert "Vibration at 1500, 1700 rpm" in said.text


def test_the_later_pages_are_told_of_another_wheel(tried: Assessment) -> None:
    plan = tried.plan
    for path, fitted in (("gear.ratio", "gear_ratio"), ("propeller.diameter", "propeller_diameter")):
        plan = with_text(plan, path, text_at(plan, f"trial.{fitted}"))
    same, other = (
        [each.text for each in assess(with_text(plan, "propeller.pitch", text)).outcomes["trial"].findings]
        for text in (text_at(plan, "trial.propeller_pitch"), "13 in")
    )
    assert not any("is not what the plan has" in text for text in same)
    assert any("is not what the plan has" in text for text in other)


def test_a_trial_that_cannot_be_read_says_what_it_wants(launch: Plan) -> None:
    plan = with_row(launch, "trial.season", {"day": "2026-06-01", "engine_speed": "1800 rpm", "speed": "5 kn"})
    assert any("is not used yet" in each.text for each in assess(plan).outcomes["trial"].findings)
    plan = with_row(launch, "trial.run", {"engine_speed": "1800 rpm", "speed": "5 kn", "speed_back": "5.4 kn"})
    found = assess(plan).outcomes["trial"]
    (said,) = (each for each in found.findings if "is not used yet" in each.text)
    assert said.text.endswith(f"The plan has {found.answers.size} and a ratio of {found.answers.gear_ratio:g}:1.")
    assert found.answers.runs == ()
    none = assess(launch).outcomes["trial"]
    assert any("No trial is entered yet" in each.text for each in none.findings)
    assert none.answers.predicted


@pytest.mark.parametrize(
    ("chosen", "asked", "path"),
    [
        ({}, "say which ratio, diameter and pitch were fitted.", "trial.gear_ratio"),
        (
            {"propeller.diameter": "19 in", "propeller.pitch": "14 in"},
            "say which ratio was fitted.",
            "trial.gear_ratio",
        ),
        (
            {"gear.ratio": "3", "propeller.diameter": "19 in", "trial.propeller_pitch": "40 in"},
            "say which pitch was fitted, one that the series of tested propellers describes.",
            "trial.propeller_pitch",
        ),
    ],
)
def test_a_trial_asks_only_for_what_it_does_not_know(
    launch: Plan, chosen: dict[str, str], asked: str, path: str
) -> None:
    plan = with_row(launch, "trial.run", {"engine_speed": "1800 rpm", "speed": "5 kn", "speed_back": "5.4 kn"})
    for name, text in chosen.items():
        plan = with_text(plan, name, text)
    (said,) = (each for each in assess(plan).outcomes["trial"].findings if "is not used yet" in each.text)
    assert asked in said.text
    assert said.path == path


def test_a_trial_of_another_boat_does_not_move_this_one(yard: Yard, hidden: tuple[TrialBoats, ...]) -> None:
    readings = yard.readings(hidden[0], Faults(), np.random.default_rng(1))
    absurd = tuple(replace(each, speed=0.55 * each.speed) for each in readings)
    found = assess(yard.with_trial(absurd))
    assert found.outcomes["hull"].answers.before_trial is None
    assert found.outcomes["trial"].answers.after_cruise_rpm is None
    assert any("No run of the trial counts" in each.text for each in found.outcomes["trial"].findings)


def test_days_are_kept_as_they_were_meant(launch: Plan) -> None:
    for text in ("2026-05-03", "3 May 2026", "3.5.2026", "May 3, 2026", "3rd may 2026"):
        assert value_at(with_text(launch, "trial.day", text), "trial.day") == date(2026, 5, 3)
    for text in ("5/3/2026", "soon", "2026-02-30", "31 Foo 2026", "1850-01-01", "3.13.2026"):
        assert with_text(launch, "trial.day", text).unread == {"trial.day": text}


def test_fuel_is_that_of_one_engine(tried: Assessment) -> None:
    for row, run in zip(tried.outcomes["trial"].answers.runs, tried.plan.trial.run, strict=True):
        assert run.fuel_flow is not None
        assert row.burn_l_per_h == pytest.approx(run.fuel_flow.si * HOUR / LITRE)
        assert row.engine_rpm * RPM == pytest.approx(run.engine_speed.si if run.engine_speed else 0.0)


def test_runs_may_be_entered_from_full_throttle_down_and_twice(yard: Yard, hidden: tuple[TrialBoats, ...]) -> None:
    """Each has the same beside it in any order; runs that fell gave no speed, or ended the assessment."""
    rising = yard.readings(hidden[2], Faults(), np.random.default_rng(1))
    twice = (*rising[:3], rising[1], *rising[3:])
    orders = (rising, rising[::-1], (*rising[1:3], rising[0], *rising[3:]), twice)
    expected, *others = (
        {row.engine_rpm: row.expected_speed_kn for row in assess(yard.with_trial(order)).outcomes["trial"].answers.runs}
        for order in orders
    )
    assert all(band.is_known for band in expected.values())
    for other in others:
        assert other.keys() == expected.keys()
        assert [other[rpm].best for rpm in expected] == pytest.approx([band.best for band in expected.values()])


def test_a_run_that_no_boat_can_make_explains_nothing(yard: Yard, hidden: tuple[TrialBoats, ...]) -> None:
    """A slip of the pen, 24 kn in a displacement boat: the cause is sought in the others, or not at all."""
    readings = yard.readings(hidden[2], Faults(), np.random.default_rng(1))
    odd = replace(readings[1], speed=24.0 * KNOT)
    alone, with_odd = (cause_of(yard.expected, each) for each in (readings[2:], (odd, *readings[2:])))
    assert with_odd == alone
    assert cause_of(yard.expected, (odd, odd, readings[3])) is None


def test_what_a_motor_draws_is_shown_beside_what_was_expected_and_tells_the_cause(launch: Plan) -> None:
    """A hull that drags 40 % more. Did she draw still more, that would be explained otherwise."""
    yard = Yard(assess(with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"])))
    (boat,) = yard.hidden(1)
    readings = yard.readings(boat, Faults(hull=1.4), np.random.default_rng(5))
    plan = yard.with_trial(readings)
    rows = assess(plan).outcomes["trial"].answers.runs
    for row, reading in zip(rows, yard.fitted.readings(plan), strict=True):
        assert row.drawn_kw == pytest.approx((reading.drawn or 0.0) / 1e3)
        assert row.expected_drawn_kw is not None
        assert row.burn_l_per_h is row.expected_burn_l_per_h is None
    found, thirsty = (cause_of(yard.expected, each) for each in (readings, drawing(readings, 1.6)))
    assert found is not None
    assert thirsty is not None
    assert found.leader.cause == "hull"
    assert thirsty.suspects != found.suspects


def drawing(readings: tuple[Reading, ...], factor: float) -> tuple[Reading, ...]:
    return tuple(replace(each, drawn=factor * (each.drawn or 0.0)) for each in readings)

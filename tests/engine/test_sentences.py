"""Sentences of findings that must stay true, and be followed, in the rarer cases too; on an invented launch."""

import re
from collections.abc import Callable

import pytest

from engine.findings import Finding, Verdict
from engine.machinery.bearings import ENGINE_ANGLE_LIMIT_DEG, judge_bearing_spacing, judge_shaft_angle
from engine.machinery.gearbox import judge_gear_rating
from engine.machinery.generic_engines import GENERIC_ENGINES
from engine.machinery.shaft import judge_safety_factor
from engine.machinery.whirling import judge_whirling
from engine.numeric import told_apart
from engine.plan import Plan, with_row
from engine.readiness import readiness
from tests.engine.generic_candidates import with_generic
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]
FITTED = {"present.gear_ratio": "2:1", "present.propeller_diameter": "460 mm", "present.propeller_pitch": "330 mm"}


@pytest.mark.parametrize(
    ("finding", "said", "limit"),
    [
        (judge_safety_factor(1.97, 4.0), "1.97", "2"),
        (judge_safety_factor(3.98, 4.0), "3.98", "4"),
        (judge_bearing_spacing(19.8, 1.0, 40.0), "19.8", "20"),
        (judge_shaft_angle(ENGINE_ANGLE_LIMIT_DEG + 0.3), f"{ENGINE_ANGLE_LIMIT_DEG + 0.3:.1f}", "15"),
        (judge_whirling(1.198, 1.0), "19.8", "20"),
        (judge_whirling(1.2996, 1.0), "29.96", "30"),
        (judge_gear_rating(1.0, 1.096), "9.6", "10"),
        (judge_gear_rating(1.0, 0.997), "0.3", ""),
    ],
)
def test_a_number_past_its_limit_is_not_told_as_the_limit(finding: Finding, said: str, limit: str) -> None:
    assert finding.verdict is not Verdict.FITS
    numbers = re.findall(r"\d+(?:\.\d+)?", finding.text)
    assert said in numbers
    assert not limit or limit in numbers


def test_a_number_at_its_limit_or_far_from_it_keeps_its_decimals() -> None:
    assert told_apart(20.0, 20.0) == told_apart(20.0 * (1.0 + 1e-12), 20.0) == "20"
    assert told_apart(3.14159, 2.0, 1) == "3.1"
    assert told_apart(-0.4, 0.0) == "-0.4"
    assert told_apart(2.0000001, 2.0, 1) == "2.000"


def told(plan: Plan, stage: str, words: str) -> Finding:
    """The one finding of a stage with these words."""
    (one,) = (finding for finding in assess(plan).outcomes[stage].findings if words in finding.text)
    return one


@pytest.mark.parametrize(
    ("empty", "words"),
    [
        (("shaft.overhang",), "Overhang of the propeller is not given"),
        (("shaft.propeller_weight",), "Weight of the propeller is not given"),
        (("shaft.propeller_weight", "shaft.overhang"), "Weight and overhang of the propeller are not given"),
    ],
)
def test_what_the_critical_speed_lacks_is_what_is_empty(
    launch: Plan, change: Change, empty: tuple[str, ...], words: str
) -> None:
    both = {"shaft.overhang": "100 mm", "shaft.propeller_weight": "20 kg"}
    finding = told(change(launch, {**both, **dict.fromkeys(empty, "")}), "shaft", "bare shaft")
    assert finding.text.startswith(words)
    assert finding.path == empty[0]


@pytest.mark.parametrize("capacity", ["2 kWh", "6 kWh"])
def test_a_small_battery_is_not_told_to_last_no_hours(launch: Plan, change: Change, capacity: str) -> None:
    electric = with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"])
    found = assess(change(electric, {"engine.motor.0.battery": capacity, "speed.cruise": "5 kn", "speed.top": "6 kn"}))
    answers = found.outcomes["range"].answers
    (text,) = (each.text for each in found.outcomes["range"].findings if each.text.startswith("At cruise she goes"))
    said = re.search(r"goes ([\d.]+) nmi .* in ([\d.]+) hours", text)
    assert said is not None
    assert float(said[1]) == pytest.approx(answers.cruise_range_nmi.best, rel=0.05)
    assert float(said[2]) == pytest.approx(answers.cruise_endurance_h.best, rel=0.05)


@pytest.mark.parametrize("share", [0.8, 1.0, 1.2])
def test_the_trial_of_a_motor_speaks_of_a_motor(launch: Plan, change: Change, share: float) -> None:
    """Speeds as expected, less and more; an engine that smokes, and its governor, are not aboard."""
    plan = change(
        with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"]),
        {
            "speed.cruise": "5 kn",
            "speed.top": "6 kn",
            "gear.ratio": "2",
            "trial.propeller_diameter": "500 mm",
            "trial.propeller_pitch": "440 mm",
            "trial.tachometer": "checked with an optical one",
        },
    )
    expected = assess(plan).outcomes["trial"].answers.predicted
    for row in expected[2:]:
        speed = f"{row.speed_kn.best:.2f} kn"
        run = {"engine_speed": f"{share * row.engine_rpm:.0f} rpm", "speed": speed, "speed_back": speed}
        plan = with_row(plan, "trial.run", run | ({"throttle": "full"} if row is expected[-1] else {}))
    found = assess(plan).outcomes["trial"]
    assert found.answers.causes
    said = [
        *(each.text for each in found.findings if each.path != "propeller.diameter"),
        *(row.cause for row in found.answers.causes),
        found.answers.cause,
    ]
    spoken = [text for text in said if re.search(r"\bengine(?! (speed|room))|governor|smokes|uel flow", text)]
    assert not spoken


def test_what_only_makers_figures_could_clear_is_cleared_by_them(launch: Plan, change: Change) -> None:
    electric = with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"])
    slow = change(electric, {"speed.cruise": "5 kn", "speed.top": "6 kn"})
    own = {"usable": "85 %", "aged": "80 %", "chain_efficiency": "86 %"}
    told(slow, "range", "as defaults from memory where you gave none")
    given = assess(change(slow, {f"engine.motor.0.{name}": text for name, text in own.items()}))
    assert not [each.text for each in given.outcomes["range"].findings if "as defaults" in each.text]


def test_where_a_motor_turns_the_shaft_no_engine_and_no_gear_is_spoken_of(launch: Plan, change: Change) -> None:
    electric = change(
        with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"]),
        {"speed.cruise": "5 kn", "speed.top": "6 kn", "present.shaft_diameter": "35 mm"},
    )
    found = told(electric, "shaft", "the present shaft").text
    assert found.startswith("With this motor and gear, the present shaft, taken as S31600, has a safety factor of")
    direct = {"gear.ratios": "1", "gear.ratio": "1", "engine.motor.0.rated_speed": "700 rpm", "gear.rating": ""}
    assert told(change(electric, direct), "shaft", "the present shaft").text.startswith("With this motor, ")
    wheels = [{"propeller.diameter": "500 mm", "propeller.pitch": pitch} for pitch in ("250 mm", "420 mm", "600 mm")]
    tried = [assess(change(electric, {"gear.rating": "", **wheel})) for wheel in wheels]
    reasons = [reason.text for found in tried for each in readiness(found) for reason in each.reasons]
    assert any("carries this motor" in text for text in reasons)
    assert not [text for text in reasons if "this engine" in text or "the engine reaches" in text or "engine's" in text]


@pytest.mark.parametrize(("rpm", "counts"), [("1200 rpm", True), ("3200 rpm", False)])
def test_a_row_of_the_log_that_does_not_count_says_so_beside_what_it_reads(
    launch: Plan, change: Change, rpm: str, counts: bool
) -> None:
    row = {"present.log.0.engine_speed": rpm, "present.log.0.speed": "5 kn"}
    text = told(change(with_row(change(launch, FITTED), "present.log"), row), "power", "reads as").text
    assert ("It does not count" in text) is not counts

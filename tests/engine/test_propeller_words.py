"""What the propeller page says of full throttle, where wheel and engine are far from suiting each other."""

import math
import re
from collections.abc import Callable
from dataclasses import replace

import pytest

from engine.answers import labels
from engine.assessment import search_market
from engine.bands import Band
from engine.data import table
from engine.findings import Verdict
from engine.plan import Plan, entry_at
from engine.readiness import readiness
from engine.stages.propeller_answers import CaseRow
from engine.stages.propeller_checks import propeller_checks
from engine.stages.propeller_findings import TOO_LIGHT, _case_finding, propeller_findings
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]


def test_light_running_that_is_not_known_is_not_called_far_too_light(launch: Plan, change: Change) -> None:
    """With 220 kW more than half of the boats pass 1.6 times hull speed, where the curves end, before the wheel takes
    the power; in 18 of 1,000 the same wheel overloads the engine."""
    size = {"propeller.diameter": "22 in", "propeller.pitch": "20 in"}
    found = assess(change(launch, size | {"engine.candidate.0.rated_power": "220 kW"}))
    wheel = found.outcomes["propeller"].answers
    assert math.isnan(wheel.light_running_fraction.best)
    assert wheel.overloaded_fraction > 0.01
    first = found.outcomes["propeller"].findings[0]
    assert (first.verdict, "is not known" in first.text) == (Verdict.LOOK, True)
    assert not any("far too light" in finding.text for finding in found.outcomes["propeller"].findings)
    reasons = [reason.text for each in readiness(found) for reason in each.reasons]
    assert any("It is not known whether the propeller takes" in text for text in reasons)
    assert not any("far too light" in text for text in reasons)


def test_no_cure_is_named_that_leaves_the_tested_pitches(launch: Plan, change: Change) -> None:
    """Of 30 by 30 in, 20 in less pitch would make a wheel of a third of its diameter, which nobody has tested."""
    for size, words in (("22 x 18", "less pitch suits"), ("30 x 30", "too far from what suits to name a cure")):
        diameter, pitch = size.split(" x ")
        own = change(launch, {"propeller.diameter": f"{diameter} in", "propeller.pitch": f"{pitch} in"})
        first = assess(own).outcomes["propeller"].findings[0]
        assert first.verdict is Verdict.STOP
        assert words in first.text


def test_a_step_of_pitch_that_helps_in_no_boat_is_not_offered(launch: Plan, change: Change) -> None:
    own = change(launch, {"propeller.diameter": "25 in", "propeller.pitch": "30 in"})
    (text,) = [f.text for f in assess(own).outcomes["propeller"].findings if f.text.startswith("In 0 of 1,000")]
    assert "makes it 0" not in text
    assert text.endswith("Less pitch makes it surer.")


@pytest.mark.parametrize(
    ("load", "words"), [("12 t", "more than 9 t at full load"), ("8 t", ""), ("900 kg", "10 % of her displacement")]
)
def test_a_half_load_that_cannot_be_one_is_told_where_it_counts(
    launch: Plan, change: Change, load: str, words: str
) -> None:
    for state, counts in (("new, clean, half load, calm water", True), ("clean, full load, calm water", False)):
        own = change(launch, {"propeller.half_load": load, "propeller.margin_state": state})
        found = [f for f in assess(own).outcomes["propeller"].findings if f.path == "propeller.half_load"]
        assert [f.verdict for f in found] == [Verdict.LOOK] * bool(words and counts)
        assert all(words in f.text for f in found)


def test_the_load_that_the_margin_is_for_is_the_one_that_is_asked_on_the_hull_page() -> None:
    """Her weight was asked with tanks half full, and the margin, and half of the load, were taken from it as full."""
    share = table("service_allowances")["half_load"]["displacement_share"]
    weight, margin, half = map(entry_at, ("hull.displacement", "propeller.margin_state", "propeller.half_load"))
    assert "full load" in weight.what
    assert "half" not in weight.what
    assert "Full load is her displacement on the hull page" in margin.what
    assert f"Empty: {100.0 * share:.0f} % of her displacement on the hull page, which is at full load" in half.what
    assert "full load" in margin.default


@pytest.mark.parametrize(("more", "verdict"), [(-0.01, Verdict.FITS), (0.004, Verdict.FITS), (0.01, Verdict.LOOK)])
def test_what_reads_as_enough_is_enough(launch: Plan, more: float, verdict: Verdict) -> None:
    """'Keller asks for a blade area ratio of 0.55; the wheel has 0.55' is no reason to look again."""
    wheel = assess(launch).outcomes["propeller"].answers
    needed = wheel.area_ratio + more
    asked = replace(wheel, needed_area_ratio=Band(needed, needed, needed))
    (keller,) = [f for f in propeller_checks(wheel.wheel.setting, asked) if f.text.startswith("Keller")]
    assert keller.verdict is verdict


def test_a_tip_above_the_water_is_not_so_much_under_it(launch: Plan, change: Change) -> None:
    for depth, words in (("0.1 m", "% of the diameter above water"), ("0.5 m", "% of the diameter under water")):
        findings = assess(change(launch, {"propeller.shaft_depth": depth})).outcomes["propeller"].findings
        (tip,) = [f.text for f in findings if f.text.startswith("The upper tip")]
        assert words in tip
        assert "-" not in tip


def test_a_gap_at_the_tips_does_not_fit_because_so_little_was_asked_for(launch: Plan, change: Change) -> None:
    """660 mm of room leave a wheel of 600 mm 5 % of its diameter at each tip; the handbook wants 10 %."""

    def said(**fields: str) -> tuple[Verdict, str]:
        wheel = {"diameter": "600 mm", "pitch": "380 mm", **fields}
        plan = change(launch, {f"propeller.{name}": text for name, text in wheel.items()})
        findings = assess(plan).outcomes["propeller"].findings
        return next((found.verdict, found.text) for found in findings if "tips clear" in found.text)

    verdict, text = said(tip_clearance="4 %")
    assert verdict is Verdict.LOOK
    assert "5 % of the diameter; 4 % is asked for, but the handbook wants 10 %" in text
    assert said(diameter="540 mm")[0] is Verdict.FITS


def test_the_match_begins_where_the_engine_idles(launch: Plan, change: Change) -> None:
    """Below it stood a full load of nought beside the demand, as if the wheel stalled her."""
    for idle, lowest in (("850 rpm", 850.0), ("", 700.0)):
        rows = assess(change(launch, {"engine.candidate.0.idle_speed": idle})).outcomes["propeller"].answers.match
        assert lowest <= rows[0].engine_rpm < lowest + 70.0
        assert all(row.available_kw > 0.0 for row in rows[:20])


@pytest.mark.parametrize(("light", "verdict"), [(0.0704, Verdict.FITS), (0.0706, Verdict.LOOK)])
def test_a_wheel_that_reads_as_light_as_may_be_is_not_too_light(launch: Plan, light: float, verdict: Verdict) -> None:
    """The size that the page itself had found was said to run 7.0 % light, too light, and to want more pitch."""
    wheel = assess(launch).outcomes["propeller"].answers
    assert pytest.approx(0.07) == TOO_LIGHT
    found = replace(wheel, light_running_fraction=Band(light, light - 0.02, light + 0.02))
    first = next(propeller_findings(wheel.wheel.setting, found))
    assert first.verdict is verdict
    assert f"{100.0 * light:.1f} % light" in first.text


@pytest.mark.parametrize(("low", "told"), [(-0.0001, "she is overloaded."), (-0.0004, "in one boat of ten by 1 rpm")])
def test_boats_that_miss_rated_speed_by_less_than_an_rpm_are_not_told_by_how_much(
    launch: Plan, low: float, told: str
) -> None:
    """At a rated speed of 2800 rpm; it read "by 0 rpm or more"."""
    answers = assess(launch).outcomes["propeller"].answers
    near = replace(answers, light_running_fraction=Band(0.02, low, 0.04), overloaded_fraction=0.1)
    (text,) = [f.text for f in propeller_findings(answers.wheel.setting, near) if "1,000 plausible boats" in f.text]
    assert told in text
    assert "by 0 rpm" not in text


def test_a_wheel_of_the_market_is_told_its_speed_at_rated_power_and_not_at_full_throttle(
    launch: Plan, change: Change
) -> None:
    """A wheel that runs light takes rated power beyond rated speed, where the governor lets no engine come."""
    best = search_market(assess(launch)).answers.rows[0]
    ordered = assess(change(launch, dict(best.changes))).outcomes["propeller"].answers
    assert best.size == ordered.size
    assert best.light_running_fraction > 0.02
    assert best.top_kn > ordered.top_kn.best + 0.02
    assert dict(labels(type(best)))["top_kn"].text == "Speed at rated power"
    assert dict(labels(type(ordered)))["top_kn"].text == "Speed at full throttle"


def test_who_finds_no_wheel_is_told_that_his_own_is_judged_as_it_is(launch: Plan, change: Change) -> None:
    """Two narrow blades behind 2:1 are short of area, whatever their size; the page still says what his do."""
    narrow = {"propeller.room": "520 mm", "gear.ratio": "2", "propeller.blades": "2", "propeller.area_ratio": "0.3"}
    found = assess(change(launch, narrow)).outcomes["propeller"]
    assert found.answers is None
    (stopped,) = [finding.text for finding in found.findings if "No stock size" in finding.text]
    assert stopped.endswith("A wheel that is there already is judged as it is: give its diameter and pitch.")
    own = {"propeller.diameter": "16 in", "propeller.pitch": "12 in"}
    assert assess(change(launch, narrow | own)).outcomes["propeller"].answers is not None


@pytest.mark.parametrize("sections", ["", "flat-faced (Gawn)", "airfoil (Wageningen B)"])
def test_who_has_too_few_blades_is_told_how_many_would_do(launch: Plan, change: Change, sections: str) -> None:
    """A propeller shop would say it at once; the page said only that another number of blades may do it."""
    two = {"propeller.blades": "2", "propeller.sections": sections}
    found = assess(change(launch, two)).outcomes["propeller"]
    assert found.answers is None
    (stopped,) = [finding for finding in found.findings if "No stock size" in finding.text]
    assert "What holds it back: too little blade area. More blades help: 3 of an area ratio of 0.55 would do." in (
        stopped.text
    )
    assert stopped.path == "propeller.blades"
    assert assess(change(launch, two | {"propeller.blades": "3"})).outcomes["propeller"].answers.area_ratio == 0.55


def test_more_blades_are_named_only_where_they_do_and_the_sections_have_them(launch: Plan, change: Change) -> None:
    for narrow in (
        {"propeller.room": "430 mm", "gear.ratio": "2.0", "propeller.area_ratio": "0.5"},
        {"propeller.sections": "flat-faced (Gawn-Burrill), three blades", "propeller.area_ratio": "0.3"},
    ):
        found = assess(change(launch, narrow)).outcomes["propeller"]
        (stopped,) = [finding for finding in found.findings if "No stock size" in finding.text]
        assert "too little blade area" in stopped.text
        assert "More blades" not in stopped.text
        assert stopped.path == "gear.ratio"


def test_a_market_with_no_suitable_pair_says_what_stands_against_them_and_where_to_look(
    launch: Plan, change: Change
) -> None:
    """The pairs that break one rule only are counted, and the fields that can help are called what they are."""
    found = search_market(assess(change(launch, {"propeller.room": "400 mm", "gear.ratios": "2", "gear.ratio": "2"})))
    assert found.answers is None
    (stopped,) = found.findings
    assert stopped.verdict is Verdict.STOP
    assert stopped.path == "gear.ratios"
    assert re.match(r"None of \d+ pairs of wheel and ratio suits\. Some would suit but for one rule: ", stopped.text)
    assert re.search(r" \(\d+ pairs\)[;.]", stopped.text)
    assert stopped.text.endswith(
        "Look at the room for the propeller, the ratios on offer and the light-running margin asked for."
    )


@pytest.mark.parametrize(
    ("turning", "verdict", "words"),
    [
        (1800.2, Verdict.FITS, "so the engine still gets its rated speed"),
        (1799.6, Verdict.FITS, "so the engine still gets its rated speed"),
        (1798.0, Verdict.FITS, "2 rpm below rated, which is as good"),
        (1778.0, Verdict.LOOK, "22 rpm below rated: do not hold full throttle"),
    ],
)
def test_full_throttle_below_rated_is_not_said_to_reach_it(turning: float, verdict: Verdict, words: str) -> None:
    case = CaseRow("foul", Band(turning, turning, turning), 0.5, Band(8.0, 7.5, 8.5))
    found = _case_finding(case, 1800.0)
    assert (found.verdict, words in found.text) == (verdict, True), found.text


@pytest.mark.parametrize(("depth", "said"), [("", False), ("1.8 m", True), ("9 m", False)])
def test_a_full_throttle_beyond_the_formula_of_shallow_water_is_called_a_guess(
    launch: Plan, change: Change, depth: str, said: bool
) -> None:
    """The formula holds to a depth Froude number of 0.7, 5.7 kn in 1.8 m: above the speeds asked for, below the top."""
    slow = {"power.water_depth": depth, "speed.cruise": "4 kn", "speed.top": "4.5 kn"}
    found = assess(change(launch, slow)).outcomes["propeller"].findings
    told = [each for each in found if "for the formula of shallow water to hold" in each.text]
    assert [(each.verdict, each.path) for each in told] == ([(Verdict.LOOK, "power.water_depth")] if said else [])


def test_where_only_wheels_of_the_other_sections_suit_that_is_said(launch: Plan, change: Change) -> None:
    """The list was headed by sections that the propeller page does not reckon with, and no word of it."""
    words = "No wheel with flat-faced (Gawn) sections suits, which the propeller page reckons with."
    found = search_market(assess(change(launch, {"propeller.room": "460 mm"})))
    assert {row.sections for row in found.answers.rows} == {"airfoil (Wageningen B)"}
    assert [finding.path for finding in found.findings if finding.text.startswith(words)] == ["propeller.sections"]
    both = search_market(assess(launch))
    assert not any("which the propeller page reckons with" in finding.text for finding in both.findings)


def test_the_quick_method_gives_no_pitch_where_its_slip_would_be_more_than_all(launch: Plan, change: Change) -> None:
    """At 1.58 kn it gave a pitch of -170 mm. The slip is that of Gerr (1989), formula 5-2: 1.4/V^0.57, 1 at 1.8 kn."""
    heavy = {"hull.displacement": "100 t", "hull.waterline_length": "20 m", "hull.waterline_beam": "5.5 m"}
    heavy |= {"hull.hull_draft": "1.6 m", "hull.keel_draft": "2.2 m", "hull.appendage_area": ""}
    small = {"engine.candidate.0.rated_power": "2 kW", "engine.candidate.0.rated_speed": "3600 rpm"}
    slow = {"speed.cruise": "1.5 kn", "speed.top": "1.7 kn", "gear.ratios": "1", "propeller.room": "400 mm"}
    found = assess(change(launch, heavy | small | slow)).outcomes["propeller"]
    assert found.answers.top_kn.best < 1.8
    assert found.answers.handbook_pitch_m is None
    (finding,) = (each for each in found.findings if "quick method" in each.text)
    assert finding.verdict is Verdict.LOOK
    assert "does not hold at the 1.6 kn" in finding.text
    assert "mm by" not in finding.text

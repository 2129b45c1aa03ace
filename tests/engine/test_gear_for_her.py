"""What the gear and propeller pages say to who has other blades, other gears, or sails."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from engine.assessment import Assessment, search_market
from engine.bands import Band
from engine.findings import Finding, Verdict
from engine.machinery.generic_engines import GENERIC_ENGINES
from engine.plan import Plan, with_row, with_units
from engine.showing import thousandths
from engine.stages.gear_answers import GearAnswers
from engine.stages.gear_findings import gear_findings
from engine.usual import typical
from tests.engine.generic_candidates import with_generic
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]


def texts(findings: tuple[Finding, ...], part: str) -> list[str]:
    return [finding.text for finding in findings if part in finding.text]


@pytest.fixture(scope="module")
def assessed(launch: Plan) -> Assessment:
    return assess(launch)


def test_who_has_said_which_way_the_output_turns_is_not_sent_to_ask_again(
    launch: Plan, change: Change, assessed: Assessment
) -> None:
    words = "the same way as the engine or the other way"
    assert len(texts(assessed.outcomes["gear"].findings, words)) == 1
    for told in (
        {"gear.output_turns": "clockwise"},
        {"hull.screws": "2", "hull.propeller_place": "twin screws on struts"},
    ):
        assert not texts(assess(change(launch, told)).outcomes["gear"].findings, words)


def test_a_deeper_ratio_says_what_it_buys_or_why_it_does_not_go(launch: Plan, change: Change) -> None:
    ratios = {"gear.ratio": "2.0", "gear.ratios": "2.0; 2.5; 3.0; 3.1; 4.5"}
    found = assess(change(launch, {"propeller.room": "600 mm", **ratios})).outcomes["gear"]
    (goes,), (is_short,), (stays,) = (
        texts(found.findings, f"{ratio}:1{on}") for ratio, on in (("2.5", " "), ("3.1", " "), ("4.5", ":"))
    )
    assert "less at cruise" in goes
    assert goes.endswith("which fits. It loads the shaft with 25 % more torque.")
    assert "500 mm is all that fits" in is_short
    assert is_short.endswith("It loads the shaft with 55 % more torque.")
    assert "Nothing is lost without" in stays
    middle, short, deepest = (found.answers.options[row] for row in (1, 3, 4))
    assert middle.free_diameter_m == middle.diameter_m < found.answers.largest_diameter_m
    assert found.answers.largest_diameter_m == short.diameter_m < short.free_diameter_m
    assert np.isnan(deepest.diameter_m)


def test_a_ratio_that_wants_other_blades_is_said_to_want_them(launch: Plan, change: Change) -> None:
    """Two narrow blades cannot take 30 kW at 3:1 in 0.5 m; four broad ones can, and the propeller page finds some."""
    narrow = {"propeller.blades": "2", "propeller.area_ratio": "0.3", "propeller.room": "500 mm"}
    found = assess(change(launch, narrow | {"gear.ratios": "2.0; 3.0"}))
    (told,) = texts(found.outcomes["gear"].findings, "Nothing is lost without 3:1:")
    assert "no propeller of the blades asked for" in told
    assert told.endswith("More blades, or more area, may do it.")
    broad = {"propeller.blades": "4", "propeller.area_ratio": "0.85", "propeller.room": "500 mm"}
    found = assess(change(launch, broad | {"gear.ratios": "2.0; 3.0"}))
    assert not texts(found.outcomes["gear"].findings, "Nothing is lost without 3:1:")
    there = assess(change(launch, broad | {"gear.ratios": "2.0; 3.0", "gear.ratio": "3.0"}))
    assert there.outcomes["propeller"].answers is not None


@pytest.mark.parametrize("room", [515, 545, 575, 605])
def test_gear_and_propeller_page_agree_on_which_ratios_have_a_wheel(launch: Plan, change: Change, room: int) -> None:
    """In whole inches what fits can be much smaller than the room: 545 mm leave 454 mm, and 17 in are 432 mm."""
    for ratio in ("2.0", "2.5", "3.0"):
        found = assess(change(launch, {"propeller.room": f"{room} mm", "gear.ratio": ratio})).outcomes
        has_wheel = found["propeller"].answers is not None
        assert np.isfinite(found["gear"].answers.chosen.diameter_m) == has_wheel, ratio


NARROW_BOAT = {
    "hull.kind": "tug",
    "hull.waterline_length": "17 m",
    "hull.waterline_beam": "2.05 m",
    "hull.hull_draft": "0.6 m",
    "hull.displacement": "17 t",
    "hull.midship": "0.97",
    "hull.prismatic": "0.85",
    "hull.propeller_place": "behind a skeg",
    "speed.cruise": "3.2 kn",
    "speed.top": "5 kn",
    "engine.candidate.0.rated_power": "28 kW",
    "engine.candidate.0.rated_speed": "2600 rpm",
    "gear.ratios": "2.0; 2.9",
    "propeller.room": "550 mm",
    "propeller.area_ratio": "0.55",
}


def test_the_ratio_that_is_recommended_has_a_wheel_where_one_on_offer_has(launch: Plan, change: Change) -> None:
    """At 2.9:1 the wheel that fits takes the power, but on blades that would cavitate; at 2:1 one is found."""
    boat = change(launch, NARROW_BOAT)
    found = assess(boat).outcomes
    assert found["gear"].answers.recommended_ratio == 2.0
    assert found["propeller"].answers is not None
    assert texts(found["gear"].findings, "Nothing is lost without 2.9:1:")
    deep = assess(change(boat, {"gear.ratio": "2.9"})).outcomes
    assert deep["propeller"].answers is None
    (told,) = texts(deep["gear"].findings, "With 2.9:1 no propeller")
    assert told.endswith("458 mm is all that fits. Take 2:1.")


def test_who_sails_is_told_of_free_wheeling_and_of_wheels_that_fold(
    launch: Plan, change: Change, assessed: Assessment
) -> None:
    yacht = assess(change(launch, {"hull.kind": "long-keel sailing yacht"}))
    for stage, words in (("gear", "Free-wheeling under sail"), ("propeller", "A folding one pulls less astern")):
        assert len(texts(yacht.outcomes[stage].findings, words)) == 1
        assert not texts(assessed.outcomes[stage].findings, words)


MOTOR = {
    "engine.motor.0.name": "motor",
    "engine.motor.0.rated_power": "20 kW",
    "engine.motor.0.rated_speed": "1400 rpm",
    "engine.motor.0.battery": "40 kWh",
    "engine.chosen": "motor",
    "gear.ratios": "1.5; 2; 2.5",
}


def test_a_gear_behind_a_motor_is_held_against_the_motor(launch: Plan, change: Change) -> None:
    """It had 'less than the engine gives' of a boat that has none."""
    plan = change(with_row(launch, "engine.motor"), MOTOR | {"gear.rating": "0.3 kW per 100 rpm"})
    found = assess(plan)
    said = [finding.text for finding in (*found.outcomes["gear"].findings, *search_market(found).findings)]
    assert sum("less than the motor gives" in text for text in said) == 2
    assert not any("engine" in text for text in said)


def test_the_ratios_that_a_gear_does_not_bear_are_listed_as_one_says_them(launch: Plan, change: Change) -> None:
    weak = {"gear.ratio": "2", "gear.ratios": "2; 2.5; 3; 3.5", "gear.rating": ""}
    ratings = {"gear.ratings": "2 kW per 100 rpm; 0.5 kW per 100 rpm; 0.5 kW per 100 rpm; 0.5 kW per 100 rpm"}
    found = assess(change(launch, weak | ratings))
    assert texts(found.outcomes["gear"].findings, "this engine in 2.5:1, 3:1 and 3.5:1.")


def test_who_has_no_rating_yet_is_told_the_classes_for_her_hours(launch: Plan, change: Change) -> None:
    """Hours of the makers' classes, pleasure left out: intermediate 2000, light 2500, medium 3500, continuous."""

    def said(hours: str) -> str:
        plan = change(launch, {"gear.rating": "", "engine.hours_per_year": hours})
        (text,) = texts(assess(plan).outcomes["gear"].findings, "The rating of the gear is not given")
        return text

    assert "light (2500 h), intermediate (2000 h), medium (3500 h) and continuous" in said("400 h")
    assert "light (2500 h), medium (3500 h) and continuous" in said("2200 h")
    assert "only in continuous" in said("4000 h")
    assert "pleasure (" not in said("400 h")


def test_a_ratio_that_is_hardly_made_for_small_engines_is_said_to_be(launch: Plan, change: Change) -> None:
    words = "hardly to be had"
    deep = change(launch, {"gear.rating": "", "gear.ratio": "3.5"})
    assert len(texts(assess(deep).outcomes["gear"].findings, words)) == 1
    for other in ({"gear.rating": "2 kW per 100 rpm"}, {"gear.ratio": "3.0"}):
        assert not texts(assess(change(deep, other)).outcomes["gear"].findings, words)


def test_a_ratio_that_is_alone_on_offer_is_not_called_the_best(launch: Plan, change: Change) -> None:
    alone, of_three = (
        [finding.text for finding in assess(plan).outcomes["gear"].findings]
        for plan in (change(launch, {"gear.ratios": "2.5"}), launch)
    )
    assert not any("best use of the room" in text for text in alone)
    assert any(text.startswith("2.5:1 is the only ratio on offer") for text in alone)
    assert any("best use of the room" in text for text in of_three)
    assert not any("only ratio" in text for text in of_three)


def test_all_of_the_boats_are_written_as_the_thousand_they_are_out_of() -> None:
    assert (thousandths(0.9151), thousandths(0.9996), thousandths(0.0)) == ("915", "1,000", "0")


def said_of_choice(answers: GearAnswers, plan: Plan, chosen: float) -> Finding:
    """The sentence on a choice between 2.5:1, which is recommended, and the deeper 3:1."""
    answers = replace(answers, options=tuple(replace(row, chosen=row.ratio == chosen) for row in answers.options))
    return next(iter(gear_findings(plan, answers, answers.options[0])))


def test_a_deeper_ratio_that_burns_less_and_is_as_fast_is_no_reason_to_look_again(launch: Plan) -> None:
    first = assess(launch).outcomes["gear"].answers
    shallow = replace(first.options[0], ratio=2.5, top_kn=Band(8.0, 7.5, 8.5), cruise_l_per_h=Band(4.0, 3.5, 4.5))
    deep = replace(
        shallow, ratio=3.0, cruise_l_per_h=Band(3.9, 3.4, 4.4), shaft_torque_nm=1.2 * shallow.shaft_torque_nm
    )
    answers = replace(first, recommended_ratio=2.5, options=(shallow, deep))
    taken = said_of_choice(answers, launch, 3.0)
    assert taken.verdict is Verdict.FITS
    assert (
        "3:1 takes 2.5 % less at cruise and is as fast at full power. It loads the shaft with 20 % more" in taken.text
    )
    left = said_of_choice(answers, launch, 2.5)
    assert (left.verdict, "best use of the room" in left.text) == (Verdict.FITS, False)
    assert left.text.startswith("2.5:1 is the least reduction with which she is, within 0.5 %, as fast")
    slower = replace(deep, top_kn=Band(7.9, 7.4, 8.4))
    assert said_of_choice(replace(answers, options=(shallow, slower)), launch, 3.0).verdict is Verdict.LOOK
    assert "best use of the room" in said_of_choice(replace(answers, options=(shallow, slower)), launch, 2.5).text


@pytest.mark.parametrize(
    ("units", "room", "said"), [("metric", "320 mm", "267 mm"), ("imperial", "12.6 in", "10.5 in")]
)
def test_where_no_ratio_suits_it_is_said_how_much_is_lacking_and_what_helps(
    launch: Plan, change: Change, units: str, room: str, said: str
) -> None:
    """It was only said that there is no such propeller."""
    found = assess(change(with_units(launch, units), {"propeller.room": room})).outcomes["gear"]
    assert found.answers is None
    (text,) = texts(found.findings, "In none of the ratios on offer")
    assert f"There is room for {said} across the blades; with 2:1 it would best have " in text
    wanted = float(text.partition("would best have ")[2].split()[0])
    assert wanted > float(said.split()[0])
    assert text.endswith(
        "It takes more room, a shallower ratio, as a faster shaft wants a smaller propeller, or less power."
    )
    shallow = assess(change(with_units(launch, units), {"propeller.room": room, "gear.ratios": "1; 1.2"}))
    assert shallow.outcomes["gear"].answers is not None, "a shallower ratio does help"


def test_ratios_that_are_usual_of_electric_drives_are_not_said_to_be_those_of_gears(launch: Plan) -> None:
    """Gerr was named for belts and chains that are told from memory."""
    diesel = typical(launch, "gear.ratios")
    electric = typical(with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"]), "gear.ratios")
    assert diesel is not None
    assert electric is not None
    assert "Gerr (2009)" in diesel.source
    assert electric.source == "belts and chains of electric drives, from memory"

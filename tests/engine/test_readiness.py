"""Go or not yet: what stands against ordering engine, gear, propeller and shaft, one thing at a time."""

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from engine.assessment import Assessment
from engine.findings import Outcome, Verdict, look, stop
from engine.machinery.generic_engines import GENERIC_ENGINES
from engine.plan import STAGES, Plan, page_of, with_text
from engine.planfile import load_plan
from engine.readiness import ITEMS, Readiness, readiness
from engine.stages.propeller_answers import ENOUGH_BOATS
from tests.engine.generic_candidates import with_generic
from tests.engine.one_after_another import assess
from tests.how_thorough import some_by_day

Change = Callable[[Plan, dict[str, str]], Plan]

SETTLED = {
    "engine.chosen": "first",
    "gear.output_turns": "clockwise",
    "shaft.material": "S31600",
}
"""What the launch lacks to be ordered for."""


def of(found: Assessment) -> dict[str, Readiness]:
    return {item.item: item for item in readiness(found)}


def why(found: Assessment, item: str) -> list[tuple[str, str]]:
    return [(reason.path, reason.text) for reason in of(found)[item].reasons]


def still_go(found: Assessment) -> set[str]:
    return {item.item for item in readiness(found) if item.go}


@pytest.fixture(scope="module")
def settled(launch: Plan, change: Change) -> Plan:
    """The launch with everything that an order needs."""
    return change(launch, SETTLED)


@pytest.fixture(scope="module")
def sound(settled: Plan) -> Assessment:
    return assess(settled)


def with_outcome(found: Assessment, stage: str, outcome: Outcome[object]) -> Assessment:
    return replace(found, outcomes={**found.outcomes, stage: outcome})


def with_answers(found: Assessment, stage: str, **answers: object) -> Assessment:
    """An assessment in which some answers of a stage are others."""
    outcome = found.outcomes[stage]
    return with_outcome(found, stage, replace(outcome, answers=replace(outcome.answers, **answers)))


def test_a_plan_that_lacks_nothing_is_a_go_with_its_second_looks_counted(sound: Assessment) -> None:
    found = readiness(sound)
    assert [item.item for item in found] == list(ITEMS)
    assert all(item.go and not item.reasons for item in found), found
    looks = [finding for finding in sound.outcomes["shaft"].findings if finding.verdict is Verdict.LOOK]
    assert of(sound)["shaft"].notes == len(looks) > 0


@pytest.mark.parametrize(
    ("path", "text", "item", "words"),
    [
        ("hull.displacement", "", "engine", "Still missing: Displacement"),
        ("hull.hull_draft", "?", "engine", "not known, only guessed"),
        ("speed.top", "?", "engine", "not known, only guessed"),
        ("engine.candidate.0.rated_power", "", "engine", "Still missing: Rated power"),
        ("engine.chosen", "", "engine", "No candidate is chosen"),
        ("gear.ratios", "", "gear", "Still missing: Ratios"),
        ("gear.ratios", "?", "gear", "not known, only guessed"),
        ("gear.output_turns", "", "gear", "which way the gear's output turns"),
        ("propeller.room", "?", "gear", "not known, only guessed"),
        ("propeller.room", "", "propeller", "Still missing: Room"),
        ("shaft.span", "", "shaft", "Still missing: Longest distance"),
        ("shaft.material", "", "shaft", "material is not chosen"),
    ],
)
def test_each_thing_that_is_wanting_stands_against_the_item_it_belongs_to(
    sound: Assessment, change: Change, path: str, text: str, item: str, words: str
) -> None:
    assert path not in [at for at, _ in why(sound, item)]
    found = replace(sound, plan=change(sound.plan, {path: text}))  # the answers do not matter here
    assert [at for at, sentence in why(found, item) if words in sentence] == [path]
    assert not of(found)[item].go


@pytest.mark.parametrize(
    ("changes", "item", "words"),
    [
        ({"engine.candidate.0.figures": "a generic invented example"}, "engine", "are invented"),
        ({"engine.candidate.0.duty": ""}, "engine", "duty class is not given"),
        ({"gear.rating": ""}, "gear", "rating of the gear is not known"),
    ],
)
def test_what_the_stages_find_wanting_stands_against_it_too(
    settled: Plan, change: Change, changes: dict[str, str], item: str, words: str
) -> None:
    found = assess(change(settled, changes))
    assert [at for at, sentence in why(found, item) if words in sentence] == list(changes)
    assert not of(found)[item].go


@pytest.mark.parametrize(
    ("path", "text", "item", "words"),
    [
        ("speed.top", "9.2 kn", "engine", "cannot be reached"),
        ("gear.rating", "0.5 kW per 100 rpm", "gear", "it must not be used"),
        ("shaft.span", "5 m", "shaft", "stop"),
    ],
)
def test_a_stop_is_quoted_with_its_page(
    settled: Plan, change: Change, path: str, text: str, item: str, words: str
) -> None:
    found = assess(change(settled, {path: text}))
    told = [sentence for _, sentence in why(found, item) if sentence.startswith(f"The {item} page says stop: ")]
    assert any(words in sentence for sentence in told), why(found, item)


def test_an_engine_larger_than_its_room_is_not_ordered_but_a_narrow_way_in_is_a_note(
    settled: Plan, change: Change
) -> None:
    sized = change(settled, {f"engine.candidate.0.{side}": "800 mm" for side in ("length", "width", "height")})
    sized = replace(sized, name="Sized launch")  # what is worked out for her is kept by her name
    plain = of(assess(sized))["engine"]
    low = assess(change(sized, {"fit.room_height": "820 mm"}))
    assert [path for path, _ in why(low, "engine")] == ["fit.room_height"]
    high = assess(change(sized, {"fit.room_height": "900 mm"}))
    assert of(high)["engine"].go
    narrow = assess(change(sized, {"fit.opening_width": "700 mm"}))
    assert of(narrow)["engine"].go
    assert of(narrow)["engine"].notes == plain.notes + 1


@pytest.mark.parametrize("more", range(5))
def test_a_reason_that_is_too_long_ends_with_a_whole_word(sound: Assessment, more: int) -> None:
    text = f"{'a' * more} medium duty is asked for, and it is sold for {'full power for half an hour, ' * 5}"
    found = replace(sound.outcomes["shaft"], findings=(stop(text, ""),))
    (told,) = (reason for _, reason in why(with_outcome(sound, "shaft", found), "shaft"))
    kept = told.removeprefix("The shaft page says stop: ").removesuffix(" ...")
    assert told.endswith(" ...")
    assert 120 < len(kept) < 150
    assert text.startswith(kept)
    assert text[len(kept)] in " ,", kept


def test_too_light_a_duty_stands_against_the_engine(settled: Plan, change: Change) -> None:
    use = {"engine.hours_per_year": "2500 h", "engine.candidate.0.duty": "light"}
    assert [path for path, _ in why(assess(change(settled, use)), "engine")] == ["engine.candidate.0.duty"]


def test_too_few_boats_that_reach_rated_speed_are_too_much_doubt(sound: Assessment) -> None:
    enough = with_answers(sound, "propeller", reaches_rated_fraction=ENOUGH_BOATS)
    assert of(enough)["propeller"].go
    few = with_answers(sound, "propeller", reaches_rated_fraction=ENOUGH_BOATS - 0.013)
    assert why(few, "propeller") == [
        (
            "propeller.pitch",
            "Too much doubt is left: in only 737 of 1,000 plausible boats the engine reaches its rated speed.",
        )
    ]
    assert still_go(few) == {"engine", "gear", "shaft"}


def test_a_wheel_that_cannot_take_the_power_is_not_ordered(settled: Plan, change: Change) -> None:
    small = assess(change(settled, {"propeller.diameter": "300 mm", "propeller.pitch": "250 mm"}))
    assert any("far too light" in text for _, text in why(small, "propeller"))


def test_a_text_that_is_not_understood_is_named(sound: Assessment) -> None:
    found = replace(sound, plan=with_text(sound.plan, "gear.rating", "plenty"))
    assert why(found, "gear")[0][0] == "gear.rating"
    assert "'plenty'" in why(found, "gear")[0][1]


def test_what_comes_later_waits_for_what_comes_before(sound: Assessment) -> None:
    def stopped(stage: str) -> Assessment:
        outcome = sound.outcomes[stage]
        return with_outcome(sound, stage, replace(outcome, findings=(stop("It is wrong.", "a rule", "x.y"),)))

    assert still_go(stopped("hull")) == set()
    assert still_go(stopped("gear")) == {"engine"}
    assert still_go(stopped("shaft")) == {"engine", "gear"}, "the bore of the propeller is not settled"
    assert still_go(stopped("propeller")) == {"engine", "gear", "shaft"}
    assert still_go(stopped("range")) == set(ITEMS), "how far she goes does not stop an order"
    assert why(stopped("gear"), "propeller") == [
        ("x.y", "First settle the gear: the gear page says stop: It is wrong.")
    ]


def test_a_second_look_alone_stops_nothing(sound: Assessment) -> None:
    for stage in STAGES:
        outcome = sound.outcomes[stage]
        found = with_outcome(sound, stage, replace(outcome, findings=(look("Hm.", "a rule", "hull.kind"),)))
        assert still_go(found) == set(ITEMS)


def test_the_engine_waits_for_the_check_whether_it_fits(sound: Assessment) -> None:
    found = with_outcome(sound, "fit", Outcome(None, waits_for="the gear page: the ratios on offer."))
    assert [text for _, text in why(found, "engine")] == ["The fit page waits for the gear page: the ratios on offer."]


@pytest.mark.parametrize(
    ("name", "ready", "first"),
    some_by_day(
        [
            ("mirabel", set(), "engine.candidate.0.rated_power"),
            ("bittern", {"engine"}, "gear.output_turns"),
            ("two-sisters", set(ITEMS), ""),
            ("dunlin", {"engine", "gear", "shaft"}, "trial.run"),  # her trial finds the wheel too coarse
        ]
    ),
)
def test_of_the_demonstrations_the_finished_ones_can_be_ordered_for(
    root: Path, name: str, ready: set[str], first: str
) -> None:
    found = assess(load_plan(root / "saved_plans" / f"{name}.toml"))
    assert still_go(found) == ready
    assert next((reason.path for item in readiness(found) for reason in item.reasons), "") == first


def test_another_wheel_than_the_one_that_failed_its_trial_can_be_ordered(root: Path, change: Change) -> None:
    tried = load_plan(root / "saved_plans" / "dunlin.toml")
    fitted = {"trial.propeller_diameter": "590 mm", "trial.propeller_pitch": "450 mm", "trial.gear_ratio": "2.93"}
    assert "propeller" not in still_go(assess(change(tried, fitted)))
    assert "propeller" in still_go(assess(change(tried, {**fitted, "propeller.pitch": "420 mm"})))
    four = assess(change(tried, {**fitted, "trial.propeller_blades": "4"}))
    assert not four.outcomes["trial"].answers.is_of_plan
    assert any("is not what the plan has" in each.text for each in four.outcomes["trial"].findings)


def test_a_generic_motor_has_no_duty_and_is_still_not_ordered(settled: Plan) -> None:
    motor = next(engine for engine in GENERIC_ENGINES.values() if engine.is_electric)
    found = assess(with_generic(settled, motor))
    assert ("engine.motor.0.figures") in [path for path, _ in why(found, "engine")]


def test_an_empty_plan_says_where_to_begin_and_every_reason_leads_somewhere() -> None:
    found = assess(Plan())
    assert still_go(found) == set()
    assert why(found, "engine")[0][0] == "hull.kind"
    for item in readiness(found):
        assert all(page_of(reason.path) in STAGES for reason in item.reasons)
        assert len({reason.text for reason in item.reasons}) == len(item.reasons)


class TestAMotorThatTurnsTheShaftItself:
    """1:1 and no rating: nothing stands between motor and shaft."""

    @pytest.fixture
    def direct(self, launch: Plan, change: Change) -> Plan:
        plan = with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"])
        plan = change(
            plan,
            {
                "gear.ratios": "1",
                "engine.motor.0.rated_speed": "900 rpm",
                "engine.motor.0.figures": "a data sheet",
                "speed.top": "6.6 kn",
            },
        )
        return with_text(plan, "gear.rating", "")

    def test_it_is_asked_for_no_gear(self, direct: Plan) -> None:
        """None is ordered; what is still to be chosen of the drive stands against propeller and shaft."""
        found = assess(direct)
        assert [(each.item, each.called) for each in readiness(found)] == [
            ("engine", "motor"),
            ("propeller", "propeller"),
            ("shaft", "shaft"),
        ]
        turns = "It is not chosen which way the motor turns the shaft; it drives ahead either way."
        for item in ("propeller", "shaft"):
            assert ("gear.output_turns", turns) in why(found, item)
            assert not [text for _, text in why(found, item) if re.search("settle the (gear|engine)", text)]
        undecided = assess(with_text(direct, "hull.displacement", "not known"))
        assert any(text.startswith("First settle the motor: ") for _, text in why(undecided, "shaft"))
        told = [finding.text for finding in found.outcomes["gear"].findings]
        (without,) = [text for text in told if "turns the shaft itself" in text]
        assert "No power is put down to one" in without
        assert not [text for text in told if "ask the gear's maker" in text or "rating of the gear" in text]
        assert not [text for text in told if "the same way as the engine" in text]

    def test_the_hand_that_is_chosen_lets_it_go(self, direct: Plan, change: Change) -> None:
        found = assess(change(direct, {"gear.output_turns": "clockwise", "gear.efficiency": "100 %"}))
        assert not [text for _, text in why(found, "propeller") if "turns the shaft" in text]
        told = [finding.text for finding in found.outcomes["gear"].findings]
        assert "the shaft turns clockwise seen from astern: order a right-hand propeller." in " ".join(told)
        assert not [text for text in told if "100 %" in text]

    def test_its_shaft_is_asked_who_takes_the_thrust(self, direct: Plan, change: Change) -> None:
        (thrust,) = [each for each in assess(direct).outcomes["shaft"].findings if "tied to the quay" in each.text]
        assert thrust.verdict is Verdict.LOOK
        assert "thrust block" in thrust.text
        assert "gear must be rated" not in thrust.text
        assert not [each.text for each in assess(direct).outcomes["shaft"].findings if "gear's drawing" in each.text]
        for geared in (change(direct, {"gear.rating": "2 kW per 100 rpm"}), change(direct, {"gear.ratios": "1.5"})):
            (thrust,) = [each for each in assess(geared).outcomes["shaft"].findings if "tied to the quay" in each.text]
            assert "the gear must be rated for both thrusts" in thrust.text

    def test_of_two_each_is_set_up_its_own_way(self, direct: Plan, change: Change) -> None:
        two = change(direct, {"hull.screws": "2", "hull.propeller_place": "twin screws on struts"})
        told = " ".join(finding.text for finding in assess(two).outcomes["gear"].findings)
        assert "The two motors drive ahead in opposite ways: have them set up so." in told
        assert "One gear" not in told

""" "I do not know" is an answer: it is kept, a guess stands in for it, and the band is as wide as the guess."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from engine.assessment import search_market
from engine.entries import says_not_known
from engine.findings import Verdict
from engine.plan import Plan, entry_at, problems, text_at, value_at, why_unread, with_row, with_text, without_row
from engine.planfile import load_plan, plan_text, save_plan
from engine.stages.ratios import ratios_on_offer
from engine.units import Quantity
from engine.usual import typical
from engine.usual.guesses import with_guesses
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]
GUESSED = ("hull.waterline_length", "hull.waterline_beam", "hull.hull_draft", "hull.displacement", "propeller.room")
DECIDED = ("speed.cruise", "speed.top", "gear.ratios")


@pytest.mark.parametrize("text", ["?", "not known", "Don't know", "I don’t know.", "  UNKNOWN "])
def test_many_words_say_that_something_is_not_known(text: str) -> None:
    plan = with_text(Plan(), "hull.displacement", text)
    assert plan.not_known == {"hull.displacement"}
    assert text_at(plan, "hull.displacement") == "not known"
    assert value_at(plan, "hull.displacement") is None


def test_other_words_do_not() -> None:
    assert not any(map(says_not_known, ("", "9 t", "what", "unknown ton")))


def test_it_is_no_longer_missing_and_a_number_takes_its_place_again() -> None:
    plan = with_text(Plan(), "hull.displacement", "?")
    assert "hull.displacement" not in [problem.path for problem in problems(plan, "hull")]
    plan = with_text(plan, "hull.displacement", "9 t")
    assert plan.not_known == frozenset()
    assert text_at(plan, "hull.displacement") == "9 t"


def test_it_is_kept_in_the_file_and_moves_with_its_row(tmp_path: Path) -> None:
    plan = with_row(with_row(Plan(), "engine.candidate"), "engine.candidate")
    plan = with_text(with_text(plan, "engine.candidate.1.weight", "?"), "hull.hull_draft", "?")
    assert 'hull_draft = "not known"' in plan_text(plan)
    save_plan(plan, tmp_path / "a.toml")
    assert load_plan(tmp_path / "a.toml") == plan
    assert without_row(plan, "engine.candidate", 0).not_known == {"engine.candidate.0.weight", "hull.hull_draft"}
    assert without_row(plan, "engine.candidate", 1).not_known == {"hull.hull_draft"}


@pytest.mark.parametrize("path", ["hull.kind", "shaft.span"])
def test_what_nobody_can_guess_is_asked_for_in_a_sentence(path: str) -> None:
    plan = with_text(Plan(), path, "?")
    assert plan.not_known == frozenset()
    assert text_at(plan, path) == "?", "the text stays"
    assert why_unread(plan, path).endswith(".")
    assert [problem.path for problem in problems(plan, path.partition(".")[0])].count(path) == 1


@pytest.mark.parametrize("path", [*GUESSED, *DECIDED])
def test_a_guess_stands_in_and_is_told_on_its_page(path: str, launch: Plan, change: Change) -> None:
    plan = change(launch, {path: "?"})
    usual = typical(plan, path)
    assert usual is not None
    assessment = assess(plan)
    page = path.partition(".")[0]
    found = [finding for finding in assessment.outcomes[page].findings if finding.path == path]
    assert found[0].text.startswith(f"{entry_at(path).label}: not known. Taken instead: ")
    assert found[0].verdict is Verdict.LOOK
    assert found[0].source == usual.source
    assert assessment.is_complete
    assert search_market(assessment).answers is not None
    assert assessment.plan == plan, "the plan itself keeps saying that it is not known"


@pytest.mark.parametrize("path", GUESSED)
def test_a_guess_is_as_unsure_as_what_is_usual(path: str, launch: Plan, change: Change) -> None:
    plan = change(launch, {path: "?"})
    value, usual = value_at(with_guesses(plan), path), typical(plan, path)
    assert usual is not None
    assert isinstance(value, Quantity)
    assert value.low is not None
    assert value.high is not None
    assert value.low.si == pytest.approx(usual.low)
    assert value.high.si == pytest.approx(usual.high)
    assert usual.low < value.si < usual.high


def test_not_knowing_the_weight_widens_the_band_of_the_power(launch: Plan, change: Change) -> None:
    known = assess(launch).outcomes["power"].answers.cruise_shaft_power_kw
    unknown = assess(change(launch, {"hull.displacement": "?"})).outcomes["power"].answers.cruise_shaft_power_kw
    assert (unknown.high - unknown.low) / unknown.best > 1.2 * (known.high - known.low) / known.best


def test_guesses_may_rest_on_each_other(launch: Plan, change: Change) -> None:
    plan = change(launch, dict.fromkeys(("hull.waterline_beam", "hull.hull_draft", "hull.displacement"), "?"))
    assert with_guesses(plan).not_known == frozenset()
    assert assess(plan).outcomes["power"].answers is not None


def test_where_even_a_guess_has_nothing_to_go_by_the_page_waits(launch: Plan, change: Change) -> None:
    paths = ("hull.waterline_length", "hull.waterline_beam", "hull.hull_draft", "hull.displacement")
    outcome = assess(change(launch, dict.fromkeys(paths, "?"))).outcomes["hull"]
    assert outcome.answers is None
    assert outcome.waits_for


@pytest.mark.parametrize(("offered", "room"), [("?", "520 mm"), ("2.0333333333; 2.3333333333", "700 mm")])
def test_a_ratio_that_the_search_of_the_wheels_chose_is_one_of_those_on_offer(
    launch: Plan, change: Change, offered: str, room: str
) -> None:
    plan = change(launch, {"gear.ratios": offered, "gear.ratio": "", "propeller.room": room, "propeller.diameter": ""})
    rows = search_market(assess(plan)).answers.rows
    has_many_figures = any(row.ratio * 100.0 % 1.0 for row in rows)
    assert has_many_figures is (offered != "?"), "a guess has three figures"
    for row in rows:
        taken = with_guesses(with_text(plan, "gear.ratio", row.changes["gear.ratio"]))
        assert ratios_on_offer(taken) == ratios_on_offer(with_guesses(plan))


def test_the_room_that_is_guessed_stays_whichever_wheel_is_chosen(launch: Plan, change: Change) -> None:
    unknown = change(launch, {"propeller.room": "?"})
    row = search_market(assess(unknown)).answers.rows[0]
    four = {**row.changes, "propeller.blades": "4", "propeller.tip_clearance": "15 %"}
    assert typical(change(unknown, four), "propeller.room") == typical(unknown, "propeller.room")


def test_a_guess_is_told_with_no_more_digits_than_its_ends(launch: Plan, change: Change) -> None:
    """0.6666 m stood beside 0.598 m and 0.743 m."""
    plan = change(launch, {"hull.hull_draft": "?", "gear.ratios": "?"})
    for path, page in (("hull.hull_draft", "hull"), ("gear.ratios", "gear")):
        (text,) = [f.text for f in assess(plan).outcomes[page].findings if f.path == path and "Taken instead" in f.text]
        numbers = re.findall(r"\d+\.\d+", text.partition("Taken instead:")[2])
        assert numbers
        assert all(len(number.replace(".", "").lstrip("0")) <= 3 for number in numbers), text

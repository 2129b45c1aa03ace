"""The lines of the review page as plain data: what there is, in what order, where it leads, and what is put away."""

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from engine.assessment import Assessment, assess
from engine.findings import Outcome, fits, look, stop
from engine.machinery.cautions import CAUTIONS
from engine.plan import STAGES, Plan, with_text
from engine.planfile import load_plan
from engine.readiness import ITEMS, readiness
from tests.wizard.fakes import fake_assessment
from wizard.review_lines import AGAIN, Line, Place, Section, Sheet, review_lines, verdict
from wizard.sheet_choice import SHEETS


def filled() -> Plan:
    return with_text(Plan(), "hull.waterline_length", "10 m")


def found_in(plan: Plan, **findings: tuple[object, ...]) -> Assessment:
    """Made-up answers on every page, and only these findings."""
    found = fake_assessment(plan)
    outcomes = {stage: Outcome(found.outcomes[stage].answers, findings.get(stage, ())) for stage in STAGES}
    return replace(found, outcomes=outcomes)


def headings(lines: list[Line]) -> list[str]:
    """What stands over the parts, without numbers and what Enter does."""
    over = [line.text for line in lines if line.is_heading or isinstance(line.leads_to, Section)]
    return [text.partition(" (")[0] for text in over]


def under(lines: list[Line], title: str) -> list[Line]:
    """The lines of one part."""
    at = next(i for i, line in enumerate(lines) if line.text.startswith(title))
    rest = lines[at + 1 :]
    end = next((i for i, line in enumerate(rest) if line.is_heading or isinstance(line.leads_to, Section)), len(rest))
    return rest[:end]


@pytest.fixture(scope="module")
def bittern(root: Path) -> Assessment:
    return assess(load_plan(root / "saved_plans" / "bittern.toml"))


def test_the_parts_stand_in_the_order_of_their_urgency() -> None:
    found = found_in(
        filled(), hull=(fits("Good.", "a"), look("Hm.", "b"), stop("No.", "c")), gear=(look("Hm, too.", "b"),)
    )
    assert headings(review_lines(found.plan, found)) == [
        "Ready to order?",
        "What stops",
        "What is missing",
        "What to measure next",
        AGAIN,
        "What fits",
        "Be careful",
        "Sheets to print",
    ]


def test_parts_with_nothing_in_them_are_left_out(bittern: Assessment) -> None:
    over = headings(review_lines(bittern.plan, bittern))
    assert "What stops" not in over
    assert "What is missing" not in over
    assert "Taken for granted, as you have not said" in over


def test_there_is_a_line_for_each_item_and_it_leads_to_its_first_reason(bittern: Assessment) -> None:
    bittern = replace(bittern, plan=with_text(bittern.plan, "gear.ratio", "deep"))
    lines = under(review_lines(bittern.plan, bittern), "Ready to order?")
    assert [line.lead.split() for line in lines] == [[mark, item] for mark, item in zip("+---", ITEMS, strict=True)]
    engine, gear, *_ = lines
    assert engine.text == "go, look at 1 note first"
    assert engine.leads_to == Place("engine")
    assert gear.text.startswith("not yet: ")
    assert gear.leads_to == Place("gear", "gear.ratio")
    first, second = next(item.reasons for item in readiness(bittern) if item.item == "gear")
    assert gear.detail == (f"Do not order the gear yet. {first.text}", f"- {second.text}")


def test_a_finding_leads_to_its_field_and_tells_its_rule_in_full() -> None:
    found = found_in(filled(), gear=(stop("The gear breaks.", "a rule", "propeller.room"),))
    (line,) = under(review_lines(found.plan, found), "What stops")
    assert line.lead.split() == ["!", "gear"]
    assert line.leads_to == Place("propeller", "propeller.room")
    assert line.on_enter == "Enter goes to the propeller page: Room for the propeller. Esc comes back."
    assert line.detail == ("stop, gear: The gear breaks.", "Rule: a rule")


def test_what_is_missing_leads_to_its_field_and_says_how_to_find_it() -> None:
    found = found_in(filled())
    first = under(review_lines(found.plan, found), "What is missing")[0]
    assert first.leads_to == Place("hull", "hull.kind")
    assert any("Look at her out of the water" in words for words in first.detail)


def test_what_was_written_and_not_understood_is_not_called_missing() -> None:
    plan = with_text(filled(), "trial.engine_room", "2500 C")
    found = found_in(plan)
    (line,) = [line for line in under(review_lines(plan, found), "What is not understood") if not line.is_heading]
    assert line.text.startswith("Air in the engine room: 2500 C is more than can be believed here")
    assert all("2500 C" not in line.text for line in under(review_lines(plan, found), "What is missing"))
    assert verdict(plan, found)[2].endswith(" missing; 1 not understood.")


def test_the_plan_as_it_is_now_says_what_is_missing_also_before_anything_is_worked_out() -> None:
    lines = review_lines(Plan(), None)
    assert headings(lines) == ["What is missing"]
    assert verdict(Plan(), None) == ("", "", "Working it out ...")


@pytest.mark.parametrize("name", ["assumed", "fits"])
def test_long_parts_are_put_away_to_a_count_until_they_are_opened(bittern: Assessment, name: str) -> None:
    closed = review_lines(bittern.plan, bittern)
    opened = review_lines(bittern.plan, bittern, frozenset({name}))
    at = next(i for i, line in enumerate(closed) if line.leads_to == Section(name))
    count = len(opened) - len(closed)
    assert count > 3
    assert f"({count}): Enter opens" in closed[at].text
    assert f"({count}): Enter closes" in opened[at].text
    assert closed[at + 1 :] == opened[at + 1 + count :]


def test_an_assumption_tells_value_and_source_and_a_guess_is_marked() -> None:
    plan = with_text(with_text(filled(), "hull.kind", "full-keel launch"), "hull.waterline_beam", "?")
    lines = under(review_lines(plan, found_in(plan), frozenset({"assumed"})), "Taken for granted")
    assert [line.lead.split() for line in lines] == [["?", "hull"]]
    (guess,) = lines
    assert guess.text.startswith("Waterline beam: ")
    assert guess.leads_to == Place("hull", "hull.waterline_beam")
    assert any(words.startswith("Guessed, as you do not know it. From: ") for words in guess.detail)


def test_every_caution_stands_there_in_full(bittern: Assessment) -> None:
    lines = under(review_lines(bittern.plan, bittern), "Be careful")
    told = [" ".join(line.detail) for line in lines]
    assert "not a certificate" in told[0]
    assert all(any(caution.text in words for words in told) for caution in CAUTIONS.values())


def test_every_sheet_can_be_written_from_here(bittern: Assessment) -> None:
    lines = under(review_lines(bittern.plan, bittern), "Sheets to print")
    assert [line.leads_to for line in lines] == [Sheet(name) for name in SHEETS]


@pytest.mark.parametrize(
    ("findings", "head", "words"),
    [
        ((stop("No.", "a"), look("Hm.", "b")), "Not yet.", "1 to clear first"),
        ((look("Hm.", "b"),), "Not yet.", "do not order yet: gear, propeller, shaft"),
    ],
)
def test_the_verdict_is_that_of_the_worst(
    bittern: Assessment, findings: tuple[object, ...], head: str, words: str
) -> None:
    outcomes = {**bittern.outcomes, "hull": replace(bittern.outcomes["hull"], findings=findings)}
    told = verdict(bittern.plan, replace(bittern, outcomes=outcomes))
    assert told[0] == head
    assert words in told[2]


def test_what_is_ready_but_for_second_looks_is_a_go_with_care(bittern: Assessment) -> None:
    settled = replace(bittern, plan=with_text(bittern.plan, "gear.output_turns", "clockwise"))
    assert verdict(settled.plan, settled)[0] == "Go, with care."
    calm = {stage: replace(outcome, findings=()) for stage, outcome in settled.outcomes.items()}
    assert verdict(settled.plan, replace(settled, outcomes=calm))[0] == "Go."


def test_the_lines_are_made_without_the_toolkit_of_the_screens(root: Path) -> None:
    code = "import sys, wizard.review_lines; print(*[m for m in ('textual', 'numpy', 'plotext') if m in sys.modules])"
    run = subprocess.run([sys.executable, "-c", code], cwd=root, capture_output=True, text=True, check=True)
    assert run.stdout.split() == []

"""How numbers were worked out, as lines of text: what stands in a working, and how it is set."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from engine.answers import labels, row_tables
from engine.assessment import Assessment, assess
from engine.findings import Outcome
from engine.plan import PAGES, STAGES, Plan, entry_at, with_row, with_text
from engine.planfile import load_plan
from engine.workings import workings
from tests.wizard.fakes import fake_assessment
from wizard.working_text import (
    Number,
    Part,
    field_text,
    head_lines,
    label_text,
    list_lines,
    numbers_of,
    plan_path,
    trail_text,
    value_text,
    working_parts,
)

WIDTHS = (40, 56, 76)
CRUISE = Number("power", "cruise_effective_power_kw")


def changed(plan: Plan, **texts: str) -> Plan:
    for path, text in texts.items():
        plan = with_text(plan, path.replace("__", "."), text)
    return plan


@pytest.fixture
def plan() -> Plan:
    return changed(with_row(Plan(), "engine.candidate"), hull__waterline_length="11 m", engine__candidate__0__name="A")


@pytest.fixture(scope="module")
def bittern(root: Path) -> Assessment:
    return assess(load_plan(root / "saved_plans" / "bittern.toml"))


def text_of(parts: list[Part]) -> str:
    return " ".join(" ".join(part.text.split()) for part in parts)


def test_every_answer_and_column_of_a_page_is_listed_answers_first(bittern: Assessment) -> None:
    for page in STAGES:
        answers = bittern.outcomes[page].answers
        numbers = numbers_of(page, bittern)
        names = [number.name for number in numbers]
        shown = [name for name, _ in labels(answers)]
        assert names[: len(shown)] == shown
        tables = {name.partition(".")[0] for name in names[len(shown) :]}
        assert tables == {name for name, _, rows in row_tables(answers, on_page=True) if rows}


def test_the_review_page_has_the_numbers_of_all_pages(bittern: Assessment) -> None:
    assert numbers_of("review", bittern) == [number for page in STAGES for number in numbers_of(page, bittern)]


@pytest.mark.parametrize("width", WIDTHS)
def test_every_working_of_every_page_fits_and_tells_each_known_answer(bittern: Assessment, width: int) -> None:
    for number in (number for page in STAGES for number in numbers_of(page, bittern)):
        parts = working_parts(number, bittern.plan, bittern, width)
        head = head_lines(number, bittern, bittern.plan.units, width)
        for line in "\n".join([*head, *(part.text for part in parts)]).splitlines():
            assert len(line) <= width, (number, line)
        titles = [part.text.strip() for part in parts if part.is_heading]
        for title in ("Formula", "Source", "Where it holds"):
            assert title in titles, number
        said = text_of(parts)
        for reference in workings(number.page)[number.name].answers:
            stage, _, name = reference.partition(".")
            other = Number(stage, name)
            if getattr(bittern.outcomes[stage].answers, name) is not None:
                value = value_text(other, bittern, bittern.plan.units)
                assert " ".join(f"{label_text(other, bittern)}: {value}".split()) in said, (number, reference)
                assert other in [part.leads_to for part in parts], (number, reference)


@pytest.mark.parametrize("width", WIDTHS)
def test_the_list_fits_and_gives_values_as_the_page_does(bittern: Assessment, width: int) -> None:
    for page in PAGES:
        numbers = numbers_of(page, bittern)
        lines = list_lines(numbers, bittern, "imperial", width)
        assert all(len(line) <= width for text in lines for line in text.splitlines())
        for number, text in zip(numbers, lines, strict=True):
            told = number.is_column or value_text(number, bittern, "imperial").split()[0] in text
            assert told, (number, text)


def test_what_leads_somewhere_leads_to_a_field_or_a_working_that_exist(bittern: Assessment) -> None:
    for number in (number for page in STAGES for number in numbers_of(page, bittern)):
        for part in working_parts(number, bittern.plan, bittern, 76):
            if isinstance(part.leads_to, Number):
                assert part.leads_to.name in workings(part.leads_to.page)
            elif part.leads_to:
                page, path = part.leads_to
                assert page in STAGES
                assert entry_at(path).label.split()[0] in part.text


def test_a_column_is_called_by_its_table_and_has_no_single_value(bittern: Assessment) -> None:
    number = Number("power", "curve.shaft_power_kw")
    head = head_lines(number, bittern, "imperial", 76)
    assert head == ("Power against speed: Shaft power", "one value in each row of the table")


def test_a_band_says_what_its_ends_are(bittern: Assessment) -> None:
    said = text_of(working_parts(Number("power", "cruise_shaft_power_kw"), bittern.plan, bittern, 76))
    band = bittern.outcomes["power"].answers.cruise_shaft_power_kw.scaled(1.0 / 0.745699872)
    assert "each of 1,024 plausible boats: the middle one is shown" in said
    assert f"one in ten is below {band.low:.3g} hp, one in ten above {band.high:.3g} hp." in said


def test_a_band_of_a_formula_is_not_taken_for_one_of_the_boats(bittern: Assessment) -> None:
    for number in (Number("shaft", "hub_diameter_m"), Number("propeller", "bollard_pull_n")):
        said = text_of(working_parts(number, bittern.plan, bittern, 76))
        assert "what the formula leaves open" in said
        assert "each of 1,024" not in said


def test_a_number_without_a_band_speaks_of_no_boats(bittern: Assessment) -> None:
    assert "plausible boats:" not in text_of(working_parts(Number("speed", "cruise_kn"), bittern.plan, bittern, 76))


def test_other_answers_stand_beside_with_their_difference(bittern: Assessment) -> None:
    answers = bittern.outcomes["propeller"].answers
    more = round(100.0 * (answers.handbook_pitch_m / answers.pitch_m - 1.0))
    said = text_of(working_parts(Number("propeller", "pitch_m"), bittern.plan, bittern, 76))
    assert more > 0
    assert (
        f"Handbook pitch: {value_text(Number('propeller', 'handbook_pitch_m'), bittern, 'imperial')}, {more} %" in said
    )


def test_each_resistance_method_has_its_value_at_cruise(bittern: Assessment) -> None:
    curve, cruise = bittern.outcomes["power"].answers.curve, bittern.outcomes["speed"].answers.cruise_kn
    row = min(curve, key=lambda row: abs(row.speed_kn - cruise))
    said = {
        name: text_of(working_parts(Number("power", name), bittern.plan, bittern, 76))
        for name in ("cruise_effective_power_kw", "cruise_resistance_n")
    }
    for method, power_kw in row.methods.items():
        if power_kw is None:
            assert f"{method}: does not apply" in said["cruise_resistance_n"]
            continue
        force = power_kw * 1e3 / (row.speed_kn * 1852.0 / 3600.0) / 4.4482216
        assert f"{method}: {power_kw / 0.745699872:.3g} hp" in said["cruise_effective_power_kw"]
        assert f"{method}: {force:.3g} lbf" in said["cruise_resistance_n"]
    assert "Each method by itself" not in text_of(
        working_parts(Number("power", "top_resistance_n"), bittern.plan, bittern, 76)
    )


def test_the_weights_of_the_methods_are_named_on_the_hull_page(bittern: Assessment) -> None:
    said = text_of(working_parts(Number("hull", "methods.weight_fraction"), bittern.plan, bittern, 76))
    for row in bittern.outcomes["hull"].answers.methods:
        (told,) = re.findall(rf"{re.escape(row.method)}: ([\d.]+) %", said)
        assert float(told) == pytest.approx(100.0 * row.weight_fraction, abs=0.6)


def test_a_field_is_told_as_typed_or_with_what_stands_in_for_it(plan: Plan) -> None:
    plan = changed(
        plan, hull__displacement="?", speed__cruise="fast [x]", power__sea_margin="15 % (10 % to 20 %)", hull__kind=""
    )
    assert field_text(plan, "hull.waterline_length") == "11 m"
    assert field_text(plan, "power.sea_margin") == "15 % (10 % to 20 %)"
    assert field_text(plan, "speed.cruise") == "fast [x], not understood"
    assert field_text(plan, "hull.displacement").startswith("not known; ")
    assert field_text(plan, "hull.kind") == "empty: needed"
    entry = entry_at("gear.shaft_efficiency")
    assert field_text(plan, "gear.shaft_efficiency") == f"empty: default {entry.default} ({entry.default_source})"
    assert field_text(plan, "power.wake") == "empty: left out or estimated"


def test_a_field_of_the_chosen_candidate_is_found_by_its_row(plan: Plan) -> None:
    plan = with_row(plan, "engine.candidate", {"name": "A"})
    plan = with_row(plan, "engine.motor", {"name": "M"})
    assert plan_path(plan, "chosen.rated_power") == "engine.candidate.0.rated_power"
    assert plan_path(plan, "chosen.battery") == ""
    plan = with_text(plan, "engine.chosen", "M")
    assert plan_path(plan, "chosen.battery") == "engine.motor.0.battery"
    assert plan_path(plan, "chosen.fuel_at_rated") == ""
    assert plan_path(Plan(), "chosen.rated_power") == ""
    assert plan_path(plan, "hull.no_such_field") == ""


def test_made_up_answers_have_workings_too(plan: Plan) -> None:
    assessment = fake_assessment(plan)
    for number in (number for page in STAGES for number in numbers_of(page, assessment)):
        assert working_parts(number, plan, assessment, 60)
    assert "Method B: does not apply" not in text_of(working_parts(CRUISE, plan, assessment, 60))


def test_without_answers_a_page_says_what_it_waits_for_and_lists_the_fields() -> None:
    assessment = fake_assessment(Plan())
    numbers = numbers_of("speed", assessment)
    assert Number("speed", "cruise_kn") in numbers
    assert not any(number.is_column for number in numbers)
    assert all(text.endswith("-") for text in list_lines(numbers, assessment, "metric", 60))
    assert head_lines(Number("speed", "cruise_kn"), assessment, "metric", 60)[1] == "not worked out yet"
    parts = working_parts(Number("speed", "cruise_kn"), Plan(), assessment, 60)
    assert "The speed page waits for: the waterline length." in text_of(parts)
    assert ("speed", "speed.cruise") in [part.leads_to for part in parts]


def test_an_answer_of_a_page_without_answers_can_still_be_gone_into(plan: Plan) -> None:
    outcomes = {**fake_assessment(plan).outcomes, "speed": Outcome(None, (), "the speeds.")}
    parts = working_parts(CRUISE, plan, Assessment(plan, outcomes), 76)
    assert "Cruising speed: not worked out yet, on the speed page" in text_of(parts)
    assert Number("speed", "cruise_kn") in [part.leads_to for part in parts]
    assert "Each method by itself" not in text_of(parts)


def test_an_answer_that_is_not_known_is_no_value(plan: Plan) -> None:
    outcomes = dict(fake_assessment(plan).outcomes)
    outcomes["power"] = Outcome(replace(outcomes["power"].answers, rule_gerr_kw=None, before_log_kw=None))
    assessment = Assessment(plan, outcomes)
    assert head_lines(Number("power", "rule_gerr_kw"), assessment, "metric", 60)[1] == "no value for this plan"
    assert Number("power", "before_log_kw") not in numbers_of("power", assessment)
    parts = working_parts(Number("power", "cruise_shaft_power_kw"), plan, assessment, 60)
    assert Number("power", "before_log_kw") not in [part.leads_to for part in parts]


def test_the_trail_loses_its_beginning_when_it_is_too_long() -> None:
    numbers = [Number(page, "x") for page in ("propeller", "power", "hull")]
    assert trail_text(numbers, 40) == "Propeller > Power > Hull"
    assert trail_text(numbers, 20) == "... > Power > Hull"
    assert trail_text(numbers, 5) == "... > Hull"


def test_no_price_goes_into_it_of_what_no_candidate_takes(bittern: Assessment) -> None:
    spent = Number("costs", "spent_money")
    both = bittern.plan
    diesels, motors = (replace(both, engine=replace(both.engine, **{left: ()})) for left in ("motor", "candidate"))
    for plan, fuel, electricity in ((both, True, True), (diesels, True, False), (motors, False, True)):
        told = text_of(working_parts(spent, plan, bittern, 76))
        assert ("Fuel price" in told, "Price of electricity" in told) == (fuel, electricity)

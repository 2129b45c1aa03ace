"""The plan: fields by path, nothing dropped."""

from collections.abc import Callable

import pytest

from engine.entries import Kind, entries, tables
from engine.plan import (
    SECTIONS,
    Plan,
    entry_at,
    paths,
    problems,
    text_at,
    value_at,
    with_row,
    with_text,
    with_units,
    with_value,
    without_row,
)
from engine.plan_document import document_from_plan, plan_from_document
from engine.units import Quantity, unit_named

Change = Callable[[Plan, dict[str, str]], Plan]
ALL_SECTIONS = [*SECTIONS.values(), *(row for section in SECTIONS.values() for row in tables(section).values())]


def every_entry() -> list[tuple[str, str]]:
    return [(section.__name__, name) for section in ALL_SECTIONS for name in entries(section)]


@pytest.mark.parametrize("section", ALL_SECTIONS, ids=lambda section: section.__name__)
def test_every_field_says_what_it_is_and_has_believable_limits(section: type) -> None:
    for name, entry in entries(section).items():
        assert entry.label, name
        assert entry.what.endswith("."), name
        if entry.kind in (Kind.QUANTITY, Kind.QUANTITIES):
            assert entry.limits is not None, name
            assert entry.limits[0] < entry.limits[1], name
            for symbol in (entry.metric, entry.imperial):
                assert unit_named(symbol, entry.dimension).dimension is entry.dimension, name


@pytest.mark.parametrize("section", ALL_SECTIONS, ids=lambda section: section.__name__)
def test_every_default_can_be_read_and_names_its_source(section: type) -> None:
    for name, entry in entries(section).items():
        if entry.default:
            entry.read(entry.default)
            assert entry.default_source, name


def test_a_field_is_set_as_typed_and_read_back_as_written() -> None:
    plan = with_text(Plan(), "hull.waterline_length", "36 ft 6 in")
    value = value_at(plan, "hull.waterline_length")
    assert isinstance(value, Quantity)
    assert value.si == pytest.approx(11.1252)
    assert text_at(plan, "hull.waterline_length") == "36 ft 6 in"


def test_text_that_cannot_be_understood_waits_and_is_named() -> None:
    plan = with_text(with_text(Plan(), "hull.displacement", "14800 lb"), "hull.displacement", "heavy")
    assert value_at(plan, "hull.displacement") is None
    assert text_at(plan, "hull.displacement") == "heavy"
    assert any("'heavy' has no number" in problem.text for problem in problems(plan, "hull"))
    mended = with_text(plan, "hull.displacement", "6.7 t")
    assert mended.unread == {}


def test_an_emptied_field_is_missing_again() -> None:
    plan = with_text(with_text(Plan(), "gear.ratios", "2.0; 2,5; 3"), "gear.ratios", " ")
    assert value_at(plan, "gear.ratios") == ()
    assert [problem.path for problem in problems(plan, "gear")] == ["gear.ratios"]


def test_several_quantities_keep_decimal_commas_apart() -> None:
    plan = with_text(Plan(), "gear.ratios", "2.0; 2,5; 3")
    ratios = value_at(plan, "gear.ratios")
    assert isinstance(ratios, tuple)
    assert [ratio.si for ratio in ratios] == [2.0, 2.5, 3.0]
    assert text_at(plan, "gear.ratios") == "2.0; 2,5; 3"


def test_what_was_not_understood_is_read_anew_when_the_units_change() -> None:
    """As the file would be: what is on the screen and what is opened again are one."""
    plan = with_text(with_text(Plan(), "propeller.room", "55"), "speed.cruise", "6")
    assert plan.unread == {"propeller.room": "55"}
    switched = with_units(plan, "imperial")
    assert not switched.unread
    assert text_at(switched, "propeller.room") == "55 in"
    assert text_at(switched, "speed.cruise") == "6 kn"
    assert plan_from_document(document_from_plan(switched)) == switched
    assert with_units(with_text(plan, "propeller.room", "x"), "imperial").unread == {"propeller.room": "x"}


def test_a_bare_number_keeps_its_meaning_when_the_units_change() -> None:
    from dataclasses import replace

    plan = with_text(replace(Plan(), units="imperial"), "hull.waterline_length", "36.5")
    metric = replace(plan, units="metric")
    assert text_at(metric, "hull.waterline_length") == "36.5 ft"


def test_rows_are_added_and_taken_out_with_their_unread_text() -> None:
    plan = Plan()
    for name, power in (("one", "x"), ("two", "40 kW"), ("three", "y")):
        plan = with_row(plan, "engine.candidate")
        last = len(plan.engine.candidate) - 1
        plan = with_text(plan, f"engine.candidate.{last}.name", name)
        plan = with_text(plan, f"engine.candidate.{last}.rated_power", power)
    fewer = without_row(plan, "engine.candidate", 0)
    assert [row.name for row in fewer.engine.candidate] == ["two", "three"]
    assert fewer.unread == {"engine.candidate.1.rated_power": "y"}


def test_a_choice_may_be_shortened_while_it_is_clear() -> None:
    plan = with_text(Plan(), "hull.kind", "trawler")
    assert plan.hull.kind == "trawler yacht"
    assert problems(with_text(plan, "hull.kind", "submarine"), "hull")[0].text.startswith("Kind of boat: 'submarine'")


def test_every_path_of_a_plan_leads_to_an_entry() -> None:
    plan = Plan()
    for table in (f"{section}.{name}" for section, kind in SECTIONS.items() for name in tables(kind)):
        plan = with_row(plan, table)
    seen = [path for section in SECTIONS for path in paths(plan, section)]
    assert len(seen) == len(set(seen)) == len(every_entry())
    for path in seen:
        assert entry_at(path).label
        assert with_value(plan, path, None) is not plan


def test_the_chosen_candidate_is_the_first_until_one_is_named() -> None:
    plan = Plan()
    assert plan.engine.selected is None
    for index, name in enumerate(("one", "two")):
        plan = with_text(with_row(plan, "engine.candidate"), f"engine.candidate.{index}.name", name)
    assert plan.engine.selected is plan.engine.candidate[0]
    plan = with_text(plan, "engine.chosen", "two")
    assert plan.engine.selected is plan.engine.candidate[1]


def test_a_measured_tank_without_its_width_is_missing_it_unless_another_is_known(launch: Plan, change: Change) -> None:
    plan = change(
        with_row(launch, "range.measured"),
        {"range.tank": "", "range.measured.0.length": "1.2 m", "range.measured.0.height": "0.6 m"},
    )
    (problem,) = problems(plan, "range")
    assert (problem.path, problem.text) == ("range.measured.0.width", "Still missing: Width.")
    assert not problems(change(plan, {"range.measured.0.shape": "lying cylinder"}), "range")
    assert not problems(change(plan, {"range.measured.0.width": "50 cm"}), "range")
    assert not problems(change(plan, {"range.tank": "300 L"}), "range")
    (unread,) = problems(with_text(plan, "range.measured.0.width", "wide"), "range")
    assert unread.text.startswith("Width: 'wide' has no number")


def test_the_name_of_a_section_or_a_table_is_no_field() -> None:
    for path in ("hull", "engine.candidate", "engine.candidate.0", "nothing.at_all"):
        with pytest.raises(KeyError):
            entry_at(path)

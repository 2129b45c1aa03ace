"""Every number on every page says how it was worked out, and what it names is there."""

import dataclasses
import typing
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

from engine.answers import labels
from engine.data import table
from engine.entries import entries
from engine.machinery.shaft_model import ELEMENTS_A_SPAN
from engine.plan import STAGES, Plan, entry_at
from engine.planfile import load_plan
from engine.sections.electric import Motor
from engine.sections.engine import Candidate
from engine.stages.propeller_tables import SHAFT_SPEEDS
from engine.workings import CHOSEN, Working, workings
from tests.engine.one_after_another import assess


def answers_class(stage: str) -> Any:
    module = import_module(f"engine.stages.{stage}")
    return getattr(module, f"{stage.capitalize()}Answers")


def names_on_page(stage: str) -> Iterator[str]:
    """Every answer of a stage, and every column of its tables as "table.column"."""
    kind = answers_class(stage)
    yield from (name for name, _ in labels(kind))
    hints = typing.get_type_hints(kind)
    for item in dataclasses.fields(kind):
        if item.metadata.get("on_page"):
            yield from (f"{item.name}.{name}" for name, _ in labels(typing.get_args(hints[item.name])[0]))


@pytest.mark.parametrize("stage", STAGES)
def test_every_number_has_its_working_and_no_working_is_left_over(stage: str) -> None:
    assert set(workings(stage)) == set(names_on_page(stage))


@pytest.mark.parametrize("stage", STAGES)
def test_every_working_names_a_formula_a_source_and_where_it_holds(stage: str) -> None:
    for name, working in workings(stage).items():
        for text in (working.formula, working.source, working.valid):
            assert len(text) > 3, name
            assert text.isascii(), name
        assert working.fields or working.answers, f"{name} is worked out from nothing"


@pytest.mark.parametrize("stage", STAGES)
def test_what_goes_into_a_number_is_there(stage: str) -> None:
    for name, working in workings(stage).items():
        for path in working.fields:
            assert is_field(path), f"{name}: {path}"
        for reference in (*working.answers, *working.beside):
            of_stage, _, answer = reference.partition(".")
            assert answer in dict(labels(answers_class(of_stage))), f"{name}: {reference}"
            assert reference != f"{stage}.{name}", f"{name} is worked out from itself"


@pytest.mark.parametrize("stage", STAGES)
def test_a_number_is_only_worked_out_from_this_stage_or_those_before(stage: str) -> None:
    for name, working in workings(stage).items():
        for reference in working.answers:
            assert STAGES.index(reference.partition(".")[0]) <= STAGES.index(stage), f"{name}: {reference}"


FOR_FINDINGS_ALONE = {
    "present.propeller_hand",
    "shaft.coupling",
    "shaft.length",
    "shaft.seal",
    "trial.depth",
    "trial.vibration",
}
"""Fields that a sentence hangs on, and no number."""


def test_what_is_typed_into_a_field_is_named_under_a_number_that_hangs_on_it(root: Path) -> None:
    taken: set[str] = set()
    for name in ("bittern", "mirabel", "two-sisters", "dunlin"):
        plan = load_plan(root / "saved_plans" / f"{name}.toml")
        taken.update(*(worked.taken for worked in assess(plan).worked.values()))
    named = {path for stage in STAGES for working in workings(stage).values() for path in working.fields}
    unnamed = {place for place in taken - named if "." in place and is_field(place)}
    assert unnamed == FOR_FINDINGS_ALONE


def is_field(path: str) -> bool:
    holder, _, name = path.rpartition(".")
    if holder == CHOSEN:
        return name in {**entries(Candidate), **entries(Motor)}
    try:
        return bool(entry_at(path))
    except KeyError:
        return False


def test_an_entry_that_is_the_same_as_another_gives_what_differs(monkeypatch: pytest.MonkeyPatch) -> None:
    given = {
        "a_kw": {"formula": "P", "source": "s", "valid": "v", "fields": ["speed.top"]},
        "curve": {"b_kw": {"same_as": "a_kw", "formula": "Q"}},
    }
    monkeypatch.setattr("engine.workings.table", {"workings_speed": given}.__getitem__)
    workings.cache_clear()
    found = workings("speed")
    workings.cache_clear()
    assert found["curve.b_kw"] == Working("Q", "", "s", "v", ("speed.top",))
    assert table("workings_speed")["source"]


def test_the_counts_that_a_working_names_are_those_worked_with(launch: Plan) -> None:
    shaft, range_ = (assess(launch).outcomes[stage].answers for stage in ("shaft", "range"))
    assert workings("shaft")["spans.span_m"].formula.startswith(f"{len(shaft.spans)} spans ")
    assert workings("range")["curve.speed_kn"].formula.startswith(f"{len(range_.curve)} even steps")
    assert f"{ELEMENTS_A_SPAN} beam elements" in workings("shaft")["critical_rpm"].formula
    assert workings("propeller")["match.engine_rpm"].formula.startswith(
        f"{len(SHAFT_SPEEDS)} even steps from 25 to 125 %"
    )
    assert (SHAFT_SPEEDS[0], SHAFT_SPEEDS[-1]) == (0.25, 1.25)

"""Variants: the same boat with other decisions, kept in the plan and its file."""

from pathlib import Path

import pytest

from engine.assessment import assess
from engine.plan import Plan, Variant, text_at, with_text
from engine.planfile import load_plan, plan_text, save_plan
from engine.variants import MOST_VARIANTS, VARIED, adopted, choices_of, varied_plan, with_variant, without_variant


def test_a_variant_has_other_decisions_and_all_else_of_the_plan(launch: Plan) -> None:
    choices = choices_of(launch) | {"gear.ratio": "2.5", "engine.chosen": "second", "propeller.pitch": "not a size"}
    varied = varied_plan(launch, choices)
    assert text_at(varied, "gear.ratio") == "2.5"
    assert varied.engine.selected is not None
    assert varied.engine.selected.name == "second"
    assert text_at(varied, "propeller.pitch") == "not a size"
    assert varied.hull == launch.hull
    assert assess(varied).outcomes["gear"].answers.ratio == 2.5


def test_the_choices_of_a_plan_give_the_plan_back(launch: Plan) -> None:
    plan = with_text(with_text(launch, "gear.ratio", "2.5"), "propeller.diameter", "?")
    assert varied_plan(plan, choices_of(plan)) == plan
    assert set(choices_of(plan)) == set(VARIED)


def test_adopting_takes_the_decisions_and_keeps_the_variant(launch: Plan) -> None:
    plan = with_variant(launch, Variant("Slower", {"speed.cruise": "5.5 kn"}))
    taken = adopted(plan, 0)
    assert text_at(taken, "speed.cruise") == "5.5 kn"
    assert taken.variants == plan.variants


def test_there_are_only_so_many(launch: Plan) -> None:
    plan = launch
    for i in range(MOST_VARIANTS):
        plan = with_variant(plan, Variant(str(i), {}))
    with pytest.raises(ValueError, match="Remove one first"):
        with_variant(plan, Variant("more", {}))
    plan = with_variant(plan, Variant("other", {}), 1)
    assert [variant.name for variant in without_variant(plan, 0).variants] == ["other", "2"]


def test_variants_are_kept_in_the_file(launch: Plan, tmp_path: Path) -> None:
    plan = with_variant(with_variant(launch, Variant("Deep [gear]", {"gear.ratio": "3"})), Variant("Empty", {}))
    save_plan(plan, tmp_path / "a.toml")
    assert load_plan(tmp_path / "a.toml") == plan
    assert "[[variant]]" in plan_text(plan)


@pytest.mark.parametrize(
    "rows", ["3", '[{name = "a"}]', "[{name = 1, choices = {}}]", '[{name = "a", choices = {b = 1}}]']
)
def test_what_is_no_variant_is_kept_as_it_is(rows: str, tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text(f'format = 1\nname = "A"\nvariant = {rows}\n', encoding="utf-8")
    plan = load_plan(path)
    assert plan.variants == ()
    assert "variant" in plan.extra[""]
    save_plan(plan, path)
    assert load_plan(path) == plan

"""Variants of a plan: the same boat with another speed, engine, ratio or propeller, kept beside the plan to compare."""

from collections.abc import Mapping
from dataclasses import replace

from engine.plan import Plan, Variant, text_at, with_text

ENGINE = "engine.chosen"
VARIED = (
    "speed.cruise",
    "speed.top",
    ENGINE,
    "gear.ratio",
    "propeller.diameter",
    "propeller.pitch",
    "propeller.blades",
    "propeller.area_ratio",
    "propeller.sections",
)
"""The decisions in which variants differ. A variant has a text for each, "" for one left to the program."""
MOST_VARIANTS = 3
"""Beside the plan itself: four columns are what a screen and a mind can hold."""


def choices_of(plan: Plan) -> dict[str, str]:
    """The decisions of a plan as they are written in it."""
    return {path: text_at(plan, path) for path in VARIED}


def varied_plan(plan: Plan, choices: Mapping[str, str]) -> Plan:
    """The plan with other decisions; those that the choices do not name stay."""
    for path in VARIED:
        if path in choices:
            plan = with_text(plan, path, choices[path])
    return plan


def with_variant(plan: Plan, variant: Variant, index: int | None = None) -> Plan:
    """The plan with a variant more, or with another one in the place of the one at index.

    Raises: ValueError when there are as many as can be compared.
    """
    if index is not None:
        kept = list(plan.variants)
        kept[index] = variant
        return replace(plan, variants=tuple(kept))
    if len(plan.variants) >= MOST_VARIANTS:
        raise ValueError(f"A plan has at most {MOST_VARIANTS} variants beside it. Remove one first.")
    return replace(plan, variants=(*plan.variants, variant))


def without_variant(plan: Plan, index: int) -> Plan:
    """The plan with one variant less."""
    return replace(plan, variants=(*plan.variants[:index], *plan.variants[index + 1 :]))


def with_name_followed(plan: Plan, old: str, new: str) -> Plan:
    """The plan after a candidate was renamed: chosen under its new name, in the plan and in its variants, where it was
    under the old one."""
    variants = tuple(
        replace(each, choices={**each.choices, ENGINE: new}) if each.choices.get(ENGINE) == old else each
        for each in plan.variants
    )
    chosen = new if plan.engine.chosen == old else plan.engine.chosen
    return replace(plan, engine=replace(plan.engine, chosen=chosen), variants=variants)


def adopted(plan: Plan, index: int) -> Plan:
    """The plan with the decisions of a variant, which stays among the variants."""
    return varied_plan(plan, plan.variants[index].choices)

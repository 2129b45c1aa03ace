"""The variants of a plan on paper: what differs and what it comes to, side by side with the plan."""

from collections.abc import Iterator

from engine.assessment import Assessment, assess
from engine.quoting import shortened
from engine.variants import varied_plan
from wizard.comparison import MEANING, Column, comparison_cells, difference_words
from wizard.handover.blocks import Block, Grid, Heading, Listing


def variant_blocks(assessment: Assessment) -> Iterator[Block]:
    """Nothing for a plan without variants; else each is assessed, which takes over what it shares with the plan."""
    plan = assessment.plan
    if not plan.variants:
        return
    ours = Column("The plan", plan, assessment)
    others = [
        Column(shortened(variant.name), varied, assess(varied, assessment))
        for variant in plan.variants
        for varied in (varied_plan(plan, variant.choices),)
    ]
    yield Heading(2, "Variants of this plan, side by side")
    heads = ("", *(column.name for column in (ours, *others)))
    rows = tuple(tuple(row) for row in comparison_cells((ours, *others), plan.units))
    yield Grid("The plan and its variants", heads, rows, MEANING)
    yield Listing(
        tuple((f"{other.name} against the plan", difference_words(ours, other, plan.units)) for other in others)
    )

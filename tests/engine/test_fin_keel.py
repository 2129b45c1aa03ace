"""A fin keel whose volume is known: the hull body alone is what the resistance methods were made from."""

from collections.abc import Callable

import pytest

from engine.constants import GRAVITY
from engine.findings import Verdict
from engine.hull.delft_keel import keel_of, keel_residuary_resistance
from engine.plan import Plan
from engine.stages.hull import HullAnswers, assess_hull

Change = Callable[[Plan, dict[str, str]], Plan]

SLOOP = {"hull.kind": "fin-keel sailing yacht", "hull.displacement": "6000 kg"}
KEEL = {"hull.keel_volume": "0.3 m3", "hull.keel_draft": "1.5 m"}


def hull(plan: Plan) -> HullAnswers:
    answers = assess_hull(plan).answers
    assert answers is not None
    return answers


def test_what_it_displaces_is_no_part_of_the_hull_body(launch: Plan, change: Change) -> None:
    """Keuning & Sonnenberg (1998) take the volume of the canoe body, and that of the keel by itself."""
    sloop = change(launch, SLOOP)
    bare, finned = (hull(change(sloop, each)).form for each in ({}, KEEL))
    assert finned.volume == pytest.approx(bare.volume - 0.3)
    assert finned.block_coefficient / bare.block_coefficient == pytest.approx(finned.volume / bare.volume)
    as_floating = hull(change(sloop, KEEL | {"hull.displacement": "6308 kg"})).form
    assert as_floating.volume == pytest.approx(bare.volume, rel=1e-3), "it displaces 308 kg of sea water"


def test_its_buoyancy_lies_at_half_its_depth(launch: Plan, change: Change) -> None:
    """Ours: nobody knows where the volume of the fin of an old boat lies."""
    answers, speed = hull(change(launch, SLOOP | KEEL)), 3.0
    form, density = answers.form, answers.water.density
    by_hand = keel_residuary_resistance(
        form.froude_number(speed),
        keel_volume=0.3,
        total_draft=1.5,
        hull_draft=form.draft,
        buoyancy_depth=0.5 * (1.5 - form.draft),
        beam=form.waterline_beam,
        hull_volume=form.volume,
        water_density=density,
        gravity=GRAVITY,
    )
    found = keel_of(form, form.froude_number(speed), answers.water, gravity=GRAVITY)
    assert found == pytest.approx(by_hand, rel=1e-9)
    assert found > 1.0


def test_one_without_its_draft_is_not_reckoned_with(launch: Plan, change: Change) -> None:
    half = change(launch, SLOOP | KEEL | {"hull.keel_draft": ""})
    assert hull(half).form.volume == hull(change(launch, SLOOP)).form.volume


def test_one_that_would_displace_more_than_a_quarter_of_her_stops_and_counts_as_a_quarter(
    launch: Plan, change: Change
) -> None:
    plan = change(launch, SLOOP | KEEL | {"hull.keel_volume": "6 m3"})
    (said,) = (found for found in assess_hull(plan).findings if "Give the volume of the fin alone." in found.text)
    assert (said.verdict, said.path) == (Verdict.STOP, "hull.keel_volume")
    boats = hull(plan).boats
    assert boats.form.keel_volume == pytest.approx(0.25 * boats.mass / hull(plan).water.density)

"""A shaft of the owner's own diameter, such as the one that is in her and stays."""

import math
from collections.abc import Callable
from typing import Any

import pytest

from engine.constants import INCH
from engine.findings import Outcome, Verdict
from engine.plan import Plan
from engine.stages.shaft_line import ShaftLine
from engine.stages.shaft_size import shaft_material, shaft_system
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]


def shaft(plan: Plan) -> Outcome[Any]:
    return assess(plan).outcomes["shaft"]


def test_it_takes_the_place_of_the_stock_size_and_bears_what_its_thickness_bears(launch: Plan, change: Change) -> None:
    stock = shaft(launch).answers
    own = shaft(change(launch, {"shaft.diameter": "40 mm"})).answers
    assert own.diameter_m == pytest.approx(0.040)
    assert own.needed_diameter_m == stock.needed_diameter_m
    assert own.actual_safety_factor == pytest.approx(
        stock.actual_safety_factor * (0.040 / stock.diameter_m) ** 3, rel=1e-9
    )
    assert own.span_over_diameter == pytest.approx(own.span_m / 0.040)


@pytest.mark.parametrize(
    ("diameter", "verdict"), [("45 mm", Verdict.FITS), ("30 mm", Verdict.LOOK), ("20 mm", Verdict.STOP)]
)
def test_one_that_is_too_thin_is_said_so_where_it_was_given(
    launch: Plan, change: Change, diameter: str, verdict: Verdict
) -> None:
    (said,) = (
        found for found in shaft(change(launch, {"shaft.diameter": diameter})).findings if "Your shaft of" in found.text
    )
    assert said.verdict is verdict
    assert said.path == "shaft.diameter"
    assert diameter in said.text


def test_the_shaft_that_stays_is_judged_once_and_looked_over_before_the_wheel_is_bored(
    launch: Plan, change: Change
) -> None:
    plan = change(launch, {"present.shaft_diameter": "40 mm"})
    other = [found.text for found in shaft(plan).findings]
    assert sum("the present shaft" in text for text in other) == 1
    assert not any("stays" in text for text in other)
    kept = [found.text for found in shaft(change(plan, {"shaft.diameter": "40 mm"})).findings]
    assert sum("safety factor of" in text for text in kept) == 1
    assert any(text.startswith("The shaft that is in her stays.") for text in kept)


def test_a_present_shaft_too_weak_stops_nothing_while_the_plan_has_another(launch: Plan, change: Change) -> None:
    plan = change(launch, {"present.shaft_diameter": "20 mm"})
    (said,) = (found for found in shaft(plan).findings if "the present shaft" in found.text)
    assert "under the floor of 2: it must be replaced. The plan has one of" in said.text
    assert said.verdict is Verdict.LOOK
    kept = shaft(change(plan, {"shaft.diameter": "20 mm"})).findings
    assert any(found.verdict is Verdict.STOP and "must be replaced" in found.text for found in kept)


def test_its_taper_and_bore_are_those_of_the_bar_it_is_stocked_in(launch: Plan, change: Change) -> None:
    assert launch.units == "metric"
    inch = change(launch, {"shaft.diameter": "1 1/2 in"})
    assert shaft_system(inch) == "inch"
    assert shaft(inch).answers.taper.startswith("1:16")
    assert shaft(inch).answers.diameter_m == pytest.approx(1.5 * INCH)
    assert shaft_system(change(inch, {"shaft.sizes": "metric"})) == "metric"
    assert shaft_system(change(launch, {"shaft.diameter": "40 mm"})) == "metric"
    odd = change(launch, {"shaft.diameter": "41.3 mm"})
    assert "measured on it or from its drawing" in shaft(odd).answers.bore


@pytest.mark.parametrize(("diameter", "known"), [("1 1/2 in", True), ("35 mm", False)])
def test_what_the_standard_says_of_a_bore_is_said_of_its_own_shafts(
    launch: Plan, change: Change, diameter: str, known: bool
) -> None:
    (said,) = (
        found.text
        for found in shaft(change(launch, {"shaft.diameter": diameter})).findings
        if "Have the hub fitted to the shaft" in found.text
    )
    assert ("The bore ends smaller" in said) == known


def test_where_no_stock_is_thick_enough_a_diameter_of_her_own_is_another_way_out(launch: Plan, change: Change) -> None:
    towing = {
        "hull.kind": "tug",
        "hull.waterline_beam": "4.2 m",
        "hull.hull_draft": "1.5 m",
        "hull.displacement": "38 t",
        "hull.keel_draft": "1.9 m",
        "engine.candidate.0.rated_power": "180 kW",
        "engine.candidate.0.rated_speed": "1800 rpm",
        "gear.ratios": "4.0",
        "propeller.room": "1250 mm",
        "propeller.blades": "4",
        "shaft.use": "heavy commercial or towing",
    }
    thick = change(launch, towing)
    (said,) = (found for found in shaft(thick).findings if "No stock shaft" in found.text)
    assert said.verdict is Verdict.STOP
    assert said.text.endswith("Take a stronger material, or give a diameter of your own, to be turned to order.")
    assert shaft(change(thick, {"shaft.diameter": "110 mm"})).answers is not None


def test_the_largest_distance_between_bearings_holds_with_the_propeller_on_the_end(
    launch: Plan, change: Change
) -> None:
    """Of a bare shaft the spacing formula allows more than the overhung wheel leaves 20 % over full speed at."""
    overhung = change(launch, {"shaft.overhang": "300 mm", "shaft.propeller_weight": "30 kg"})
    bare = change(launch, {"shaft.overhang": "", "shaft.propeller_weight": ""})
    largest, by_formula = (shaft(plan).answers.largest_span_m for plan in (overhung, bare))
    assert 0.3 < largest < 0.95 * by_formula
    there = shaft(change(overhung, {"shaft.span": f"{largest:.5f} m"})).answers
    assert there.whirling_margin_fraction == pytest.approx(0.20, abs=1e-3)
    light = change(launch, {"shaft.overhang": "50 mm", "shaft.propeller_weight": "5 kg"})
    assert shaft(light).answers.largest_span_m == by_formula, "40 diameters rule there"
    assert math.isnan(shaft(change(overhung, {"shaft.overhang": "1 m"})).answers.largest_span_m)


def test_no_distance_between_bearings_is_told_for_a_full_throttle_that_is_not_known(launch: Plan) -> None:
    line = ShaftLine(launch, shaft_material(launch), 0.03, 0.5)
    assert line.wheel is not None
    assert math.isnan(line.longest_span(math.nan, math.nan))

"""The usual ranges are worked out in plain floats, so that a form can show them before numpy is loaded. Where a formula
of the engine says the same, both must agree: these are checks of one against the other, not validation."""

from collections.abc import Callable

import pytest

from engine.constants import INCH, KNOT
from engine.data import table
from engine.defaults import amount
from engine.hull.displacement_rules import (
    displacement_length_ratio,
    hull_speed,
    shaft_power_gerr,
    shaft_power_wyman,
    speed_length_ratio,
    speed_length_ratio_limit_gerr,
)
from engine.machinery.engine_services import cranking_current
from engine.machinery.exhaust import usual_wet_hose
from engine.machinery.generic_engines import generic_mass
from engine.plan import Plan
from engine.propeller import handbook
from engine.units import Quantity
from engine.usual import Typical, typical

Change = Callable[[Plan, dict[str, str]], Plan]


def known(plan: Plan, path: str) -> Typical:
    found = typical(plan, path)
    assert found is not None, path
    return found


def test_displacement_is_that_of_the_displacement_length_ratio(launch: Plan) -> None:
    light, heavy = table("hull_kinds")["rows"]["fine_launch"]["displacement_length_ratio"]
    found = known(launch, "hull.displacement")
    assert displacement_length_ratio(found.low, 11.2) == pytest.approx(light, rel=1e-12)
    assert displacement_length_ratio(found.high, 11.2) == pytest.approx(heavy, rel=1e-12)


def test_speeds_are_those_of_the_speed_length_ratio_and_hull_speed(launch: Plan) -> None:
    cruise, top = known(launch, "speed.cruise"), known(launch, "speed.top")
    ends = table("typical")["speed.cruise"]["speed_length_ratio"]
    assert [speed_length_ratio(speed, 11.2) for speed in (cruise.low, cruise.high)] == pytest.approx(ends, rel=1e-12)
    assert top.low == pytest.approx(cruise.high, rel=1e-12)
    assert top.high == pytest.approx(hull_speed(11.2), rel=1e-12)


def test_a_faster_kind_ends_at_the_limit_of_her_weight(launch: Plan, change: Change) -> None:
    yacht = change(launch, {"hull.kind": "semi-displacement motor yacht"})
    ratio = speed_length_ratio(known(yacht, "speed.top").high, 11.2)
    assert ratio == pytest.approx(speed_length_ratio_limit_gerr(9000.0, 11.2), rel=1e-12)


def test_power_is_between_the_two_rules(launch: Plan) -> None:
    top, found = known(launch, "speed.top"), known(launch, "engine.candidate.0.rated_power")
    powers = [
        rule(9000.0, speed, 11.2) for rule in (shaft_power_gerr, shaft_power_wyman) for speed in (top.low, top.high)
    ]
    assert (found.low, found.high) == pytest.approx((min(powers), max(powers)), rel=1e-12)


def test_weight_is_about_the_generic_mass(launch: Plan) -> None:
    low, high = table("typical")["engine.candidate.weight"]["share"]
    found = known(launch, "engine.candidate.0.weight")
    assert (found.low, found.high) == pytest.approx((low * generic_mass(30e3), high * generic_mass(30e3)), rel=1e-12)


def test_diameter_and_pitch_are_the_handbooks(launch: Plan, change: Change) -> None:
    plan = change(launch, {"propeller.diameter": "19 in"})
    power = 30e3 * amount(plan.gear, "efficiency") * amount(plan.gear, "shaft_efficiency")
    factor = handbook.blade_factors(3).diameter
    ends = [factor * handbook.diameter(power, 2800.0 / 60.0 / ratio) for ratio in (2.0, 3.0)]
    found, pitch = known(plan, "propeller.diameter"), known(plan, "propeller.pitch")
    assert (found.low, found.high) == pytest.approx(ends, rel=1e-12)
    rule = handbook.pitch_ratio(7.8 * KNOT)
    assert (pitch.low, pitch.high) == pytest.approx((19 * INCH * rule.low, 19 * INCH * rule.high), rel=1e-12)


def test_ratios_are_among_those_of_the_ladder(launch: Plan) -> None:
    found = known(launch, "gear.ratios")
    ladder = table("gearbox")["ladder"][1]["ratios"]  # from 30 kW
    assert found.low == min(ladder)
    assert found.high == max(ratio for ratio in ladder if ratio <= table("gearbox")["rare"]["deeper_than"])


def test_hose_and_cranking_current_are_those_of_the_fit_page(launch: Plan, change: Change) -> None:
    plan = change(launch, {"engine.candidate.0.swept_volume": "1.6 L", "fit.exhaust": "wet"})
    volume = plan.engine.candidate[0].swept_volume
    assert isinstance(volume, Quantity)
    low, _, high = cranking_current(volume.si)
    found = known(plan, "fit.cranking_current")
    assert (found.low, found.high) == pytest.approx((low, high), rel=1e-12)
    assert known(plan, "fit.exhaust_bore").low == pytest.approx(usual_wet_hose(30e3), rel=1e-12)

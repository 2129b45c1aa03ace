"""What can only go one way goes that way: more of what costs, costs more; more of what helps, helps.

On formulas with many drawn values, and on boats drawn at random with few. Regressions of tank tests may fall where
they should rise (that of van Oortmerssen is smoothed for it, test_van_oortmerssen.py), so what is held here of power
is the consensus of the methods in use, in the middle of the plausible boats.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from itertools import takewhile
from operator import ge, gt, lt
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from engine.assessment import assess
from engine.findings import Outcome
from engine.hull.added_resistance import air_resistance
from engine.hull.fouling import fouling_allowance_after
from engine.machinery.derating import SiteConditions, pressure_at_altitude, site_adjustment
from engine.machinery.range import cruising_range, endurance, fuel_per_distance
from engine.machinery.shaft import safety_factor_of_shaft
from engine.machinery.shaft_model import overhung_critical_speed
from engine.machinery.tanks import horizontal_cylinder_volume, wedge_volume
from engine.machinery.whirling import whirling_critical_speed
from engine.plan import Plan, entry_at, with_text
from engine.sections.engine import Candidate
from engine.sections.present import Present
from engine.stages.chain import STEPS
from engine.water import water
from tests.engine.random_plans import plausible_plans
from tests.engine.steps import stage_worked_out, worked_out

SEVERAL = settings(
    max_examples=max(2, settings.default.max_examples // 40), suppress_health_check=[HealthCheck.filter_too_much]
)
"""Boats that are worked out through stages, of which each takes a second or more."""


def between(low: float, high: float) -> Any:
    return st.floats(low, high)


MORE = between(1.02, 3.0)


# Shafts

SHAFT = st.tuples(between(0.4, 4.0), between(0.05, 0.5), between(0.02, 0.12), between(1.0, 200.0), between(0.0, 5.0))
"""Span [m], overhang [m], diameter [m], mass of the propeller [kg], its tilting inertia [kg m2]."""
STEEL = (193e9, 7900.0)


@pytest.mark.parametrize("formula", [overhung_critical_speed, whirling_critical_speed])
@given(SHAFT, MORE)
def test_the_critical_speed_falls_with_span_overhang_and_mass_and_rises_with_diameter(
    formula: Any, shaft: tuple[float, ...], more: float
) -> None:
    span, overhang, diameter, mass, inertia = shaft

    def critical(a: float = span, b: float = overhang, d: float = diameter, m: float = mass) -> float:
        return float(formula(a, b, d, *STEEL, m, inertia))

    usual = critical()
    assert critical(a=more * span) < usual
    assert critical(b=more * overhang) < usual
    assert critical(m=more * mass) < usual
    assert critical(d=more * diameter) > usual


@given(between(0.01, 0.2), between(1e3, 1e6), between(2.0, 60.0), between(5e7, 8e8), MORE)
def test_a_thicker_shaft_has_more_in_hand_and_more_power_or_a_deeper_ratio_leave_less(
    diameter: float, power: float, shaft_speed: float, shear_yield: float, more: float
) -> None:
    usual = safety_factor_of_shaft(diameter, power, shaft_speed, shear_yield)
    assert safety_factor_of_shaft(more * diameter, power, shaft_speed, shear_yield) > usual
    assert safety_factor_of_shaft(diameter, more * power, shaft_speed, shear_yield) < usual
    assert safety_factor_of_shaft(diameter, power, shaft_speed / more, shear_yield) < usual


# Engines in hot and thin air


@pytest.mark.parametrize(
    "kind", ["direct injection", "indirect injection", "turbocharged", "turbocharged and charge-cooled"]
)
@given(between(-10.0, 60.0), between(-400.0, 3000.0), between(0.0, 0.9), between(-2.0, 35.0), between(0.1, 10.0))
def test_hotter_higher_wetter_air_and_warmer_water_leave_no_more_power(
    kind: str, air: float, altitude: float, humidity: float, raw_water: float, more: float
) -> None:
    def left(a: float = air, z: float = altitude, h: float = humidity, w: float = raw_water) -> float:
        site = SiteConditions(
            air_temperature=a, air_pressure=pressure_at_altitude(z), humidity=h, raw_water_temperature=w
        )
        return float(np.asarray(site_adjustment(kind, site).power_ratio))

    usual = left()
    assert left(a=air + more) < usual
    assert left(z=altitude + 100.0 * more) < usual
    assert left(h=humidity + 0.01 * more) <= usual
    assert left(w=raw_water + more) <= usual


# Wind and growth


@given(between(0.5, 60.0), between(0.3, 1.4), between(0.5, 8.0), between(0.0, 25.0), MORE)
def test_more_above_the_water_and_more_wind_ahead_drag_more(
    area: float, coefficient: float, speed: float, wind: float, more: float
) -> None:
    usual = air_resistance(area, coefficient, speed, wind_speed=wind)
    assert air_resistance(more * area, coefficient, speed, wind_speed=wind) > usual
    assert air_resistance(area, coefficient, speed, wind_speed=wind + more) > usual
    assert air_resistance(area, coefficient, more * speed, wind_speed=wind) > usual


@given(between(0.1, 30.0), between(0.5, 8.0), between(4.0, 30.0), MORE)
def test_the_longer_since_she_was_cleaned_the_more_her_skin_drags(
    months: float, speed: float, length: float, more: float
) -> None:
    def rise(after: float) -> float:
        return float(np.asarray(fouling_allowance_after(after, speed, length, water("sea", 15.0), share_per_day=0.005)))

    assert rise(more * months) > rise(months) > 0.0


# Fuel and range


@given(
    between(10.0, 5000.0),
    between(1.0, 8.0),
    between(1e-4, 1e-2),
    between(0.0, 1e-3),
    between(-0.9, 0.9),
    between(0.0, 0.6),
    MORE,
)
def test_more_fuel_goes_further_and_more_reserve_current_or_hotel_load_less_far(
    fuel: float, speed: float, rate: float, hotel: float, current: float, reserve: float, more: float
) -> None:
    def far(f: float = fuel, h: float = hotel, c: float = current, kept: float = reserve, r: float = rate) -> float:
        return float(np.asarray(cruising_range(f, speed, r, hotel_rate=h, head_current=c, reserve=kept)))

    usual = far()
    assert far(f=more * fuel) > usual
    assert far(kept=reserve + 0.05 * more) < usual
    assert far(c=current + 0.01 * more) < usual
    assert far(h=hotel + 1e-4 * more) < usual
    assert far(r=more * rate) < usual
    lasts = endurance(fuel, rate, hotel_rate=hotel, reserve=reserve)
    assert endurance(more * fuel, rate, hotel_rate=hotel, reserve=reserve) > lasts
    spent = fuel_per_distance(speed, rate, hotel_rate=hotel, head_current=current)
    assert fuel_per_distance(speed, rate, hotel_rate=hotel, head_current=current + 0.01 * more) > spent


@given(between(0.2, 4.0), between(0.1, 1.5), between(0.01, 0.97))
def test_a_fuller_tank_holds_more(length: float, radius: float, share: float) -> None:
    low, high = share * 2.0 * radius, (share + 0.02) * 2.0 * radius
    assert horizontal_cylinder_volume(length, radius, high) > horizontal_cylinder_volume(length, radius, low)
    assert wedge_volume(1.0, high, 2.0 * radius) > wedge_volume(1.0, low, 2.0 * radius)


# Boats drawn at random


def worked(plan: Plan, last: str = "power") -> dict[str, Any] | None:
    """The answers of the steps up to one; None where one of them has none."""
    answers: dict[str, Any] = {}
    for step in (*takewhile(lambda step: step != last, STEPS), last):
        answers[step] = worked_out(plan, step, answers).answers
        if answers[step] is None:
            return None
    return answers


def changed(plan: Plan, texts: Mapping[str, str]) -> Plan:
    for path, text in texts.items():
        plan = with_text(plan, path, text)
        assert path not in plan.unread, text
    return plan


def service_kw(answers: dict[str, Any]) -> float:
    return float(answers["power"].cruise_service_power_kw.best)


@SEVERAL
@given(plausible_plans())
def test_a_faster_or_heavier_boat_and_worse_conditions_take_more_power(plan: Plan) -> None:
    """Without a log, which would hold the power at the logged speed to what was logged. Of a heavier boat it is the
    effective power that must rise: behind a fuller hull the usual wake is stronger, which can give back at low speed
    what a few per cent of weight cost, so that her shaft power may stay the same.
    """
    plan = changed(replace(plan, present=Present()), {"power.sea_margin": "15 %", "power.head_wind": "5 kn"})
    usual = worked(plan)
    assume(usual is not None)
    assert usual is not None
    curve = usual["power"].curve
    for power in ("effective_power_kw", "shaft_power_kw", "service_shaft_power_kw"):
        known = [getattr(row, power).best for row in curve if getattr(row, power).is_known]
        assert len(known) > 2
        assert known == sorted(known), power
    assert plan.hull.displacement is not None
    limits = entry_at("hull.displacement").limits
    assert limits is not None
    assume(1.1 * plan.hull.displacement.si <= limits[1])
    heavier = worked(changed(plan, {"hull.displacement": f"{1.1 * plan.hull.displacement.si:.3f} kg"}))
    if heavier is not None:
        for power in ("cruise_effective_power_kw", "top_effective_power_kw"):
            assert getattr(heavier["power"], power).best > getattr(usual["power"], power).best
    assert plan.hull.windage_area is not None
    for texts in (
        {"hull.windage_area": f"{1.05 * plan.hull.windage_area.si:.3f} m2"},
        {"power.head_wind": "9 kn"},
        {"power.sea_margin": "25 %"},
        {"power.time_since_cleaning": "6 months"},
        {"power.wave_height": "0.1 m"},
    ):
        worse = worked(changed(plan, texts))
        assert worse is not None
        assert not service_kw(worse) <= service_kw(usual), texts


def told(outcome: Outcome[Any], name: str) -> float:
    """The number of an answer, of a band its best; NaN where the stage has none."""
    value = getattr(outcome.answers, name, np.nan)
    return float(getattr(value, "best", value))


EDITS: tuple[tuple[dict[str, str], str, str], ...] = (
    ({"range.reserve_share": "50 %"}, "range.cruise_range_nmi", "fall"),
    ({"range.current": "1 kn"}, "range.cruise_range_nmi", "fall"),
    ({"range.usable": "95 %"}, "range.cruise_range_nmi", "rise"),
    ({"range.hotel": "2 L/h"}, "range.cruise_range_nmi", "fall"),
    ({"shaft.span": "2.6 m"}, "shaft.critical_rpm", "fall"),
    ({"shaft.overhang": "300 mm"}, "shaft.critical_rpm", "fall"),
    ({"shaft.safety_factor": "11"}, "shaft.needed_diameter_m", "rise"),
    ({"shaft.safety_factor": "11"}, "shaft.actual_safety_factor", "not fall"),
    ({"engine.intake_air": "55 C"}, "engine.usable_power_kw", "fall"),
    ({"engine.altitude": "1500 m"}, "engine.usable_power_kw", "fall"),
    ({"gear.efficiency": "94 %"}, "engine.power_at_propeller_kw", "fall"),
)
"""What is typed, the answer that it moves, and which way. The thinnest stock shaft may do for any factor."""

MOVES: dict[str, Callable[[float, float], bool]] = {"rise": gt, "fall": lt, "not fall": ge}


@SEVERAL
@given(plausible_plans())
def test_a_change_on_a_later_page_moves_its_answer_the_right_way(plan: Plan) -> None:
    """The stage of that page alone is worked out again, on the same answers of the pages before. The boats are those
    with a diesel chosen, whose pages have all these answers.
    """
    assume(isinstance(plan.engine.selected, Candidate))
    plan = changed(plan, {"range.reserve_share": "20 %", "range.usable": "90 %", "shaft.overhang": "100 mm"})
    plan = changed(plan, {"shaft.safety_factor": "4", "shaft.span": "1.2 m", "engine.intake_air": "40 C"})
    found = assess(plan)
    usual, answers = found.outcomes, {step: worked.outcome.answers for step, worked in found.worked.items()}
    assume(all(outcome.answers is not None for outcome in usual.values()))
    assume(told(usual["range"], "cruise_range_nmi") > 0.0)
    compared = 0
    for texts, place, way in EDITS:
        stage, name = place.split(".")
        after = told(stage_worked_out(changed(plan, texts), stage, answers), name)
        before = told(usual[stage], name)
        if np.isfinite(after):
            compared += 1
            assert MOVES[way](after, before), (texts, place)
    assert compared >= len(EDITS) - 2, "no stock shaft may be thick enough for the largest factor"

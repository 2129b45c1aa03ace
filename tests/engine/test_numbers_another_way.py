"""Numbers of the pages, each found again another way: from the plan by hand, or from what another page says.

They guard against slips between formula and page, where no formula's own test looks. Not validation.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import pi
from typing import Any

import pytest

from engine.constants import INCH, KNOT
from engine.findings import Finding
from engine.hull.waves import kreitner_resistance, stawave1_resistance, usual_bow_length
from engine.machinery.generic_engines import GENERIC_ENGINES
from engine.machinery.sea_trial import full_throttle_words
from engine.plan import Plan
from tests.engine.generic_candidates import with_generic
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]


@dataclass(frozen=True)
class Pages:
    """Answers and findings of every page."""

    answers: Mapping[str, Any]
    findings: Mapping[str, tuple[Finding, ...]]

    def told(self, page: str, words: str) -> Finding:
        """The one finding of a page with these words."""
        (found,) = [finding for finding in self.findings[page] if words in finding.text]
        return found


def pages(plan: Plan) -> Pages:
    outcomes = assess(plan).outcomes
    return Pages(
        {page: outcome.answers for page, outcome in outcomes.items()},
        {page: outcome.findings for page, outcome in outcomes.items()},
    )


@pytest.fixture(scope="module")
def usual(launch: Plan) -> Pages:
    return pages(launch)


def test_what_is_left_at_cruise_is_what_the_power_page_does_not_ask_for(usual: Pages) -> None:
    """Shaft and bearings take 1.5 %. One is the middle of a quotient, the other the quotient of two middles: they lie
    within half a hundredth."""
    power, engine = usual.answers["power"], usual.answers["engine"]
    asked = 0.985 * power.cruise_service_power_kw.best / engine.power_at_propeller_kw.best
    assert engine.reserve_fraction.best == pytest.approx(1.0 - asked, abs=0.005)
    assert engine.reserve_fraction.low < engine.reserve_fraction.best < engine.reserve_fraction.high


def test_the_row_of_the_chosen_candidate_says_what_the_pages_say(usual: Pages) -> None:
    """In 3:1, the deepest on offer and the chosen ratio; with another wheel, so speed and consumption are only near."""
    engine, shaft = usual.answers["engine"], usual.answers["shaft"]
    (row,) = [row for row in engine.candidates if row.chosen]
    assert usual.answers["gear"].ratio == 3.0
    assert row.shaft_diameter_m == pytest.approx(shaft.needed_diameter_m, rel=1e-9)
    assert (row.rated_power_kw, row.rated_rpm) == pytest.approx((30.0, 2800.0))
    for rating in (row.gear_rating_kw_per_100_rpm, usual.answers["gear"].needed_rating_kw_per_100_rpm):
        assert rating == pytest.approx(30.0 / 28.0)
    assert row.usable_power_kw == pytest.approx(engine.usable_power_kw.best, rel=1e-3)
    assert row.cruise_rpm == pytest.approx(usual.answers["propeller"].cruise_rpm.best, rel=0.06)
    assert row.cruise_range_nmi.best == pytest.approx(usual.answers["range"].cruise_range_nmi.best, rel=0.06)


def test_a_mile_takes_what_an_hour_takes_over_the_miles_of_an_hour(launch: Plan, usual: Pages) -> None:
    """No current is given; what the boats differ by moves both alike."""
    motor = pages(with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"])).answers["range"].curve
    for row in usual.answers["range"].curve:
        assert row.fuel_per_mile_l.best == pytest.approx(row.burn_l_per_h.best / row.speed_kn, rel=1e-6)
    for row in motor:
        assert row.energy_per_mile_kwh.best == pytest.approx(row.drawn_kw.best / row.speed_kn, rel=1e-6)
    assert len(motor) > 10


def test_the_slip_at_cruise_is_what_the_pitch_would_make_more(usual: Pages) -> None:
    wheel = usual.answers["propeller"]
    screwed = wheel.pitch_m * wheel.cruise_rpm.best / 3.0 / 60.0
    assert wheel.cruise_slip_fraction.best == pytest.approx(1.0 - 6.5 * KNOT / screwed, abs=1e-4)


def test_the_steps_of_speed_cost_what_their_powers_say(usual: Pages) -> None:
    """What a mile takes is exact; the cost of half a knot is the middle of a quotient, and near."""
    steps = usual.answers["speed"].steps
    assert len(steps) > 10
    for slower, step in pairwise(steps):
        assert step.energy_per_mile_kwh.best == pytest.approx(step.effective_power_kw.best / step.speed_kn, rel=1e-9)
        more = step.effective_power_kw.best / slower.effective_power_kw.best - 1.0
        assert step.step_cost_fraction.best == pytest.approx(more, abs=0.03)


def test_raw_water_runs_through_its_inlet_at_its_speed(usual: Pages) -> None:
    """1.8 m/s, from memory; a litre a minute is a 60 000th of a cubic metre a second."""
    fit = usual.answers["fit"]
    assert fit.raw_water_l_per_min == pytest.approx(1.8 * pi / 4.0 * fit.inlet_bore_m**2 * 60e3, rel=1e-9)


def test_wind_from_ahead_slows_her_and_takes_power(usual: Pages) -> None:
    calm, windy = (
        next(row for row in usual.answers["propeller"].cases if row.state.startswith(words))
        for words in ("clean, calm", "clean, 20 kn of wind from ahead")
    )
    assert windy.top_kn.best < calm.top_kn.best - 0.1
    (told,) = re.findall(r"to hold 6.5 kn takes (\d+) % of the power", usual.told("engine", "from ahead").text)
    assert int(told) > 100.0 * usual.answers["engine"].cruise_load_fraction.best + 5.0


def test_a_head_sea_takes_the_mean_of_two_formulas(launch: Plan, change: Change) -> None:
    """The middle of the plausible boats against the boat as described: within 1.5 %."""
    found = pages(change(launch, {"power.wave_height": "0.3 m", "power.sea_margin": "0 %"})).answers
    form, water = found["hull"].form, found["hull"].water
    mean = (stawave1_resistance(form, 0.3, usual_bow_length(form), water) + kreitner_resistance(form, 0.3, water)) / 2
    (part,) = [row.resistance_n.best for row in found["power"].parts if row.part == "head sea"]
    assert part == pytest.approx(float(mean), rel=0.015)


def test_the_chosen_wheel_is_among_its_neighbours_what_it_is_by_itself(usual: Pages) -> None:
    wheel = usual.answers["propeller"]
    (row,) = [row for row in wheel.neighbours if row.chosen]
    assert (row.diameter_m, row.pitch_m) == (wheel.diameter_m, wheel.pitch_m)
    for by_row, by_page in ((row.top_kn, wheel.top_kn), (row.full_throttle_rpm, wheel.full_throttle_rpm)):
        assert by_row.best == pytest.approx(by_page.best, rel=1e-9)


@pytest.mark.parametrize(
    ("depth", "words"), [("0.40 m", "30 % of the diameter under"), ("0.2 m", "10 % of the diameter above")]
)
def test_the_upper_tip_lies_half_a_diameter_over_the_shaft(
    launch: Plan, change: Change, depth: str, words: str
) -> None:
    wheel = {"propeller.diameter": "500 mm", "propeller.pitch": "380 mm", "propeller.shaft_depth": depth}
    assert words in pages(change(launch, wheel)).told("propeller", "The upper tip").text


@pytest.mark.parametrize(
    ("asked", "diameter_step", "pitch_step"),
    [
        ("whole inches", INCH, INCH),
        ("whole diameters and half-inch pitches", INCH, 0.5 * INCH),
        ("centimetres", 0.01, 0.01),
    ],
)
def test_the_size_stands_on_the_steps_asked_for(
    launch: Plan, change: Change, asked: str, diameter_step: float, pitch_step: float
) -> None:
    wheel = pages(change(launch, {"propeller.sizes": asked})).answers["propeller"]
    for length, step in ((wheel.diameter_m, diameter_step), (wheel.pitch_m, pitch_step)):
        assert length > 0.3
        assert length / step == pytest.approx(round(length / step), abs=1e-6)


def test_another_candidate_is_compared_as_far_as_she_goes_with_it(launch: Plan, change: Change) -> None:
    """10 kW take her less far up than the 30 kW of the chosen one; in service a little less than in calm water."""
    found = pages(change(launch, {"engine.candidate.1.rated_power": "10 kW"})).answers
    (reach,) = [row.reachable_kn.best for row in found["engine"].candidates if row.name == "second"]
    fastest = max(row.speed_kn for row in found["range"].beside if row.candidate == "second")
    assert reach - 1.0 < fastest < reach
    assert fastest < found["range"].curve[-1].speed_kn - 1.0


def test_full_throttle_is_told_in_revolutions_and_per_cent() -> None:
    assert full_throttle_words(42.0, 60.0) == "At full throttle the engine turns 2520 rpm, 70 % of rated"

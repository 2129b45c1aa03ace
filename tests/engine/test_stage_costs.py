"""The costs page on an invented launch: the budget, a year under power, and whether it pays."""

import re
from collections.abc import Callable
from dataclasses import replace

import pytest

from engine.assessment import Assessment
from engine.findings import Finding, Verdict
from engine.machinery.generic_engines import GENERIC_ENGINES
from engine.plan import Plan, with_row, with_text
from engine.stages.costs_answers import CostsAnswers
from engine.stages.year import hours_in_a_year
from tests.engine.generic_candidates import with_generic
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]

LINES = {
    "costs.currency": "EUR",
    "costs.engine": "11000",
    "costs.gear": "0",
    "costs.propeller": "900",
    "costs.shaft": "1100",
    "costs.installation": "2500",
    "costs.yard": "3500",
    "costs.haul_out": "1000",
}
NOW = {"costs.present_fuel": "400 L"}


def costs(assessment: Assessment) -> CostsAnswers:
    found: CostsAnswers | None = assessment.outcomes["costs"].answers
    assert found is not None, assessment.outcomes["costs"].waits_for
    return found


def said(assessment: Assessment, part: str) -> list[Finding]:
    return [finding for finding in assessment.outcomes["costs"].findings if part in finding.text]


def verdict(assessment: Assessment, part: str) -> Verdict:
    (finding,) = said(assessment, part)
    return finding.verdict


@pytest.fixture(scope="module")
def untouched(launch: Plan) -> Assessment:
    return assess(launch)


@pytest.fixture(scope="module")
def priced(launch: Plan, change: Change) -> Assessment:
    plan = with_row(with_row(launch, "costs.other"), "costs.other")
    return assess(change(plan, LINES | {"costs.other.0.item": "survey", "costs.other.0.price": "400"}))


@pytest.fixture(scope="module")
def profile(launch: Plan) -> Plan:
    return with_row(with_row(with_row(launch, "costs.hours"), "costs.hours"), "costs.hours")


@pytest.fixture(scope="module")
def fuelled(launch: Plan, change: Change) -> Plan:
    """The launch with a price of fuel; under a name of its own, so that her range is worked out once."""
    plan = change(replace(launch, name="Fuelled"), {"range.price": "2 per L"})
    assess(plan)
    return plan


@pytest.fixture(scope="module")
def electric(launch: Plan, change: Change) -> Plan:
    motor = with_generic(replace(launch, name="Electric"), GENERIC_ENGINES["invented 12 kW motor"])
    plan = change(motor, {"range.price": "2 per L"})
    assess(plan)
    return plan


class TestUntouched:
    def test_a_plan_without_prices_stays_done_and_is_told_nothing_to_mend(self, untouched: Assessment) -> None:
        assert untouched.is_done("costs")
        assert {finding.verdict for finding in untouched.outcomes["costs"].findings} == {Verdict.FITS}
        assert said(untouched, "No prices are entered for the work yet")
        assert said(untouched, "reliability, range, safety")

    def test_hours_and_fuel_are_there_and_no_money(self, untouched: Assessment) -> None:
        found, reach = costs(untouched), untouched.outcomes["range"].answers
        assert found.hours_per_year_h == 100.0
        assert found.distance_nmi == pytest.approx(650.0)
        assert reach is not None
        assert found.fuel_l is not None
        for part in ("best", "low", "high"):
            assert getattr(found.fuel_l, part) == pytest.approx(100.0 * getattr(reach.cruise_l_per_h, part))
        assert found.energy_kwh is found.spent_money is found.total_money is found.payback is found.hour_money is None
        assert found.budget == ()

    def test_it_waits_where_the_range_waits(self, launch: Plan, change: Change) -> None:
        waiting = assess(change(launch, {"range.tank": ""})).outcomes["costs"]
        assert waiting.answers is None
        assert "range page" in waiting.waits_for


class TestBudget:
    def test_the_total_is_the_sum_and_a_share_put_by(self, priced: Assessment) -> None:
        """11 000 + 0 + 900 + 1100 + 2500 + 3500 + 1000 + 400 = 20 400; 15 % of it 3060; together 23 460."""
        found = costs(priced)
        assert found.sum_money is not None
        assert found.total_money is not None
        assert found.sum_money.best == 20_400.0
        assert found.total_money.best == pytest.approx(23_460.0)
        assert found.total_money.currency == "EUR"
        assert found.budget[0].share_fraction == pytest.approx(11_000.0 / 23_460.0)
        assert sum(row.share_fraction for row in found.budget) == pytest.approx(1.0)
        assert sum(row.price_money.best for row in found.budget) == pytest.approx(23_460.0)
        assert said(priced, "EUR 23,460")

    def test_nothing_is_missing_but_the_price_of_the_line_without_one(self, priced: Assessment) -> None:
        assert not said(priced, "No price yet")
        (finding,) = said(priced, "Line 2 of your own")
        assert (finding.verdict, finding.path) == (Verdict.LOOK, "costs.other.1.price")

    def test_main_lines_without_a_price_are_named_and_stop_nothing(self, launch: Plan, change: Change) -> None:
        found = assess(change(launch, {"costs.engine": "11000", "costs.yard": "3500", "costs.contingency": "5 %"}))
        (finding,) = said(found, "No price yet for: Gear; Propeller; Shaft and stern gear; Exhaust, fuel")
        assert finding.verdict is Verdict.LOOK
        assert "Yard work" not in finding.text
        assert verdict(found, "Only 5 % is put by") is Verdict.LOOK
        assert found.is_done("costs")


class TestHours:
    def test_hours_of_the_engine_page_stand_in_for_those_of_this_page(self, launch: Plan, change: Change) -> None:
        by_engine = change(launch, {"engine.hours_per_year": "150 h"})
        assert hours_in_a_year(launch) == 100.0
        assert hours_in_a_year(by_engine) == 150.0
        assert hours_in_a_year(change(by_engine, {"costs.hours_per_year": "80 h"})) == 80.0

    @pytest.mark.parametrize(("hours", "word"), [("20 h", "less"), ("600 h", "more")])
    def test_unusual_hours_want_a_look(self, launch: Plan, change: Change, hours: str, word: str) -> None:
        assert verdict(assess(change(launch, {"costs.hours_per_year": hours})), f"a year is {word} than most") is (
            Verdict.LOOK
        )

    def test_a_profile_adds_up(self, profile: Plan, change: Change) -> None:
        texts = {
            "costs.hours.0.speed": "5.5 kn",
            "costs.hours.0.hours": "60 h",
            "costs.hours.1.speed": "6.5 kn",
            "costs.hours.1.hours": "40 h",
            "costs.hours.2.speed": "5 kn",
            "costs.hours_per_year": "120 h",
        }
        assessed = assess(change(profile, texts))
        found, reach = costs(assessed), assessed.outcomes["range"].answers
        assert reach is not None
        assert found.hours_per_year_h == pytest.approx(100.0)
        assert found.distance_nmi == pytest.approx(60.0 * 5.5 + 40.0 * 6.5)
        slow, fast = found.year
        assert fast.fuel_l is not None
        assert slow.fuel_l is not None
        assert found.fuel_l is not None
        assert fast.fuel_l.best == pytest.approx(40.0 * reach.cruise_l_per_h.best)
        assert found.fuel_l.best == pytest.approx(slow.fuel_l.best + fast.fuel_l.best, rel=0.01)
        assert verdict(assessed, "Row 3 of the hours at each speed has no hours") is Verdict.LOOK
        assert verdict(assessed, "add up to 100 a year, and 120 are given") is Verdict.LOOK

    def test_speeds_off_the_curve_count_as_its_ends_and_it_says_so(self, profile: Plan, change: Change) -> None:
        texts = {
            "costs.hours.0.speed": "0.5 kn",
            "costs.hours.0.hours": "10 h",
            "costs.hours.1.speed": "15 kn",
            "costs.hours.1.hours": "50 h",
        }
        assessed = assess(change(profile, texts))
        reach = assessed.outcomes["range"].answers
        assert reach is not None
        assert [row.speed_kn for row in costs(assessed).year] == pytest.approx(
            [reach.curve[0].speed_kn, reach.curve[-1].speed_kn]
        )
        assert verdict(assessed, "count as hours at full throttle") is Verdict.LOOK
        assert verdict(assessed, "count as if at that speed") is Verdict.LOOK


class TestSaving:
    def test_half_a_knot_slower_on_the_same_distance_is_the_step_of_the_table(self, untouched: Assessment) -> None:
        """The median of the differences there, the difference of the medians here: a few per cent apart."""
        found = costs(untouched)
        at = {row.speed_kn: row for row in found.steps}
        slow, fast = (next(row for kn, row in at.items() if abs(kn - wanted) < 1e-6) for wanted in (6.0, 6.5))
        assert slow.fuel_l is not None
        assert fast.fuel_l is not None
        assert found.slower_l is not None
        assert found.slower_l.best == pytest.approx(fast.fuel_l.best - slow.fuel_l.best, rel=0.04)
        assert found.slower_h == pytest.approx(650.0 / 6.0 - 100.0)
        assert found.slower_l.low > 0.0

    def test_fuel_now_less_fuel_then_at_the_price(self, fuelled: Plan, change: Change) -> None:
        found = costs(assess(change(fuelled, NOW)))
        assert found.fuel_l is not None
        assert found.saved_fuel_l is not None
        assert found.saved_money is not None
        assert found.saved_fuel_l.best == pytest.approx(400.0 - found.fuel_l.best)
        assert found.saved_money.best == pytest.approx(2.0 * (400.0 - found.fuel_l.best))
        assert found.saved_money.low == pytest.approx(2.0 * (400.0 - found.fuel_l.high))

    def test_a_burn_at_cruise_comes_to_hours_times_burn(self, launch: Plan, change: Change) -> None:
        found = costs(assess(change(launch, {"costs.present_burn": "4.2 L/h"})))
        assert found.present_fuel_l is not None
        assert found.present_fuel_l.best == pytest.approx(420.0)
        assert found.saved_money is None, "there is no price"

    def test_payback_is_the_outlay_over_the_saving(self, fuelled: Plan, change: Change) -> None:
        more = {"costs.upkeep": "300", "costs.upkeep_now": "800", "costs.overhaul": "9000", "costs.resale": "500"}
        assessed = assess(change(fuelled, LINES | NOW | more | {"costs.interest": "0 %", "costs.years": "10 years"}))
        found = costs(assessed)
        assert found.saved_money is not None
        assert found.outlay_money is not None
        assert found.payback_years is not None
        assert found.net_money is not None
        assert found.outlay_money.best == pytest.approx(1.15 * 20_000.0 - 9500.0)
        assert found.payback_years.best == pytest.approx(13_500.0 / found.saved_money.best)
        assert found.payback_years.low == pytest.approx(13_500.0 / found.saved_money.high)
        assert found.net_money.best == pytest.approx(10.0 * found.saved_money.best - 13_500.0)
        assert found.payback is not None
        assert found.payback.endswith(")")
        assert verdict(assessed, "seldom repays a new engine") is Verdict.LOOK

    def test_a_loss_is_told_and_never_repaid(self, fuelled: Plan, change: Change) -> None:
        assessed = assess(change(fuelled, LINES | NOW | {"costs.present_fuel": "100 L"}))
        assert costs(assessed).payback == "never"
        (finding,) = said(assessed, "a year more than now")
        assert finding.text.startswith("Fuel takes ")
        assert (finding.verdict, finding.path) == (Verdict.LOOK, "costs.present_fuel")
        (upkeep,) = said(
            assess(change(fuelled, LINES | {"costs.upkeep_now": "100", "costs.upkeep": "300"})), "more than now"
        )
        assert upkeep.text.startswith("Upkeep takes ")
        assert upkeep.path == "costs.upkeep_now"

    def test_prices_of_nothing_leave_nothing_to_repay_and_no_overhaul_is_named(
        self, fuelled: Plan, change: Change
    ) -> None:
        (finding,) = said(assess(change(fuelled, dict.fromkeys(LINES, "0") | {"costs.currency": "EUR"})), "be repaid")
        assert "overhaul" not in finding.text

    def test_an_overhaul_dearer_than_the_repower_leaves_nothing_to_repay(self, fuelled: Plan, change: Change) -> None:
        assessed = assess(change(fuelled, LINES | NOW | {"costs.overhaul": "30000"}))
        assert costs(assessed).payback == "at once"
        assert verdict(assessed, "nothing has to be repaid") is Verdict.FITS

    def test_without_a_word_on_now_the_fuel_of_a_year_bounds_what_can_come_back(
        self, fuelled: Plan, change: Change
    ) -> None:
        assessed = assess(change(fuelled, LINES))
        found = costs(assessed)
        assert found.payback is None
        assert found.spent_money is not None
        (finding,) = said(assessed, "Unless the present engine burns more than twice as much")
        years = 23_000.0 / found.spent_money.best
        (told,) = re.findall(r"would take more than ([\d.]+) years", finding.text)
        assert years - 1.0 < float(told) <= years

    def test_one_side_of_the_upkeep_alone_is_left_out_and_asked_for(self, fuelled: Plan, change: Change) -> None:
        assessed = assess(change(fuelled, NOW | {"costs.upkeep_now": "800"}))
        (finding,) = said(assessed, "Upkeep with the new engine is not given")
        assert (finding.verdict, finding.path) == (Verdict.LOOK, "costs.upkeep")


class TestAnHour:
    def test_an_hour_is_fuel_upkeep_and_a_share_of_the_price(self, fuelled: Plan, change: Change) -> None:
        texts = LINES | {"costs.upkeep": "300", "costs.years": "20 years"}
        found = costs(assess(change(fuelled, texts)))
        assert found.spent_money is not None
        assert found.hour_money is not None
        assert found.spread_years == pytest.approx(20.0)
        assert found.hour_money.best == pytest.approx((found.spent_money.best + 300.0 + 23_000.0 / 20.0) / 100.0)

    def test_a_pleasure_rating_is_worn_out_before(self, launch: Plan, change: Change) -> None:
        texts = LINES | {
            "engine.candidate.0.duty": "pleasure",
            "costs.hours_per_year": "200 h",
            "costs.years": "20 years",
        }
        assessed = assess(change(launch, texts))
        assert costs(assessed).spread_years == pytest.approx(2000.0 / 200.0)
        assert verdict(assessed, "overhauled after some 2000 to 5000") is Verdict.LOOK
        assert said(assessed, "Not in it, because it is not given: fuel and upkeep")

    def test_other_hours_on_the_engine_page_are_told_of(self, launch: Plan, change: Change) -> None:
        """A pleasure rating for 100 hours, and costs for 900."""
        of_engine = {"engine.hours_per_year": "100 h"}
        for alike in ({}, {"costs.hours_per_year": "101 h"}):
            assert not said(assess(change(launch, of_engine | alike)), "The engine page has")
        (finding,) = said(assess(change(launch, of_engine | {"costs.hours_per_year": "900 h"})), "The engine page has")
        assert (finding.verdict, finding.path) == (Verdict.LOOK, "engine.hours_per_year")


class TestElectric:
    def test_energy_of_a_year_costs_what_the_plug_gives(self, electric: Plan, change: Change) -> None:
        texts = NOW | {"range.electricity_price": "0.40 per kWh", "engine.motor.0.generator_power": "6 kW"}
        found = costs(assess(change(electric, texts)))
        assert found.fuel_l is found.saved_fuel_l is None
        assert found.energy_kwh is not None
        assert found.spent_money is not None
        assert found.saved_money is not None
        assert found.generator_fuel_l is not None
        assert found.spent_money.best == pytest.approx(found.energy_kwh.best * 0.40 / 0.92)
        assert found.saved_money.best == pytest.approx(2.0 * 400.0 - found.spent_money.best)
        assert found.generator_fuel_l.best == pytest.approx(found.energy_kwh.best * 0.250 / 0.91 / 0.84)

    def test_the_price_that_is_missing_is_asked_for_and_no_other(
        self, electric: Plan, launch: Plan, change: Change
    ) -> None:
        """A plan of diesels was told that a price of fuel or electricity is missing."""
        burns = {"costs.present_burn": "4 L/h"}
        for plan, texts, words, path in (
            (electric, NOW, "electricity", "range.electricity_price"),
            (with_text(electric, "range.price", ""), burns, "fuel and of electricity", "range.price"),
            (launch, burns, "fuel", "range.price"),
        ):
            assessed = assess(change(plan, texts))
            assert costs(assessed).saved_money is None
            (finding,) = said(assessed, f"the price of {words} is missing")
            assert (finding.verdict, finding.path) == (Verdict.LOOK, path)

    def test_no_engine_is_spoken_of_where_a_motor_goes_in(self, electric: Plan, change: Change) -> None:
        upkeep = {"costs.upkeep_now": "100", "costs.upkeep": "300"}
        price = {"range.electricity_price": "2 per kWh"}
        for texts in ({}, LINES, LINES | NOW | price, LINES | upkeep, {"costs.upkeep_now": "800"}):
            findings = assess(change(electric, texts)).outcomes["costs"].findings
            assert not [each.text for each in findings if "new engine" in each.text]
        dearer = assess(change(electric, NOW | price | upkeep))
        (finding,) = said(dearer, "a year more than now")
        assert finding.text.startswith("Electricity and upkeep take ")
        (hour,) = said(assess(change(electric, LINES)), "An hour under power")
        assert "not given: electricity and upkeep" in hour.text

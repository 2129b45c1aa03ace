"""Stage 10: what will it cost? The budget, fuel in a year, and whether it pays."""

from dataclasses import dataclass
from math import inf

import numpy as np

from engine.bands import Band, Money
from engine.constants import HOUR, KILOWATT_HOUR, KNOT, LITRE, NAUTICAL_MILE
from engine.defaults import amount, amount_or_none
from engine.findings import Outcome
from engine.fleet import Fleet
from engine.machinery.economics import (
    LIFE_HOURS,
    net_present_value,
    yearly_share,
    years_of_use,
)
from engine.machinery.electric import GENERATOR_CONSUMPTION
from engine.machinery.fuel import DIESEL
from engine.numeric import Array
from engine.plan import Plan
from engine.sections.electric import Motor
from engine.stages.budget import Budget, budget_of
from engine.stages.candidates import Rivals
from engine.stages.costs_answers import CostsAnswers, YearRow
from engine.stages.costs_findings import About, costs_findings, years_kept
from engine.stages.drive import Drive
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.range_answers import RangeAnswers
from engine.stages.saving import repaid_in, repaid_words, saving_of
from engine.stages.speed import SpeedAnswers
from engine.stages.voyage import voyage_of
from engine.stages.year import Year, year_of


@dataclass(frozen=True, eq=False)
class _Spending:
    """What a drive spends over a year, in the owner's measures: bands of fuel [kg] or energy [J]."""

    drive: Drive
    fleet: Fleet
    price: float | None
    currency: str

    def fuel(self, spent: Band) -> Band | None:
        """Litres; None of an electric drive."""
        return self.drive.if_fuel(spent.scaled(1.0 / DIESEL.density / LITRE))

    def energy(self, spent: Band) -> Band | None:
        """Kilowatt-hours; None of a diesel."""
        return self.drive.if_electric(spent.scaled(1.0 / KILOWATT_HOUR))

    def money(self, spent: Band) -> Money | None:
        """What it costs; None without a price."""
        return None if self.price is None else Money.of(spent.scaled(self.price), self.currency)

    def rows(self, speed: Array, time: Array, spent: Array) -> tuple[YearRow, ...]:
        """Speeds [m/s] with their hours [s] and what is spent in them (N, S)."""
        return tuple(
            YearRow(
                speed_kn=float(speed[i]) / KNOT,
                hours_h=float(time[i]) / HOUR,
                fuel_l=self.fuel(band),
                energy_kwh=self.energy(band),
                cost_money=self.money(band),
            )
            for i, band in enumerate(self.fleet.each_band(spent))
        )


def assess_costs(
    plan: Plan, speed: SpeedAnswers, rivals: Rivals, propeller: PropellerAnswers, reach: RangeAnswers
) -> Outcome[CostsAnswers]:
    """The budget of the repower, what a year under power costs, and what is saved against now."""
    drive, wheel = rivals.drive, propeller.wheel
    voyage = voyage_of(plan, drive)
    assert voyage is not None, "the range page has waited for it"
    fleet, currency = wheel.setting.hull.fleet, plan.costs.currency
    ends = reach.curve[0].speed_kn * KNOT, reach.curve[-1].speed_kn * KNOT
    year = year_of(plan, wheel, voyage, speed.cruise_kn * KNOT, ends)
    spending = _Spending(drive, fleet, voyage.price, currency)
    budget = budget_of(plan)
    spent, slower = fleet.band(year.spent), fleet.band(year.spent - year.slower.spent)
    saving = saving_of(plan, fleet, year)
    present, saved = saving.present, saving.band
    pays, hour = _whether_it_pays(plan, budget, saved), _an_hour(plan, rivals, budget, year, spending.money(spent))
    answers = CostsAnswers(
        total_money=_of_budget(budget, budget.total, currency),
        sum_money=_of_budget(budget, budget.sum, currency),
        contingency_money=_of_budget(budget, budget.put_by, currency),
        hours_per_year_h=float(np.sum(year.time)) / HOUR,
        distance_nmi=year.distance / NAUTICAL_MILE,
        fuel_l=spending.fuel(spent),
        energy_kwh=spending.energy(spent),
        generator_fuel_l=_generator_fuel(rivals, spent),
        spent_money=spending.money(spent),
        slower_l=spending.fuel(slower),
        slower_kwh=spending.energy(slower),
        slower_money=spending.money(slower),
        slower_h=float(np.sum(year.slower.time) - np.sum(year.time)) / HOUR,
        present_fuel_l=None if present is None else fleet.band(present / LITRE),
        saved_fuel_l=None if present is None else spending.fuel(fleet.band(present * DIESEL.density - year.spent)),
        saved_money=None if saved is None else Money.of(saved, currency),
        outlay_money=_of_budget(budget, budget.outlay, currency) if budget.has_relief else None,
        payback=None if pays is None else repaid_words(pays.repaid),
        payback_years=None if pays is None else pays.repaid,
        net_money=None if pays is None else Money.of(pays.left, currency),
        spread_years=None if hour is None else hour.years,
        hour_money=None if hour is None else Money.of(hour.cost, currency),
        budget=budget.rows(currency),
        year=spending.rows(year.speed, year.time, year.rate * year.time),
        steps=spending.rows(year.steps, year.distance / year.steps, year.at_steps),
    )
    about = About(plan, rivals.chosen.item, year, budget, saving)
    return Outcome(answers, tuple(costs_findings(about, answers)))


def _of_budget(budget: Budget, amount_of_it: float, currency: str) -> Money | None:
    """A sum of the budget; None while there is no price in it."""
    return Money.of(amount_of_it, currency) if budget.prices else None


@dataclass(frozen=True)
class _Pays:
    """repaid: years until the saving comes to the outlay.   left: money at the end of the years she is kept."""

    repaid: Band
    left: Band


def _whether_it_pays(plan: Plan, budget: Budget, saved: Band | None) -> _Pays | None:
    if saved is None or not saved.is_known or not budget.prices:
        return None
    outlay, years, interest = budget.outlay, years_kept(plan), amount(plan.costs, "interest")
    left = saved.mapped(lambda saving: float(net_present_value(outlay, saving, years, interest)))
    return _Pays(repaid_in(outlay, saved), left)


@dataclass(frozen=True)
class _Hour:
    """years: over which the price of the repower is spread.   cost: of an hour under power, money."""

    years: float
    cost: Band


def _an_hour(plan: Plan, rivals: Rivals, budget: Budget, year: Year, spent: Money | None) -> _Hour | None:
    if not budget.prices:
        return None
    hours, item = float(np.sum(year.time)) / HOUR, rivals.chosen.item
    life, _ = (inf, inf) if isinstance(item, Motor) else LIFE_HOURS.get(item.duty or "", (inf, inf))
    years = float(years_of_use(years_kept(plan), hours, life))
    share = float(yearly_share(budget.total, years, amount(plan.costs, "interest")))
    fixed = share + (amount_or_none(plan.costs, "upkeep") or 0.0)
    yearly = Band(fixed, fixed, fixed) if spent is None else spent.mapped(lambda fuel: fuel + fixed)
    return _Hour(years, yearly.scaled(1.0 / hours))


def _generator_fuel(rivals: Rivals, spent: Band) -> Band | None:
    item = rivals.chosen.item
    if not isinstance(item, Motor) or item.generator_power is None:
        return None
    return spent.scaled(GENERATOR_CONSUMPTION / DIESEL.density / LITRE)

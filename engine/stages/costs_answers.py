"""What the costs stage gives: the budget, a year under power, and whether it pays."""

from dataclasses import dataclass

from engine.answers import answer, detail, maybe, table
from engine.bands import Band, Money


@dataclass(frozen=True, kw_only=True)
class BudgetRow:
    """A line of the budget."""

    item: str = answer("Item")
    price_money: Money = answer("Price", digits=9)
    share_fraction: float = answer("Share of the total", digits=2)


@dataclass(frozen=True, kw_only=True)
class YearRow:
    """Part of a year, at one speed."""

    speed_kn: float = answer("Speed")
    hours_h: float = answer("Hours")
    fuel_l: Band | None = maybe("Fuel", spread=True, only_known=True)
    energy_kwh: Band | None = maybe("Energy", spread=True, only_known=True)
    cost_money: Money | None = maybe("Costs", spread=True, only_known=True)


@dataclass(frozen=True, kw_only=True)
class CostsAnswers:
    """Whole boat, all engines. A year is a usual one, in service as on the range page."""

    total_money: Money | None = maybe("Budget with what is put by", digits=9, only_known=True)
    sum_money: Money | None = maybe("Sum of the prices entered", digits=9, only_known=True)
    contingency_money: Money | None = maybe("Put by for surprises", digits=9, only_known=True)
    hours_per_year_h: float = answer("Hours under power in a year", digits=4)
    distance_nmi: float = answer("Distance through the water in a year")
    fuel_l: Band | None = maybe("Fuel in a year", only_known=True)
    energy_kwh: Band | None = maybe("Energy out of the battery in a year", only_known=True)
    generator_fuel_l: Band | None = maybe("Fuel in a year, were all of it from the generator", only_known=True)
    spent_money: Money | None = maybe("Fuel or electricity in a year costs", only_known=True)
    slower_l: Band | None = maybe("Half a knot slower on the same distance saves", only_known=True)
    slower_kwh: Band | None = maybe("Half a knot slower on the same distance saves", only_known=True)
    slower_money: Money | None = maybe("in money", only_known=True)
    slower_h: float = answer("and takes longer by", digits=2)
    present_fuel_l: Band | None = maybe("Fuel in a year, now", only_known=True)
    saved_fuel_l: Band | None = maybe("Fuel saved in a year", only_known=True)
    saved_money: Money | None = maybe("Saved in a year against now", only_known=True)
    outlay_money: Money | None = maybe("To be repaid: less the overhaul and the old engine", digits=9, only_known=True)
    payback: str | None = maybe("Repaid by what is saved in", only_known=True)
    payback_years: Band | None = detail("Repaid by what is saved in")
    net_money: Money | None = maybe("Left at the end of the years you keep her", only_known=True)
    spread_years: float | None = maybe("Years over which the price is spread", digits=2, only_known=True)
    hour_money: Money | None = maybe("Owning cost of an hour under power", only_known=True)
    budget: tuple[BudgetRow, ...] = table("Budget")
    year: tuple[YearRow, ...] = table("A year under power")
    steps: tuple[YearRow, ...] = table("The same distance in a year, at one speed throughout")

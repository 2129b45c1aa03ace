"""The budget of the repower: prices as entered, what is put by for surprises, and what is left to be repaid."""

from dataclasses import dataclass
from functools import cached_property

from engine.bands import Money
from engine.defaults import amount, amount_or_none
from engine.entries import entries
from engine.plan import Plan
from engine.sections.costs import Costs
from engine.stages.costs_answers import BudgetRow

LINES = ("engine", "gear", "propeller", "shaft", "installation", "yard", "haul_out")
"""Fields of the costs section that are lines of every budget."""
_SURPRISES = "Put by for surprises"


@dataclass(frozen=True)
class Budget:
    """prices: (item, price) of the lines that have one.   missing: labels of the usual lines that have none.

    contingency: share of the sum put by [-].   overhaul, resale: money, None where it is not given.
    """

    prices: tuple[tuple[str, float], ...]
    missing: tuple[str, ...]
    contingency: float
    overhaul: float | None
    resale: float | None

    @cached_property
    def sum(self) -> float:
        """Of the prices entered."""
        return sum(price for _, price in self.prices)

    @property
    def put_by(self) -> float:
        """For surprises."""
        return self.contingency * self.sum

    @property
    def total(self) -> float:
        """With what is put by."""
        return self.sum + self.put_by

    @property
    def has_relief(self) -> bool:
        """Whether there is something that need not be repaid."""
        return self.overhaul is not None or self.resale is not None

    @property
    def outlay(self) -> float:
        """What has to be repaid: the total less the overhaul that is avoided and what the old engine brings."""
        return self.total - (self.overhaul or 0.0) - (self.resale or 0.0)

    def rows(self, currency: str) -> tuple[BudgetRow, ...]:
        """Every line, and what is put by; none while there is no price."""
        if not self.prices:
            return ()
        return tuple(
            BudgetRow(
                item=item,
                price_money=Money.of(price, currency),
                share_fraction=price / self.total if self.total > 0.0 else 0.0,
            )
            for item, price in (*self.prices, (_SURPRISES, self.put_by))
        )


def budget_of(plan: Plan) -> Budget:
    """The prices of a plan; a line of the owner's own without a price is left out."""
    asked = plan.costs
    labels = {name: entry.label for name, entry in entries(Costs).items()}
    given = {name: amount_or_none(asked, name) for name in LINES}
    others = [(row.item or f"Other, line {number}", row.price) for number, row in enumerate(asked.other, start=1)]
    return Budget(
        prices=(
            *((labels[name], price) for name, price in given.items() if price is not None),
            *((item, price.si) for item, price in others if price is not None),
        ),
        missing=tuple(labels[name] for name, price in given.items() if price is None),
        contingency=amount(asked, "contingency"),
        overhaul=amount_or_none(asked, "overhaul"),
        resale=amount_or_none(asked, "resale"),
    )

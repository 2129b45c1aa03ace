"""What is saved in a year against now, and whether it repays the outlay."""

from dataclasses import dataclass
from math import isfinite

import numpy as np

from engine.bands import Band
from engine.defaults import amount_or_none
from engine.fleet import Fleet
from engine.machinery.economics import simple_payback
from engine.numeric import Array
from engine.plan import Plan
from engine.showing import numbered, round_number
from engine.stages.year import Year


@dataclass(frozen=True, eq=False)
class Saving:
    """Against the present engine, in a year.

    present: fuel now, of each boat (N,) [m3]; None while nothing is said of it.
    fuel, upkeep: money of each boat (N,), and money; None where one side is not known.
    """

    fleet: Fleet
    present: Array | None
    fuel: Array | None
    upkeep: float | None

    @property
    def counted(self) -> tuple[str, ...]:
        """What is counted, "fuel", "upkeep" or both."""
        return tuple(name for name, value in (("fuel", self.fuel), ("upkeep", self.upkeep)) if value is not None)

    @property
    def parts(self) -> str:
        """That in words; "" for nothing."""
        return " and ".join(self.counted)

    @property
    def band(self) -> Band | None:
        """Money saved; None while neither part is known."""
        if self.fuel is None:
            return None if self.upkeep is None else Band(self.upkeep, self.upkeep, self.upkeep)
        return self.fleet.band(self.fuel + (self.upkeep or 0.0))


def saving_of(plan: Plan, fleet: Fleet, year: Year) -> Saving:
    """What the owner says of now against what the plan says of then."""
    price = amount_or_none(plan.range, "price")
    now, then = (amount_or_none(plan.costs, name) for name in ("upkeep_now", "upkeep"))
    present, costs = _present_fuel(plan, year), year.voyage.cost(year.spent)
    return Saving(
        fleet,
        present,
        fuel=None if present is None or costs is None or price is None else present * price - costs,
        upkeep=None if now is None or then is None else now - then,
    )


def _present_fuel(plan: Plan, year: Year) -> Array | None:
    """Fuel in a year with the present engine. From a burn at cruise it is taken to rise and fall with speed as what
    the new drive takes."""
    total, burn = (amount_or_none(plan.costs, name) for name in ("present_fuel", "present_burn"))
    if total is not None:
        return np.full(len(year.rate), total)
    if burn is None or plan.speed.cruise is None:
        return None
    at_cruise = year.rate_at(np.clip([plan.speed.cruise.si], year.slowest, year.fastest))[:, 0]
    return burn * year.spent / at_cruise


def repaid_in(outlay: float, saved: Band) -> Band:
    """Years in which an outlay is repaid, from what is saved in a year; inf for never."""
    return saved.mapped(lambda saving: float(simple_payback(outlay, saving)))


def repaid_words(years: Band) -> str:
    """As a person says it: "31 years (24 to 52)", "31 years (24 to never)", "never (40 years at best)", "at once"."""
    if years.high <= 0.0:
        return "at once"
    best, low, high = (
        round_number(end, 2) if isfinite(end) else "never" for end in (years.best, years.low, years.high)
    )
    if best == "never":
        return best if low == best else f"never ({numbered(low, 'year')} at best)"
    told = numbered(best, "year")
    return told if low == high else f"{told} ({low} to {high})"

"""What a year under power takes, and whether an outlay pays. Money is a plain number in one currency."""

from collections.abc import Mapping

import numpy as np

from engine.data import table
from engine.numeric import Array, Real, plain
from engine.validity import not_negative, positive

_DATA = table("economics")
ASSUMED_HOURS_PER_YEAR: float = _DATA["hours_per_year"]["assumed"]
HOURS_SOURCE: str = _DATA["hours_per_year"]["source"]
LEAST_CONTINGENCY: float = _DATA["contingency"]["least"]
CONTINGENCY_SOURCE: str = _DATA["contingency"]["source"]
LIFE_HOURS: Mapping[str, tuple[float, float]] = {
    duty: (float(low), float(high)) for duty, (low, high) in _DATA["life"]["duty"].items()
}
"""Least and most hours to the overhaul of a diesel, by duty class; classes without a figure are left out."""
LIFE_SOURCE: str = _DATA["life"]["source"]


def spent_over_profile(rate: Real, time: Real) -> Real:
    """What a profile of use takes: rates times times, summed over the last axis.

    rate: (..., S), >= 0, [kg/s] or [W].   time: at each of the S speeds [s], >= 0.
    Returns: (...) [kg] or [J].   Raises: ValueError naming the argument.   Source: definition.
    """
    return plain(np.sum(not_negative("rate", rate) * not_negative("time", time), axis=-1))


def present_worth_factor(years: Real, interest: Real) -> Real:
    """Worth today of one unit of money at the end of each year, (1 - (1 + r)^-n)/r; n while r is zero.

    years: n, > 0; parts of a year count by the same formula.   interest: r in a year [-], >= 0.
    Returns: [years].   Raises: ValueError naming the argument.   Source: definition, sum of a geometric series.
    """
    n, r = np.broadcast_arrays(positive("years", years), not_negative("interest", interest))
    some = r > 0.0
    rate = np.where(some, r, 1.0)
    return plain(np.where(some, -np.expm1(-n * np.log1p(rate)) / rate, n))


def net_present_value(outlay: Real, saving: Real, years: Real, interest: Real) -> Real:
    """Worth today of what is saved over some years, less the outlay.

    outlay: money paid now.   saving: money at the end of each year, negative when it is a loss.
    years, interest: as in present_worth_factor.
    Returns: money.   Raises: ValueError naming the argument.   Source: definition.
    """
    return plain(np.asarray(saving) * np.asarray(present_worth_factor(years, interest)) - np.asarray(outlay))


def simple_payback(outlay: Real, saving: Real) -> Real:
    """Years until what is saved comes to the outlay; inf where nothing is saved, 0 where there is nothing to repay.

    outlay: new price less the overhaul it avoids, money.   saving: fuel and upkeep saved in a year, money.
    Returns: [years], without interest.   Raises: nothing.   Source: definition.
    """
    cost, saved = np.broadcast_arrays(np.asarray(outlay, dtype=float), np.asarray(saving, dtype=float))
    pays = saved > 0.0
    years: Array = np.where(pays, cost / np.where(pays, saved, 1.0), np.inf)
    years = np.where(np.isnan(saved) | np.isnan(cost), np.nan, years)
    return plain(np.where(cost <= 0.0, 0.0, years))


def yearly_share(price: Real, years: Real, interest: Real) -> Real:
    """What a price comes to in each of the years it is spread over, interest with it: the annuity.

    price: money.   years, interest: as in present_worth_factor.
    Returns: money in a year.   Raises: ValueError naming the argument.   Source: definition.
    """
    return plain(np.asarray(price) / np.asarray(present_worth_factor(years, interest)))


def years_of_use(years: Real, hours_per_year: Real, life_hours: Real = np.inf) -> Real:
    """Years over which a price is spread: those she is kept, or fewer where the engine is worn out before.

    years: > 0.   hours_per_year: > 0.   life_hours: hours that the engine lasts, > 0.
    Returns: [years].   Raises: ValueError naming the argument.   Source: definition.
    """
    worn_out = positive("life_hours", life_hours) / positive("hours_per_year", hours_per_year)
    return plain(np.minimum(positive("years", years), worn_out))

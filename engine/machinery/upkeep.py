"""The log over the seasons: how fast growth makes her heavier, whether something wears, and when cleaning pays."""

import math
from dataclasses import dataclass

import numpy as np

from engine.numeric import Array
from engine.validity import require_positive


@dataclass(frozen=True)
class Trend:
    """A straight line through readings, and how sure it is.

    slopes: of each column, per unit of it.   errors: standard errors of the slopes; infinite when no reading is to
    spare.
    """

    start: float
    slopes: tuple[float, ...]
    errors: tuple[float, ...]


def trend(columns: Array, values: Array, least_error: float) -> Trend | None:
    """Least squares of values on columns and a start.

    columns: (R, C).   values: (R,).   least_error: standard deviation of one reading that is known beforehand; what the
    readings scatter by is not taken to be less.
    Returns: None when the readings cannot tell the columns apart: too few of them, or all at the same place.
    Source: ordinary least squares, textbook.
    """
    rows, count = columns.shape
    terms = np.column_stack([np.ones(rows), columns])
    if rows <= count or np.linalg.matrix_rank(terms) <= count:
        return None
    found = np.linalg.lstsq(terms, values, rcond=None)[0]
    left_over = values - terms @ found
    spare = rows - count - 1
    scatter = math.sqrt(float(left_over @ left_over) / spare) if spare else math.inf
    variance = np.diag(np.linalg.inv(terms.T @ terms)) * max(scatter, least_error) ** 2
    return Trend(float(found[0]), tuple(map(float, found[1:])), tuple(map(float, np.sqrt(variance[1:]))))


def cleaning_interval(price: float, extra_cost_rate: float) -> float:
    """Time between cleanings at which cleaning and extra fuel together cost least.

    price: of one cleaning, in money, > 0.   extra_cost_rate: by how much the cost of fuel in a unit of time rises in
    each unit of time, money per unit squared, > 0.
    Returns: sqrt(2 price/rate), in that unit: over an interval T the extra fuel costs rate T^2/2, so that
    price/T + rate T/2 is least there.
    Raises: ValueError for what is not above zero.
    Source: renewal at least cost per time, textbook; that growth costs in proportion to the months is ours.
    """
    require_positive(price=price, extra_cost_rate=extra_cost_rate)
    return math.sqrt(2.0 * price / extra_cost_rate)

"""Quantiles of weighted versions of one boat: what makes a band."""

from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from engine.numeric import Array

LEAST_KNOWN_SHARE = 0.5
"""A quantile is given when at least this share of the weight has a value. Our own choice."""

_ROUNDING = 1e-9


def weighted_quantiles(values: ArrayLike, weights: ArrayLike, shares: ArrayLike) -> Array:
    """Quantiles along the first axis of weighted values, straight between the middles of their weights.

    With equal weights this is the plotting position of Hazen (1914): the middle one of an odd number is the median.
    values: (N, ...), any unit; what is not finite, or has no weight, is left out.
    weights: (N,), not negative, any sum.   shares: (Q,), each 0 to 1; below the first middle the first value holds.
    Returns: (Q, ...), unit of values; NaN where less than half of the weight has a value.
    Raises: ValueError when weights are not one per row of values.
    Source: A. Hazen (1914), midpoint plotting position; its weighted form is ours.
    """
    columns, weight = _columns(values), np.asarray(weights, dtype=float)
    if weight.shape != columns.shape[1:]:
        raise ValueError("one weight is needed for each row of values")
    wanted = np.atleast_1d(np.asarray(shares, dtype=float))
    if weight.size and weight[0] > 0.0 and (weight == weight[0]).all():
        quantiles = _of_equals(columns.copy(order="C"), wanted)
    else:
        quantiles = _of_weighted(columns, weight, wanted)
    return quantiles.T.reshape(wanted.size, *np.shape(values)[1:])


def drawn_quantiles(values: ArrayLike, drawn: NDArray[np.intp], shares: ArrayLike) -> Array:
    """Quantiles of values that count as often as they were drawn: those of `weighted_quantiles` for values[drawn]
    with equal weights.

    values: (N, ...), any unit.   drawn: (M,), their rows.   shares: (Q,), each 0 to 1.
    Returns, source: as there.   Raises: IndexError for a row that there is not.
    """
    wanted = np.atleast_1d(np.asarray(shares, dtype=float))
    quantiles = _of_equals(_columns(values).take(drawn, axis=1), wanted)
    return quantiles.T.reshape(wanted.size, *np.shape(values)[1:])


def _columns(values: ArrayLike) -> Array:
    """Values (N, ...) as (C, N)."""
    rows = np.asarray(values, dtype=float)
    return rows.reshape(rows.shape[0], -1).T


def _of_equals(values: Array, shares: Array) -> Array:
    """(C, Q) of values (C, N) that all weigh alike, which it puts in order: their places are known beforehand, and
    sorting takes half the time of finding out an order."""
    values.sort(axis=1)  # from what is infinitely small to what is infinitely large, and NaN last
    if (values[:, 0] > -np.inf).all() and (values[:, -1] < np.inf).all():
        low, high, part = _places_of_all(values.shape[1], tuple(shares.tolist()))
        first = values.take(low, axis=1)
        return np.asarray(first + part * (values.take(high, axis=1) - first))
    return _of_finite(values, shares)


def _of_finite(in_order: Array, shares: Array) -> Array:
    """The same of values in order (C, N), of which only some are finite: in each column as many as there are."""
    size, column = in_order.shape[1], np.arange(len(in_order))[:, None]
    before, count = (np.count_nonzero(each, axis=1)[:, None] for each in (in_order == -np.inf, np.isfinite(in_order)))
    low, high, part = _places(count, shares)
    first, second = (in_order[column, np.minimum(before + each, size - 1)] for each in (low, high))
    with np.errstate(invalid="ignore"):  # of infinite values, where there are no others
        quantiles = first + part * (second - first)
    return np.where(count >= (LEAST_KNOWN_SHARE - _ROUNDING) * size, quantiles, np.nan)


def _places(count: NDArray[np.intp], shares: Array) -> tuple[NDArray[np.intp], NDArray[np.intp], Array]:
    """Of quantiles of so many values in order: the last value before, the first behind, and how far it is from the one
    to the other [-].   They broadcast."""
    last = np.maximum(count - 1, 0)
    place = np.minimum(np.maximum(shares * count - 0.5, 0.0), last)
    low = place.astype(np.intp)
    return low, np.minimum(low + 1, last), place - low


@lru_cache(maxsize=256)
def _places_of_all(size: int, shares: tuple[float, ...]) -> tuple[NDArray[np.intp], NDArray[np.intp], Array]:
    """The same of values of which each counts, (Q,): worked out once for all fleets of a size."""
    return _places(np.array(size), np.array(shares))


def _of_weighted(columns: Array, weight: Array, shares: Array) -> Array:
    """(C, Q) of values (C, N) with weights (N,). Methods of arrays: functions for anything that can be an array take
    half as long again."""
    columns = np.ascontiguousarray(columns)
    has_value = np.isfinite(columns) & (weight > 0.0)
    quantiles, known = np.full((len(columns), shares.size), np.nan), np.zeros(len(columns))
    for place, (column, has) in enumerate(zip(columns, has_value, strict=True)):
        kept, its_weight = column[has], weight[has]
        if kept.size:
            order = kept.argsort()
            in_order = its_weight.take(order)
            middles = in_order.cumsum()
            known[place] = middles[-1]
            in_order *= 0.5
            middles -= in_order
            quantiles[place] = np.interp(shares * known[place], middles, kept.take(order))
    enough = known >= (LEAST_KNOWN_SHARE - _ROUNDING) * weight.sum()
    return np.where(enough[:, None], quantiles, np.nan)

"""Quantiles of weighted versions of one boat: what makes a band."""

import numpy as np
from numpy.typing import ArrayLike

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
    rows = np.asarray(values, dtype=float)
    weight = np.asarray(weights, dtype=float)
    if weight.shape != rows.shape[:1]:
        raise ValueError("one weight is needed for each row of values")
    trailing = rows.shape[1:]
    wanted = np.atleast_1d(np.asarray(shares, dtype=float))
    if weight.size and weight[0] > 0.0 and (weight == weight[0]).all() and np.isfinite(rows).all():
        return _of_equals(rows, wanted)
    columns = np.ascontiguousarray(rows.reshape(rows.shape[0], -1).T)
    has_value = np.isfinite(columns) & (weight > 0.0)
    is_whole = has_value.all(axis=1)
    quantiles, known = np.full((len(columns), wanted.size), np.nan), np.zeros(len(columns))
    for place, column in enumerate(columns):
        kept, its_weight = column, weight
        if not is_whole[place]:
            kept, its_weight = column[has_value[place]], weight[has_value[place]]
        if kept.size:
            known[place], quantiles[place] = _of_column(kept, its_weight, wanted)
    enough = known >= (LEAST_KNOWN_SHARE - _ROUNDING) * weight.sum()
    return np.where(enough, quantiles.T, np.nan).reshape(wanted.size, *trailing)


def _of_column(values: Array, weight: Array, shares: Array) -> tuple[float, Array]:
    """The whole weight, and the quantiles, of values (N,) that all have one. Methods of arrays: a band is made a
    thousand times in an assessment, and functions for anything that can be an array take half as long again."""
    order = values.argsort()
    in_order = weight.take(order)
    middles = in_order.cumsum()
    known = float(middles[-1])
    in_order *= 0.5
    middles -= in_order
    return known, np.interp(shares * known, middles, values.take(order))


def _of_equals(rows: Array, shares: Array) -> Array:
    """The same when all weigh alike and have a value: the places are known beforehand, and sorting takes half the time
    of finding out an order."""
    size = rows.shape[0]
    in_order = np.sort(np.ascontiguousarray(rows.reshape(size, -1).T), axis=1)
    place = np.clip(shares * size - 0.5, 0.0, size - 1.0)
    low = place.astype(np.intp)
    first, second = in_order[:, low], in_order[:, np.minimum(low + 1, size - 1)]
    return np.asarray((first + (place - low) * (second - first)).T).reshape(shares.size, *rows.shape[1:])

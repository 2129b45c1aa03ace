"""Quantiles of weighted versions of one boat: what makes a band."""

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
    rows = np.asarray(values, dtype=float)
    weight = np.asarray(weights, dtype=float)
    if weight.shape != rows.shape[:1]:
        raise ValueError("one weight is needed for each row of values")
    wanted = np.atleast_1d(np.asarray(shares, dtype=float))
    columns = np.ascontiguousarray(rows.reshape(rows.shape[0], -1).T)
    has_value = np.isfinite(columns)
    if weight.size and weight[0] > 0.0 and (weight == weight[0]).all():
        quantiles = _of_equals(columns, has_value, wanted)
    else:
        quantiles = _of_weighted(columns, has_value & (weight > 0.0), weight, wanted)
    return quantiles.T.reshape(wanted.size, *rows.shape[1:])


def _of_equals(columns: Array, has_value: NDArray[np.bool_], shares: Array) -> Array:
    """(C, Q) of values (C, N) that all weigh alike: the places are known beforehand, and sorting takes half the time of
    finding out an order."""
    size = columns.shape[1]
    if has_value.all():
        in_order, count = columns.copy(), np.array([[size]])
    else:
        in_order, count = np.where(has_value, columns, np.nan), np.count_nonzero(has_value, axis=1)[:, None]
    in_order.sort(axis=1)  # NaN goes last
    last = np.maximum(count - 1, 0)
    place = np.minimum(np.maximum(shares * count - 0.5, 0.0), last)
    low = place.astype(np.intp)
    column = np.arange(len(columns))[:, None]
    first, second = in_order[column, low], in_order[column, np.minimum(low + 1, last)]
    quantiles = first + (place - low) * (second - first)
    return np.where(count >= (LEAST_KNOWN_SHARE - _ROUNDING) * size, quantiles, np.nan)


def _of_weighted(columns: Array, has_value: NDArray[np.bool_], weight: Array, shares: Array) -> Array:
    """(C, Q) of values (C, N) with weights (N,). Methods of arrays: functions for anything that can be an array take
    half as long again."""
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

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
    trailing = rows.shape[1:]
    columns = np.ascontiguousarray(rows.reshape(rows.shape[0], -1).T)
    has_value = np.isfinite(columns) & (weight > 0.0)
    columns = np.where(has_value, columns, np.inf)
    order = np.argsort(columns, axis=1)
    in_order = np.take_along_axis(columns, order, axis=1)
    weight_in_order = np.where(in_order < np.inf, weight[order], 0.0)
    in_order = np.where(in_order < np.inf, in_order, 0.0)
    middles = np.cumsum(weight_in_order, axis=1) - 0.5 * weight_in_order
    known = weight_in_order.sum(axis=1)
    last = np.maximum(np.count_nonzero(has_value, axis=1) - 1, 0)
    quantiles = np.stack([_at(share * known, middles, in_order, last) for share in np.atleast_1d(shares)])
    enough = (known > 0.0) & (known >= (LEAST_KNOWN_SHARE - _ROUNDING) * weight.sum())
    return np.where(enough, quantiles, np.nan).reshape(-1, *trailing)


def _at(target: Array, middles: Array, in_order: Array, last: NDArray[np.intp]) -> Array:
    """The value of each row where its middles reach the target; target and last (M,), the others (M, N)."""
    row = np.arange(target.size)
    above = np.minimum(np.count_nonzero(middles <= target[:, None], axis=1), last)
    below = np.maximum(above - 1, 0)
    gap = middles[row, above] - middles[row, below]
    along = np.clip((target - middles[row, below]) / np.where(gap > 0.0, gap, 1.0), 0.0, 1.0)
    low, high = in_order[row, below], in_order[row, above]
    return np.asarray(low + along * (high - low))

"""Curves through the values that a method tabulates: smooth between them, rising where they rise."""

import numpy as np

from engine.numeric import Array, Real, plain


def monotone_cubic(grid: Array, values: Array, x: Real) -> Real:
    """Piecewise cubic through tabulated values that has no hump or hollow the values do not have.

    grid: (K,) rising, K at least 3.   values: (..., K), one curve along the last axis for each hull.
    x: where to read the curves, any shape that broadcasts with values[..., 0].
    Returns: the broadcast shape of values[..., 0] and x; NaN outside the grid.
    Source: F. N. Fritsch & R. E. Carlson (1980), Monotone piecewise cubic interpolation, SIAM J. Numerical Analysis 17,
    238-246; slopes by F. N. Fritsch & J. Butland (1984), SIAM J. Scientific and Statistical Computing 5, 300-304, with
    three-point slopes at the ends. Checked against: scipy's PchipInterpolator, tests/engine/test_delft.py.
    """
    where = np.asarray(x, dtype=float)
    dimensions = max(where.ndim, values.ndim - 1)
    where = where.reshape((1,) * (dimensions - where.ndim) + where.shape)
    table = values.reshape((1,) * (dimensions + 1 - values.ndim) + values.shape)
    left = grid[1:-1].searchsorted(where, side="right")
    slopes = _slopes(grid, table)
    step = np.diff(grid)[left]
    t = (where - grid[left]) / step
    place = left + grid.size * np.arange(table[..., 0].size).reshape(table.shape[:-1])  # of all curves, one by one
    start, end = table.ravel().take(place), table.ravel().take(place + 1)
    start_slope, end_slope = step * slopes.ravel().take(place), step * slopes.ravel().take(place + 1)
    rise = end - start
    square, cube = 3.0 * rise - 2.0 * start_slope - end_slope, start_slope + end_slope - 2.0 * rise
    curve = start + t * (start_slope + t * (square + t * cube))
    return plain(np.where((where >= grid[0]) & (where <= grid[-1]), curve, np.nan))


def _slopes(grid: Array, values: Array) -> Array:
    """Slope at each grid point: zero at a turning point, else a weighted harmonic mean of the slopes on both sides."""
    h = np.diff(grid)
    secant = np.diff(values, axis=-1) / h
    before, after = secant[..., :-1], secant[..., 1:]
    same_way = before * after > 0.0
    weight_before, weight_after = h[:-1] + 2.0 * h[1:], 2.0 * h[:-1] + h[1:]
    inverse = weight_before / np.where(same_way, before, 1.0) + weight_after / np.where(same_way, after, 1.0)
    inside = np.where(same_way, (weight_before + weight_after) / np.where(same_way, inverse, 1.0), 0.0)
    first = _end_slope(h[0], h[1], secant[..., 0], secant[..., 1])
    last = _end_slope(h[-1], h[-2], secant[..., -1], secant[..., -2])
    return np.concatenate([first[..., None], inside, last[..., None]], axis=-1)


def _end_slope(h: float, next_h: float, secant: Array, next_secant: Array) -> Array:
    """Three-point slope at an end, held so that the curve does not turn inside its last step."""
    slope = ((2.0 * h + next_h) * secant - h * next_secant) / (h + next_h)
    turns = np.sign(secant) != np.sign(next_secant)
    slope = np.where(turns & (np.abs(slope) > 3.0 * np.abs(secant)), 3.0 * secant, slope)
    return np.where(np.sign(slope) != np.sign(secant), 0.0, slope)


def rising_fit(values: Array) -> Array:
    """The nearest curve, in the sum of squares, that never falls: hump and hollow become a step at their mean.

    values: (N, K), one curve along the last axis.   Returns: the same shape.
    Source: isotonic regression by pooling adjacent violators; M. Ayer, H. D. Brunk, G. M. Ewing, W. T. Reid &
    E. Silverman (1955), Annals of Mathematical Statistics 26, 641-647; from memory.
    """
    highest_before = np.maximum.accumulate(values, axis=1)
    lowest_behind = np.minimum.accumulate(values[:, ::-1], axis=1)[:, ::-1]
    is_off = (values < highest_before) | (values > lowest_behind)  # what is in order with all others stays as it is
    fitted = values.copy()
    for curve, off in zip(fitted, is_off, strict=True):
        curve[off] = _pooled(curve[off].tolist())
    return fitted


def _pooled(curve: list[float]) -> list[float]:
    """One curve: what falls is pooled with what came before until it does not. Few are pooled, and these quicker one by
    one than side by side."""
    sums: list[float] = []
    counts: list[int] = []
    for value in curve:
        total, count = value, 1
        while sums and sums[-1] * count > total * counts[-1]:
            total += sums.pop()
            count += counts.pop()
        sums.append(total)
        counts.append(count)
    return [total / count for total, count in zip(sums, counts, strict=True) for _ in range(count)]

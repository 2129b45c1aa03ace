"""Roots of many equations at once: Newton and secant steps that never leave their bracket."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from engine.numeric import Array

_RELATIVE_CHANGE = 1e-11
"""A step by halving, or along a chord, that moves less than this share is the last."""
_MOST_STEPS = 60
_FREE_STEPS = 4
"""Steps that do not narrow the bracket while Newton stays in it: most searches have then ended (ours)."""
_PATIENCE = 12
"""Steps after which each other one halves: Newton's can go round between the straight parts of a bent function."""
_CUBIC_STEPS, _MOST_CUBIC_STEPS = 3, 8
"""Newton steps on a cubic before it is first asked whether they have settled, and in all."""
_LAST_CHANGE = 1e-6
"""A Newton step that moves less than this share is the last: the error left is about the square of it."""


def falling_root(
    value_and_slope: Callable[[Array], tuple[Array, Array]], low: Array, high: Array, start: Array
) -> Array:
    """Where a falling function passes zero, element by element: Newton, halving when a step leaves the bracket, and
    where it has not settled for long.

    value_and_slope: gives f and df/dx at x, each of the broadcast shape; f >= 0 at low, f <= 0 at high.
    low, high: ends of the bracket.   start: first x, inside the bracket. They broadcast; any unit.
    Returns: roots, broadcast shape; NaN where the bracket or the function is NaN.
    Valid: one root in the bracket; of several it is one of them. Where both ends have one sign, an end.
    Error: relative 1e-11, usually rounding only, since the last Newton step squares the error; where a bend of the
    function lies within that step, at most 1e-6 of the change of slope.
    Source: Newton's method held by bisection, common practice, no source; when to stop is ours.
    """
    x = start
    with np.errstate(divide="ignore", invalid="ignore"):
        for step in range(_MOST_STEPS):
            value, slope = (np.asarray(each) for each in value_and_slope(x))
            newton = following = x - value / slope
            enough: Array | float = _LAST_CHANGE
            if step >= _FREE_STEPS or not ((newton >= low) & (newton <= high)).all():
                low, high = np.where(value > 0.0, x, low), np.where(value < 0.0, x, high)
                is_held = ~((newton >= low) & (newton <= high))
                if step >= _PATIENCE and step % 2 == 0:
                    is_held |= np.abs(newton - x) > _LAST_CHANGE * np.abs(newton)
                middle = np.where(np.isnan(value), np.nan, 0.5 * (low + high))
                following = np.where(is_held, middle, newton)
                enough = np.where(is_held, _RELATIVE_CHANGE, _LAST_CHANGE)
            has_moved = (np.abs(following - x) > enough * np.abs(following)).any()
            x = following
            if not has_moved:
                break
    return x


def falling_cubic_root(c0: Array, c1: Array, c2: Array, c3: Array, high: Array, start: Array | None = None) -> Array:
    """Where c0 + c1 x + c2 x2 + c3 x3, above zero at 0 and falling from there to high, passes zero.

    All broadcast, also at x = 0 and at high the root is found.   start: of the search; by default the root of the
    quadratic that differs least from the cubic between 0 and high.
    Returns: roots, broadcast shape; NaN where anything is NaN.
    Error: relative 1e-11 at worst, usually rounding only.
    Newton steps in place: to make a large array anew takes longer than to fill it. Where these do not settle inside,
    `falling_root`.
    Source: Newton's method; the start from Chebyshev's third polynomial, ours.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        x = _nearest_quadratic_root(c0, c1, c2, c3, high) if start is None else np.asarray(c2 * 0.0 + start)
        change, slope = np.empty_like(x), np.empty_like(x)
        for step in range(1, _MOST_CUBIC_STEPS + 1):
            np.multiply(c3, x, out=slope)
            np.add(slope, c2, out=change)
            slope += change
            slope += change
            slope *= x
            slope += c1
            for term in (c1, c0):
                change *= x
                change += term
            change /= slope
            x -= change
            if step >= _CUBIC_STEPS:
                np.abs(change, out=change)
                np.multiply(x, _LAST_CHANGE, out=slope)
                if not (change > slope).any():
                    break
        is_astray = (change > slope) | (x > high) | (x < 0.0)
    if not is_astray.any():
        return x

    def value_and_slope(x: Array) -> tuple[Array, Array]:
        return ((c3 * x + c2) * x + c1) * x + c0, (3.0 * c3 * x + 2.0 * c2) * x + c1

    return falling_root(value_and_slope, np.zeros(x.shape), np.broadcast_to(high, x.shape), 0.5 * high + 0.0 * x)


def _nearest_quadratic_root(c0: Array, c1: Array, c2: Array, c3: Array, high: Array) -> Array:
    """Over 0 to h, x^3 lies within h^3/32 of a quadratic: what Chebyshev's third polynomial leaves of it."""
    square = high * high
    q0, q1, q2 = c0 + c3 * (square * high) / 32.0, c1 - c3 * square * (9.0 / 16.0), c2 + 1.5 * c3 * high
    return np.asarray(2.0 * q0 / (np.sqrt(q1 * q1 - 4.0 * q0 * q2) - q1))


def bracketed_root(
    function: Callable[[Array], Array], low: Array, high: Array, value_low: Array, value_high: Array
) -> Array:
    """Where a function passes zero between low and high, element by element: false position, Anderson-Bjorck variant.

    function: of x, elementwise, of the broadcast shape.   low, high: ends of the bracket.
    value_low, value_high: the function at the ends, of opposite sign. All of one shape, any unit.
    Returns: roots; NaN where an end is NaN.   Error: relative 1e-11 at worst.
    Source: N. Anderson & A. Bjorck (1973), "A new high order method of regula falsi type for computing a root of an
    equation", BIT 13, 253-264; the reference from memory.
    """
    x = high
    for _ in range(_MOST_STEPS):
        with np.errstate(divide="ignore", invalid="ignore"):
            chord = (low * value_high - high * value_low) / (value_high - value_low)
            following = np.where(value_high == 0.0, high, chord)
            value = function(following)
            share = 1.0 - value / value_high
        crossed = value * value_high < 0.0
        low = np.where(crossed, high, low)
        value_low = np.where(crossed, value_high, np.where(share > 0.0, share, 0.5) * value_low)
        high, value_high = following, value
        settled = not np.any(np.abs(following - x) > _RELATIVE_CHANGE * np.abs(following))
        x = following
        if settled:
            break
    return x


def first_fall(values: Array) -> tuple[NDArray[np.intp], NDArray[np.bool_]]:
    """The first step along the last axis over which the values go from above zero to zero or below.

    values: (..., N), N >= 2; NaN is neither above nor below.
    Returns: index i of the step from i to i + 1 (0 when there is none), and whether there is one; shape (...).
    """
    falls = (values[..., :-1] > 0.0) & (values[..., 1:] <= 0.0)
    return np.argmax(falls, axis=-1), np.any(falls, axis=-1)


def pick(values: Array, index: NDArray[np.intp]) -> Array:
    """values[..., index] with one index for every leading position.

    values: (..., N).   index: (...), 0 to N - 1; leading axes broadcast.   Returns: (...), unit of values.
    Raises: IndexError outside.
    """
    if values.ndim == 1:  # the same as below, five times quicker and more; so for a row each
        return np.asarray(values[index])
    if values.ndim == 2 and index.shape == values.shape[:1]:
        return np.asarray(values[np.arange(index.size), index])
    shape = np.broadcast_shapes(values.shape[:-1], index.shape)
    full = np.broadcast_to(values, (*shape, values.shape[-1]))
    return np.take_along_axis(full, np.broadcast_to(index, shape)[..., None], axis=-1)[..., 0]

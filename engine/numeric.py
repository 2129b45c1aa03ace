"""The array types that formulas share: a float or a numpy array in, the broadcast shape out; a number as text."""

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Array: TypeAlias = NDArray[np.float64]
Real: TypeAlias = float | Array
"""What a formula takes and returns. Scalars in give a float out; arrays broadcast."""

_MOST_DECIMALS = 3
_THE_SAME = 1e-9


@dataclass(frozen=True, eq=False)
class LowMiddleHigh:
    """Low, middle and high of an uncertain value, all in its unit; they broadcast."""

    low: Real
    middle: Real
    high: Real


def plain(value: Array | np.floating | float) -> Real:
    """A float when the value has no dimensions, else the array itself."""
    array = np.asarray(value, dtype=float)
    return float(array) if array.ndim == 0 else array


def arrays(*values: Real) -> tuple[Array, ...]:
    """The values as arrays of floats, each in its own shape."""
    return tuple(np.asarray(value, dtype=float) for value in values)


def whole_power(base: Array, exponent: int) -> Array:
    """base^exponent by multiplication, ten times as quick as ** on a column of boats.   exponent: 1 or more."""
    result = base
    for _ in range(exponent - 1):
        result = result * base
    return result


def told_apart(number: float, limit: float, decimals: int = 0) -> str:
    """A number as text, with as many decimals as tell it from a limit that it is not at: 1.97 beside 2 is not "2.0"."""
    if abs(number - limit) > _THE_SAME * max(abs(limit), 1.0):
        while decimals < _MOST_DECIMALS and round(number, decimals) == round(limit, decimals):
            decimals += 1
    return f"{number:.{decimals}f}"

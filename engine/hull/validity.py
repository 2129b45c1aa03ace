"""What an argument may be, and where a formula has a value at all."""

import numpy as np
from numpy.typing import ArrayLike

from engine.numeric import Array


def require_positive(**arguments: ArrayLike) -> None:
    """Raise ValueError naming the first argument with a value that is zero or less. NaN passes, to come out as NaN."""
    for name, value in arguments.items():
        if np.any(np.asarray(value) <= 0.0):
            raise ValueError(f"The {name.replace('_', ' ')} must be greater than zero.")


def require_not_negative(**arguments: ArrayLike) -> None:
    """Raise ValueError naming the first argument with a value below zero."""
    for name, value in arguments.items():
        if np.any(np.asarray(value) < 0.0):
            raise ValueError(f"The {name.replace('_', ' ')} must not be negative.")


def defined_where(condition: ArrayLike, value: ArrayLike) -> Array:
    """The value where the formula has one, NaN where it has none: a root of a negative number, a division by zero."""
    return np.where(condition, value, np.nan)

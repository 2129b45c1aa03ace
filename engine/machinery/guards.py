"""Refusal of arguments that cannot be, and records of those that a method was not made for."""

import numpy as np

from engine.numeric import Array, Real
from engine.validity import OutOfRange, outside_range

__all__ = ["OutOfRange", "not_negative", "outside_range", "positive"]


def positive(name: str, value: Real) -> Array:
    """The value as an array; ValueError naming the argument when any of it is zero or less. NaN passes."""
    array = np.asarray(value, dtype=float)
    if np.any(array <= 0.0):
        raise ValueError(f"{name} must be greater than zero")
    return array


def not_negative(name: str, value: Real) -> Array:
    """The value as an array; ValueError naming the argument when any of it is below zero. NaN passes."""
    array = np.asarray(value, dtype=float)
    if np.any(array < 0.0):
        raise ValueError(f"{name} must not be negative")
    return array

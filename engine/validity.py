"""What an argument may be, and the ranges of methods as data: refusal of the impossible, records of the doubtful."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from engine.numeric import Array, Real


@dataclass(frozen=True, eq=False)
class OutOfRange:
    """One quantity that left the range a method was made for.

    quantity: its name, "pitch ratio".   low, high: the range [same unit as the quantity].
    where: True for each value outside; shape of the values checked.   note: what follows from it.
    """

    quantity: str
    low: float
    high: float
    where: NDArray[np.bool_]
    note: str = ""

    def sentence(self, shown: Callable[[float], str] | None = None) -> str:
        """The finding as one sentence.   shown: says an end of the range with its unit; without it, ends are bare."""
        count = int(np.count_nonzero(self.where))
        which = "is" if self.where.size == 1 else f"in {count} of {self.where.size} cases is"
        low, high = (shown or _written)(self.low), (shown or _written)(self.high)
        reach = f"under {low}" if np.isinf(self.high) else f"outside {low} to {high}"
        note = f"; {self.note}" if self.note else ""
        return f"The {self.quantity} {which} {reach}{note}."


def _written(value: float) -> str:
    """The end of a range, no finer than a reader can use."""
    return f"{value:.3g}" if abs(value) < 1e3 else f"{value:g}"


def outside_range(quantity: str, values: Real, low: float, high: float, note: str = "") -> tuple[OutOfRange, ...]:
    """Empty when every value lies in low..high, else the one record that says where not. NaN is not reported."""
    array = np.asarray(values, dtype=float)
    where = np.asarray((array < low) | (array > high))
    return (OutOfRange(quantity, low, high, where, note),) if where.any() else ()


def positive(name: str, value: ArrayLike) -> Array:
    """The value as an array; ValueError naming the argument when any of it is zero or less. NaN passes."""
    array = np.asarray(value, dtype=float)
    if value <= 0.0 if isinstance(value, float) else (array <= 0.0).any():
        raise ValueError(f"{name} must be greater than zero")
    return array


def not_negative(name: str, value: ArrayLike) -> Array:
    """The value as an array; ValueError naming the argument when any of it is below zero. NaN passes."""
    array = np.asarray(value, dtype=float)
    if value < 0.0 if isinstance(value, float) else (array < 0.0).any():
        raise ValueError(f"{name} must not be negative")
    return array


def require_positive(**arguments: ArrayLike) -> None:
    """Refuse, by name, the first argument with a value that is zero or less."""
    for name, value in arguments.items():
        positive(name.replace("_", " "), value)


def require_not_negative(**arguments: ArrayLike) -> None:
    """Refuse, by name, the first argument with a value below zero."""
    for name, value in arguments.items():
        not_negative(name.replace("_", " "), value)


def defined_where(condition: ArrayLike, value: ArrayLike) -> Array:
    """The value where the formula has one, NaN where it has none: a root of a negative number, a division by zero."""
    return np.where(condition, value, np.nan)

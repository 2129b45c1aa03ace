"""Ranges of methods as data: which values lie outside, and a plain sentence about it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.numeric import Real


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

    def sentence(self) -> str:
        """The finding as one sentence."""
        count = int(np.count_nonzero(self.where))
        which = "is" if self.where.size == 1 else f"in {count} of {self.where.size} cases is"
        reach = f"at least {self.low:g}" if np.isinf(self.high) else f"{self.low:g} to {self.high:g}"
        note = f"; {self.note}" if self.note else ""
        return f"The {self.quantity} {which} outside {reach}{note}."


def outside_range(quantity: str, values: Real, low: float, high: float, note: str = "") -> tuple[OutOfRange, ...]:
    """Empty when every value lies in low..high, else the one record that says where not. NaN is not reported."""
    array = np.asarray(values, dtype=float)
    where = np.asarray((array < low) | (array > high))
    return (OutOfRange(quantity, low, high, where, note),) if where.any() else ()

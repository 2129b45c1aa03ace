"""A number with its band. Nothing here loads numpy: the first screen is painted without it."""

from collections.abc import Callable
from dataclasses import dataclass
from math import isfinite, nan

LOW, HIGH = 0.10, 0.90
"""The shares of the fleet that lie below the low and the high end of a band. Our own choice."""


@dataclass(frozen=True)
class Band:
    """Best: the fleet's median. low, high: its 10th and 90th percentile. All in the unit of the quantity."""

    best: float
    low: float
    high: float

    @property
    def is_known(self) -> bool:
        """Whether all three are numbers."""
        return isfinite(self.best) and isfinite(self.low) and isfinite(self.high)

    def scaled(self, factor: float) -> "Band":
        """The band in another unit; a negative factor swaps low and high."""
        return self.mapped(lambda value: value * factor)

    def mapped(self, function: Callable[[float], float]) -> "Band":
        """The band of a function that only rises or only falls over it; low and high swap where it falls."""
        best, low, high = (function(value) for value in (self.best, self.low, self.high))
        return Band(best, high, low) if low > high else Band(best, low, high)


UNKNOWN = Band(nan, nan, nan)


@dataclass(frozen=True)
class Money(Band):
    """An amount in the owner's currency; one that is not in doubt has three equal values.

    currency: the owner's word for it, "" when none was given.
    """

    currency: str = ""

    @classmethod
    def of(cls, amount: float | Band, currency: str) -> "Money":
        """An amount of money from a number or a band."""
        if isinstance(amount, Band):
            return cls(amount.best, amount.low, amount.high, currency)
        return cls(amount, amount, amount, currency)

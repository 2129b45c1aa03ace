"""An engine's full load as a propeller meets it: where the torque of one is the torque of the other."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.constants import TWO_PI
from engine.numeric import Array

_LINES = 128
"""Straight lines from the lowest speed to the highest: the torque of a motor, which falls as 1/n, to 2e-5. Ours."""
_CLIFF = 1e-6
"""Width over speed of the line in which a torque falls that ends at once. Ours."""
_ROUNDING = 1e-9


@dataclass(frozen=True, eq=False)
class FullLoad:
    """Torque with the throttle wide open over an engine's speed, by straight lines.

    speed: (K,) rising, above zero [rev/s].   per_square: torque over the square of the speed there, falling [N m s2].
    start, slope: of the lines between them, (K - 1,), torque = start + slope times speed [N m, N m s].
    """

    speed: Array
    per_square: Array
    start: Array
    slope: Array

    @classmethod
    def of(
        cls, power: Callable[[Array], Array], lowest: float, highest: float, corners: Iterable[float] = ()
    ) -> "FullLoad | None":
        """From the power [W] over engine speeds [rev/s], between a lowest and a highest one.

        corners: speeds at which the torque is known to bend.
        Returns: None where power over the square of the speed rises with it anywhere: what a propeller takes could then
        meet the full load more than once as a boat gathers way. None too where there is no power at all.
        """
        even = np.linspace(lowest, highest, _LINES + 1)
        speed = np.unique([*even, *(one for one in corners if lowest < one < highest), highest * (1.0 + _CLIFF)])
        at_speed = power(speed)
        per_speed = at_speed / speed**2
        if per_speed.max() <= 0.0 or (np.diff(per_speed) > _ROUNDING * per_speed.max()).any():
            return None
        torque = at_speed / (TWO_PI * speed)
        slope = np.diff(torque) / np.diff(speed)
        return cls(speed, torque / speed**2, torque[:-1] - slope * speed[:-1], slope)

    def speed_at(self, per_square: Array) -> tuple[Array, Array]:
        """Engine speed at which the torque over the square of the speed is so much [N m s2], and d ln speed/d ln of it.

        per_square: above zero.   Beyond the first and last speed by their lines, so that a search never falls off.
        """
        line = np.searchsorted(-self.per_square[1:-1], -per_square)
        start, slope = self.start.take(line), self.slope.take(line)
        root = np.sqrt(slope * slope + 4.0 * start * per_square)
        with np.errstate(divide="ignore", invalid="ignore"):  # each form where its difference is none of like numbers
            speed = np.where(slope < 0.0, 2.0 * start / (root - slope), (root + slope) / (2.0 * per_square))
        return speed, 1.0 / (slope / (per_square * speed) - 2.0)

    def covers(self, speed: Array) -> NDArray[np.bool_]:
        """Whether an engine speed [rev/s] lies between the first and the last; NaN does not."""
        return np.asarray((speed >= self.speed[0]) & (speed <= self.speed[-1]))

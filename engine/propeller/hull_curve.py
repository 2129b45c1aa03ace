"""The hull as one propeller meets it: thrust it must give and speed of the water it works in."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from engine.numeric import Array, Real
from engine.propeller.interaction import Interaction

_ROUNDING = 1e-9


@dataclass(frozen=True, eq=False)
class HullCurve:
    """Thrust asked of one propeller over a grid of boat speeds.

    speed: (S,) rising, from 0 or the lowest of interest [m/s].
    thrust: (..., S) along the shaft, per propeller [N]; straight lines between the grid's speeds.
    advance_fraction: (...) speed of advance along the shaft over boat speed, (1 - w) cos(shaft angle) [-].
    relative_rotative_efficiency: (...) [-].   density: (...) of the water [kg/m3].
    Leading axes (boats, propellers) broadcast.
    Valid: speeds of the grid.   Error: of straight lines between them.
    """

    speed: Array
    thrust: Array
    advance_fraction: Real
    relative_rotative_efficiency: Real
    density: Real

    @cached_property
    def lines(self) -> "StraightLines":
        """The straight lines between the grid's speeds."""
        return StraightLines.of(self)

    def thrust_at(self, boat_speed: Real) -> Array:
        """Thrust asked of one propeller [N] at boat speeds within the grid [m/s], by straight lines between its speeds.

        Returns: leading axes of the curve followed by the shape of boat_speed; NaN outside the grid.
        """
        asked = np.asarray(boat_speed, dtype=float)
        above = self.speed[1:-1].searchsorted(asked) + 1
        low, high = self.speed[above - 1], self.speed[above]
        outside = (asked < self.speed[0]) | (asked > self.speed[-1])
        share = np.where(outside, np.nan, (asked - low) / (high - low))
        between: Array = self.thrust[..., above - 1] * (1.0 - share) + self.thrust[..., above] * share
        return between

    def rows(self, rows: NDArray[np.intp]) -> "HullCurve":
        """Curves of boats (N, S) for some of them, each as often as its row is named; lying speed by speed.

        rows: (R,) indices of boats.   Returns: curves (R, S) in the water of these, which must be one.
        """
        advance, rotative = (
            np.asarray(value)[rows] if np.ndim(value) else value
            for value in (self.advance_fraction, self.relative_rotative_efficiency)
        )
        return replace(
            self,
            thrust=self.thrust.T.take(rows, axis=1).T,
            advance_fraction=advance,
            relative_rotative_efficiency=rotative,
        )

    def with_trailing_axis(self) -> "HullCurve":
        """The same with one more leading axis of length 1, just ahead of the speeds."""
        return HullCurve(
            self.speed,
            self.thrust[..., None, :],
            np.asarray(self.advance_fraction)[..., None],
            np.asarray(self.relative_rotative_efficiency)[..., None],
            np.asarray(self.density)[..., None],
        )


def stacked(curves: Sequence[HullCurve]) -> HullCurve:
    """Curves of boats (N, S) one below the other.

    curves: at least one, all of one grid of speeds and one water, which the first gives.   Returns: (sum of N, S).
    """
    advance, rotative = (
        np.concatenate([np.broadcast_to(getattr(curve, name), curve.thrust.shape[:1]) for curve in curves])
        for name in ("advance_fraction", "relative_rotative_efficiency")
    )
    thrust = np.concatenate([curve.thrust.T for curve in curves], axis=1).T  # speed by speed, as they lie
    return replace(curves[0], thrust=thrust, advance_fraction=advance, relative_rotative_efficiency=rotative)


@dataclass(frozen=True, eq=False)
class StraightLines:
    """The straight lines of a hull curve, the first and last of them without end, so that a search never falls off.

    Beyond the grid the thrust asked rises at least in proportion to speed, also where the last line falls behind a
    hump: falling for ever it would ask nothing in the end, and a search would find a point that no boat has. Ours.

    speed: (S,) of the grid [m/s].   per_step: lines to 1 m/s when all are as long, else None [s/m].
    thrust: at each speed of the grid, of all leading positions one after the other [N].
    place: of each leading position among them.
    """

    speed: Array
    per_step: float | None
    thrust: Array
    place: NDArray[np.intp]

    @classmethod
    def of(cls, hull: "HullCurve") -> "StraightLines":
        widths = np.diff(hull.speed)
        is_even = np.ptp(widths) <= _ROUNDING * widths[0]
        leading = hull.thrust.shape[:-1]
        return cls(
            hull.speed,
            float(1.0 / widths.mean()) if is_even else None,
            np.moveaxis(hull.thrust, -1, 0).ravel(),  # no copy of curves that lie speed by speed
            np.arange(math.prod(leading)).reshape(leading),
        )

    @property
    def shape(self) -> tuple[int, ...]:
        return self.place.shape

    def at(self, speed: Array) -> tuple[Array, Array]:
        """Thrust asked [N] and its rise with speed [N s/m].

        speed: [m/s], its last axes the leading axes of the curve; NaN gives NaN.
        """
        line = self._line(np.asarray(speed))
        place = line * self.place.size + self.place
        low, start = self.thrust.take(place), self.speed.take(line)
        rise = self.thrust.take(place + self.place.size) - low
        rise = rise * self.per_step if self.per_step is not None else rise / (self.speed.take(line + 1) - start)
        thrust = low + rise * (speed - start)
        beyond = speed > self.speed[-1]
        if beyond.any():
            end = self.thrust[self.thrust.size - self.place.size :].reshape(self.shape)
            least = end / self.speed[-1]
            is_flatter = beyond & (rise < least)
            if is_flatter.any():
                thrust = np.where(is_flatter, end + least * (speed - self.speed[-1]), thrust)
                rise = np.where(is_flatter, least, rise)
        return thrust, rise

    def _line(self, speed: Array) -> NDArray[np.intp]:
        """Which line a speed lies on."""
        if self.per_step is None:
            return np.asarray(self.speed[1:-1].searchsorted(speed))
        with np.errstate(invalid="ignore"):  # NaN may lie anywhere
            line = np.asarray(((speed - self.speed[0]) * self.per_step).astype(np.intp))
        return np.asarray(np.minimum(np.maximum(line, 0), self.speed.size - 2))


def hull_curve(
    speed: Array,
    resistance: Array,
    interaction: Interaction,
    density: Real,
    *,
    propellers: int = 1,
    shaft_angle: Real = 0.0,
) -> HullCurve:
    """Thrust per propeller, R/((1 - t) cos(angle) propellers), and the advance fraction (1 - w) cos(angle).

    speed: (S,) [m/s].   resistance: (..., S) of the whole boat [N].   density: (...) [kg/m3].
    propellers: 1 or more, alike.   shaft_angle: (...) between shaft and flow [rad]; up to 12 deg is usual, and
    `judge_shaft_angle` says the rest.
    Returns: curve with leading axes as those of resistance and interaction.
    Source: definitions of w and t; inclined shaft by components of inflow and thrust.
    """
    # the curves lie in memory speed by speed: what each boat has of her own then meets a row of boats, which numpy
    # takes in one sweep, where a row of speeds to each boat would be a thousand short ones
    force = np.asfortranarray(resistance, dtype=float)
    cosine = np.cos(np.asarray(shaft_angle, dtype=float))
    share = (1.0 - np.asarray(interaction.thrust_deduction)) * cosine * propellers
    return HullCurve(
        np.asarray(speed, dtype=float),
        force / share[..., None],
        (1.0 - np.asarray(interaction.wake_fraction)) * cosine,
        interaction.relative_rotative_efficiency,
        density,
    )

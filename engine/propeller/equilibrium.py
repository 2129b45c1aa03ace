"""Where a propeller and what is asked of it agree: shaft speed for a thrust, boat speed for a shaft speed."""

from dataclasses import dataclass
from enum import IntEnum
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from engine.constants import TWO_PI
from engine.numeric import Array, Real, arrays, plain, whole_power
from engine.propeller.hull_curve import HullCurve
from engine.propeller.open_water import OpenWater, cubic_slope, cubic_value
from engine.propeller.roots import falling_cubic_root, falling_root, first_fall, pick

_ENDLESS_LOADING = 1e200
"""Loading constants beyond it, which would overflow, mean a propeller that does not advance."""


@dataclass(frozen=True, eq=False)
class OperatingPoint:
    """A propeller at work. What is not asked of it is not worked out: most callers want the power alone.

    open_water, diameter [m], density [kg/m3], relative_rotative_efficiency [-]: broadcast against the rest.
    shaft_speed: [rev/s].   advance_ratio: J [-].   Both have the broadcast shape.
    """

    open_water: OpenWater
    diameter: Real
    density: Real
    relative_rotative_efficiency: Real
    shaft_speed: Real
    advance_ratio: Real

    @cached_property
    def thrust(self) -> Real:
        """Of the propeller, before thrust deduction [N], broadcast shape; nought where rounding would make it less."""
        thrust = self._coefficient(self.open_water.thrust_cubic) * self._scale(4)
        return plain(np.where(thrust < 0.0, 0.0, thrust))  # rounding at the J of zero thrust

    @cached_property
    def torque(self) -> Real:
        """At the propeller, behind the hull [N m], broadcast shape."""
        KQ = self._coefficient(self.open_water.torque_cubic)
        return plain(KQ * (self._scale(5) / self.relative_rotative_efficiency))

    @cached_property
    def delivered_power(self) -> Real:
        """2 pi n Q [W], broadcast shape."""
        return plain(TWO_PI * self.shaft_speed * np.asarray(self.torque))

    @cached_property
    def efficiency(self) -> Real:
        """In open water, eta0 [-]; nought rather than a rounded -0 at the J of zero thrust."""
        KT = np.maximum(self._coefficient(self.open_water.thrust_cubic), 0.0)
        KQ = self._coefficient(self.open_water.torque_cubic)
        return plain(self.advance_ratio * KT / (TWO_PI * KQ))

    def _coefficient(self, cubic: Array) -> Array:
        return cubic_value(cubic, np.asarray(self.advance_ratio))

    def _scale(self, diameters: int) -> Array:
        """rho n2 D^4 of a thrust, rho n2 D^5 of a torque."""
        size = whole_power(np.asarray(self.diameter), diameters)
        return np.asarray(self.density * size * np.square(self.shaft_speed))


def advance_ratio_for_loading(
    open_water: OpenWater, curve: Literal["thrust", "torque"], constant: Real, power: int
) -> Real:
    """The J at which KT (or KQ) = constant J^power, between 0 and the J of zero thrust.

    constant: C >= 0 [-], broadcasts against the geometry.   power: 2, 3, 4 or 5.
    Returns: J [-]; 0 for C beyond 1e200, infinity included; NaN where C is negative or so small that the
    propeller would be dragged.
    Valid: where KT and KQ fall with J, as they do inside the tested areas; the root is then unique.
    Error: relative 1e-11.
    Source: definitions of KT, KQ and J.
    """
    C, high = arrays(constant, open_water.zero_thrust_advance_ratio)
    cubic = open_water.thrust_cubic if curve == "thrust" else open_water.torque_cubic
    is_still = C > _ENDLESS_LOADING
    usable = np.where(is_still | (C < 0.0), np.nan, C)
    with np.errstate(divide="ignore", invalid="ignore"):
        start = np.fmin(high, (cubic[..., 0] / usable) ** (1.0 / power))

    def loading(J: Array) -> tuple[Array, Array]:
        per_j = usable * whole_power(J, power - 1)
        return cubic_value(cubic, J) - per_j * J, cubic_slope(cubic, J) - power * per_j

    J = falling_root(loading, np.zeros(()), high, np.where(np.isnan(high), np.nan, start))
    # at the dragging end a torque curve may still stand above C J^power: no root in the working range
    surplus = cubic_value(cubic, high) - usable * whole_power(high, power)
    has_root = surplus <= 1e-12 * np.abs(cubic[..., 0])
    return plain(np.where(is_still, _still(high), np.where(has_root, J, np.nan)))


def _still(zero_thrust: Array) -> Array:
    """The J of a propeller that does not advance: 0, NaN where its series has no J of zero thrust."""
    return np.where(np.isnan(zero_thrust), np.nan, 0.0)


def _advance_ratio_for_thrust(open_water: OpenWater, loading: Array) -> Array:
    """`advance_ratio_for_loading` for KT = C J^2, which is itself a cubic in J, in a small part of its time.

    loading: C, NaN where there is none.
    """
    c0, c1, c2, c3 = np.ascontiguousarray(np.moveaxis(open_water.thrust_cubic, -1, 0))
    high = np.asarray(open_water.zero_thrust_advance_ratio)
    is_still = loading > _ENDLESS_LOADING
    J = falling_cubic_root(c0, c1, np.where(is_still, np.nan, c2 - loading), c3, high)
    return np.where(is_still, _still(high), J)


def shaft_speed_for_thrust(
    open_water: OpenWater,
    diameter: Real,
    thrust: Real,
    advance_speed: Real,
    density: Real,
    relative_rotative_efficiency: Real = 1.0,
) -> OperatingPoint:
    """Shaft speed at which a propeller gives a thrust: KT/J2 = T/(rho D2 Va2).

    diameter: [m].   thrust: [N], >= 0.   advance_speed: Va [m/s], 0 at the bollard.   density: [kg/m3].
    They broadcast against the geometry.
    Returns: the point; NaN where thrust or advance speed is negative. No thrust at no speed is a still shaft.
    Valid: open-water behaviour, torque divided by the relative rotative efficiency [-].   Error: relative 1e-11.
    Source: definitions of KT and J.
    """
    D, T, Va, rho = arrays(diameter, thrust, advance_speed, density)
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        loading = np.asarray(T / (rho * np.square(D * Va)))
        np.copyto(loading, np.inf, where=(Va == 0.0) & (T == 0.0))
        np.copyto(loading, np.nan, where=(T < 0.0) | (Va < 0.0))
        J = _advance_ratio_for_thrust(open_water, loading)
        n = np.asarray(Va / (J * D))
        is_held = J == 0.0
        if is_held.any():
            np.sqrt(T / (rho * open_water.thrust_cubic[..., 0] * whole_power(D, 4)), out=n, where=is_held)
    return _operating_point(open_water, D, n, J, rho, relative_rotative_efficiency)


def shaft_speed_at_boat_speed(
    open_water: OpenWater, diameter: Real, boat_speed: Real, hull: HullCurve
) -> OperatingPoint:
    """What a propeller does when it drives the hull at a boat speed.

    diameter: [m].   boat_speed: [m/s], within the hull curve's grid. They broadcast against the geometry.
    Returns: the point; NaN outside the grid. A hull curve with leading axes must broadcast with the geometry.
    Valid, error and source: as `shaft_speed_for_thrust`.
    """
    return shaft_speed_for_thrust(
        open_water,
        diameter,
        hull.thrust_at(boat_speed),
        np.asarray(boat_speed) * hull.advance_fraction,
        hull.density,
        hull.relative_rotative_efficiency,
    )


def bollard_point(open_water: OpenWater, diameter: Real, power: Real, density: Real) -> OperatingPoint:
    """Shaft speed and thrust when a power is absorbed at no speed: n3 = P/(2 pi rho D5 KQ(0)).

    diameter: [m].   power: delivered [W].   density: [kg/m3]. They broadcast against the geometry.
    Valid: where the engine can give the power so slowly; one held by its torque may not.
    Error: +-5 % on thrust, from the polynomials; ours.   Source: definitions of KT and KQ.
    """
    D, rho = arrays(diameter, density)
    n = np.cbrt(np.asarray(power) / (TWO_PI * rho * D**5 * open_water.torque_cubic[..., 0]))
    return _operating_point(open_water, D, n, np.zeros(n.shape), rho, 1.0)


def _operating_point(
    open_water: OpenWater, D: Array, n: Array, J: Array, rho: Array, relative_rotative_efficiency: Real
) -> OperatingPoint:
    n, J = np.broadcast_arrays(n, J)
    return OperatingPoint(open_water, D, rho, relative_rotative_efficiency, plain(n), plain(J))


class SpeedFound(IntEnum):
    """Whether a boat speed was found on the hull curve's grid."""

    YES = 0
    BELOW_GRID = 1
    ABOVE_GRID = 2


@dataclass(frozen=True, eq=False)
class SelfPropulsion:
    """Boat and propeller at a shaft speed; the point's fields and speed are NaN where `found` is not YES.

    speed: of the boat [m/s].   point: the propeller.   found: SpeedFound values.
    """

    speed: Real
    point: OperatingPoint
    found: NDArray[np.int8]


def boat_speed_at_shaft_speed(
    open_water: OpenWater, diameter: Real, shaft_speed: Real, hull: HullCurve
) -> SelfPropulsion:
    """The boat speed at which a turning propeller gives just the thrust the hull asks.

    diameter: [m].   shaft_speed: [rev/s], > 0. They broadcast against the geometry and the hull's leading axes.
    Returns: the lowest such speed, as a boat comes up to it from rest; NaN, and why in `found`, outside the grid.
    Error: relative 1e-11 for straight lines between grid speeds.
    Memory: (broadcast shape) x speeds of the grid.
    Source: definitions of KT, J, w and t.
    """
    D, n, a, rho = arrays(diameter, shaft_speed, hull.advance_fraction, hull.density)
    V, asked = hull.speed, hull.thrust
    with np.errstate(divide="ignore", invalid="ignore"):
        J_per_speed = np.where(n > 0.0, a / (n * D), np.nan)
    scale = rho * n**2 * D**4
    cubic = open_water.thrust_cubic
    spare = scale[..., None] * cubic_value(cubic[..., None, :], J_per_speed[..., None] * V) - asked
    step, has_fall = first_fall(spare)
    starts_with_spare = spare[..., 0] > 0.0
    found = np.where(
        starts_with_spare & has_fall,
        SpeedFound.YES,
        np.where(starts_with_spare, SpeedFound.ABOVE_GRID, SpeedFound.BELOW_GRID),
    ).astype(np.int8)
    low = np.where(found == SpeedFound.YES, V[step], np.nan)
    high = V[np.minimum(step + 1, len(V) - 1)]
    asked_low, asked_high = pick(asked, step), pick(asked, np.minimum(step + 1, len(V) - 1))
    rise = (asked_high - asked_low) / (high - low)

    def spare_thrust(speed: Array) -> tuple[Array, Array]:
        J = J_per_speed * speed
        value = scale * cubic_value(cubic, J) - asked_low - rise * (speed - low)
        return value, scale * cubic_slope(cubic, J) * J_per_speed - rise

    speed = falling_root(spare_thrust, low, high, 0.5 * (low + high))
    n_found = np.where(np.isnan(speed), np.nan, n)
    point = _operating_point(open_water, D, n_found, J_per_speed * speed, rho, hull.relative_rotative_efficiency)
    return SelfPropulsion(plain(speed), point, found)

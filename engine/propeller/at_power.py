"""Where a propeller takes a delivered power on a hull, or the engine's full load, and whether beyond a shaft speed.

With the power at the propeller given, its shaft speed on a hull depends on neither gear ratio nor engine: a ratio only
says what the engine turns meanwhile. Power P and J together give the shaft speed, n3 = P eta_R/(2 pi rho D5 KQ(J)).
"""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from engine.constants import TWO_PI
from engine.numeric import Array, Real, arrays, plain, whole_power
from engine.propeller.equilibrium import OperatingPoint, SelfPropulsion, SpeedFound
from engine.propeller.full_load import FullLoad
from engine.propeller.hull_curve import HullCurve
from engine.propeller.open_water import OpenWater, cubic_slope, cubic_value
from engine.propeller.roots import falling_cubic_root, falling_root

_FIRST_SHARE = 0.45
"""Where the search starts, over the J of zero thrust: a wheel at work is seldom far from it. Ours; much lower or higher
takes more steps."""
_NO_TORQUE = 1e-9
"""KQ is held to it where a step of the search goes past the J of no torque; no answer lies there."""


def point_at_power(
    open_water: OpenWater,
    diameter: Real,
    power: Real,
    hull: HullCurve,
    zero_thrust: Real | None = None,
    near: Real | None = None,
) -> SelfPropulsion:
    """The point at which a propeller drives a hull steadily and takes just a delivered power.

    diameter: [m].   power: delivered at the propeller [W], > 0.   They broadcast against the geometry and the hull's
    leading axes: wheels (W,) on one hull; wheels as each boat gets them (W, N), or one (N,), on boats (N, S).
    zero_thrust: the J of zero thrust, or one a little above, when the caller has it; else that of open_water [-].
    near: a J near the answer, when the caller has one; NaN where not [-].
    Returns: speed and point; NaN where the boat's speed lies outside the hull's grid or the power is not above zero.
    Valid: KT and KQ falling with J; resistance rising with speed, by straight lines between the grid's speeds.
    Error: relative 1e-11.
    Source: definitions of KT, KQ, J, w, t and eta_R; thrust = resistance/(1 - t).
    """
    D, rho, rotative = arrays(diameter, hull.density, hull.relative_rotative_efficiency)
    P = np.where(np.asarray(power, dtype=float) > 0.0, power, np.nan)
    cube_at_unit_torque = P * rotative / (TWO_PI * rho * whole_power(D, 5))

    def turning(KQ: Array) -> tuple[Array, float]:
        return np.cbrt(cube_at_unit_torque / KQ), -1.0 / 3.0

    return _balanced(open_water, D, turning, hull, zero_thrust, near)


def point_at_full_load(
    open_water: OpenWater,
    diameter: Real,
    full_load: FullLoad,
    ratio: Real,
    share: Real,
    hull: HullCurve,
    zero_thrust: Real | None = None,
    near: Real | None = None,
) -> SelfPropulsion:
    """A point at which a propeller drives a hull steadily with the engine's throttle wide open.

    full_load: of the engine.   ratio: of the gear [-].   share: of its torque times ratio that reaches the propeller
    [-].   Others, returns, valid and error: as `point_at_power`.
    Where the boat's resistance has a hump there may be others at a lower speed.
    """
    D, rho, rotative = arrays(diameter, hull.density, hull.relative_rotative_efficiency)
    reduction = np.asarray(ratio, dtype=float)
    per_square_at_unit_torque = rho * whole_power(D, 5) / (rotative * share * whole_power(reduction, 3))

    def turning(KQ: Array) -> tuple[Array, Array]:
        engine_speed, exponent = full_load.speed_at(per_square_at_unit_torque * KQ)
        return engine_speed / reduction, exponent

    return _balanced(open_water, D, turning, hull, zero_thrust, near)


def _balanced(
    open_water: OpenWater,
    D: Array,
    turning: Callable[[Array], tuple[Array, Array | float]],
    hull: HullCurve,
    zero_thrust: Real | None,
    near: Real | None,
) -> SelfPropulsion:
    """Where the thrust is what the hull asks, for a shaft that turns at a speed fixed by KQ.

    turning: shaft speed [rev/s] at a KQ, and d ln n/d ln KQ.   Others: as `point_at_power`.
    """
    rho = np.asarray(hull.density, dtype=float)
    asked = hull.lines
    KT_terms, KQ_terms = open_water.thrust_cubic, open_water.torque_cubic
    thrust_scale = rho * whole_power(D, 4)
    speed_per_turn = D / np.asarray(hull.advance_fraction)

    def torque(J: Array) -> Array:
        return np.maximum(cubic_value(KQ_terms, J), _NO_TORQUE)

    def spare_thrust(J: Array) -> tuple[Array, Array]:
        KT, KQ = cubic_value(KT_terms, J), torque(J)
        n, exponent = turning(KQ)
        rise_of_n = n * cubic_slope(KQ_terms, J) / KQ * exponent
        thrust, rise = asked.at(J * n * speed_per_turn)
        slope = thrust_scale * n * (n * cubic_slope(KT_terms, J) + 2.0 * KT * rise_of_n)
        return thrust_scale * n**2 * KT - thrust, slope - rise * speed_per_turn * (n + J * rise_of_n)

    high = np.asarray(open_water.zero_thrust_advance_ratio if zero_thrust is None else zero_thrust)
    usual = _FIRST_SHARE * high
    start = usual if near is None else np.where((near > 0.0) & (near < high), near, usual)
    J = falling_root(spare_thrust, np.zeros(()), high, start)
    n, _ = turning(torque(J))
    speed = J * n * speed_per_turn
    is_found = (speed >= hull.speed[0]) & (speed <= hull.speed[-1])
    found = np.full(np.shape(speed), SpeedFound.BELOW_GRID, dtype=np.int8)
    found[speed > hull.speed[-1]] = SpeedFound.ABOVE_GRID
    found[is_found] = SpeedFound.YES
    J, n, speed = (np.where(is_found, value, np.nan) for value in (J, n, speed))
    point = OperatingPoint(open_water, D, rho, hull.relative_rotative_efficiency, plain(n), plain(J))
    return SelfPropulsion(plain(speed), point, found)


def reaches_shaft_speed(
    open_water: OpenWater, diameter: Real, power: Real, shaft_speed: Real, hull: HullCurve, zero_thrust: Real
) -> NDArray[np.bool_]:
    """Whether a propeller given a delivered power turns a shaft speed or more: n of `point_at_power` >= shaft_speed.

    The same answer without the point itself, in a third of its time. At this shaft speed the power fixes KQ, so J, so
    a boat speed and a thrust; where that is at least the thrust the hull asks, the boat is not held back and the shaft
    turns faster yet. A wheel that takes less than the power even at the bollard reaches it; one that would have to be
    dragged to take so little does not.
    shaft_speed: [rev/s], > 0.   zero_thrust: the J of zero thrust, or one a little above [-].   Others, shapes and
    Valid: as `point_at_power`.
    Returns: broadcast shape; False where the boat speed lies above the hull's grid or anything is NaN. True also where
    the hull's grid shows thrust to spare at this shaft speed, but ends before the point itself.
    Source: definitions of KT, KQ, J, w, t and eta_R.
    """
    D, n = arrays(diameter, shaft_speed)
    torque_scale = TWO_PI * hull.density * whole_power(n, 3) * whole_power(D, 5)
    KQ = np.asarray(power) * hull.relative_rotative_efficiency / torque_scale
    spare, speed = thrust_to_spare(open_water, D, n, KQ, hull, np.asarray(zero_thrust))
    return np.asarray((open_water.torque_cubic[..., 0] <= KQ) | ((spare >= 0.0) & (speed <= hull.speed[-1])))


def thrust_to_spare(
    open_water: OpenWater, D: Array, n: Array, KQ: Array, hull: HullCurve, zero_thrust: Array
) -> tuple[Array, Array]:
    """Thrust to spare at the boat speed at which a turning propeller takes a torque, and that speed.

    With thrust to spare the boat gathers way, and the propeller takes less; without, she is held where it takes more.
    D: diameter [m].   n: shaft speed [rev/s], > 0.   KQ: torque coefficient taken [-].   zero_thrust: the J of zero
    thrust, or one a little above [-].   They broadcast against the geometry and the hull's leading axes.
    Returns: spare thrust [N], boat speed [m/s], the broadcast shape; at the bollard for a propeller that takes less
    even there, at zero_thrust for one that takes more even there; beyond the hull's grid as `StraightLines` go on.
    Valid: KT and KQ falling with J.   Error: relative 1e-11 of J.   Source: definitions of KT, KQ and J.
    """
    c0, c1, c2, c3 = np.ascontiguousarray(np.moveaxis(open_water.torque_cubic, -1, 0))
    is_light, is_dragged = c0 <= KQ, cubic_value(open_water.torque_cubic, zero_thrust) >= KQ
    J = falling_cubic_root(c0 - KQ, c1, c2, c3, np.where(is_light | is_dragged, np.nan, zero_thrust))
    J = np.where(is_light, 0.0, np.where(is_dragged, zero_thrust, J))
    speed = J * (n * D / np.asarray(hull.advance_fraction))
    asked, _ = hull.lines.at(speed)
    return cubic_value(open_water.thrust_cubic, J) * (hull.density * n**2 * whole_power(D, 4)) - asked, speed

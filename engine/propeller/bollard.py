"""Pull with no way on, ahead and astern: what the engine can turn the propeller at when the boat is held."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.constants import TWO_PI
from engine.data import table
from engine.numeric import Array, LowMiddleHigh, Real, arrays, plain, whole_power
from engine.propeller.matching import Limit
from engine.propeller.open_water import OpenWater
from engine.propeller.roots import bracketed_root, first_fall, pick
from engine.validity import positive

_DATA = table("manoeuvring")
_ASTERN = _DATA["astern"]
POLYNOMIAL_ERROR: float = _DATA["bollard"]["thrust_error"]
"""Allowance on thrust at no advance, either way [-]; ours."""
ASTERN_STATUS: str = _ASTERN["status"]
ASTERN_NOTE: str = _ASTERN["sentence"]
SAILING_NOTE: str = _DATA["sailing"]["sentence"]
SAILING_STATUS: str = _DATA["sailing"]["status"]
STOPPING_NOTE: str = _ASTERN["stopping"]
_SPEEDS = np.linspace(0.05, 1.0, 39)
"""Shaft speeds over the highest at which demand and full load are first compared."""


@dataclass(frozen=True, eq=False)
class BollardPull:
    """A propeller at full throttle with the boat held; NaN where `limited_by` is NOT_FOUND.

    shaft_speed: [rev/s].   thrust: of the propeller [N].   pull: on the rope [N], after thrust deduction.
    delivered_power: at the propeller [W].   limited_by: Limit values.
    """

    shaft_speed: Real
    thrust: Real
    pull: LowMiddleHigh
    delivered_power: Real
    limited_by: NDArray[np.int8]


def bollard_pull(
    open_water: OpenWater,
    diameter: Real,
    power_at_propeller: Callable[[Array], Array],
    highest_shaft_speed: Real,
    density: Real,
    thrust_deduction: LowMiddleHigh,
    *,
    output: Real = 1.0,
) -> BollardPull:
    """Pull of one propeller at full throttle, no way on: where 2 pi rho n3 D5 KQ(0) first meets the full-load curve.

    diameter: [m], > 0.   power_at_propeller: full-load power [W] at shaft speeds [rev/s], arrays of any shape to the
    same shape.   highest_shaft_speed: what the governor allows at load [rev/s], > 0.   density: [kg/m3], > 0.
    thrust_deduction: with no way on, `interaction.bollard_thrust_deduction()`.   output: factor on the power [-].
    All broadcast against the geometry; plausible boats are a leading axis.
    Returns: the point; the engine is held by its torque when it cannot reach the highest shaft speed, and then gives
    less than rated power. NOT_FOUND where it can turn the propeller at no speed looked at, from 5 % of the highest.
    pull: middle is T (1 - t); low and high take the far ends of t and 5 % of thrust as well.
    Valid: still water without cavitation or a tunnel, relative rotative efficiency of one.
    Raises: ValueError naming the argument.
    Error: the equilibrium relative 1e-11; thrust +-5 % from the polynomials.
    Source: definitions of KT and KQ; B-series polynomials at J = 0.
    """
    D, rho = positive("diameter", diameter), positive("density", density)
    highest = positive("highest_shaft_speed", highest_shaft_speed)
    factor = np.asarray(output, dtype=float)
    KT, KQ = open_water.thrust_cubic[..., 0], open_water.torque_cubic[..., 0]
    per_cube = TWO_PI * rho * D**5 * KQ

    def spare_power(n: Array) -> Array:
        spare: Array = factor * power_at_propeller(n) - per_cube * whole_power(n, 3)
        return spare

    over = highest[..., None] * _SPEEDS
    spare = factor[..., None] * power_at_propeller(over) - per_cube[..., None] * whole_power(over, 3)
    step, meets = first_fall(spare)
    is_governed = ~meets & (spare[..., -1] > 0.0)
    low, high = (np.where(meets, highest * _SPEEDS[place], np.nan) for place in (step, step + 1))
    held = bracketed_root(spare_power, low, high, pick(spare, step), pick(spare, step + 1))
    n = np.where(is_governed, highest, held)
    limited_by = np.select([meets, is_governed], [Limit.ENGINE, Limit.GOVERNOR], Limit.NOT_FOUND).astype(np.int8)
    thrust = rho * n**2 * D**4 * KT
    return BollardPull(plain(n), plain(thrust), _pull(thrust, thrust_deduction), plain(per_cube * n**3), limited_by)


def _pull(thrust: Array, thrust_deduction: LowMiddleHigh) -> LowMiddleHigh:
    """Low, middle and high of T (1 - t); the most deduction goes with the low thrust."""
    low, middle, high = arrays(thrust_deduction.low, thrust_deduction.middle, thrust_deduction.high)
    return LowMiddleHigh(
        plain((1.0 - POLYNOMIAL_ERROR) * thrust * (1.0 - high)),
        plain(thrust * (1.0 - middle)),
        plain((1.0 + POLYNOMIAL_ERROR) * thrust * (1.0 - low)),
    )


def astern_pull(pull: Real) -> LowMiddleHigh:
    """Pull astern of a fixed-pitch propeller [N], low, middle and high, from its pull ahead, no way on.

    pull: ahead [N], any shape.
    Source: shares 0.55, 0.65 and 0.75 from memory, trade practice; not verified, no source. ASTERN_NOTE says so to
    the owner, STOPPING_NOTE that way has to come off first.
    """
    ahead = np.asarray(pull, dtype=float)
    low, middle, high = (plain(_ASTERN[key] * ahead) for key in ("low", "middle", "high"))
    return LowMiddleHigh(low, middle, high)

"""Sea trial: what engine speed is wanted at full throttle, a fair trial, and what slip a log shows."""

import numpy as np

from engine.constants import RPM
from engine.data import table
from engine.numeric import Real, plain
from engine.validity import positive

_TRIAL = table("trial")
_BAND = _TRIAL["full_throttle"]
FULL_THROTTLE_LOW: float = _BAND["low"]
FULL_THROTTLE_HIGH: float = _BAND["high"]
FULL_THROTTLE_LIGHT: tuple[float, float] = (_BAND["light_low"], _BAND["light_high"])
"""Of rated speed, for a boat that is lighter than planned."""
FULL_THROTTLE_MOTOR: float = _BAND["motor_high"]
"""Of rated speed, at most, for a motor, which no governor holds just above it."""


def trial_conditions(*, burns_fuel: bool) -> str:
    """What a fair trial wants, in a sentence.   burns_fuel: whether there is any aboard.

    Source: general practice, from memory.
    """
    fair = _TRIAL["preconditions"]
    return str(fair["sentence"].format(tanks=fair["tanks"]["with_fuel" if burns_fuel else "without_fuel"]))


def full_throttle_wanted(*, is_light: bool = False, is_electric: bool = False) -> tuple[float, float]:
    """Least and most engine speed that is wanted at full throttle, over rated speed [-].

    is_light: the boat is lighter than planned, which moves both.   is_electric: a motor drives her.
    Source: trade practice, from memory; of a motor the upper one is ours.
    """
    low, high = FULL_THROTTLE_LIGHT if is_light else (FULL_THROTTLE_LOW, FULL_THROTTLE_HIGH)
    return low, FULL_THROTTLE_MOTOR + low - FULL_THROTTLE_LOW if is_electric else high


def propeller_slip(speed: Real, pitch: Real, shaft_speed: Real) -> Real:
    """Apparent slip, 1 - V/(P n) [-].

    speed: of the boat through the water [m/s].   pitch: [m], > 0.   shaft_speed: [rev/s], > 0.
    Raises: ValueError naming the argument.   Source: definition.
    """
    advance = positive("pitch", pitch) * positive("shaft_speed", shaft_speed)
    return plain(1.0 - np.asarray(speed) / advance)


def full_throttle_words(speed: float, rated_speed: float) -> str:
    """What was reached, as the beginning of a sentence; both [rev/s]."""
    return f"At full throttle the engine turns {speed / RPM:.0f} rpm, {100.0 * speed / rated_speed:.0f} % of rated"

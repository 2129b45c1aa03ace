"""Sea trial: does the engine reach its rated speed, and what slip a log shows."""

import numpy as np

from engine.constants import RPM
from engine.data import table
from engine.findings import Finding, fits, look, stop
from engine.numeric import Real, plain
from engine.validity import positive

_TRIAL = table("trial")
_BAND = _TRIAL["full_throttle"]
FULL_THROTTLE_LOW: float = _BAND["low"]
FULL_THROTTLE_HIGH: float = _BAND["high"]
FULL_THROTTLE_TARGET: float = _BAND["target"]
NORMAL_SLIP: tuple[float, float] = (_TRIAL["slip"]["low"], _TRIAL["slip"]["high"])
TRIAL_CONDITIONS: str = _TRIAL["preconditions"]["sentence"]
_REACH_SOURCE = "one large engine maker (anonymised), printed"
_BAND_SOURCE = "trade practice, from memory"


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


def judge_full_throttle(speed: float, rated_speed: float) -> Finding:
    """Verdict on the engine speed reached at full throttle, loaded and in calm; both [rev/s]."""
    ratio = speed / rated_speed
    words = full_throttle_words(speed, rated_speed)
    if ratio < FULL_THROTTLE_LOW * (1.0 - 1e-9):
        return stop(f"{words}: it is overloaded. A clean hull, or less pitch.", _REACH_SOURCE)
    if ratio > FULL_THROTTLE_HIGH * (1.0 + 1e-9):
        return look(f"{words}: safe for the engine, but the propeller is small or the boat light.", _BAND_SOURCE)
    return fits(f"{words}.", _BAND_SOURCE)

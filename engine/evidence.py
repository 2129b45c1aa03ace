"""What a log of readings says: how likely each reading is for each boat, and what may be wrong with the whole log.

A misfit is ln(observed / predicted), (boats, readings); NaN where that boat cannot have made the reading.
A doubt is the standard deviation of the logarithm of a reading. The numbers that steer this are our own choice.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from engine.constants import KNOT
from engine.numeric import Array
from engine.validity import positive

STRAY_SHARE = 0.05
"""How likely a reading is to be a stray one before it is looked at (ours)."""

STRAY_SPREAD = 0.25
"""Standard deviation of a stray reading's logarithm (ours)."""

USUAL_ODDS = 1.0 / 20.0
"""Of a steady fault before the log is looked at, when nothing is known of tachometer and current (ours)."""

FACTOR_RANGE, LEAST_FACTOR_ERROR = (0.70, 1.40), 0.03
"""Tachometer factors looked at, and the error below which it counts as reading right (ours)."""

CURRENT_RANGE_KN, LEAST_CURRENT_KN = (-1.5, 1.5), 0.2
"""Currents looked at, knots, and the current below which there counts as being none (ours)."""

LEAST_READINGS, LEAST_READINGS_FOR_CURRENT = 2, 3
"""Readings from which a steady fault is looked for, and from which a current is told from a tachometer (ours)."""
AMBIGUOUS_RATIO = 3.0
"""Evidence less than this many times better does not tell two readings of a log apart (ours)."""

_LARGEST_LOGARITHM = 700.0
"""Its exponential is still a number."""
_FACTOR_LOGARITHMS = np.linspace(np.log(FACTOR_RANGE[0]), np.log(FACTOR_RANGE[1]), 51)
_CURRENTS = np.linspace(CURRENT_RANGE_KN[0], CURRENT_RANGE_KN[1], 31) * KNOT


def robust_log_likelihood(misfit: Array, doubt: ArrayLike) -> Array:
    """Logarithm of the likelihood of each reading, which is a sound one or, now and then, a stray one.

    misfit: ln(observed / predicted), any shape; NaN for what cannot be.   doubt: broadcasts to it, > 0.
    Returns: ln((1 - e) N(misfit; 0, doubt) + e N(misfit; 0, wide)), shape of misfit; minus infinity where it is NaN.
    Raises: ValueError when a doubt is not greater than zero.
    Source: mixture model of stray readings, G. E. P. Box and G. C. Tiao (1968); e = STRAY_SHARE and
    wide = STRAY_SPREAD are our own choice.
    """
    stray, advantage = _stray_and_advantage(misfit, doubt)
    return np.where(np.isnan(stray), -np.inf, stray + np.log1p(np.exp(advantage)))


def stray_probability(misfit: Array, doubt: ArrayLike) -> Array:
    """How likely each reading is a stray one if this is the boat, 0 to 1; shape of misfit, NaN where that is NaN.

    Arguments, Raises, Source: as robust_log_likelihood.
    """
    _, advantage = _stray_and_advantage(misfit, doubt)
    return np.asarray(1.0 / (1.0 + np.exp(advantage)))


def _stray_and_advantage(misfit: Array, doubt: ArrayLike) -> tuple[Array, Array]:
    """Log of the stray part of the likelihood, and log of (sound part / stray part)."""
    spread = positive("doubt", doubt)
    square = np.square(misfit)
    stray = np.log(STRAY_SHARE / (STRAY_SPREAD * np.sqrt(2.0 * np.pi))) - 0.5 * square / STRAY_SPREAD**2
    start = np.log((1.0 - STRAY_SHARE) / STRAY_SHARE * STRAY_SPREAD / spread)
    return stray, start - 0.5 * square * (1.0 / spread**2 - 1.0 / STRAY_SPREAD**2)


def log_evidence(log_likelihood: Array, weights: Array) -> Array:
    """Logarithm of the mean over the boats, the last axis, of a likelihood given by its logarithm.

    log_likelihood: (..., N).   weights: (N,), summing to one.   Returns: (...); minus infinity where no boat can be.
    """
    highest = np.max(log_likelihood, axis=-1, keepdims=True)
    highest = np.where(np.isfinite(highest), highest, 0.0)
    mean = np.exp(log_likelihood - highest) @ weights
    return np.asarray(np.log(mean, where=mean > 0.0, out=np.full_like(mean, -np.inf)) + highest[..., 0])


@dataclass(frozen=True)
class SteadyErrors:
    """The steady fault that explains a whole log better than taking it as logged, if one does.

    kind: which.   size: tachometer factor less one, or the current that helped [m/s]; 0 for none.
    factor: how many times better it explains the log than taking it as logged does; for "none" that of the better one.
    other_factor: the same of the other fault.   readings: how many.
    """

    kind: Literal["none", "tachometer", "current"]
    size: float
    factor: float
    other_factor: float
    readings: int

    @property
    def is_ambiguous(self) -> bool:
        """Whether a fault is named that this log cannot tell from the other one."""
        if self.kind == "none":
            return False
        few = self.kind == "current" and self.readings < LEAST_READINGS_FOR_CURRENT
        return few or self.factor < AMBIGUOUS_RATIO * self.other_factor

    @property
    def may_be_larger(self) -> bool:
        """Whether it is the largest of the faults that are looked at."""
        ends = np.subtract(FACTOR_RANGE, 1.0) if self.kind == "tachometer" else np.multiply(CURRENT_RANGE_KN, KNOT)
        return bool(np.isclose(self.size, ends).any())


@dataclass(frozen=True)
class FaultOdds:
    """How likely each fault is before the log is looked at, over a sound log [-]."""

    tachometer: float = USUAL_ODDS
    current: float = USUAL_ODDS


def steady_errors(
    misfit: Array, slope: Array, boat_speed: Array, doubt: Array, weights: Array, odds: FaultOdds | None = None
) -> SteadyErrors:
    """Whether a tachometer that reads high or low, or a current one way, explains the readings better than neither.

    misfit: (N, R), ln(logged shaft speed / predicted).   slope: (N, R), d ln(shaft speed) / d ln(boat speed).
    boat_speed: (R,), as logged, m/s.   doubt: (R,) or (N, R).   weights: (N,), summing to one.
    A factor f: the tachometer shows f times what is. A current c: through the water she does boat_speed - c.
    odds: of the faults before the log; the usual ones by default.
    Returns: a fault is named from two readings on, when with its evidence it is more likely than a sound log; the
    likelier of the two. Where the log itself is impossible for every boat, none is.
    Raises: ValueError when a doubt is not greater than zero.
    Source: evidence ratios, R. E. Kass and A. E. Raftery (1995); the two faults, their ranges and odds are ours.
    """
    readings = int(misfit.shape[1])
    # reading by reading, so that all boats of one lie in one piece
    misfit, slope, doubt = (np.ascontiguousarray(np.transpose(each)) for each in (misfit, slope, np.atleast_2d(doubt)))
    boat_speed = boat_speed[:, None]
    as_logged = float(log_evidence(robust_log_likelihood(misfit, doubt).sum(axis=0), weights))
    if readings < LEAST_READINGS or not np.isfinite(as_logged):
        return SteadyErrors("none", 0.0, 1.0, 1.0, readings)
    logarithms = _FACTOR_LOGARITHMS[np.abs(np.exp(_FACTOR_LOGARITHMS) - 1.0) > LEAST_FACTOR_ERROR]
    likelihood = _Likelihood(doubt, misfit.shape)
    tachometer = np.array([likelihood.evidence(misfit - logarithm, weights) for logarithm in logarithms])
    currents = _CURRENTS[np.abs(_CURRENTS) >= (LEAST_CURRENT_KN - 1e-9) * KNOT]
    current = np.array([likelihood.evidence(_in_current(misfit, slope, boat_speed, c), weights) for c in currents])
    tachometer_factor = _ratio(tachometer, as_logged)
    current_factor = _ratio(current, as_logged)
    chances = odds or FaultOdds()
    of_tachometer, of_current = chances.tachometer * tachometer_factor, chances.current * current_factor
    if max(of_tachometer, of_current) < 1.0:
        better, other = max(tachometer_factor, current_factor), min(tachometer_factor, current_factor)
        return SteadyErrors("none", 0.0, better, other, readings)
    if of_tachometer >= of_current:
        size = float(np.expm1(logarithms[np.argmax(tachometer)]))
        return SteadyErrors("tachometer", size, tachometer_factor, current_factor, readings)
    return SteadyErrors("current", float(currents[np.argmax(current)]), current_factor, tachometer_factor, readings)


class _Likelihood:
    """The evidence of many logs with the same doubts, without the logarithms of `robust_log_likelihood`, which take
    three times as long. Where each boat's likelihood vanishes in rounding, below 1e-300, there is none.

    doubt: (R, 1) or (R, N).   shape: of the misfits.
    """

    def __init__(self, doubt: Array, shape: tuple[int, ...]) -> None:
        narrow, wide = np.broadcast_to(doubt, shape), STRAY_SPREAD
        self._sound = (1.0 - STRAY_SHARE) / (narrow * np.sqrt(2.0 * np.pi)), -0.5 / narrow**2
        self._stray = STRAY_SHARE / (wide * np.sqrt(2.0 * np.pi)), -0.5 / wide**2
        self._work: Array = np.empty(shape)

    def evidence(self, misfit: Array, weights: Array) -> float:
        """Of all readings together; misfit: (R, N), which is overwritten."""
        square, sound = np.multiply(misfit, misfit, out=misfit), self._work
        for (height, curvature), density in ((self._sound, sound), (self._stray, square)):
            np.multiply(square, curvature, out=density)
            np.exp(density, out=density)
            density *= height
        sound += square
        each_boat = np.multiply.reduce(sound, axis=0)
        each_boat[np.isnan(each_boat)] = 0.0
        mean = float(each_boat @ weights)
        return float(np.log(mean)) if mean > 0.0 else -np.inf


def _in_current(misfit: Array, slope: Array, boat_speed: Array, current: float) -> Array:
    """Misfits (R, N) had the speed through the water been less by the current; NaN where none would be left."""
    share = 1.0 - current / boat_speed
    moved = np.log(share, where=share > 0.0, out=np.full_like(share, np.nan))
    return misfit - slope * moved


def _ratio(evidence: Array, as_logged: float) -> float:
    """Mean evidence of one fault over its sizes, all alike likely, over that of the log as logged."""
    equal = np.full(evidence.size, 1.0 / evidence.size)
    return float(np.exp(min(float(log_evidence(evidence, equal)) - as_logged, _LARGEST_LOGARITHM)))

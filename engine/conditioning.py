"""The fleet conditioned on a log: plausible boats drawn anew where the readings say, and weighted by what they explain.

Method: importance sampling about Gaussians fitted to the log, readings that stray left out. The numbers that steer it
are our own choice.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from engine.evidence import STRAY_SHARE, STRAY_SPREAD, log_evidence, robust_log_likelihood, stray_probability
from engine.fleet import Fleet, effective_size
from engine.numeric import Array
from engine.quasirandom import sobol_points

_JUDGEMENTS = 3
"""Times, at most, that the readings are judged anew on boats drawn without the stray ones."""
_LEAST_TO_JUDGE = 16.0
"""Boats, by effective size, that must speak before a reading is called stray."""
_LEAST_TO_CONTRADICT = 3
"""Readings below which most of them being stray says nothing of the log."""
_FAR_OFF = 1.0
"""Misfit that stands for a reading the boat cannot have made: ln of a factor 2.7."""

_ROUNDS = 3
"""Times, at most, that boats are drawn, each round about the last."""
_GOOD_SHARE = 1.0 / 8.0
"""Effective boats, of those drawn, at which no further round is worth its time."""
_REGRESSION_SHARE = 1.0 / 4.0
"""Effective boats, of those drawn, that the straight lines of the next round are laid through."""
_LEAST_SHARE = 1.0 / 20.0
"""Effective boats, of the fleet, that must be left; the likelihood is flattened until they are."""
_POWERS = np.geomspace(1.0, 1e-4, 60)
"""Powers of the likelihood that are tried for it, the sharpest first."""

_ROWS_PER_LINE = 2
"""Boats to each coefficient of a line, below which none is laid."""
_PROPOSAL_WIDENING = 1.5
"""Of the readings' variance, so that what is drawn has wider tails than what is sought."""
_EVEN_CHANCE = 0.1
"""Share of the boats dealt evenly to all parts of the mixture, so that none is left without."""
_ROUNDING = 1e-12
"""Spread of weights that are equal but for rounding."""


@dataclass(frozen=True, eq=False)
class Conditioned:
    """A fleet that a log has re-weighted.

    stray: (R,), the readings left out.   contradictory: the readings contradict each other, none is used.
    tempering: the power of the likelihood that is used; below 1 the log is too sharp for the fleet.
    effective_size: of the fleet.   evidence: ln of the mean likelihood of all readings over the boats before the log.
    """

    fleet: Fleet
    stray: NDArray[np.bool_]
    contradictory: bool
    tempering: float
    effective_size: float
    evidence: float


@dataclass(frozen=True, eq=False)
class _Sample:
    """Boats drawn in one way, and how likely the readings kept are for each.

    scores: (N, K).   log_base: (N,), ln(density before the log / density they were drawn with).
    misfit: (N, R), of all readings.   doubt: (N, R) or (R,).   kept: (R,), the readings used.
    """

    scores: Array
    log_base: Array
    misfit: Array
    doubt: Array
    kept: NDArray[np.bool_]

    @cached_property
    def log_likelihood(self) -> Array:
        """(N,), of the readings kept; minus infinity where the boat cannot have made one of them."""
        return np.asarray(robust_log_likelihood(self.misfit, self.doubt)[:, self.kept].sum(axis=1))

    def weights(self, power: float = 1.0) -> Array:
        """(N,), summing to one, with a power of the likelihood."""
        return np.asarray(_normalised(_log_weights(self.log_base, self.log_likelihood, np.array([power])))[0])

    def is_usable(self) -> bool:
        """Whether a reading is kept, and some boat can have made all that are."""
        return bool(self.kept.any() and np.isfinite(self.log_likelihood).any())


def conditioned(prior: Fleet, misfit: Callable[[Array], Array], doubt: Array) -> Conditioned:
    """The fleet after a log: other boats, drawn where the log says, weighted by how well each explains it.

    Readings more likely stray than not are left out: judged first on the boats of the prior, then, until nothing
    changes, on the boats that the other readings leave.
    prior: as from draw, all boats equally likely.
    misfit: scores (N, K) to ln(observed / predicted), (N, R); NaN where that boat cannot have made the reading.
    doubt: standard deviation of the logarithm of each reading, (R,), or (N, R) for the boats of the prior; of the
    latter the boats drawn anew take the mean over those that explain the log.
    Returns: see Conditioned. The prior itself when no reading can be used.
    Raises: ValueError when the prior is weighted, or a doubt is not greater than zero.
    Source: importance sampling about Gaussians; stray readings by the mixture of Box and Tiao (1968). Ours.
    """
    if np.ptp(prior.weights) > _ROUNDING:
        raise ValueError("a log is laid on a fleet in which all boats are equally likely")
    first = misfit(prior.scores)
    doubts = np.broadcast_to(np.asarray(doubt, dtype=float), first.shape)
    everything = _Sample(prior.scores, np.zeros(prior.size), first, doubts, np.ones(first.shape[1], dtype=bool))
    evidence = float(log_evidence(everything.log_likelihood, prior.weights))
    kept = _sound_readings(everything)
    for _ in range(_JUDGEMENTS):
        before = sample = replace(everything, kept=kept)
        if before.is_usable():
            sample = _redrawn(before, misfit)
        kept = _sound_readings(sample)
        if np.array_equal(kept, sample.kept):
            break
    stray = ~sample.kept
    most_are_stray = stray.size >= _LEAST_TO_CONTRADICT and 2 * np.count_nonzero(stray) > stray.size
    if most_are_stray or not sample.is_usable():
        contradictory = bool(most_are_stray or sample.kept.any())
        return Conditioned(prior, np.ones_like(stray), contradictory, 1.0, prior.effective_size, evidence)
    least = _LEAST_SHARE * prior.size
    sharpest = [(_largest_power(one.log_base, one.log_likelihood, least), one) for one in (sample, before)]
    power, chosen = max(sharpest, key=lambda choice: choice[0])
    fleet = Fleet(chosen.scores, chosen.weights(power))
    return Conditioned(fleet, stray, False, power, fleet.effective_size, evidence)


def _sound_readings(sample: _Sample) -> NDArray[np.bool_]:
    """(R,), the readings more likely sound than stray, each left-out one judged as if it alone were added.

    What a boat cannot have made counts for it as far off: a reading that most boats cannot have made is itself stray.
    """
    far = np.where(np.isfinite(sample.misfit), sample.misfit, _FAR_OFF)
    each = robust_log_likelihood(far, sample.doubt)
    together = each[:, sample.kept].sum(axis=1)
    power = _largest_power(sample.log_base, together, _LEAST_TO_JUDGE)
    added = np.where(sample.kept, 0.0, each).T
    weights = _normalised(sample.log_base + power * together + added)
    return np.asarray(np.sum(weights.T * stray_probability(far, sample.doubt), axis=0) <= 0.5)


def _redrawn(before: _Sample, misfit: Callable[[Array], Array]) -> _Sample:
    """Boats drawn where the readings kept say, the best of a few rounds; `before` is drawn evenly from the prior."""
    judging = _largest_power(before.log_base, before.log_likelihood, _LEAST_TO_JUDGE)
    doubt = before.weights(judging) @ before.doubt
    size = before.log_base.size
    drawn: list[_Sample] = []
    around, weights = before, np.full(size, 1.0 / size)
    for _ in range(_ROUNDS):
        scores, log_base = _drawn(before.scores, _gaussians_about(around, weights, doubt))
        around = _Sample(scores, log_base, misfit(scores), doubt, before.kept)
        drawn.append(around)
        if effective_size(around.weights()) >= _GOOD_SHARE * size:
            break
        log_weights = around.log_base + around.log_likelihood
        even = np.zeros(size)
        power = _largest_power(even, log_weights, _REGRESSION_SHARE * size)
        weights = _normalised(_log_weights(even, log_weights, np.array([power])))[0]
    return max(drawn, key=lambda sample: effective_size(sample.weights()))


@dataclass(frozen=True, eq=False)
class _Gaussian:
    """A part of what boats are drawn from.   mean: (K,).   root: (K, K), of the covariance.   log_chance: ln of it."""

    mean: Array
    root: Array
    log_chance: float


def _gaussians_about(sample: _Sample, weights: Array, doubt: Array) -> list[_Gaussian]:
    """What the scores would be had the misfits been straight lines in them: all readings sound, or any one stray."""
    misfit, doubt = sample.misfit[:, sample.kept], doubt[sample.kept]
    rows = np.isfinite(misfit).all(axis=1) & (weights > 0.0)
    unknowns = sample.scores.shape[1]
    if np.count_nonzero(rows) < _ROWS_PER_LINE * (1 + unknowns):
        return [_Gaussian(np.zeros(unknowns), np.eye(unknowns), 0.0)]
    root = np.sqrt(weights[rows] / np.sum(weights[rows]))[:, None]
    terms = root * np.column_stack([np.ones(root.size), sample.scores[rows]])
    target = root * misfit[rows]
    lines = np.linalg.pinv(terms.T @ terms, hermitian=True) @ (terms.T @ target)  # far quicker than of all boats
    left_over = target - terms @ lines
    curvature = left_over.T @ left_over
    spreads = [doubt] + [np.where(np.arange(doubt.size) == one, STRAY_SPREAD, doubt) for one in range(doubt.size)]
    parts = [_gaussian(lines, np.diag(spread**2) + curvature) for spread in spreads]
    stray_odds = np.log(STRAY_SHARE / (1.0 - STRAY_SHARE))
    log_chances = np.array([part.log_chance + (stray_odds if place else 0.0) for place, part in enumerate(parts)])
    chances = _normalised(log_chances)
    chances = (1.0 - _EVEN_CHANCE) * chances + _EVEN_CHANCE / chances.size
    return [replace(part, log_chance=float(chance)) for part, chance in zip(parts, np.log(chances), strict=True)]


def _gaussian(lines: Array, noise: Array) -> _Gaussian:
    """The scores, standard normal before, after readings that are lines (1 + K, R) in them with noise (R, R)."""
    start, slopes = lines[0], lines[1:].T
    wider = _PROPOSAL_WIDENING * noise
    informed = np.linalg.solve(wider, np.column_stack([slopes, start]))
    covariance = np.linalg.inv(np.eye(slopes.shape[1]) + slopes.T @ informed[:, :-1])
    predicted = noise + slopes @ slopes.T
    log_chance = -0.5 * (start @ np.linalg.solve(predicted, start) + np.linalg.slogdet(predicted)[1])
    return _Gaussian(-covariance @ slopes.T @ informed[:, -1], np.linalg.cholesky(covariance), float(log_chance))


def _drawn(even_scores: Array, parts: list[_Gaussian]) -> tuple[Array, Array]:
    """Scores from a mixture of Gaussians by the same even points, and ln(standard normal density / theirs)."""
    size, unknowns = even_scores.shape
    chances = np.exp([part.log_chance for part in parts])
    part_of_row = np.searchsorted(np.cumsum(chances)[:-1], sobol_points(size, unknowns + 1)[:, -1])
    scores = np.empty_like(even_scores)
    for place, part in enumerate(parts):
        rows = part_of_row == place
        scores[rows] = part.mean + even_scores[rows] @ part.root.T
    columns = np.ascontiguousarray(scores.T)
    densities = np.stack([_log_density(columns, part) + part.log_chance for part in parts])
    return scores, -0.5 * np.sum(scores**2, axis=1) - log_evidence(densities.T, np.ones(len(parts)))


def _log_density(columns: Array, part: _Gaussian) -> Array:
    """(N,), but for the constant that all normal densities of as many unknowns share.   columns: scores (K, N)."""
    centred = np.linalg.inv(part.root) @ (columns - part.mean[:, None])  # a third of the time of solving for all boats
    return np.asarray(-0.5 * np.sum(np.square(centred), axis=0) - np.sum(np.log(np.diag(part.root))))


def _largest_power(log_base: Array, log_likelihood: Array, least: float) -> float:
    """The largest of a ladder of powers of the likelihood that leaves the effective size asked for, else 0."""
    if effective_size(_normalised(_log_weights(log_base, log_likelihood, _POWERS[:1]))[0]) >= least:
        return 1.0
    weights = _normalised(_log_weights(log_base, log_likelihood, _POWERS))
    enough = np.flatnonzero(1.0 / np.sum(weights**2, axis=1) >= least)
    return float(_POWERS[enough[0]]) if enough.size else 0.0


def _log_weights(log_base: Array, log_likelihood: Array, powers: Array) -> Array:
    """(powers, N); minus infinity where the likelihood is none, whatever the power."""
    possible = np.isfinite(log_likelihood)
    return np.where(possible, log_base + powers[:, None] * np.where(possible, log_likelihood, 0.0), -np.inf)


def _normalised(log_weights: Array) -> Array:
    """Weights summing to one along the last axis. At least one must be possible."""
    weights = np.exp(log_weights - np.max(log_weights, axis=-1, keepdims=True))
    return np.asarray(weights / np.sum(weights, axis=-1, keepdims=True))

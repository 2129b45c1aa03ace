"""The fleet: plausible versions of one boat, what they say together, and where their doubt comes from.

Each boat is a row of standard normal scores, one for each thing that is not known. What the boats say is summarised
by weight. Methods: Sobol (1967) points; first-order sensitivity of Sobol (1993). What a log changes: `conditioning`.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from engine.bands import HIGH, LOW, Band
from engine.numeric import Array
from engine.quantiles import drawn_quantiles, weighted_quantiles
from engine.quasirandom import normal_scores

_DEGREE = 3
"""Of the polynomials that a value is laid on (ours)."""
_ROUNDING = 1e-12
_MIXING = 633
"""An odd number, near the golden section of the fleet's usual size."""


@dataclass(frozen=True, eq=False)
class Fleet:
    """Plausible versions of one boat.

    scores: (N, K), standard normal before a log is known, one column per unknown.   weights: (N,), summing to one.
    worth: effective size of the fleet that these were drawn from, if from one: the most that theirs can be.
    drawn: (M,), row of each of M equally likely boats, some of them alike, which these stand for; the weights are how
    often each is among them.
    """

    scores: Array
    weights: Array
    worth: float = math.inf
    drawn: NDArray[np.intp] | None = None

    @property
    def size(self) -> int:
        """How many boats there are, with those that are alike."""
        return self.rows if self.drawn is None else self.drawn.size

    @property
    def rows(self) -> int:
        """How many there are that differ, N."""
        return int(self.scores.shape[0])

    @property
    def effective_size(self) -> float:
        """How many equally likely boats, each another, would say as much: 1/sum(w^2), Kish (1965)."""
        own = effective_size(self.weights) if self.drawn is None else float(self.drawn.size)
        return min(own, self.worth)

    @cached_property
    def polynomials(self) -> tuple[Array, Array]:
        """Polynomials of the scores (N, degree times K), each centred on its mean, and the mean of the product of each
        with each. Kept: every value asks for them whose doubt is shared out.
        """
        scores = self.scores - self.weights @ self.scores
        spread = np.sqrt(self.weights @ scores**2)
        scores = scores / np.where(spread > 0.0, spread, 1.0)
        square = scores * scores
        basis = np.hstack([scores, square - 1.0, scores * (square - 3.0)])
        basis -= self.weights @ basis
        return basis, (basis * self.weights[:, None]).T @ basis

    def band(self, values: Array) -> Band:
        """Median, 10th and 90th percentile of one value per boat, (N,)."""
        best, low, high = self._quantiles(values, (0.5, LOW, HIGH))
        return Band(float(best), float(low), float(high))

    def bands(self, values: Array) -> tuple[Array, Array, Array]:
        """Best, low and high, each (S,), of values (N, S)."""
        best, low, high = self._quantiles(values, (0.5, LOW, HIGH))
        return best, low, high

    def each_band(self, values: Array) -> tuple[Band, ...]:
        """The same as a band for each column, S of them."""
        return tuple(Band(*map(float, column)) for column in zip(*self.bands(values), strict=True))

    def median(self, values: Array) -> Array:
        """The middle of values (N, ...) over the boats, (...)."""
        return np.asarray(self._quantiles(values, (0.5,))[0])

    def share(self, condition: ArrayLike) -> float:
        """The weight of the boats for which a condition (N,) holds, 0 to 1."""
        return float(np.sum(self.weights[np.asarray(condition, dtype=bool)]))

    def _quantiles(self, values: Array, shares: Sequence[float]) -> Array:
        if self.drawn is None:
            return weighted_quantiles(values, self.weights, shares)
        return drawn_quantiles(values, self.drawn, shares)


def thinned(fleet: Fleet, size: int) -> Fleet:
    """Fewer boats, all equally likely, that say what the fleet says; a fleet that has no more is given back.

    size, source: as `thinned_rows`.
    """
    if fleet.size <= size:
        return fleet
    return equally_likely(fleet, thinned_rows(fleet, size))


def levelled(fleet: Fleet) -> Fleet:
    """As many boats, all equally likely, that say what the fleet says: the heavy ones several times, the light ones
    hardly. Each is worked out once, and their quantiles take half the time of weighted ones.

    Source: as `thinned_rows`.
    """
    rows = np.empty(fleet.size, dtype=np.intp)
    rows[_mixed(fleet.size)] = thinned_rows(fleet, fleet.size)  # so that thinned they are as the fleet thinned
    different, drawn, times = np.unique(rows, return_inverse=True, return_counts=True)
    return Fleet(fleet.scores[different], times / fleet.size, fleet.effective_size, drawn)


def equally_likely(fleet: Fleet, rows: NDArray[np.intp]) -> Fleet:
    """The boats of some rows (R,), all equally likely."""
    return Fleet(fleet.scores[rows], np.full(len(rows), 1.0 / len(rows)), fleet.effective_size)


def thinned_rows(fleet: Fleet, size: int) -> NDArray[np.intp]:
    """Rows of boats that, all equally likely, say what the fleet says: at even steps of its summed weight, (size,).

    size: how many, at least 1.
    Source: systematic resampling, J. Carpenter, P. Clifford and P. Fearnhead (1999).
    """
    weights = fleet.weights if fleet.drawn is None else np.full(fleet.size, 1.0 / fleet.size)
    mixed = _mixed(fleet.size)
    reached = np.cumsum(weights[mixed])
    rows = mixed[np.searchsorted(reached, (np.arange(size) + 0.5) / size * reached[-1])]
    return np.asarray(rows if fleet.drawn is None else fleet.drawn[rows])


def _mixed(size: int) -> NDArray[np.intp]:
    """Rows of a fleet in another order: neighbours in the row of even points are no fair sample."""
    return (np.arange(size) * _MIXING) % size


def draw(size: int, unknowns: int) -> Fleet:
    """A fleet before any log, all boats equally likely, the same every time.

    size: a power of two.   unknowns: how many things are not known, at least 1.
    Raises: ValueError as engine.quasirandom.normal_scores.
    """
    return Fleet(normal_scores(size, unknowns), np.full(size, 1.0 / size))


def effective_size(weights: Array) -> float:
    """1/sum(w^2) of weights (N,) with any sum, Kish (1965); 0 when all are 0."""
    total = float(np.sum(weights))
    return total**2 / float(np.sum(weights**2)) if total > 0.0 else 0.0


# What the doubt comes from


def variance_shares(fleet: Fleet, values: Array, groups: Sequence[Sequence[int]] | None = None) -> Array:
    """How much of the variance of a value would go if each unknown were known: Var(E[y|x])/Var(y).

    values: (N,), any unit; what is not finite is left out.
    groups: columns of unknowns that are learned together; by default each unknown by itself.
    Returns: one share for each group, 0 to 1; all 0 when the values do not vary. What unknowns do only together is in
    none of them.
    Source: first-order index of I. M. Sobol (1993), Saltelli et al. (2008); the estimator, a regression on polynomials
    of the third degree in the score with R^2 adjusted for the degrees of freedom, is ours.
    """
    value = np.asarray(values, dtype=float)
    learned = [[column] for column in range(fleet.scores.shape[1])] if groups is None else groups
    shares = np.zeros(len(learned))
    counts = np.isfinite(value) & (fleet.weights > 0.0)
    if not counts.any():
        return shares
    if not counts.all():
        fleet = _left(fleet, counts)
    value = _centred(value[counts], fleet.weights)
    basis, products = fleet.polynomials
    common, variance = (fleet.weights * value) @ basis, float(fleet.weights @ value**2)
    place = np.arange(basis.shape[1]).reshape(_DEGREE, -1)
    for size in {len(columns) for columns in learned} - {0}:
        alike = [group for group, columns in enumerate(learned) if len(columns) == size]
        terms = np.array([place[:, list(learned[group])].ravel() for group in alike])
        grams = products[terms[:, :, None], terms[:, None, :]]
        shares[alike] = _explained(grams, common[terms], variance, fleet.effective_size)
    return shares


def _left(fleet: Fleet, stays: NDArray[np.bool_]) -> Fleet:
    """The boats of a fleet that stay (N,)."""
    weights, drawn = fleet.weights[stays], fleet.drawn
    if drawn is not None:
        drawn = (np.cumsum(stays) - 1)[drawn[stays[drawn]]]
    return Fleet(fleet.scores[stays], weights / weights.sum(), fleet.worth, drawn)


def _centred(value: Array, weights: Array) -> Array:
    """The value less its mean; exactly 0 where it varies by rounding alone."""
    mean = float(weights @ value)
    centred = value - mean
    return centred if np.max(np.abs(centred)) > _ROUNDING * abs(mean) else np.zeros_like(value)


def _explained(gram: Array, common: Array, variance: float, count: float) -> Array:
    """Adjusted R^2 of weighted regressions (G,) on as many terms (T,) each, not below 0.

    gram: of the terms among each other, (G, T, T).   common: with the value, (G, T).   variance: of the value.
    count: effective number of boats.
    """
    free = count - common.shape[-1] - 1.0
    if free <= 0.0 or variance <= 0.0:
        return np.zeros(len(common))
    each = common[:, None, :] @ np.linalg.pinv(gram, hermitian=True) @ common[:, :, None]
    return np.asarray(np.clip(1.0 - (1.0 - each[:, 0, 0] / variance) * (count - 1.0) / free, 0.0, 1.0))

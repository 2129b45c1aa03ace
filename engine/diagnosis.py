"""Which one thing explains a sea trial that does not go as expected: hull, propeller or engine.

The three leave different traces. A hull that drags more turns its propeller faster at the same speed, burns more there
and holds the engine down at full throttle. A propeller with too much pitch turns slower at the same speed and burns the
same there, and holds the engine down; with too little it is the other way round. A weak engine changes nothing but full
throttle. How likely each is follows from the evidence, the mean likelihood of the trial over boats and sizes of fault.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from engine.evidence import log_evidence, robust_log_likelihood
from engine.numeric import Array

NOTHING = "nothing"
CLEAR_RATIO = 3.0
"""Evidence this many times better than the next counts as telling: "positive" evidence of Kass and Raftery (1995)."""
_STEPS = 41
"""Sizes of each fault that the evidence is summed over (ours)."""


@dataclass(frozen=True)
class Suspect:
    """One explanation.   share: how likely it is among all, 0 to 1.   size: its most likely factor, less one.

    is_at_end: whether that is the last size that was looked at, so that it may be more.
    """

    cause: str
    share: float
    size: float
    is_at_end: bool = False


@dataclass(frozen=True)
class Diagnosis:
    """The explanations, the likeliest first."""

    suspects: tuple[Suspect, ...]

    @property
    def leader(self) -> Suspect:
        return self.suspects[0]

    @property
    def is_clear(self) -> bool:
        """Whether the likeliest is so much likelier than the next that it may be named alone."""
        return self.leader.share >= CLEAR_RATIO * self.suspects[1].share

    def is_clearly(self, cause: str) -> bool:
        """Whether a cause may be named alone."""
        return self.is_clear and self.leader.cause == cause


@dataclass(frozen=True, eq=False)
class Fault:
    """What a fault of several sizes does to what is predicted.

    sizes: (F,) rising factors, 1 for none.   traces: (F, N, T), ln(predicted) for each of them, boat and trace.
    """

    sizes: Array
    traces: Array

    def at(self, logarithms: Array) -> Array:
        """ln(predicted) at other sizes (G,), given by their logarithms, (G, N, T), by straight lines."""
        known = np.log(self.sizes)
        above = np.clip(np.searchsorted(known, logarithms), 1, known.size - 1)
        share = ((logarithms - known[above - 1]) / (known[above] - known[above - 1]))[:, None, None]
        return np.asarray(self.traces[above - 1] * (1.0 - share) + self.traces[above] * share)


def diagnose(
    observed: Array, sound: Array, faults: Mapping[str, Fault], doubt: Array, weights: Array, least: float = 0.02
) -> Diagnosis:
    """How likely each fault is, and that there is none.

    observed: (T,), ln of what was read.   sound: (N, T), ln of what is predicted for each boat with nothing wrong; NaN
    where that boat cannot do it.   faults: cause -> what its sizes do.   doubt: (T,), standard deviation of each
    logarithm, > 0.   weights: (N,), summing to one.   least: a factor nearer to 1 than this counts as none.
    Returns: the causes and NOTHING. Before the trial NOTHING is as likely as all causes together, these are alike, and
    so are all sizes of each.
    Raises: ValueError when a doubt is not greater than zero.
    Source: evidence ratios, R. E. Kass and A. E. Raftery (1995); the faults, their sizes and how likely they are before
    the trial are ours.
    """

    def evidence(predicted: Array) -> Array:
        likelihood = robust_log_likelihood(observed - predicted, doubt).sum(axis=-1)
        return log_evidence(likelihood, weights)

    logs = {NOTHING: float(evidence(sound)) + math.log(max(len(faults), 1))}
    sizes = {NOTHING: (0.0, False)}  # and whether it is the last that was looked at
    for cause, fault in faults.items():
        low, high = np.log(fault.sizes[[0, -1]])
        logarithms = np.linspace(low, high, _STEPS)
        logarithms = logarithms[np.abs(logarithms) >= least]
        each = evidence(fault.at(logarithms))
        logs[cause] = float(log_evidence(each, np.full(each.size, 1.0 / each.size)))
        likeliest = float(logarithms[np.argmax(each)])
        sizes[cause] = (math.expm1(likeliest), likeliest in (low, high))
    highest = max(logs.values())
    if not np.isfinite(highest):
        return Diagnosis(tuple(Suspect(cause, 1.0 / len(logs), 0.0) for cause in logs))
    chances = {cause: float(np.exp(value - highest)) for cause, value in logs.items()}
    total = sum(chances.values())
    ordered = sorted(chances, key=lambda cause: -chances[cause])
    return Diagnosis(tuple(Suspect(cause, chances[cause] / total, *sizes[cause]) for cause in ordered))

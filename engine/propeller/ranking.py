"""Which wheels are let in, and which is the better when the boat is not known exactly: chance, then fuel, then regret.

A chance is that of the engine reaching its rated speed, over weighted plausible boats.
W wheels, G ratios, N boats, K combinations of wheel and ratio that were tried.
Source of every rule of ranking and its number, where no other is named: ours, engine/data/market.toml.
"""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from engine.data import table
from engine.numeric import Array

_MARKET = table("market")
LIGHT_TOLERANCE: float = _MARKET["light_running"]["tolerance"]
LIGHT_WIDTH: float = _MARKET["light_running"]["width"]
_CHANCE, _LOSS = _MARKET["chance"], _MARKET["loss"]
TIE_SHARE: float = _MARKET["tie"]["burn_share"]
"""Wheels whose burn is within this share of each other count as equal."""
_ROUNDING = 1e-9
"""Sums of weights may miss a step by this, and sizes the largest that fits."""


@dataclass(frozen=True)
class MarketLimits:
    """What a wheel must keep to.   largest_diameter: [m].   light_running: wanted [-].   tip_speed: [m/s].

    light_width: how much lighter than wanted is still let through [-].
    area_line: name of Burrill's line that the blade area must satisfy, a key of `cavitation.BURRILL_LINES`.
    """

    largest_diameter: float
    light_running: float
    tip_speed: float
    light_width: float = LIGHT_WIDTH
    area_line: str = "merchant"


class Rule(StrEnum):
    """What rules a combination of wheel and ratio out."""

    DIAMETER = "larger than the room allows"
    SPEED = "the boat's speed leaves the range of the resistance curve"
    OVERLOADS = "overloads the engine"
    TOO_LIGHT = "lighter than wanted"
    TIP_SPEED = "tips too fast"
    BLADE_AREA = "too little blade area"
    BURN = "no fuel burn at the cruising speed"


@dataclass(frozen=True)
class RuledOut:
    """Combinations that break a rule, and those of them that break no other: what lifting it would bring back."""

    combinations: int
    by_this_alone: int


def broken_rules(
    limits: MarketLimits,
    diameter: Array,
    light_running: Array,
    tip_speed: Array,
    spare_area: Array,
    cruise_power: Array,
) -> dict[Rule, NDArray[np.bool_]]:
    """For each rule, (W, G), whether a wheel with a ratio breaks it.

    diameter: (W,) [m].   light_running: (W, G), NaN where rated power is not taken within the hull's speeds.
    tip_speed: (W, G), at rated speed [m/s].   spare_area: (W,) AE/A0 over what Burrill's line of the limits asks, NaN
    where the line ends before.   cruise_power: (W,), of one propeller at the cruising speed, NaN where it is not
    reached [W].
    Where rated power is not taken within the hull's speeds, SPEED is broken, and nothing that hangs on it.
    Source: tip speeds and Burrill's line as in `cavitation`; how far a margin may be missed is ours.
    """
    runs = np.isfinite(light_running)
    broken = {
        Rule.DIAMETER: diameter[:, None] > limits.largest_diameter * (1.0 + _ROUNDING),
        Rule.SPEED: ~runs,
        Rule.OVERLOADS: light_running < limits.light_running - LIGHT_TOLERANCE,
        Rule.TOO_LIGHT: light_running > limits.light_running + limits.light_width,
        Rule.TIP_SPEED: tip_speed > limits.tip_speed,
        Rule.BLADE_AREA: runs & ~(spare_area[:, None] >= 0.0),
        Rule.BURN: runs & ~np.isfinite(cruise_power)[:, None],
    }
    return {rule: np.broadcast_to(breaks, runs.shape) for rule, breaks in broken.items()}


def chance_class(chance: Array) -> NDArray[np.intp]:
    """Whole steps of 5 % in a chance, up to 90 %; more is as good.

    chance: [-], 0 to 1, any shape.   Returns: number of whole steps, 0 to TOP_CLASS, same shape.   Source: ours.
    """
    held = np.minimum(chance, _CHANCE["enough"])
    return np.asarray(np.floor(held / _CHANCE["step"] + _ROUNDING), dtype=np.intp)


TOP_CLASS = int(chance_class(np.array([1.0]))[0])
"""The class of a chance that is good enough."""


def in_order(chance: Array, burn: Array) -> NDArray[np.intp]:
    """Indices from best to worst: by class of the chance, then by burn; equals stay as they came.

    chance: (K,) [-].   burn: (K,), any unit.   Returns: (K,).   Source: ours.
    """
    return np.lexsort((burn, -chance_class(chance)))


def compared(chance: Array, burn: Array) -> NDArray[np.bool_]:
    """The wheels too close to call: of the best class there is, burn within the tie share of the least in it.

    chance: (K,) [-].   burn: (K,), any unit.   Returns: (K,).   Source: ours.
    """
    classes = chance_class(chance)
    best = classes == classes.max(initial=0)
    least = np.min(burn, where=best, initial=np.inf)
    return np.asarray(best & (burn <= least * (1.0 + TIE_SHARE)))


def nothing_better_follows(chance: Array, burn: Array, next_burn: float, rows: int) -> bool:
    """Whether wheels yet to be tried, none burning less than next_burn, can change neither rows nor recommendation.

    So it is once the top class holds as many as rows are asked for, and whatever is left burns more than the least of
    them by more than the tie share.
    chance, burn: of the tried, (K,), in rising order of burn, which has the unit of next_burn.   rows: 1 or more.
    Source: ours; it follows from `in_order` and `compared`, and tests/engine/market_by_brute_force.py holds it to them.
    """
    top = burn[chance_class(chance) == TOP_CLASS]
    return bool(top.size >= rows and next_burn > top[0] * (1.0 + TIE_SHARE))


def mean_regret(burn: Array, light_running: Array, weights: Array, most_light: float) -> Array:
    """What choosing each wheel costs, over the best choice had one known the boat, as a share of fuel at cruise.

    burn: (K, N) wheels on boats, any unit.   light_running: (K, N) [-].   weights: (N,).
    most_light: light running up to which nothing is wasted [-].
    The loss of a wheel on a boat is her burn over the least of the wheels' on that boat, less one, + 5 times what she
    falls short of rated speed + once what she is lighter than most_light; regret is that less the least on that boat.
    Returns: (K,), the mean by weight over the boats on which every wheel can be worked out; NaN when there are none.
    Source: ours; regret as in decision theory, L. J. Savage (1951), from memory.
    """
    known = (np.isfinite(burn) & np.isfinite(light_running)).all(axis=0) & (weights > 0.0)
    if not known.any():
        return np.full(len(burn), np.nan)
    burn, light, share = burn[:, known], light_running[:, known], weights[known] / weights[known].sum()
    loss = burn / burn.min(axis=0) - 1.0
    loss += _LOSS["short_of_rated_speed"] * np.maximum(-light, 0.0)
    loss += _LOSS["too_light"] * np.maximum(light - most_light, 0.0)
    return np.asarray((loss - loss.min(axis=0)) @ share)

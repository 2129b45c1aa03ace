"""Rules of thumb for the speed and power of displacement boats.

Their shaft power is *installed* power: appendages, fouling, wind, sea, ageing and a poor propeller are in it, about
three to four times the calm-water need at a speed-length ratio of 1.0. Use them as a sanity band up to hull speed;
above it they are too flat, for real power rises faster than any cube law. Never size a propeller from them.
"""

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum

import numpy as np

from engine import constants as c
from engine.data import table
from engine.numeric import Real, plain

HONEST_LABEL = (
    "Installed shaft power by a rule of thumb, with a large and unknown margin in it: a sanity band up to hull speed, "
    "never for sizing a propeller."
)


def speed_length_ratio(speed: Real, waterline_length: Real) -> Real:
    """Speed in knots over the square root of the waterline length in feet.

    speed: [m/s]; waterline_length: [m]. Returns: [kn/ft^0.5]; 3.36 times the Froude number.
    Source: definition of the trade.
    """
    return plain((speed / c.KNOT) / np.sqrt(waterline_length / c.FOOT))


def hull_speed(waterline_length: Real) -> Real:
    """Speed [m/s] at which the wave the boat makes is as long as the boat: a marker where power climbs, not a limit.

    Source: common practice, 1.34 kn per square root of a foot.
    """
    constant = table("handbook_rules")["hull_speed"]["constant"]
    return plain(constant * np.sqrt(waterline_length / c.FOOT) * c.KNOT)


def wave_length(speed: Real, *, gravity: float = c.GRAVITY) -> Real:
    """Length [m] of the free deep-water wave that travels at the boat's speed [m/s].

    gravity: [m/s2].   Source: linear wave theory, 2 pi V^2 / g.
    """
    return plain(c.TWO_PI * np.square(speed) / gravity)


def displacement_length_ratio(mass: Real, waterline_length: Real) -> Real:
    """Long tons of displacement over the cube of a hundredth of the waterline length in feet.

    mass: ready for sea [kg]; waterline_length: [m]. Source: common practice, three independent copies agree.
    """
    return plain((mass / c.LONG_TON) / (0.01 * waterline_length / c.FOOT) ** 3)


def shaft_power_wyman(mass: Real, speed: Real, waterline_length: Real) -> Real:
    """Installed shaft power [W] by Wyman's formula.

    mass: [kg]; speed: [m/s]; waterline_length: [m]; any shapes.
    Valid: sanity band to a speed-length ratio of 1.34, see rule_limits.
    Source: D. B. Wyman, Professional BoatBuilder (about 1998); from memory.
    """
    rule = table("handbook_rules")["wyman"]
    ratio = speed_length_ratio(speed, waterline_length)
    Cw = rule["constant"] + rule["slope"] * ratio
    return plain(mass / c.POUND / 1000.0 * (ratio / Cw) ** 3 * c.HORSEPOWER)


def shaft_power_gerr(mass: Real, speed: Real, waterline_length: Real) -> Real:
    """Installed shaft power [W] by Gerr's displacement speed formula, a pure cube law.

    mass: [kg]; speed: [m/s]; waterline_length: [m]; any shapes.
    Valid: sanity band to a speed-length ratio of 1.34, see rule_limits.
    Source: D. Gerr (1989), Propeller Handbook, formula 2-1; constant confirmed by one independent copy.
    """
    constant = table("handbook_rules")["gerr"]["constant"]
    ratio = speed_length_ratio(speed, waterline_length)
    return plain(mass / c.POUND * (ratio / constant) ** 3 * c.HORSEPOWER)


def speed_length_ratio_limit_gerr(mass: Real, waterline_length: Real) -> Real:
    """Highest speed-length ratio a hull reaches without planing, so the end of Gerr's power formula.

    mass: [kg]; waterline_length: [m]. Source: D. Gerr (1989), Propeller Handbook, formula 2-3; from memory.
    """
    rule = table("handbook_rules")["gerr_limit"]
    heaviness = displacement_length_ratio(mass, waterline_length)
    return plain(rule["constant"] / np.power(heaviness, rule["exponent"]))


@dataclass(frozen=True)
class DisplacementRule:
    """One rule for installed shaft power [W] from mass [kg], speed [m/s] and waterline length [m]."""

    name: str
    shaft_power: Callable[[Real, Real, Real], Real]

    @property
    def label(self) -> str:
        return str(table("handbook_rules")[self.name]["label"])

    @property
    def source(self) -> str:
        return str(table("handbook_rules")[self.name]["source"])

    @property
    def status(self) -> str:
        return str(table("handbook_rules")[self.name]["status"])


RULES = (DisplacementRule("wyman", shaft_power_wyman), DisplacementRule("gerr", shaft_power_gerr))


class RuleLimit(Enum):
    """Why a rule's answer needs a warning."""

    ABOVE_HULL_SPEED = "above hull speed"
    ABOVE_DISPLACEMENT_LIMIT = "above what the hull reaches without planing"


@dataclass(frozen=True)
class RuleWarning:
    """A limit passed: which, the highest speed-length ratio asked for, the limit (lowest of the fleet), in words."""

    limit: RuleLimit
    value: float
    bound: float
    sentence: str


def rule_limits(mass: Real, speed: Real, waterline_length: Real) -> tuple[RuleWarning, ...]:
    """Warnings for using the rules at a speed; empty up to hull speed.

    mass: [kg]; speed: [m/s]; waterline_length: [m]; of arrays, the worst case speaks.
    Source: limits as `hull_speed` and `speed_length_ratio_limit_gerr`.
    """
    ratio = np.asarray(speed_length_ratio(speed, waterline_length))
    hull_limit = table("handbook_rules")["hull_speed"]["constant"]
    form_limit = np.asarray(speed_length_ratio_limit_gerr(mass, waterline_length))
    warnings = []
    if np.any(ratio > hull_limit):
        worst = float(np.max(ratio))
        warnings.append(
            RuleWarning(
                RuleLimit.ABOVE_HULL_SPEED,
                worst,
                hull_limit,
                f"At a speed-length ratio of {worst:.2f} the boat is above hull speed ({hull_limit:.2f}): "
                "the rules of thumb are too low here, because real power climbs faster than they do.",
            )
        )
    if np.any(ratio > form_limit):
        worst, bound = float(np.max(ratio)), float(np.min(form_limit))
        warnings.append(
            RuleWarning(
                RuleLimit.ABOVE_DISPLACEMENT_LIMIT,
                worst,
                bound,
                f"A hull of this weight and length reaches a speed-length ratio of about {bound:.2f} without planing; "
                f"{worst:.2f} is beyond what these rules describe.",
            )
        )
    return tuple(warnings)

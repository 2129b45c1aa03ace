"""Rules of thumb for the speed and power of displacement boats.

Their shaft power is *installed* power: appendages, fouling, wind, sea, ageing and a poor propeller are in it, about
three to four times the calm-water need at a speed-length ratio of 1.0. Use them as a sanity band up to hull speed;
above it they are too flat, for real power rises faster than any cube law. Never size a propeller from them.
"""

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
    Valid: sanity band to a speed-length ratio of 1.34, hull speed; real power climbs faster beyond it.
    Source: D. B. Wyman, Professional BoatBuilder (about 1998); from memory.
    """
    rule = table("handbook_rules")["wyman"]
    ratio = speed_length_ratio(speed, waterline_length)
    Cw = rule["constant"] + rule["slope"] * ratio
    return plain(mass / c.POUND / 1000.0 * (ratio / Cw) ** 3 * c.HORSEPOWER)


def shaft_power_gerr(mass: Real, speed: Real, waterline_length: Real) -> Real:
    """Installed shaft power [W] by Gerr's displacement speed formula, a pure cube law.

    mass: [kg]; speed: [m/s]; waterline_length: [m]; any shapes.
    Valid: sanity band to a speed-length ratio of 1.34, hull speed; real power climbs faster beyond it.
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

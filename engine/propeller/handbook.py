"""The trade's quick method: slip, pitch, diameter, blades and bollard thrust. SI in and out.

Source of all: D. Gerr (1989, 2001), "Propeller Handbook", International Marine; formula numbers are the book's.
Only the diameter rule was seen in print, the rest is from memory and was tested for consistency with the open-water
series (pitch within 4 %); data/handbook_propeller.toml carries each status. Sizes are for three blades.
Arguments are floats or arrays that broadcast; values have the broadcast shape. No formula tells its range.
"""

from dataclasses import dataclass

import numpy as np

from engine.constants import FOOT, GRAVITY, HORSEPOWER, INCH, KNOT, POUND, RPM
from engine.data import table
from engine.numeric import LowMiddleHigh, Real, plain

_DATA = table("handbook_propeller")


def slip(boat_speed: Real) -> Real:
    """Apparent slip at the design point [-], formula 5-2: 1.4/Vkn^0.57.

    boat_speed: of the boat, not of advance [m/s], > 0.
    Valid: above 1.8 kn, where it is below one.   Error: with it `pitch_from_slip` within 4 % of the Gawn series.
    Source: D. Gerr (1989), formula 5-2, from memory.
    """
    rule = _DATA["slip"]
    return plain(rule["a"] / (np.asarray(boat_speed) / KNOT) ** rule["b"])


def pitch_from_slip(boat_speed: Real, shaft_speed: Real, apparent_slip: Real) -> Real:
    """P = V/(n (1 - slip)) [m].

    boat_speed: [m/s].   shaft_speed: [rev/s], > 0.   apparent_slip: [-], < 1.   Source: definition of apparent slip.
    """
    return plain(np.asarray(boat_speed, dtype=float) / (np.asarray(shaft_speed) * (1.0 - np.asarray(apparent_slip))))


def diameter(power: Real, shaft_speed: Real) -> Real:
    """Diameter of a three-bladed propeller [m], formula 5-3: 632.7 SHP^0.2/RPM^0.6 inches.

    power: at the propeller [W].   shaft_speed: [rev/s], > 0.
    Source: D. Gerr (1989), formula 5-3, seen in public text. Checked against: test_handbook_propeller.py.
    """
    rule = _DATA["diameter"]
    horsepower, rpm = np.asarray(power) / HORSEPOWER, np.asarray(shaft_speed) / RPM
    return plain(rule["a"] * horsepower ** rule["b"] / rpm ** rule["c"] * INCH)


def minimum_diameter(waterline_beam: Real, hull_draft: Real, screws: int = 1) -> Real:
    """Least diameter for a hull [m], formula 5-5: 4.07 sqrt(BWL_ft Hd_ft) inches, each of two screws 0.8 of it.

    waterline_beam: [m].   hull_draft: of the canoe body, without keel [m].   screws: 1 or 2.
    Source: D. Gerr (1989), formula 5-5, from memory.
    """
    rule = _DATA["minimum_diameter"]
    factor = rule["a"] * (1.0 if screws == 1 else rule["twin_factor"])
    return plain(factor * np.sqrt(np.asarray(waterline_beam) * hull_draft) / FOOT * INCH)


def pitch_ratio(boat_speed: Real) -> LowMiddleHigh:
    """Usual pitch ratio for a speed [-], formula 5-4: 0.46 Vkn^0.26 with its low and high.

    boat_speed: [m/s].   Source: D. Gerr (1989), formula 5-4, from memory.
    """
    knots = np.asarray(boat_speed) / KNOT
    rule = _DATA["pitch_ratio"]
    low, middle, high = (plain(a * knots**b) for a, b in (rule["low"], rule["middle"], rule["high"]))
    return LowMiddleHigh(low, middle, high)


@dataclass(frozen=True)
class BladeFactors:
    """What to multiply the three-bladed answer by [-]."""

    diameter: float
    pitch: float
    efficiency: float


MOST_BLADES = max(int(blades) for blades in _DATA["blade_count"] if blades != "status")
"""The handbook has factors for two, three and four blades."""


def blade_factors(blades: int) -> BladeFactors:
    """Factors for two, three or four blades.

    Raises: ValueError for another number.   Source: D. Gerr (1989), from memory.
    """
    rows = _DATA["blade_count"]
    if str(blades) not in rows:
        raise ValueError(f"blades must be 2, 3 or 4; got {blades}")
    return BladeFactors(**rows[str(blades)])


def bollard_thrust(power: Real, propeller_diameter: Real) -> Real:
    """Static thrust [N], formula 5-9: 62.72 (SHP D_ft)^0.67 lb.

    power: at the propeller [W].   propeller_diameter: [m].
    Error: about 10 % below the B-series polynomial in a 60 kW example.
    Source: D. Gerr (1989), formula 5-9, from memory.
    """
    rule = _DATA["bollard"]
    product = np.asarray(power) / HORSEPOWER * np.asarray(propeller_diameter) / FOOT
    return plain(rule["a"] * product ** rule["b"] * POUND * GRAVITY)


def absorbed_power(rated_power: Real, shaft_speed_fraction: Real) -> Real:
    """Power a fitted propeller takes at a fraction of rated speed [W], formula 1-2: P_rated fraction^2.7.

    rated_power: [W].   shaft_speed_fraction: n over rated n [-], >= 0.
    Source: D. Gerr (1989), formula 1-2, from memory; the cube law would be 3.
    """
    return plain(np.asarray(rated_power) * np.asarray(shaft_speed_fraction) ** _DATA["power_curve"]["exponent"])

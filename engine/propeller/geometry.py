"""A propeller's size, the ways its blade area is quoted, the room it needs and the pitches foundries keep."""

from math import pi

import numpy as np

from engine.constants import INCH, RPM
from engine.data import table
from engine.numeric import Array, Real, plain

_HANDBOOK_AREA = table("handbook_propeller")["area"]
_TAYLOR_AREA = table("burrill")["projected_area"]
_STOCK = table("stock_propellers")
_PITCH = _STOCK["stock_pitch"]
CLEARANCES = table("clearances")
"""Room round a propeller, as fractions of diameter: tip, aperture, class_minimum, immersion."""
TIP_CLEARANCES = CLEARANCES["tip"]
"""Its rows for the tips: words, fraction, status, from which shaft rpm and speed-length ratio."""


def disc_area(diameter: Real) -> Real:
    """Area swept by the blades, pi D2/4 [m2].   diameter: [m], any shape.   Source: geometry."""
    return plain(0.25 * pi * np.square(np.asarray(diameter, dtype=float)))


def developed_ratio_from_mean_width(mean_width_ratio: Real, blades: Real) -> Real:
    """Developed disc-area ratio AD/A0 from mean-width ratio, for a hub of 0.2 D.

    mean_width_ratio: (area of one blade / its length from hub to tip)/D [-].   blades: number. They broadcast.
    Returns: AD/A0 [-], 0.51 Z times the mean-width ratio.
    Error: 0.51 is 0.4/(pi/4) = 0.509, rounded; with a hub of 0.18 D blades are longer, and the area 2.5 % more.
    Source: D. Gerr (1989), Propeller Handbook; 0.51 follows from the geometry.
    """
    return plain(_HANDBOOK_AREA["developed_per_mean_width"] * np.asarray(blades, dtype=float) * mean_width_ratio)


def mean_width_ratio_from_developed(developed_ratio: Real, blades: Real) -> Real:
    """Mean-width ratio from AD/A0: inverse of `developed_ratio_from_mean_width`, whose error and source it has.

    developed_ratio: AD/A0 [-].   blades: number, > 0. They broadcast.   Returns: mean-width ratio [-].
    """
    return plain(np.asarray(developed_ratio) / (_HANDBOOK_AREA["developed_per_mean_width"] * np.asarray(blades)))


def expanded_area_ratio(developed_ratio: Real, blades: Real) -> Real:
    """AE/A0 from developed AD/A0, segmental-section propellers.

    developed_ratio: AD/A0 [-].   blades: number, > 0. They broadcast.   Returns: AE/A0 [-].
    Error: AE and AD differ by at most 6 % for 0.4 to 1.1, so for other propellers they are taken as equal.
    Source: D. Radojcic (1988), SNAME Propellers '88, for the Gawn-Burrill series; two copies agree.
    """
    AD = np.asarray(developed_ratio, dtype=float)
    return plain(0.34 * AD * (2.75 + AD / blades))


def developed_area_ratio(expanded_ratio: Real, blades: Real) -> Real:
    """AD/A0 from expanded AE/A0: the exact inverse of `expanded_area_ratio`, whose source it has.

    expanded_ratio: AE/A0 [-].   blades: number, > 0. They broadcast.   Returns: AD/A0 [-].
    """
    Z = np.asarray(blades, dtype=float)
    return plain(0.5 * (np.sqrt((2.75 * Z) ** 2 + 4.0 * Z * np.asarray(expanded_ratio) / 0.34) - 2.75 * Z))


def projected_area_ratio(expanded_ratio: Real, pitch_ratio: Real) -> Real:
    """AP/A0 from AE/A0: AE (1.067 - 0.229 P/D), AE taken for AD.

    expanded_ratio: AE/A0 [-].   pitch_ratio: P/D [-]. They broadcast.   Returns: AP/A0 [-].
    Valid: P/D 0.6 to 2.0; `cavitation.burrill_check` has the record.
    Source: D. W. Taylor's relation, as used with Burrill (1943). Checked against: test_burrill.py.
    """
    return plain(np.asarray(expanded_ratio) * _taylor_projection(pitch_ratio))


def expanded_ratio_from_projected(projected_ratio: Real, pitch_ratio: Real) -> Real:
    """AE/A0 from AP/A0: inverse of `projected_area_ratio`, whose range and source it has.

    projected_ratio: AP/A0 [-].   pitch_ratio: P/D [-]. They broadcast.   Returns: AE/A0 [-].
    """
    return plain(np.asarray(projected_ratio) / _taylor_projection(pitch_ratio))


def _taylor_projection(pitch_ratio: Real) -> Array:
    fraction: Array = _TAYLOR_AREA["a"] - _TAYLOR_AREA["b"] * np.asarray(pitch_ratio, dtype=float)
    return fraction


def tip_clearance_fraction(speed_length_ratio: Real, shaft_speed: Real) -> Real:
    """Least gap between blade tip and hull as a fraction of diameter.

    speed_length_ratio: knots / sqrt(waterline feet).   shaft_speed: [rev/s]. They broadcast.
    Returns: fraction of D [-], 0.08 to 0.20.
    Source: D. Gerr (1989), Propeller Handbook, from memory; 10 % confirmed by trade practice. The table's rows leave
    gaps: here 10 % from 300 rpm or from speed-length ratio 1.2, 15 % only when both are high, 20 % when planing.
    """
    length_ratio = np.asarray(speed_length_ratio, dtype=float)
    rpm = np.round(np.asarray(shaft_speed, dtype=float) / RPM, 6)  # 1000 rpm, made rev/s and back, are not over 1000
    usual, fast, planing = TIP_CLEARANCES["usual"], TIP_CLEARANCES["fast"], TIP_CLEARANCES["planing"]
    is_planing = length_ratio > planing["speed_length_ratio"]
    is_fast = (rpm > fast["shaft_speed_rpm"]) & (length_ratio > fast["speed_length_ratio"])
    is_usual = (rpm >= usual["shaft_speed_rpm"]) | (length_ratio >= usual["speed_length_ratio"])
    fractions = [planing["fraction"], fast["fraction"], usual["fraction"]]
    return plain(np.select([is_planing, is_fast, is_usual], fractions, TIP_CLEARANCES["slow"]["fraction"]))


def hub_diameter_range(diameter: Real) -> tuple[Real, Real]:
    """Least and greatest hub diameter usual for a stock propeller [m], 0.18 and 0.20 D.

    diameter: [m], any shape.   Source: trade practice, from memory.
    """
    low, high = _STOCK["hub"]["diameter_fraction"]
    D = np.asarray(diameter, dtype=float)
    return plain(low * D), plain(high * D)


def typical_hub_diameter(diameter: Real) -> Real:
    """Middle of `hub_diameter_range` [m].   diameter: [m], any shape.   Source: taking the middle is ours."""
    low, high = hub_diameter_range(diameter)
    return plain(0.5 * (np.asarray(low) + np.asarray(high)))


def stock_pitch_step(diameter: float) -> float:
    """Step between the pitches that foundries keep of a diameter, both [m]; others are pitched to order.

    Source: from memory, trade practice: half inches below 16 in, two inches above 30 in, whole inches between; that
    the two limits are diameters is ours.
    """
    if diameter < _PITCH["fine_below_in"] * INCH:
        return float(_PITCH["fine_step_in"]) * INCH
    if diameter > _PITCH["coarse_above_in"] * INCH:
        return float(_PITCH["coarse_step_in"]) * INCH
    return float(_PITCH["step_in"]) * INCH

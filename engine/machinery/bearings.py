"""Shaft bearings: how far apart, the first critical speed of the bare shaft, clearances, angles and alignment.

A size, length or modulus of zero and less raises ValueError naming the argument.
"""

from collections.abc import Mapping
from math import pi

import numpy as np

from engine.constants import INCH, TWO_PI
from engine.data import table
from engine.findings import Finding, fits, look, stop
from engine.numeric import Array, Real, plain, told_apart
from engine.showing import numbered
from engine.validity import not_negative, positive

_BEARINGS = table("bearings")
_SPACING = _BEARINGS["spacing"]
_CLEARANCE = _BEARINGS["clearance"]
_GEOMETRY = _BEARINGS["geometry"]
_ALIGNMENT = _BEARINGS["alignment"]

END_FIXITY: Mapping[str, float] = _BEARINGS["end_fixity"]
"""Beam theory's (beta)^2 of a bare shaft by how its ends are held; bearings of small craft count as simple."""

SPACING_MARGIN: float = _SPACING["margin"]
LEAST_DIAMETERS: float = _SPACING["least_diameters"]
CAUTION_DIAMETERS: float = _SPACING["caution_diameters"]
MOST_DIAMETERS: float = _SPACING["most_diameters"]
SEAL_NOTE: str = _SPACING["seal_note"]
COUPLING_SUPPORT_NOTE: str = _SPACING["coupling_note"]
CLEARANCE_STATUS: str = _CLEARANCE["status"]
ALIGNMENT_NOTE: str = _ALIGNMENT["note"]
ALIGNMENT_PER_FLANGE: float = _ALIGNMENT["per_flange_diameter"]
MOST_MISALIGNMENT: float = _ALIGNMENT["most_mm"] / 1e3
RUNOUT_LIMIT: float = _ALIGNMENT["runout_in"] * INCH
"""Most total indicated run-out on taper or coupling [m]. Source: US Army TM 55-1905-221."""

GOOD_SHAFT_ANGLE_DEG: float = _GEOMETRY["good_angle_deg"]
ENGINE_ANGLE_LIMIT_DEG: float = _GEOMETRY["engine_angle_deg"]

_TWENTY_FORTY = "twenty-forty rule, trade practice printed in 2 copies"
_FORMULA_SOURCE = "Gerr (2009), Boat Mechanical Systems Handbook, ch. 1; ABYC P-6 (2002) clause 6.6 tradition"


def _stiffness_speed(diameter: Real, elastic_modulus: Real, density: Real) -> Array:
    """sqrt(EI / mass per metre) of a solid round shaft, d/4 sqrt(E/rho) [m2/s]."""
    modulus, mass = positive("elastic_modulus", elastic_modulus), positive("density", density)
    return np.asarray(0.25 * positive("diameter", diameter) * np.sqrt(modulus / mass))


def bearing_spacing_zero_margin(diameter: Real, shaft_speed: Real, elastic_modulus: Real, density: Real) -> Real:
    """Span at which the bare shaft runs exactly on its first critical speed: a ceiling, never a target.

    diameter: [m], > 0.   shaft_speed: highest [rev/s], > 0.   elastic_modulus: [Pa], > 0.   density: [kg/m3], > 0.
    Returns: span between bearings [m]; broadcast shape.
    Raises: ValueError naming the argument.
    Valid: bare solid uniform shaft, simple supports; the overhung propeller lowers it (engine.machinery.whirling).
    Source: the small-craft formula, L ft = sqrt(3.21 D in/RPM sqrt(E psi/w)), Gerr (2009) ch. 1 and ABYC P-6 (2002)
    clause 6.6 tradition; it is beam theory with 3.215 rounded to 3.21. The exact constant is used here.
    """
    speed = positive("shaft_speed", shaft_speed)
    return plain(np.sqrt(0.5 * pi * _stiffness_speed(diameter, elastic_modulus, density) / speed))


def bearing_spacing_allowed(
    diameter: Real, shaft_speed: Real, elastic_modulus: Real, density: Real, *, margin: Real = SPACING_MARGIN
) -> Real:
    """Longest span allowed: the first critical speed stands a margin above running speed, and not over 40 diameters.

    diameter, shaft_speed, elastic_modulus, density: as bearing_spacing_zero_margin.
    margin: of critical over running speed [-], >= 0; 0.20 from memory of class practice, 0.30 preferred.
    Returns: span [m]; broadcast shape.
    Raises: ValueError naming the argument.
    Source: as bearing_spacing_zero_margin; twenty-forty rule.
    """
    ceiling = np.asarray(bearing_spacing_zero_margin(diameter, shaft_speed, elastic_modulus, density))
    with_margin = ceiling / np.sqrt(1.0 + not_negative("margin", margin))
    return plain(np.minimum(with_margin, MOST_DIAMETERS * np.asarray(diameter)))


def bare_shaft_critical_speed(
    span: Real, diameter: Real, elastic_modulus: Real, density: Real, ends: str = "simply supported"
) -> Real:
    """First lateral critical speed of a bare uniform solid shaft.

    span: between bearings [m], > 0.   diameter: [m], > 0.   elastic_modulus: [Pa], > 0.   density: [kg/m3], > 0.
    ends: a key of END_FIXITY.
    Returns: critical speed [rev/s]; broadcast shape.
    Raises: ValueError naming the argument.
    Source: beam theory, omega = beta^2/L^2 sqrt(EI/mu).
    """
    if ends not in END_FIXITY:
        raise ValueError(f"ends must be one of {', '.join(END_FIXITY)}, not {ends!r}")
    stiffness_speed = _stiffness_speed(diameter, elastic_modulus, density)
    return plain(END_FIXITY[ends] * stiffness_speed / (TWO_PI * positive("span", span) ** 2))


def judge_bearing_spacing(span: float, diameter: float, allowed: float) -> Finding:
    """Verdict on one span: 20 to 35 diameters fits, to 40 wants a look, over 40 or over the allowed span stops.

    span, diameter: [m], > 0.   allowed: from bearing_spacing_allowed [m].
    Source: twenty-forty rule, trade practice printed in 2 copies; the allowed span as there.
    """
    ratio = span / diameter
    words = f"The bearings stand {ratio:.0f} shaft diameters apart"
    most = min(allowed / diameter, MOST_DIAMETERS)
    if ratio > most * (1.0 + 1e-9):
        source = _TWENTY_FORTY if most > MOST_DIAMETERS * (1.0 - 1e-9) else _FORMULA_SOURCE
        digits = 1 if f"{ratio:.0f}" == f"{most:.0f}" else 0
        return stop(
            f"The bearings stand {ratio:.{digits}f} shaft diameters apart; more than {most:.{digits}f} is too long. "
            "Add a bearing or a thicker shaft.",
            source,
        )
    if ratio > CAUTION_DIAMETERS:
        return look(
            f"The bearings stand {told_apart(ratio, MOST_DIAMETERS)} shaft diameters apart: near the limit of "
            f"{MOST_DIAMETERS:g}. Check whirling with the propeller.",
            _TWENTY_FORTY,
        )
    if ratio < LEAST_DIAMETERS:
        return look(
            f"The bearings stand {told_apart(ratio, LEAST_DIAMETERS)} shaft diameters apart; rigid bearings closer "
            f"than {LEAST_DIAMETERS:g} fight each other when alignment shifts.",
            _TWENTY_FORTY,
        )
    return fits(f"{words}, between {LEAST_DIAMETERS:g} and {CAUTION_DIAMETERS:g}.", _TWENTY_FORTY)


def hub_gap_limit(diameter: Real) -> Real:
    """Most gap between propeller hub and aft bearing [m], one shaft diameter [m]; water must still get in.

    Source: engine/data/bearings.toml, geometry.
    """
    return plain(_GEOMETRY["hub_gap_diameters"] * positive("diameter", diameter))


def aft_bearing_length(diameter: Real) -> Real:
    """Length of the aftermost water-lubricated rubber bearing [m], 4 diameters [m].

    Source: trade standard, from memory.
    """
    return plain(_GEOMETRY["aft_bearing_diameters"] * positive("diameter", diameter))


def intermediate_bearing_length(diameter: Real) -> Real:
    """Length of a rubber bearing ahead of the aftermost [m], 2 diameters [m]. Source: trade standard, from memory."""
    return plain(_GEOMETRY["intermediate_bearing_diameters"] * positive("diameter", diameter))


def bearing_clearance_new(diameter: Real) -> tuple[Real, Real]:
    """Running clearance of a new rubber bearing, least and most [m], for a shaft diameter [m].

    Source: informal, see CLEARANCE_STATUS.
    """
    size = positive("diameter", diameter)
    return plain(_CLEARANCE["new_low_per_diameter"] * size), plain(_CLEARANCE["new_high_per_diameter"] * size)


def bearing_wear_limit(diameter: Real) -> Real:
    """Play at which to replace a rubber bearing [m], the smaller of 0.8 mm and 0.03 of the shaft diameter [m].

    Source: informal, see CLEARANCE_STATUS.
    """
    by_size = _CLEARANCE["worn_per_diameter"] * positive("diameter", diameter)
    return plain(np.minimum(_CLEARANCE["worn_mm"] / 1e3, by_size))


def coupling_alignment_limit(flange_diameter: Real) -> Real:
    """Most gap difference round the coupling faces [m]: 0.001 of the flange diameter [m], at most 0.08 mm; see
    ALIGNMENT_NOTE.

    Source: owners' class guide and a V-drive manual (anonymised), printed.
    """
    by_flange = ALIGNMENT_PER_FLANGE * positive("flange_diameter", flange_diameter)
    return plain(np.minimum(by_flange, MOST_MISALIGNMENT))


def judge_shaft_angle(angle_deg: float) -> Finding:
    """Verdict on the shaft's angle to the waterline [deg]; the maker's sheet rules.

    Source: trade practice, from memory.
    """
    lost = 100.0 * (1.0 - float(np.cos(np.radians(angle_deg))))
    limit = ENGINE_ANGLE_LIMIT_DEG if angle_deg > ENGINE_ANGLE_LIMIT_DEG else GOOD_SHAFT_ANGLE_DEG
    slope = told_apart(angle_deg, limit)
    words = f"The shaft slopes {numbered(slope, 'degree')}; that takes {lost:.1f} % off the thrust ahead"
    source = "trade practice, from memory"
    if angle_deg > ENGINE_ANGLE_LIMIT_DEG:
        text = f"{words}. Many gears and dipsticks allow at most {ENGINE_ANGLE_LIMIT_DEG:g} degrees: ask the makers."
        return look(text, source)
    if angle_deg > GOOD_SHAFT_ANGLE_DEG:
        return look(f"{words}. Under {GOOD_SHAFT_ANGLE_DEG:g} degrees is better; ask the engine's maker.", source)
    return fits(f"{words}.", source)

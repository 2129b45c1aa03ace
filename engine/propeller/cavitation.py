"""Blade area against cavitation, and tip speed.

Back-cavitation lines in tau_c over sigma, both on V07 = sqrt(Va2 + (0.7 pi n D)2): sigma = (p0 - pv)/q and
tau_c = T/(q AP), q = rho V07^2/2. Other conventions leave out pv or use 0.75 R; never mix them.
"""

from dataclasses import dataclass
from math import pi

import numpy as np

from engine.constants import FOOT, GRAVITY, KNOT, PSI
from engine.data import table
from engine.numeric import Array, Real, plain
from engine.propeller.geometry import disc_area, expanded_ratio_from_projected, projected_area_ratio
from engine.validity import OutOfRange, outside_range

_KELLER = table("cavitation")["keller"]
_PRESSURE = table("cavitation")["pressure"]
_BURRILL = table("burrill")
_LOADING = table("handbook_propeller")["blade_loading"]

TIP_SPEED_LIMITS = table("cavitation")["tip_speed"]
"""Tip speeds [m/s]: quiet, ordinary, erosion_expected, and their status. Trade practice, from memory."""

BURRILL_LINES = _BURRILL["lines"]
"""Limit lines by name: lower, merchant (the usual choice), naval, segmental_ten_percent, ten_percent."""


def pressure_above_vapour(
    depth: Real,
    density: Real,
    vapour_pressure: Real = _PRESSURE["vapour_at_15_c"],
    atmospheric_pressure: Real = _PRESSURE["atmosphere"],
) -> Real:
    """p0 - pv at the shaft centre [Pa]: atmosphere + rho g depth - vapour pressure.

    depth: of the shaft centre under the surface [m].   density: [kg/m3].   vapour_pressure: by default of water at
    15 C, rounded [Pa].   atmospheric_pressure: by default standard [Pa]. They broadcast.
    Valid: at rest; waves and trim under way are left out.   Source: hydrostatics.
    """
    head = np.asarray(density, dtype=float) * GRAVITY * depth
    return plain(np.asarray(atmospheric_pressure, dtype=float) + head - vapour_pressure)


def tip_speed(diameter: Real, shaft_speed: Real) -> Real:
    """pi n D [m/s]; compare with TIP_SPEED_LIMITS.

    diameter: [m].   shaft_speed: [rev/s]. They broadcast.   Source: geometry; the advance of the blade is left out.
    """
    return plain(pi * np.asarray(shaft_speed, dtype=float) * diameter)


def keller_area_ratio(
    thrust: Real, diameter: Real, blades: Real, pressure: Real, allowance: Real = _KELLER["allowance_single_screw"]
) -> Real:
    """Least expanded area ratio by Keller: (1.3 + 0.3 Z) T/((p0 - pv) D2) + allowance.

    thrust: [N].   diameter: [m].   blades: number.   pressure: p0 - pv at the shaft centre [Pa].
    allowance: 0.2 single screw, 0.1 twin, 0 fast twin-screw with transom stern [-]. They broadcast.
    Returns: AE/A0 [-].
    Valid: ships. On small single-screw boats the 0.2 dominates and is conservative: advice, not a stop.
    Source: J. auf'm Keller (1966), as used by Holtrop & Mennen (1982). Checked against: test_keller.py.
    """
    per_blade = _KELLER["constant"] + _KELLER["per_blade"] * np.asarray(blades, dtype=float)
    return plain(per_blade * thrust / (np.asarray(pressure) * np.square(np.asarray(diameter))) + allowance)


def keller_allowance(screws: int) -> float:
    """Keller's k: 0.2 for one screw, 0.1 for two [-].   Source: as `keller_area_ratio`."""
    return float(_KELLER["allowance_single_screw" if screws == 1 else "allowance_twin_screw"])


def dynamic_pressure(diameter: Real, shaft_speed: Real, advance_speed: Real, density: Real) -> Real:
    """q = rho (Va2 + (0.7 pi n D)2)/2 [Pa].

    diameter: [m].   shaft_speed: [rev/s].   advance_speed: V (1 - w) [m/s].   density: [kg/m3]. They broadcast.
    Source: the convention of Burrill's chart (1943), V07.
    """
    around = 0.7 * np.asarray(tip_speed(diameter, shaft_speed))
    return plain(0.5 * np.asarray(density) * (np.square(np.asarray(advance_speed, dtype=float)) + around**2))


def burrill_limit(cavitation_number: Real, line: str = "merchant") -> Real:
    """Thrust loading tau_c permitted at a cavitation number sigma [-].

    cavitation_number: [-], any shape.   line: a name of BURRILL_LINES.
    Returns: tau_c; NaN below the sigma at which the line ends.
    Valid: sigma 0.2 to 1.2.   Error: versions of the 5 % line spread over 4-7 %, 10 % at sigma 0.2.
    Raises: ValueError for an unknown line.   Source: L. C. Burrill (1943), in the fits named in data/burrill.toml.
    Checked against: test_burrill.py.
    """
    if line not in BURRILL_LINES:
        raise ValueError(f"line must be one of {', '.join(BURRILL_LINES)}; got {line!r}")
    fit = BURRILL_LINES[line]
    sigma = np.asarray(cavitation_number, dtype=float)
    with np.errstate(invalid="ignore", divide="ignore"):
        if fit["form"] == "power":
            return plain((sigma - fit["b"]) ** fit["c"] * fit["a"])
        limit: Array = fit["m"] * np.log(sigma) + fit["k"]
        return plain(np.where(limit > 0.0, limit, np.nan))


@dataclass(frozen=True, eq=False)
class BurrillCheck:
    """A propeller's loading against one of Burrill's lines; fields broadcast.

    cavitation_number: sigma at 0.7 R [-].   thrust_loading: tau_c [-].   permitted_loading: by the line [-].
    area_ratio_needed: expanded AE/A0 at which the two are equal [-].   outside: ranges left.
    """

    line: str
    cavitation_number: Real
    thrust_loading: Real
    permitted_loading: Real
    area_ratio_needed: Real
    outside: tuple[OutOfRange, ...]


def burrill_check(
    thrust: Real,
    diameter: Real,
    pitch_ratio: Real,
    area_ratio: Real,
    dynamic: Real,
    pressure: Real,
    line: str = "merchant",
) -> BurrillCheck:
    """Back-cavitation check of a propeller by Burrill's chart.

    thrust: [N].   diameter: [m].   pitch_ratio: P/D [-].   area_ratio: expanded AE/A0 [-].
    dynamic: as `dynamic_pressure` [Pa].   pressure: p0 - pv at the shaft centre [Pa]. They broadcast.
    line: a name of BURRILL_LINES.
    Source, valid range, error and what it raises: as `burrill_limit`; projected area by Taylor's relation.
    """
    sigma = plain(np.asarray(pressure, dtype=float) / dynamic)
    permitted = burrill_limit(sigma, line)
    load_per_area = np.asarray(thrust, dtype=float) / (np.asarray(dynamic) * disc_area(diameter))
    needed = expanded_ratio_from_projected(plain(load_per_area / permitted), pitch_ratio)
    low, high = _BURRILL["sigma_range"]
    pitch_low, pitch_high = _BURRILL["projected_area"]["pitch_ratio"]
    return BurrillCheck(
        line,
        sigma,
        plain(load_per_area / projected_area_ratio(area_ratio, pitch_ratio)),
        permitted,
        needed,
        outside_range("cavitation number", sigma, low, high, "the fits to Burrill's chart were compared only there")
        + outside_range("pitch ratio", pitch_ratio, pitch_low, pitch_high, "beyond it the projected area is a guess"),
    )


def blade_loading(thrust: Real, diameter: Real, area_ratio: Real) -> Real:
    """Thrust over developed blade area [Pa].

    thrust: [N].   diameter: [m].   area_ratio: AD/A0, or AE/A0 taken for it [-]. They broadcast.
    Error: of AE taken for AD, 6 %.   Source: definition.
    """
    return plain(np.asarray(thrust, dtype=float) / (np.asarray(disc_area(diameter)) * area_ratio))


def blade_loading_allowed(advance_speed: Real, depth: Real) -> Real:
    """Blade loading the handbook allows before cavitation [Pa]: 1.9 psi Va_kn^0.5 depth_ft^0.08.

    advance_speed: V (1 - w) [m/s].   depth: of the shaft centre [m]. They broadcast.
    Source: D. Gerr (1989), Propeller Handbook, formula 5-6, from memory; a published example lies within 3 %.
    """
    knots, feet = np.asarray(advance_speed) / KNOT, np.asarray(depth) / FOOT
    return plain(_LOADING["a"] * knots ** _LOADING["b"] * feet ** _LOADING["c"] * PSI)


@dataclass(frozen=True, eq=False)
class BladeLoadingCheck:
    """A propeller's blade loading against the handbook's; fields broadcast.

    loading, allowed_loading: thrust over developed blade area [Pa].
    area_ratio_needed: developed AD/A0 at which the two are equal [-].
    """

    loading: Real
    allowed_loading: Real
    area_ratio_needed: Real


def blade_loading_check(
    thrust: Real, diameter: Real, area_ratio: Real, advance_speed: Real, depth: Real
) -> BladeLoadingCheck:
    """Cavitation check of a propeller by the handbook's blade loading.

    thrust: [N].   diameter: [m].   area_ratio: developed AD/A0, or AE/A0 taken for it.   advance_speed: [m/s].
    depth: of the shaft centre [m]. They broadcast.
    Valid: under way; at no speed the rule allows no loading and the area needed is infinite.
    Source: as `blade_loading_allowed`.
    """
    allowed = blade_loading_allowed(advance_speed, depth)
    with np.errstate(divide="ignore"):
        needed = plain(np.asarray(blade_loading(thrust, diameter, 1.0)) / allowed)
    return BladeLoadingCheck(blade_loading(thrust, diameter, area_ratio), allowed, needed)

"""The Wageningen B-series and its correction for the blades' Reynolds number.

Source: M. W. C. Oosterveld & P. van Oossanen (1975), "Further computer-analyzed data of the Wageningen B-screw
series", International Shipbuilding Progress 22 (251), 251-262.
"""

from dataclasses import dataclass
from math import pi

import numpy as np
from numpy.typing import NDArray

from engine.data import table
from engine.numeric import Array, Real, plain
from engine.propeller.open_water import BladeFamily, OpenWater, series_from_table
from engine.propeller.polynomials import Term, collapse, powers_first, powers_last, widened
from engine.validity import OutOfRange, outside_range

_DATA = table("wageningen_b")

WAGENINGEN_B = series_from_table("wageningen_b")
"""The B-series at a blade Reynolds number of 2e6. Within 3 % in efficiency of the segmental series of stock wheels."""

TESTED_AREA_RATIOS: dict[int, tuple[float, ...]] = {
    int(blades): tuple(areas) for blades, areas in _DATA["validity"]["tested_area_ratio"].items()
}
"""Expanded area ratios of the models, by number of blades."""

REYNOLDS_LOW, REYNOLDS_HIGH = _DATA["validity"]["reynolds"]
REYNOLDS_WARN_BELOW: float = _DATA["validity"]["reynolds_warn_below"]
_SECTION = _DATA["section_at_075"]
_LOG10_OF_2 = 0.301


def blade_chord(diameter: Real, area_ratio: Real, blades: Real) -> Real:
    """Blade chord at 0.75 of the radius [m].

    diameter: [m].   area_ratio: expanded AE/A0 [-].   blades: [-]. They broadcast.
    Source: Oosterveld & van Oossanen (1975). Checked against: test_wageningen_b.py.
    """
    return plain(_SECTION["chord_factor"] * np.asarray(area_ratio) * diameter / blades)


def blade_thickness(diameter: Real, blades: Real) -> Real:
    """Blade thickness at 0.75 of the radius [m].

    diameter: [m].   blades: number. They broadcast.   Source: as `blade_chord`.
    """
    return plain((_SECTION["thickness_a"] - _SECTION["thickness_b"] * np.asarray(blades)) * diameter)


def reynolds_number(
    diameter: Real,
    area_ratio: Real,
    blades: Real,
    shaft_speed: Real,
    advance_speed: Real,
    kinematic_viscosity: Real,
) -> Real:
    """Reynolds number of the blade section at 0.75 of the radius [-].

    diameter: [m].   area_ratio: expanded AE/A0 [-].   blades: number.   shaft_speed: [rev/s].
    advance_speed: V (1 - w) [m/s].   kinematic_viscosity: [m2/s]. They broadcast.
    Source: Oosterveld & van Oossanen (1975).
    """
    around = 0.75 * pi * np.asarray(shaft_speed) * diameter
    relative_speed = np.hypot(np.asarray(advance_speed), around)
    return plain(blade_chord(diameter, area_ratio, blades) * relative_speed / kinematic_viscosity)


@dataclass(frozen=True, eq=False)
class ReynoldsCorrection:
    """What to add to KT and KQ for the blades' Reynolds number.

    open_water: the added cubics in J.   reynolds: the number used, held to 2e6..2e9.
    clamped: where the number asked for lay outside and was held.   outside: records with sentences for the owner.
    """

    open_water: OpenWater
    reynolds: Real
    clamped: NDArray[np.bool_]
    outside: tuple[OutOfRange, ...]


def reynolds_correction(pitch_ratio: Real, area_ratio: Real, blades: Real, reynolds: Real) -> ReynoldsCorrection:
    """Correction of the B-series for the blades' Reynolds number; add its `open_water` to the series' own.

    pitch_ratio: P/D [-].   area_ratio: expanded AE/A0 [-].   blades: number.   reynolds: as `reynolds_number` [-].
    They broadcast.
    Valid: 2e6 <= Rn <= 2e9; outside it is held at the nearer end and `clamped` says so. About 1 % of KQ for boats.
    Source: Oosterveld & van Oossanen (1975), table 6. Checked against: test_reynolds_correction.py.
    """
    asked = np.asarray(reynolds, dtype=float)
    used = np.clip(asked, REYNOLDS_LOW, REYNOLDS_HIGH)
    open_water = correction_family(area_ratio, blades, asked).at(pitch_ratio)
    low_note = "the blades are too small or slow for the tests; expect less thrust and more torque than computed"
    name = "Reynolds number of the blades, in millions,"
    records = outside_range(name, asked / 1e6, REYNOLDS_WARN_BELOW / 1e6, np.inf, low_note)
    return ReynoldsCorrection(open_water, plain(used), np.asarray(asked != used), records)


def correction_family(area_ratio: Real, blades: Real, reynolds: Real) -> BladeFamily:
    """The same correction for blades of one outline at any pitch; Rn is held to 2e6..2e9.

    area_ratio: expanded AE/A0 [-].   blades: number.   reynolds: as `reynolds_number` [-]. They broadcast.
    Returns: family of the broadcast shape.   Valid and source: as `reynolds_correction`.
    """
    L = np.log10(np.clip(np.asarray(reynolds, dtype=float), REYNOLDS_LOW, REYNOLDS_HIGH)) - _LOG10_OF_2
    return BladeFamily(*(_sum_over_log_powers(_DATA[key]["terms"], area_ratio, blades, L) for key in ("dkt", "dkq")))


def _sum_over_log_powers(rows: list[list[float]], area_ratio: Real, blades: Real, L: Real) -> Array:
    """Collapse the correction's polynomial in L, J, P/D, area and Z into coefficients of powers of P/D and J."""
    log_powers = np.asarray(L)
    total: Array = np.zeros(())
    for power in sorted({int(row[1]) for row in rows}):
        terms: tuple[Term, ...] = tuple(
            (row[0], int(row[2]), int(row[3]), int(row[4]), int(row[5])) for row in rows if row[1] == power
        )
        collapsed = widened(powers_first(collapse(terms, area_ratio, blades)), 2, log_powers.ndim)
        total = total + collapsed * log_powers**power
    return powers_last(total)

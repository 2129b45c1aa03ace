"""Wake, thrust deduction and relative rotative efficiency by Holtrop's regressions of ship models.

A third opinion for boats: the models are ships of L/B 3.9 to 15, and a boat's viscous coefficient is 2-3 times theirs.
Sources: J. Holtrop & G. G. J. Mennen (1982), "An approximate power prediction method", International Shipbuilding
Progress 29 (335), 166-170; J. Holtrop (1984), "A statistical re-analysis of resistance and propulsion data",
International Shipbuilding Progress 31 (363), 272-276. Checked against: test_holtrop_interaction.py.

All fields and arguments broadcast; factors are [-] and of the broadcast shape, not held to any limit.
Valid: `HoltropStern.outside` tells; the value is still the regression's.
"""

from dataclasses import dataclass

import numpy as np

from engine.numeric import Array, Real, arrays, plain
from engine.validity import OutOfRange, outside_range


@dataclass(frozen=True, eq=False)
class HoltropStern:
    """Hull and propeller as the regressions ask; fields broadcast.

    length: of the waterline [m].   beam, draft (mean), draft_aft: [m].   diameter: of the propeller [m].
    block_coefficient, prismatic_coefficient, midship_coefficient: on that length [-].
    buoyancy_centre_percent: centre of buoyancy forward of half length, % of length.
    stern_coefficient: -25 barge with gondola, -10 V sections, 0 normal, 10 U sections.
    """

    length: Real
    beam: Real
    draft: Real
    draft_aft: Real
    diameter: Real
    block_coefficient: Real
    prismatic_coefficient: Real
    midship_coefficient: Real
    buoyancy_centre_percent: Real
    stern_coefficient: Real = 0.0

    def outside(self) -> tuple[OutOfRange, ...]:
        """Where the hull leaves the ships of the regression: L/B 3.9 to 15, Cp 0.55 to 0.85; empty where it does not.

        Source: from memory.
        """
        ratio = plain(np.asarray(self.length) / self.beam)
        note = "range of the ships behind Holtrop's propulsion factors"
        return outside_range("length-beam ratio", ratio, 3.9, 15.0, note) + outside_range(
            "prismatic coefficient", self.prismatic_coefficient, 0.55, 0.85, note
        )


def viscous_resistance_coefficient(
    viscous_resistance: Real, speed: Real, wetted_area_total: Real, density: Real
) -> Real:
    """CV = [RF (1 + k1) + R_appendages + R_correlation]/(0.5 rho V2 (S + S_appendages)) [-].

    viscous_resistance: the three together [N].   speed: of the ship [m/s], > 0.
    wetted_area_total: S + S_appendages [m2].   density: [kg/m3].
    Source: definition; on S + S_appendages, as the printed example needs.
    """
    dynamic = 0.5 * np.asarray(density) * np.square(np.asarray(speed))
    return plain(np.asarray(viscous_resistance) / (dynamic * wetted_area_total))


def wake_fraction_single_1982(stern: HoltropStern, viscous_coefficient: Real, wetted_area_total: Real) -> Real:
    """Wake fraction of a single-screw ship with a conventional stern, 1982 form.

    viscous_coefficient: as `viscous_resistance_coefficient`.   wetted_area_total: S + S_appendages [m2].
    Status: the equation from memory; it reproduces the paper's example.
    """
    L, B, Cp, Cb, CV = arrays(
        stern.length, stern.beam, stern.prismatic_coefficient, stern.block_coefficient, viscous_coefficient
    )
    run = 1.0 - _prismatic_of_run(stern)
    c9, c11 = _c9(stern, wetted_area_total), _c11(stern)
    shape = np.asarray(stern.stern_coefficient)
    return plain(
        c9 * CV * L / stern.draft_aft * (0.0661875 + 1.21756 * c11 * CV / run)
        + 0.24558 * np.sqrt(B / (L * run))
        - 0.09726 / (0.95 - Cp)
        + 0.11434 / (0.95 - Cb)
        + 0.75 * shape * CV
        + 0.002 * shape
    )


def thrust_deduction_single_1982(stern: HoltropStern) -> Real:
    """Thrust deduction of a single-screw ship, 1982 form.   Status: it reproduces the paper's example."""
    L, B, T, D = arrays(stern.length, stern.beam, stern.draft, stern.diameter)
    slenderness = np.where(L / B > 5.2, B / L, 0.25 - 0.003328402 / (B / L - 0.134615385))
    return plain(
        0.001979 * L / (B * (1.0 - _prismatic_of_run(stern)))
        + 1.0585 * slenderness
        - 0.00524
        - 0.1418 * D**2 / (B * T)
        + 0.0015 * np.asarray(stern.stern_coefficient)
    )


def relative_rotative_efficiency_single(stern: HoltropStern, area_ratio: Real) -> Real:
    """Relative rotative efficiency of a single screw, both papers.

    area_ratio: expanded AE/A0 [-].   Status: one copy, verified.
    """
    return plain(0.9922 - 0.05908 * np.asarray(area_ratio) + 0.07424 * _afterbody(stern))


def wake_fraction_single_1984(stern: HoltropStern, viscous_coefficient: Real, wetted_area_total: Real) -> Real:
    """Wake fraction of a single-screw ship with a conventional stern, 1984 form; arguments as the 1982 one.

    Status: two copies agree, except the branch for Cp >= 0.7, from memory.
    """
    L, B, Cp, Cb, CV = arrays(
        stern.length, stern.beam, stern.prismatic_coefficient, stern.block_coefficient, viscous_coefficient
    )
    run = 1.0 - _prismatic_of_run(stern)
    c9, c11 = _c9(stern, wetted_area_total), _c11(stern)
    c20 = 1.0 + 0.015 * np.asarray(stern.stern_coefficient)
    full = 0.18567 / (1.3571 - np.asarray(stern.midship_coefficient)) - 0.71276 + 0.38648 * Cp
    c19 = np.where(Cp < 0.7, 0.12997 / (0.95 - Cb) - 0.11056 / (0.95 - Cp), full)
    return plain(
        c9 * c20 * CV * L / stern.draft_aft * (0.050776 + 0.93405 * c11 * CV / run)
        + 0.27915 * c20 * np.sqrt(B / (L * run))
        + c19 * c20
    )


def thrust_deduction_single_1984(stern: HoltropStern) -> Real:
    """Thrust deduction of a single-screw ship, 1984 form.   Status: from memory, one copy agrees."""
    L, B, T, D = arrays(stern.length, stern.beam, stern.draft, stern.diameter)
    afterbody = 1.0 - np.asarray(stern.prismatic_coefficient) + 0.0225 * np.asarray(stern.buoyancy_centre_percent)
    return plain(
        0.25014 * (B / L) ** 0.28956 * (np.sqrt(B * T) / D) ** 0.2624 / afterbody**0.01762
        + 0.0015 * np.asarray(stern.stern_coefficient)
    )


def wake_fraction_twin(stern: HoltropStern, viscous_coefficient: Real) -> Real:
    """Wake fraction of a twin-screw ship, both papers.

    viscous_coefficient: as `viscous_resistance_coefficient`.   Status: from memory; it reproduces the 1984 example.
    """
    Cb, CV = arrays(stern.block_coefficient, viscous_coefficient)
    return plain(0.3095 * Cb + 10.0 * CV * Cb - 0.23 * _disc_ratio(stern))


def thrust_deduction_twin(stern: HoltropStern) -> Real:
    """Thrust deduction of a twin-screw ship, both papers.   Status: from memory; it reproduces the 1984 example."""
    return plain(0.325 * np.asarray(stern.block_coefficient) - 0.1885 * _disc_ratio(stern))


def relative_rotative_efficiency_twin(stern: HoltropStern, pitch_ratio: Real) -> Real:
    """Relative rotative efficiency of twin screws, both papers; the pitch term is subtracted.

    pitch_ratio: P/D [-].   Status: one copy, verified.
    """
    return plain(0.9737 + 0.111 * _afterbody(stern) - 0.06325 * np.asarray(pitch_ratio))


def _prismatic_of_run(stern: HoltropStern) -> Array:
    """CP1 = 1.45 Cp - 0.315 - 0.0225 lcb."""
    Cp, lcb = arrays(stern.prismatic_coefficient, stern.buoyancy_centre_percent)
    return 1.45 * Cp - 0.315 - 0.0225 * lcb


def _afterbody(stern: HoltropStern) -> Array:
    """Cp - 0.0225 lcb."""
    Cp, lcb = arrays(stern.prismatic_coefficient, stern.buoyancy_centre_percent)
    return Cp - 0.0225 * lcb


def _disc_ratio(stern: HoltropStern) -> Array:
    """D/sqrt(B T)."""
    B, T, D = arrays(stern.beam, stern.draft, stern.diameter)
    return D / np.sqrt(B * T)


def _c9(stern: HoltropStern, wetted_area_total: Real) -> Array:
    """c8 limited; on S + S_appendages, which the printed c9 of 14.500 needs."""
    L, B, TA, D, S = arrays(stern.length, stern.beam, stern.draft_aft, stern.diameter, wetted_area_total)
    with np.errstate(divide="ignore", invalid="ignore"):
        wide = S * (7.0 * B / TA - 25.0) / (L * D * (B / TA - 3.0))
        c8 = np.where(B / TA < 5.0, B * S / (L * D * TA), wide)
        return np.where(c8 < 28.0, c8, 32.0 - 16.0 / (c8 - 24.0))


def _c11(stern: HoltropStern) -> Array:
    """Draft over diameter, cubed when deep."""
    TA, D = arrays(stern.draft_aft, stern.diameter)
    return np.where(TA / D < 2.0, TA / D, 0.0833333 * (TA / D) ** 3 + 1.33333)

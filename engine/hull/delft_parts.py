"""What the three methods of the Delft Systematic Yacht Hull Series share.

Sources: J. Gerritsma, J. A. Keuning & R. Onnink (1992), Sailing yacht performance in calm water and in waves;
J. A. Keuning & U. B. Sonnenberg (1998), Approximation of the hydrodynamic forces on a sailing yacht based on the Delft
Systematic Yacht Hull Series, HISWA; J. A. Keuning & M. Katgert (2008), A bare hull resistance prediction method derived
from the results of the Delft Systematic Yacht Hull Series extended to higher speeds, RINA Lorient.
"""

from functools import cache

import numpy as np

from engine.data import table
from engine.hull.assembly import assemble_parts
from engine.hull.curves import monotone_cubic
from engine.hull.form import HullForm
from engine.hull.holtrop_parts import correlation_allowance
from engine.hull.resistance import Resistance
from engine.hull.wetted_surface import wetted_surface_delft
from engine.numeric import Array, Real, plain
from engine.water import Water

FRICTION_LENGTH_SHARE = 0.7
"""Reynolds number on this share of the waterline length."""

LAST_SLOW_FROUDE_NUMBER = 0.20
"""To here a negative value of a regression is its scatter about nothing, and is set to zero (ours)."""


@cache
def coefficient_table(name: str, key: str = "coefficients") -> tuple[Array, Array]:
    """Froude numbers (F,) and coefficients (F, C) of one method in engine/data/delft.toml, both [-], read-only.

    Raises: KeyError for a method or table that is not there.   Source: as the file says.
    """
    rows: Array = np.array(table("delft")[name][key], dtype=float)
    rows.flags.writeable = False
    return rows[:, 0], rows[:, 1:]


def stacked(*features: Real) -> Array:
    """Features of a hull, which broadcast, side by side on a new last axis."""
    return np.stack(np.broadcast_arrays(*features), axis=-1)


def distance_from_bow(form: HullForm, percent_forward: Real) -> Real:
    """Distance of a centre from the forward end of the waterline [m].

    percent_forward: of half length, % of the waterline length; broadcasts with the form.   Source: definition.
    """
    return plain(form.waterline_length * (0.5 - 0.01 * np.asarray(percent_forward)))


def canoe_body_wetted_surface(form: HullForm) -> Real:
    """The measured wetted surface [m2] where the form has one, else the series' own formula."""
    return wetted_surface_delft(form) if form.wetted_surface is None else form.wetted_surface


def interpolate_shares(grid: Array, shares: Array, froude_number: Real) -> Real:
    """Residuary resistance over weight between the Froude numbers of a table: a monotone cubic, from zero at rest.

    grid: (F,) rising.   shares: (..., F), values of the regression for each hull; negatives at slow speed become zero.
    Returns: the broadcast shape of shares[..., 0] and froude_number [-]; NaN beyond the table.
    Source: `monotone_cubic`; from zero at rest is ours.
    """
    believable = np.where(grid <= LAST_SLOW_FROUDE_NUMBER, np.maximum(shares, 0.0), shares)
    from_rest = np.concatenate([np.zeros((*shares.shape[:-1], 1)), believable], axis=-1)
    return monotone_cubic(np.concatenate([[0.0], grid]), from_rest, froude_number)


def shares_by_slenderness(form: HullForm, coefficients: Array, *features: Real) -> Array:
    """Residuary resistance over weight [-], a0 + (volume^(1/3)/L) (a1 x1 + a2 x2 ...), on a new last axis.

    coefficients: (F, 1 + features), one row for each Froude number of the table.   features: [-], broadcast.
    Returns: the broadcast shape + (F,).   Source: the form of the regressions of 1998 and 2008.
    """
    slope = np.asarray(1.0 / form.slenderness)[..., None]
    return np.asarray(coefficients[:, 0] + slope * (stacked(*features) @ coefficients[:, 1:].T))


def residuary_resistance(
    form: HullForm, grid: Array, shares: Array, froude_number: Real, water: Water, *, gravity: float
) -> Real:
    """Residuary resistance of the canoe body [N] from its shares of the weight at the Froude numbers of a table.

    grid, shares, froude_number: as `interpolate_shares`.   gravity: [m/s2].
    """
    weight = form.volume * water.density * gravity
    return plain(weight * interpolate_shares(grid, shares, froude_number))


def assemble_delft(form: HullForm, speed: Real, water: Water, *, wave: Real) -> Resistance:
    """All parts together: friction on 0.7 of the waterline length, no form factor.

    The series has no allowance for the surface of a real boat; the standard one of Holtrop & Mennen is added (ours),
    so that the methods can be compared.
    speed: [m/s], not negative.   wave: residuary resistance [N]. They broadcast with form and water.
    Raises: ValueError for a negative speed.   Source: friction as in the papers of the series.
    """
    return assemble_parts(
        form,
        speed,
        water,
        wetted_surface=canoe_body_wetted_surface(form),
        friction_length=plain(FRICTION_LENGTH_SHARE * form.waterline_length),
        form_factor=1.0,
        wave=wave,
        correlation=correlation_allowance(form),
    )

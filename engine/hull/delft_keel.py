"""Residuary resistance of a fin keel, upright.

Source: J. A. Keuning & U. B. Sonnenberg (1998), Approximation of the hydrodynamic forces on a sailing yacht based on
the Delft Systematic Yacht Hull Series, HISWA. Only for fin keels: a long keel is part of the hull's form.
"""

import numpy as np

from engine.hull.delft_parts import coefficient_table, interpolate_shares, stacked
from engine.hull.form import HullForm
from engine.numeric import Real, plain
from engine.water import Water


def keel_residuary_resistance(
    froude_number: Real,
    *,
    keel_volume: Real,
    total_draft: Real,
    hull_draft: Real,
    buoyancy_depth: Real,
    beam: Real,
    hull_volume: Real,
    water_density: Real,
    gravity: float,
) -> Real:
    """Residuary resistance of a fin keel [N].

    froude_number: on the waterline length [-].   keel_volume, hull_volume: displaced by keel and canoe body [m3].
    total_draft: to the bottom of the keel [m]; hull_draft: of the canoe body [m]; beam: of the waterline [m].
    buoyancy_depth: of the keel's centre of buoyancy below its root [m].   water_density: [kg/m3]; gravity: [m/s2].
    Returns: broadcast shape; zero where there is no keel volume, never negative (a negative value of the regression is
    set to zero), NaN above Fn 0.60. Below Fn 0.20, where the table begins, it goes to zero at rest (ours).
    Valid: fin keels.   Source: Keuning & Sonnenberg (1998); two copies of the table agree.
    """
    has_keel = np.asarray(keel_volume) > 0.0
    volume = np.where(has_keel, keel_volume, 1.0)
    grid, coefficients = coefficient_table("keel")
    depth = hull_draft + buoyancy_depth
    features = stacked(1.0, total_draft / beam, depth / np.cbrt(volume), hull_volume / volume)
    shares = np.maximum(features @ coefficients.T, 0.0)
    weight = volume * water_density * gravity
    return plain(np.where(has_keel, weight * interpolate_shares(grid, shares, froude_number), 0.0))


def keel_of(form: HullForm, froude_number: Real, water: Water, *, gravity: float) -> Real:
    """Residuary resistance of the form's keel [N], zero without one; its centre of buoyancy is taken at half its depth
    (ours)."""
    if not np.any(form.keel_volume):
        return 0.0
    total_draft = form.draft if form.keel_draft is None else form.keel_draft
    return keel_residuary_resistance(
        froude_number,
        keel_volume=form.keel_volume,
        total_draft=total_draft,
        hull_draft=form.draft,
        buoyancy_depth=plain(0.5 * (total_draft - np.asarray(form.draft))),
        beam=form.waterline_beam,
        hull_volume=form.volume,
        water_density=water.density,
        gravity=gravity,
    )

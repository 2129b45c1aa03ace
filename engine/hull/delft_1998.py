"""Calm-water resistance of a bare canoe body by the Delft yacht series, 1998.

Source: J. A. Keuning & U. B. Sonnenberg (1998), Approximation of the hydrodynamic forces on a sailing yacht based on
the Delft Systematic Yacht Hull Series, HISWA; three copies of the table agree. Checked against:
tests/published/test_tank_models.py.
"""

import numpy as np

from engine import constants
from engine.hull.delft_keel import keel_of
from engine.hull.delft_parts import (
    assemble_delft,
    canoe_body_wetted_surface,
    coefficient_table,
    distance_from_bow,
    residuary_resistance,
    shares_by_slenderness,
)
from engine.hull.form import HullForm, once_for_a_form
from engine.hull.resistance import Resistance
from engine.numeric import Array, Real, plain
from engine.water import Water


@once_for_a_form
def tabulated_shares_1998(form: HullForm) -> Array:
    """Residuary resistance over weight of the canoe body [-] at the table's Froude numbers, on a new last axis.

    Returns: the form's shape + (F,).   Valid and source: as `resistance_delft_1998`.
    """
    L, CP = form.waterline_length, np.asarray(form.prismatic_coefficient)
    face = np.square(np.cbrt(form.volume))
    buoyancy, flotation = distance_from_bow(form, form.lcb_percent), distance_from_bow(form, form.flotation_percent)
    _, coefficients = coefficient_table("delft_1998")
    return shares_by_slenderness(
        form,
        coefficients,
        plain(buoyancy / L),
        plain(CP),
        plain(face / form.waterplane_area),
        plain(form.waterline_beam / L),
        plain(face / canoe_body_wetted_surface(form)),
        plain(buoyancy / flotation),
        plain(np.square(buoyancy / L)),
        plain(CP**2),
    )


def resistance_delft_1998(
    form: HullForm, speed: Real, water: Water, *, gravity: float = constants.GRAVITY
) -> Resistance:
    """Resistance of canoe body, fin keel and appendages in deep, calm water, Keuning & Sonnenberg (1998).

    form, speed [m/s], water: any shapes that broadcast; speed 0 gives zero resistance.
    gravity: [m/s2].
    Returns: Resistance [N], broadcast shape; NaN above Fn 0.60. `wave` is residuary resistance, with that of a fin keel
    where the form has a keel volume. `correlation` is ours, see assemble_delft.
    Valid: see methods.range_report; round-bilged canoe bodies.   Raises: ValueError for a negative speed.
    """
    Fn = form.froude_number(speed, gravity=gravity)
    grid, _ = coefficient_table("delft_1998")
    hull = residuary_resistance(form, grid, tabulated_shares_1998(form), Fn, water, gravity=gravity)
    return assemble_delft(form, speed, water, wave=plain(hull + keel_of(form, Fn, water, gravity=gravity)))

"""Calm-water resistance of a bare canoe body by the Delft yacht series, 2008.

Source: J. A. Keuning & M. Katgert (2008), A bare hull resistance prediction method derived from the results of the
Delft Systematic Yacht Hull Series extended to higher speeds, RINA Lorient; one copy of the table and memory agree.
Checked against: tests/published/test_tank_models.py.
"""

from engine import constants
from engine.hull.delft_keel import keel_of
from engine.hull.delft_parts import (
    assemble_delft,
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
def tabulated_shares_2008(form: HullForm) -> Array:
    """Residuary resistance over weight of the canoe body [-] at the table's Froude numbers, on a new last axis.

    Returns: the form's shape + (F,).   Valid and source: as `resistance_delft_2008`.
    """
    L = form.waterline_length
    buoyancy, flotation = distance_from_bow(form, form.lcb_percent), distance_from_bow(form, form.flotation_percent)
    _, coefficients = coefficient_table("delft_2008")
    return shares_by_slenderness(
        form,
        coefficients,
        plain(buoyancy / L),
        form.prismatic_coefficient,
        plain(1.0 / form.waterplane_volume_ratio),
        plain(form.waterline_beam / L),
        plain(buoyancy / flotation),
        form.beam_draft_ratio,
        form.midship_coefficient,
    )


def resistance_delft_2008(
    form: HullForm, speed: Real, water: Water, *, gravity: float = constants.GRAVITY
) -> Resistance:
    """Resistance of canoe body, fin keel and appendages in deep, calm water, Keuning & Katgert (2008).

    form, speed [m/s], water: any shapes that broadcast; speed 0 gives zero resistance.
    gravity: [m/s2].
    Returns: Resistance [N], broadcast shape; NaN above Fn 0.75, with a keel volume above 0.60, where the keel's table
    ends. `wave` is residuary resistance, that of a fin keel in it. `correlation` is ours, see assemble_delft.
    Valid: see methods.range_report; round-bilged canoe bodies.   Raises: ValueError for a negative speed.
    """
    Fn = form.froude_number(speed, gravity=gravity)
    grid, _ = coefficient_table("delft_2008")
    hull = residuary_resistance(form, grid, tabulated_shares_2008(form), Fn, water, gravity=gravity)
    return assemble_delft(form, speed, water, wave=plain(hull + keel_of(form, Fn, water, gravity=gravity)))

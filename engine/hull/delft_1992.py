"""Calm-water resistance of a yacht with keel and rudder by the Delft yacht series, 1992.

Source: J. Gerritsma, J. A. Keuning & R. Onnink (1992), Sailing yacht performance in calm water and in waves; one copy
of each table. Checked against: tests/published/test_tank_models.py, the slow table only.
"""

import numpy as np

from engine import constants
from engine.hull.delft_parts import assemble_delft, coefficient_table, residuary_resistance, stacked
from engine.hull.form import HullForm, once_for_a_form
from engine.hull.resistance import Resistance
from engine.numeric import Array, Real
from engine.water import Water


@once_for_a_form
def tabulated_shares_1992(form: HullForm) -> Array:
    """Residuary resistance over weight of the canoe body [-] at the Froude numbers of both tables, on a new last axis.

    Slow table, Fn 0.125 to 0.45, then fast table, 0.475 to 0.75.
    Returns: the form's shape + (F,).   Valid and source: as `resistance_delft_1992`.
    """
    CP, lcb, q = np.asarray(form.prismatic_coefficient), np.asarray(form.lcb_percent), np.asarray(form.slenderness)
    slow = stacked(1.0, CP, lcb, form.beam_draft_ratio, q, CP**2, CP * q, lcb**2, q**2, q**3)
    length_beam, waterplane = np.asarray(form.length_beam_ratio), np.asarray(form.waterplane_volume_ratio)
    fast = stacked(1.0, length_beam, waterplane, lcb, length_beam**2, length_beam * waterplane**3)
    slow_coefficients = coefficient_table("delft_1992")[1]
    fast_coefficients = coefficient_table("delft_1992", "fast_coefficients")[1]
    parts = (slow @ slow_coefficients.T, fast @ fast_coefficients.T)
    shape = np.broadcast_shapes(parts[0].shape[:-1], parts[1].shape[:-1])
    return 1e-3 * np.concatenate([np.broadcast_to(part, (*shape, part.shape[-1])) for part in parts], axis=-1)


def resistance_delft_1992(
    form: HullForm, speed: Real, water: Water, *, gravity: float = constants.GRAVITY
) -> Resistance:
    """Resistance of a yacht as tested, in deep, calm water, Gerritsma, Keuning & Onnink (1992).

    form, speed [m/s], water: any shapes that broadcast; speed 0 gives zero resistance.
    gravity: [m/s2].
    Returns: Resistance [N], broadcast shape; NaN above Fn 0.75. `wave` is residuary resistance; the keel and rudder of
    the models are in it, so a keel volume adds nothing. `correlation` is ours, see assemble_delft.
    The two tables need not meet: between Fn 0.45 and 0.475 resistance can fall, by up to 7 % for yachts within the
    ranges.
    Valid: see methods.range_report; round-bilged yachts with a fin keel.   Raises: ValueError for a negative speed.
    """
    Fn = form.froude_number(speed, gravity=gravity)
    grid = np.concatenate([coefficient_table("delft_1992")[0], coefficient_table("delft_1992", "fast_coefficients")[0]])
    wave = residuary_resistance(form, grid, tabulated_shares_1992(form), Fn, water, gravity=gravity)
    return assemble_delft(form, speed, water, wave=wave)

"""Calm-water resistance by Holtrop & Mennen (1982).

Source: J. Holtrop & G. G. J. Mennen (1982), An approximate power prediction method, International Shipbuilding
Progress 29 (335), 166-170. Checked against: tests/published/test_holtrop_1982.py.
"""

import numpy as np

from engine import constants
from engine.hull.form import HullForm, once_for_a_form
from engine.hull.holtrop_form import run_length, wave_coefficients
from engine.hull.holtrop_parts import SLOWEST_FROUDE_NUMBER, assemble_resistance, wave_component
from engine.hull.resistance import Resistance
from engine.numeric import Real, plain
from engine.validity import defined_where
from engine.water import Water


def draft_length_coefficient_c12(form: HullForm) -> Real:
    """How her draft raises the form factor [-]; in three pieces of draft over length."""
    ratio = np.asarray(form.draft / form.waterline_length)
    deep = ratio**0.2228446
    middle = 48.20 * np.maximum(ratio - 0.02, 0.0) ** 2.078 + 0.479948
    return plain(np.where(ratio > 0.05, deep, np.where(ratio > 0.02, middle, 0.479948)))


@once_for_a_form
def form_factor_1982(form: HullForm) -> Real:
    """1 + k1 [-]; NaN where CP >= 0.95 or the centre of buoyancy is too far aft for the formula."""
    CP = np.asarray(form.prismatic_coefficient)
    fullness = defined_where(CP < 0.95, 0.95 - CP)
    fineness = np.asarray(1.0 - CP + 0.0225 * form.lcb_percent)
    c13 = 1.0 + 0.003 * form.stern_coefficient
    run = (form.waterline_beam / run_length(form)) ** 0.92497
    shape = run * fullness**-0.521448 * defined_where(fineness > 0.0, fineness) ** 0.6906
    return plain(c13 * (0.93 + draft_length_coefficient_c12(form) * shape))


def interference_m2(form: HullForm, froude_number: Real) -> Real:
    """How the bow and stern waves meet [-]; zero at rest."""
    Fn = np.maximum(froude_number, SLOWEST_FROUDE_NUMBER)
    c15 = wave_coefficients(form).interference
    return plain(c15 * np.square(form.prismatic_coefficient) * np.exp(-0.1 / np.square(Fn)))


def resistance_holtrop_1982(
    form: HullForm, speed: Real, water: Water, *, gravity: float = constants.GRAVITY
) -> Resistance:
    """Resistance of hull and appendages in deep, calm water, Holtrop & Mennen (1982).

    form, speed [m/s], water: any shapes that broadcast; speed 0 gives zero resistance.
    gravity: [m/s2]; the paper uses 9.81.
    Returns: Resistance [N], broadcast shape; NaN where the formulas have no value.
    Valid: see methods.range_report. Error: none published for boats.   Raises: ValueError for a negative speed.
    """
    Fn = form.froude_number(speed, gravity=gravity)
    coefficients = wave_coefficients(form)
    wave = wave_component(
        form,
        coefficients,
        water,
        Fn,
        amplitude=coefficients.amplitude,
        decay=coefficients.decay,
        interference=interference_m2(form, Fn),
        gravity=gravity,
    )
    return assemble_resistance(form, speed, water, form_factor=form_factor_1982(form), wave=wave, gravity=gravity)

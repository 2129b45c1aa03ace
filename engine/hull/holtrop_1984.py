"""Calm-water resistance by Holtrop (1984).

Source: J. Holtrop (1984), A statistical re-analysis of resistance and propulsion data, International Shipbuilding
Progress 31 (363), 272-276. Checked against: tests/published/test_holtrop_1984.py.
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

BRIDGE_START = 0.40
BRIDGE_END = 0.55
"""Froude numbers between which the paper joins its slow and its fast formula by a straight line."""


@once_for_a_form
def form_factor_1984(form: HullForm) -> Real:
    """1 + k1 [-]."""
    L, B, T = form.waterline_length, form.waterline_beam, form.draft
    c14 = 1.0 + 0.011 * form.stern_coefficient
    shape = (
        (B / L) ** 1.06806
        * (T / L) ** 0.46106
        * (L / run_length(form)) ** 0.121563
        * (L**3 / form.volume) ** 0.36486
        * (1.0 - form.prismatic_coefficient) ** -0.604247
    )
    return plain(0.93 + 0.487118 * c14 * shape)


@once_for_a_form
def fast_amplitude_c17(form: HullForm) -> Real:
    """Wave amplitude above the bridge [-]; NaN at a length-beam ratio of 2 and less, where the formula has no value."""
    excess = np.asarray(form.length_beam_ratio) - 2.0
    midship = form.midship_coefficient**-1.3346
    return plain(6919.3 * midship * form.slenderness**-6.02931 * defined_where(excess > 0.0, excess) ** 1.40692)


@once_for_a_form
def fast_decay_m3(form: HullForm) -> Real:
    """How fast the waves above the bridge die out as the boat slows [-]."""
    B = form.waterline_beam
    return plain(-7.2035 * (B / form.waterline_length) ** 0.326869 * (form.draft / B) ** 0.605375)


def interference_m4(form: HullForm, froude_number: Real) -> Real:
    """How the bow and stern waves meet [-]; zero at rest."""
    Fn = np.maximum(froude_number, SLOWEST_FROUDE_NUMBER)
    return plain(wave_coefficients(form).interference * 0.4 * np.exp(-0.034 * Fn**-3.29))


def wave_resistance_1984(form: HullForm, speed: Real, water: Water, *, gravity: float) -> Real:
    """RW [N]: slow formula to Fn 0.40, fast formula from 0.55, a straight line in Fn between."""
    froude = np.asarray(form.froude_number(speed, gravity=gravity))
    coefficients = wave_coefficients(form)
    slow_froude = plain(np.minimum(froude, BRIDGE_START))
    fast_froude = plain(np.maximum(froude, BRIDGE_END))
    slow = wave_component(
        form,
        coefficients,
        water,
        slow_froude,
        amplitude=coefficients.amplitude,
        decay=coefficients.decay,
        interference=interference_m4(form, slow_froude),
        gravity=gravity,
    )
    if (froude <= BRIDGE_START).all():
        return slow
    fast = wave_component(
        form,
        coefficients,
        water,
        fast_froude,
        amplitude=fast_amplitude_c17(form),
        decay=fast_decay_m3(form),
        interference=interference_m4(form, fast_froude),
        gravity=gravity,
    )
    share = (froude - BRIDGE_START) / (BRIDGE_END - BRIDGE_START)
    bridge = slow + share * (fast - slow)
    return plain(np.where(froude <= BRIDGE_START, slow, np.where(froude >= BRIDGE_END, fast, bridge)))


def resistance_holtrop_1984(
    form: HullForm, speed: Real, water: Water, *, gravity: float = constants.GRAVITY
) -> Resistance:
    """Resistance of hull and appendages in deep, calm water, Holtrop (1984).

    form, speed [m/s], water: any shapes that broadcast; speed 0 gives zero resistance.
    gravity: [m/s2]; the paper uses 9.81.
    Returns: Resistance [N], broadcast shape; NaN where the formulas have no value, among them every speed above
    Fn 0.40 of a hull not longer than twice its beam.
    Valid: see methods.range_report. Error: within 15 % on average for yacht forms to Fn 0.40; 29 % low at Fn 0.425 and
    43 % low at 0.45. The joint at Fn 0.40 has a kink by construction.   Raises: ValueError for a negative speed.
    """
    wave = wave_resistance_1984(form, speed, water, gravity=gravity)
    return assemble_resistance(form, speed, water, form_factor=form_factor_1984(form), wave=wave, gravity=gravity)

"""Resistance parts that Holtrop & Mennen (1982) and Holtrop (1984) share; sources as in holtrop_form.

Correlation resistance and the viscous coefficient are taken on the wetted surface with appendages: only so do the
printed totals of both worked examples come out.
Form, speed [m/s], Froude number [-] and water broadcast; gravity [m/s2]. Every value has the broadcast shape, but a
part that no hull has.
"""

import numpy as np

from engine.hull.assembly import assemble_parts
from engine.hull.form import HullForm, once_for_a_form
from engine.hull.holtrop_form import WaveCoefficients, bare_hull_wetted_surface, bulb_wave_reduction_c2
from engine.hull.resistance import Resistance
from engine.numeric import Real, plain
from engine.validity import defined_where
from engine.water import Water

SLOWEST_FROUDE_NUMBER = 1e-3
"""Slower, wave resistance is zero: the formulas' own value is below 1e-80 of the weight for any boat-like hull."""

WAVE_DECAY_EXPONENT = -0.9
"""Both papers' d."""


def wave_component(
    form: HullForm,
    coefficients: WaveCoefficients,
    water: Water,
    froude_number: Real,
    *,
    amplitude: Real,
    decay: Real,
    interference: Real,
    gravity: float,
) -> Real:
    """One wave resistance term [N], amplitude * exp{decay Fn^-0.9 + interference cos(lambda Fn^-2)} times weight.

    amplitude, decay, interference: [-].
    """
    froude = np.asarray(froude_number)
    moving = froude > SLOWEST_FROUDE_NUMBER
    Fn = np.where(moving, froude, 1.0)
    exponent = decay * Fn**WAVE_DECAY_EXPONENT + interference * np.cos(coefficients.wave_length / np.square(Fn))
    weight = form.volume * water.density * gravity
    return plain(np.where(moving, amplitude * coefficients.reduction * weight * np.exp(exponent), 0.0))


def bulb_emergence(form: HullForm) -> Real:
    """PB, how near the surface the bulb is [-]; NaN without a bulb or where its centre is too high for the formula."""
    depth = np.asarray(form.draft_forward - 1.5 * form.bulb_height)
    return plain(0.56 * np.sqrt(form.bulb_area) / defined_where((depth > 0.0) & (form.bulb_area > 0.0), depth))


def bulb_froude_number(form: HullForm, speed: Real, *, gravity: float) -> Real:
    """Fni, on the immersion of the bulb [-]."""
    immersion = form.draft_forward - form.bulb_height - 0.25 * np.sqrt(form.bulb_area)
    square = np.asarray(gravity * immersion + 0.15 * np.square(speed))
    return plain(speed / np.sqrt(defined_where(square > 0.0, square)))


def bulb_resistance(form: HullForm, speed: Real, water: Water, *, gravity: float) -> Real:
    """RB [N]: pressure resistance of a bulb near the surface; zero without one."""
    if not np.any(form.bulb_area):
        return 0.0
    Fni = bulb_froude_number(form, speed, gravity=gravity)
    size = np.power(form.bulb_area, 1.5) * water.density * gravity
    resistance = 0.11 * np.exp(-3.0 / np.square(bulb_emergence(form))) * Fni**3 * size / (1.0 + np.square(Fni))
    return plain(np.where(np.asarray(form.bulb_area) > 0.0, resistance, 0.0))


def transom_froude_number(form: HullForm, speed: Real, *, gravity: float) -> Real:
    """FnT, on the immersion of the transom [-]; NaN without an immersed transom."""
    area = defined_where(np.asarray(form.transom_area) > 0.0, form.transom_area)
    width = form.waterline_beam * (1.0 + form.waterplane_coefficient)
    return plain(speed / np.sqrt(2.0 * gravity * area / width))


def transom_resistance(form: HullForm, speed: Real, water: Water, *, gravity: float) -> Real:
    """RTR [N]: pressure lost at an immersed transom, until it runs dry at FnT 5; zero without one."""
    if not np.any(form.transom_area):
        return 0.0
    FnT = np.asarray(transom_froude_number(form, speed, gravity=gravity))
    c6 = np.where(FnT < 5.0, 0.2 * (1.0 - 0.2 * FnT), 0.0)
    return plain(0.5 * water.density * np.square(speed) * form.transom_area * c6)


@once_for_a_form
def correlation_allowance(form: HullForm) -> Real:
    """CA [-]: from model to ship, with a standard hull roughness of 150 micrometres in it."""
    L = form.waterline_length
    c4 = np.minimum(form.draft_forward / L, 0.04)
    full = 0.003 * np.sqrt(L / 7.5) * form.block_coefficient**4 * bulb_wave_reduction_c2(form) * (0.04 - c4)
    return plain(0.006 * (L + 100.0) ** -0.16 - 0.00205 + full)


def assemble_resistance(
    form: HullForm, speed: Real, water: Water, *, form_factor: Real, wave: Real, gravity: float
) -> Resistance:
    """All parts together.

    form_factor: 1 + k1 [-]; wave: wave resistance [N]; speed [m/s], not negative.
    Raises: ValueError for a negative speed.
    """
    return assemble_parts(
        form,
        speed,
        water,
        wetted_surface=bare_hull_wetted_surface(form),
        friction_length=form.waterline_length,
        form_factor=form_factor,
        wave=wave,
        correlation=correlation_allowance(form),
        bulb=bulb_resistance(form, speed, water, gravity=gravity),
        transom=transom_resistance(form, speed, water, gravity=gravity),
    )

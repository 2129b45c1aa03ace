"""Form quantities that Holtrop & Mennen (1982) and Holtrop (1984) share.

Sources: J. Holtrop & G. G. J. Mennen (1982), An approximate power prediction method, International Shipbuilding
Progress 29 (335), 166-170; J. Holtrop (1984), A statistical re-analysis of resistance and propulsion data, same
journal 31 (363), 272-276. Symbols c1, c7, ... are the papers' own. Checked against: tests/published/test_holtrop_*.py.
Every value has the form's shape. Valid: see methods.range_report; where a formula has no value, NaN, nothing raised.
"""

from dataclasses import dataclass

import numpy as np

from engine.hull.form import HullForm, once_for_a_form
from engine.hull.wetted_surface import wetted_surface_holtrop
from engine.numeric import Real, plain
from engine.validity import defined_where


def bare_hull_wetted_surface(form: HullForm) -> Real:
    """The measured wetted surface [m2] where the form has one, else Holtrop's regression."""
    return wetted_surface_holtrop(form) if form.wetted_surface is None else form.wetted_surface


@once_for_a_form
def run_length(form: HullForm) -> Real:
    """Length of the run LR [m]: how much of the hull narrows towards the stern. NaN where CP <= 0.25."""
    CP = form.prismatic_coefficient
    taper = defined_where(np.asarray(CP) > 0.25, 4.0 * CP - 1.0)
    length = form.waterline_length * (1.0 - CP + 0.06 * CP * form.lcb_percent / taper)
    return plain(defined_where(length > 0.0, length))


@once_for_a_form
def half_entrance_angle(form: HullForm) -> Real:
    """Half angle of entrance iE [deg]: the form's own, else the papers' regression; NaN where that has no value."""
    if form.half_entrance_angle_deg is not None:
        return form.half_entrance_angle_deg
    L, B, CWP = form.waterline_length, form.waterline_beam, form.waterplane_coefficient
    fineness = 1.0 - form.prismatic_coefficient - 0.0225 * form.lcb_percent
    exponent = (
        form.length_beam_ratio**0.80856
        * (1.0 - CWP) ** 0.30484
        * defined_where(fineness > 0.0, fineness) ** 0.6367
        * (run_length(form) / B) ** 0.34574
        * (100.0 * form.volume / L**3) ** 0.16302
    )
    angle = 1.0 + 89.0 * np.exp(-exponent)
    return plain(defined_where(angle < 90.0, angle))


def beam_length_coefficient_c7(form: HullForm) -> Real:
    """How far her beam raises the waves [-], from beam over length."""
    ratio = np.asarray(form.waterline_beam / form.waterline_length)
    slender, wide = 0.229577 * ratio**0.33333, 0.5 - 0.0625 / ratio
    return plain(np.where(ratio < 0.11, slender, np.where(ratio <= 0.25, ratio, wide)))


def bulb_coefficient_c3(form: HullForm) -> Real:
    """How much of a bulb there is for her section [-]; NaN for one that reaches too far up for the formula."""
    rise = 0.31 * np.sqrt(form.bulb_area) + form.draft_forward - form.bulb_height
    rise = defined_where(rise > 0.0, rise)
    return plain(0.56 * np.power(form.bulb_area, 1.5) / (form.waterline_beam * form.draft * rise))


@once_for_a_form
def bulb_wave_reduction_c2(form: HullForm) -> Real:
    """How far a bulb lowers the wave resistance [-]; 1 without a bulb."""
    return plain(np.exp(-1.89 * np.sqrt(bulb_coefficient_c3(form))))


def transom_wave_reduction_c5(form: HullForm) -> Real:
    """How far an immersed transom lowers the wave resistance [-]; 1 without one, NaN for one so large that the waves
    would push her."""
    reduction = np.asarray(1.0 - 0.8 * form.transom_area / form.midship_area)
    return plain(defined_where(reduction > 0.0, reduction))


def prismatic_polynomial_c16(form: HullForm) -> Real:
    """How her fullness damps the waves [-]; another formula from CP 0.80 on."""
    CP = np.asarray(form.prismatic_coefficient)
    fine = 8.07981 * CP - 13.8673 * CP**2 + 6.984388 * CP**3
    return plain(np.where(CP < 0.8, fine, 1.73014 - 0.7067 * CP))


def slenderness_coefficient_c15(form: HullForm) -> Real:
    """How much the meeting of bow and stern waves counts [-]; in three pieces of L^3 / volume."""
    slenderness = np.asarray(form.slenderness)
    cube = slenderness**3
    middle = -1.69385 + (slenderness - 8.0) / 2.36
    return plain(np.where(cube < 512.0, -1.69385, np.where(cube <= 1727.0, middle, 0.0)))


@dataclass(frozen=True)
class WaveCoefficients:
    """What wave resistance depends on besides speed. Symbols in the papers: c1, m1, c15, lambda, c2 c5."""

    amplitude: Real
    decay: Real
    interference: Real
    wave_length: Real
    reduction: Real


@once_for_a_form
def wave_coefficients(form: HullForm) -> WaveCoefficients:
    """The coefficients common to both papers; NaN where the hull's m1 would make waves grow as the boat slows."""
    L, B, T = form.waterline_length, form.waterline_beam, form.draft
    CP, length_beam = form.prismatic_coefficient, np.asarray(form.length_beam_ratio)
    amplitude = (
        2223105.0
        * beam_length_coefficient_c7(form) ** 3.78613
        * (T / B) ** 1.07961
        * (90.0 - half_entrance_angle(form)) ** -1.37565
    )
    decay = np.asarray(
        0.0140407 * L / T - 1.75254 / form.slenderness - 4.79323 * B / L - prismatic_polynomial_c16(form)
    )
    return WaveCoefficients(
        amplitude=plain(amplitude),
        decay=plain(defined_where(decay < 0.0, decay)),
        interference=slenderness_coefficient_c15(form),
        wave_length=plain(1.446 * CP - np.where(length_beam < 12.0, 0.03 * length_beam, 0.36)),
        reduction=plain(bulb_wave_reduction_c2(form) * transom_wave_reduction_c5(form)),
    )

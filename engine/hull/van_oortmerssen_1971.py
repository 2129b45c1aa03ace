"""Calm-water resistance of small ships, tugs and trawlers by van Oortmerssen (1971).

Source: G. van Oortmerssen (1971), A power prediction method and its application to small ships, International
Shipbuilding Progress 18 (207), 397-415; coefficients from one copy and memory, surface and allowance from memory.
Checked against: tests/published/test_tank_models.py. The paper's displacement length is taken as the waterline length.
"""

import numpy as np
from numpy.typing import NDArray

from engine import constants
from engine.data import table
from engine.hull.assembly import assemble_parts
from engine.hull.curves import monotone_cubic, rising_fit
from engine.hull.form import HullForm, once_for_a_form
from engine.hull.holtrop_form import half_entrance_angle
from engine.hull.resistance import Resistance
from engine.hull.wetted_surface import wetted_surface_van_oortmerssen
from engine.numeric import Array, Real, plain
from engine.validity import defined_where
from engine.water import Water

_DATA = table("van_oortmerssen")["van_oortmerssen_1971"]
COEFFICIENTS: Array = np.array(_DATA["coefficients"])
"""d_ij, one row for each c_i."""
ALLOWANCE = float(_DATA["allowance"])
_BEAM_DRAFT = next(row for row in _DATA["ranges"] if row["parameter"] == "beam_draft_ratio")
LOW_REFUSAL, HIGH_REFUSAL = _BEAM_DRAFT["fades_out_at"]

FROUDE_NUMBERS: Array = np.linspace(0.0, 0.50, 101)
"""Where the curve of a hull is worked out; between, a monotone cubic."""

ANOMALY_DIP = 0.02
ANOMALY_START = 0.20
"""A fall of the residuary resistance by this share above this Froude number makes a combination anomalous (ours)."""


def wave_coefficients(form: HullForm) -> Array:
    """c1 to c4 [-] on a new last axis; NaN where the method refuses the beam-draft ratio.

    Beam-draft ratios of 4.0 to 4.5 are held at 4.0 and of 1.7 to 1.9 at 1.9 (ours): farther out the formula can give
    negative resistance. An unknown entrance angle is estimated by the regression of Holtrop & Mennen (ours).
    """
    lcb, CP = np.asarray(form.lcb_percent), np.asarray(form.prismatic_coefficient)
    length_beam, ratio = np.asarray(form.length_beam_ratio), np.asarray(form.beam_draft_ratio)
    beam_draft = np.clip(ratio, _BEAM_DRAFT["low"], _BEAM_DRAFT["high"])
    CWL = half_entrance_angle(form) * length_beam
    features = np.broadcast_arrays(
        1.0,
        lcb,
        lcb**2,
        CP,
        CP**2,
        length_beam,
        length_beam**2,
        CWL,
        np.square(CWL),
        beam_draft,
        beam_draft**2,
        form.midship_coefficient,
    )
    is_within = (ratio >= LOW_REFUSAL) & (ratio <= HIGH_REFUSAL)
    return 1e-3 * defined_where(is_within[..., None], np.stack(features, axis=-1) @ COEFFICIENTS.T)


@once_for_a_form
def printed_shares(form: HullForm) -> Array:
    """Residuary resistance over weight [-] by the formula as printed, at FROUDE_NUMBERS on a new last axis.

    Returns: the form's shape + (F,); NaN where the method refuses.   Source: van Oortmerssen (1971).
    """
    c1, c2, c3, c4 = np.moveaxis(wave_coefficients(form)[..., None], -2, 0)
    m = 0.14347 * np.asarray(form.prismatic_coefficient)[..., None] ** -2.1976
    inverse = FROUDE_NUMBERS[1:] ** -2.0
    wave = c2 + c3 * np.sin(inverse) + c4 * np.cos(inverse)
    moving = c1 * np.exp(-m * inverse / 9.0) + wave * np.exp(-m * inverse)
    return np.concatenate([np.zeros((*moving.shape[:-1], 1)), moving], axis=-1)


def is_anomalous(form: HullForm) -> NDArray[np.bool_]:
    """Whether the formula has a false hump for a hull, so that its curve is much smoothed; False where it refuses.

    Source: ours; that some combinations have one, P. J. Helmore, Update on van Oortmerssen's resistance prediction,
    University of New South Wales, abstract. The remedy printed there is not known to us.
    """
    shares = printed_shares(form)[..., FROUDE_NUMBERS >= ANOMALY_START - 1e-9]
    floor = (1.0 - ANOMALY_DIP) * np.maximum.accumulate(shares, axis=-1)
    return np.asarray(np.any(shares < floor, axis=-1))


@once_for_a_form
def rising_shares(form: HullForm) -> Array:
    """Residuary resistance over weight [-] at FROUDE_NUMBERS, made to rise with speed from zero (ours)."""
    shares = printed_shares(form)
    curves = shares.reshape(-1, FROUDE_NUMBERS.size)
    falling = np.any(np.diff(curves, axis=-1) < 0.0, axis=-1)
    rising = curves.copy()
    rising[falling] = rising_fit(curves[falling])
    return np.maximum(rising, 0.0).reshape(shares.shape)


def resistance_van_oortmerssen_1971(
    form: HullForm, speed: Real, water: Water, *, gravity: float = constants.GRAVITY
) -> Resistance:
    """Resistance of hull and appendages in deep, calm water, van Oortmerssen (1971).

    form, speed [m/s], water: any shapes that broadcast; speed 0 gives zero resistance.
    gravity: [m/s2].
    Returns: Resistance [N], broadcast shape; `wave` is residuary resistance, never negative and never falling (false
    humps are smoothed, see is_anomalous). NaN above Fn 0.50, and at every speed for a beam-draft ratio below 1.7 or
    above 4.5; from 4.0 to 4.5 it is held at 4.0, from 1.7 to 1.9 at 1.9 (ours).
    `correlation` is the method's allowance of 0.00043 (welded hull, steering, bilge keels; from memory), here on hull
    and appendages; its 0.00008 for air is left out, as no method's resistance holds the air here.
    Valid: see methods.range_report.   Raises: ValueError for a negative speed.
    """
    Fn = form.froude_number(speed, gravity=gravity)
    weight = form.volume * water.density * gravity
    wave = weight * monotone_cubic(FROUDE_NUMBERS, rising_shares(form), Fn)
    S = wetted_surface_van_oortmerssen(form) if form.wetted_surface is None else form.wetted_surface
    return assemble_parts(
        form,
        speed,
        water,
        wetted_surface=S,
        friction_length=form.waterline_length,
        form_factor=1.0,
        wave=plain(wave),
        correlation=ALLOWANCE,
    )

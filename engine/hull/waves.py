"""Added resistance in head seas, by two ship formulas. Neither knows the boat's speed or the length of the waves.

Both are extrapolated to boats: their ships are ten times as long. Never together with a sea margin.
"""

import numpy as np

from engine import constants
from engine.data import table
from engine.hull.form import HullForm
from engine.numeric import Real, plain
from engine.validity import OutOfRange, outside_range, require_not_negative, require_positive
from engine.water import Water

_STAWAVE = table("service_allowances")["stawave_1"]
_KREITNER = table("service_allowances")["kreitner"]


def usual_bow_length(form: HullForm) -> Real:
    """Distance from the bow to 95 % of the full waterline beam [m] while nobody has measured it; ours."""
    return plain(_STAWAVE["bow_length_share"] * form.waterline_length)


def stawave1_resistance(
    form: HullForm, wave_height: Real, bow_length: Real, water: Water, *, gravity: float = constants.GRAVITY
) -> Real:
    """Added resistance of short head waves that the boat does not pitch and heave to [N].

    wave_height: significant [m].   bow_length: from the bow to 95 % of the full waterline beam [m]. They broadcast.
    Valid: `stawave1_outside` tells; head seas only.   Raises: ValueError for a negative height or no bow length.
    Source: ISO 15016, STAWAVE-1, (1/16) rho g H^2 B sqrt(B/L_BWL); from memory.
    """
    require_not_negative(wave_height=wave_height)
    require_positive(bow_length=bow_length)
    B = form.waterline_beam
    specific_weight = water.density * gravity
    return plain(_STAWAVE["factor"] * specific_weight * np.square(wave_height) * B * np.sqrt(B / bow_length))


def stawave1_highest_wave(waterline_length: Real) -> Real:
    """The highest wave STAWAVE-1 holds for, 2.25 sqrt(L/100) [m]: 0.75 m for 11 m; higher ones make the boat pitch.

    waterline_length: in place of the length between perpendiculars [m].   Source: ISO 15016, from memory.
    """
    return plain(_STAWAVE["limit_factor"] * np.sqrt(np.asarray(waterline_length) / 100.0))


def stawave1_outside(form: HullForm, wave_height: Real) -> tuple[OutOfRange, ...]:
    """A record where waves are too high for STAWAVE-1; its values are shares of the highest that are not.

    wave_height: significant [m]; broadcasts with the form.   Source: `stawave1_highest_wave`.
    """
    highest = stawave1_highest_wave(form.waterline_length)
    note = f"the highest wave is {np.min(highest):.2g} m for the shortest boat here; beyond, pitching adds more"
    share = plain(np.asarray(wave_height) / highest)
    return outside_range("wave height as a share of the highest for STAWAVE-1", share, 0.0, 1.0, note)


def kreitner_resistance(form: HullForm, wave_height: Real, water: Water, *, gravity: float = constants.GRAVITY) -> Real:
    """Added resistance in head seas [N].

    wave_height: significant [m]; broadcasts.
    Valid: `kreitner_outside` tells; head seas only.   Raises: ValueError for a negative height.
    Source: J. Kreitner (1939), 0.64 H^2 B^2 CB rho g / L; from memory.
    """
    require_not_negative(wave_height=wave_height)
    shape = np.square(form.waterline_beam) * form.block_coefficient / form.waterline_length
    return plain(_KREITNER["factor"] * np.square(wave_height) * shape * water.density * gravity)


def kreitner_outside(wave_height: Real) -> tuple[OutOfRange, ...]:
    """A record where waves are too high for Kreitner's formula: above 1.5 m.

    wave_height: significant [m], any shape.   Source: from memory.
    """
    note = "Kreitner's formula was made for waves up to about 1.5 to 2 m"
    return outside_range("wave height in metres", wave_height, 0.0, _KREITNER["limit_wave_height"], note)

"""Wetted surface of the bare canoe body, by five formulas.

On usual forms they lie 3 to 14 % apart at beam-draft ratios of 4 to 5.5, and 23 to 33 % at 2 and at 9 (ours). All are
for round bilges; a hard chine adds 2 to 4 % (ours).
"""

from collections.abc import Callable, Mapping

import numpy as np

from engine.hull.form import HullForm, once_for_a_form
from engine.numeric import Real, plain


@once_for_a_form
def wetted_surface_holtrop(form: HullForm) -> Real:
    """Wetted surface [m2] by the regression of Holtrop & Mennen; needs the waterplane coefficient.

    Source: Holtrop & Mennen (1982), An approximate power prediction method, Int. Shipbuilding Progress 29 (335).
    Checked against: tests/published/test_holtrop_1982.py and test_holtrop_1984.py.
    """
    L, B, T = form.waterline_length, form.waterline_beam, form.draft
    CB, CM, CWP = form.block_coefficient, form.midship_coefficient, form.waterplane_coefficient
    shape = 0.453 + 0.4425 * CB - 0.2862 * CM - 0.003467 * B / T + 0.3696 * CWP
    return plain(L * (2.0 * T + B) * np.sqrt(CM) * shape + 2.38 * form.bulb_area / CB)


def wetted_surface_denny_mumford(form: HullForm) -> Real:
    """Wetted surface [m2], 1.7 L T + volume / T.

    Source: Mumford's formula, Denny tank; from memory. Within 0.1 % of one measured tank model (B/T 4).
    """
    return plain(1.7 * form.waterline_length * form.draft + form.volume / form.draft)


def wetted_surface_taylor(form: HullForm, *, coefficient: Real = 2.6) -> Real:
    """Wetted surface [m2], C sqrt(volume * length), C from 2.5 to 2.7.

    Source: D. W. Taylor, The Speed and Power of Ships; from memory. Within 0.7 % of one measured tank model.
    """
    return plain(coefficient * np.sqrt(form.volume * form.waterline_length))


@once_for_a_form
def wetted_surface_delft(form: HullForm) -> Real:
    """Wetted surface [m2] of a yacht's canoe body after the Delft series.

    Source: Gerritsma, Keuning & Onnink (1992); from memory. 1.5 % above one measured tank model.
    """
    shape = 1.97 + 0.171 * form.beam_draft_ratio
    midship = np.cbrt(0.65 / form.midship_coefficient)
    return plain(shape * midship * np.sqrt(form.volume * form.waterline_length))


def wetted_surface_van_oortmerssen(form: HullForm) -> Real:
    """Wetted surface [m2] of small ships; the displacement length is taken as the waterline length.

    Source: van Oortmerssen (1971), Int. Shipbuilding Progress 18 (207); from memory. 1.4 % above one tank model.
    """
    side = np.cbrt(form.volume)
    return plain(3.223 * side**2 + 0.5402 * form.waterline_length * side)


WETTED_SURFACES: Mapping[str, Callable[[HullForm], Real]] = {
    "Holtrop and Mennen": wetted_surface_holtrop,
    "Denny and Mumford": wetted_surface_denny_mumford,
    "Taylor": wetted_surface_taylor,
    "Delft": wetted_surface_delft,
    "van Oortmerssen": wetted_surface_van_oortmerssen,
}
"""Every formula, by its authors."""

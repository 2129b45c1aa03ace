"""Putting the parts of a method together: friction and appendages are done alike in all of them."""

import numpy as np

from engine.hull.form import HullForm
from engine.hull.friction import friction_coefficient_ittc57, hull_reynolds_number
from engine.hull.resistance import Resistance
from engine.numeric import Real, plain
from engine.validity import require_not_negative
from engine.water import Water


def assemble_parts(
    form: HullForm,
    speed: Real,
    water: Water,
    *,
    wetted_surface: Real,
    friction_length: Real,
    form_factor: Real,
    wave: Real,
    correlation: Real,
    bulb: Real = 0.0,
    transom: Real = 0.0,
) -> Resistance:
    """All parts together.

    speed: [m/s], not negative.   wetted_surface: of the bare hull [m2].   friction_length: of the Reynolds number [m].
    form_factor: 1 + k1 [-].   correlation: allowance on the friction coefficient, on hull and appendages [-].
    wave, bulb, transom: [N].
    form, speed, water: any shapes that broadcast; the parts given broadcast with them.
    Raises: ValueError for a negative speed.
    """
    require_not_negative(speed=speed)
    return Resistance(
        pressure=plain(0.5 * water.density * np.square(speed)),
        friction_coefficient=friction_coefficient_ittc57(hull_reynolds_number(speed, friction_length, water)),
        form_factor=form_factor,
        wetted_surface=wetted_surface,
        appendage_area=form.appendage_area,
        appendage_factor=form.appendage_factor,
        allowance=correlation,
        wave=wave,
        bulb=bulb,
        transom=transom,
    )

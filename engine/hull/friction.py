"""Skin friction: the line every method here starts from."""

import numpy as np

from engine.numeric import Real, plain
from engine.validity import defined_where
from engine.water import Water

SLOWEST_REYNOLDS_NUMBER = 1e5
"""Slower, the friction coefficient stays what it is here, so that friction vanishes with speed: a boat of 10 m is then
below 0.02 m/s, and the force below a thousandth of a newton per square metre."""


def hull_reynolds_number(speed: Real, length: Real, water: Water) -> Real:
    """Speed [m/s] * length [m] / kinematic viscosity [-], not less than SLOWEST_REYNOLDS_NUMBER; they broadcast.

    Source: definition; the least is ours.
    """
    return plain(np.maximum(speed * (length / water.kinematic_viscosity), SLOWEST_REYNOLDS_NUMBER))


def friction_coefficient_ittc57(reynolds: Real) -> Real:
    """Friction coefficient by the ITTC 1957 model-ship correlation line, 0.075 / (log10 Rn - 2)^2.

    reynolds: speed * length / viscosity [-], any shape.
    Returns: CF [-]; NaN at Rn of 100 and below, where the line has no value.
    Valid: turbulent flow, Rn from about 1e6; boats of 7 to 25 m at 4 to 10 kn lie between 1e7 and 1.2e8.
    Source: ITTC (1957), Proceedings of the 8th conference, Madrid.
    Checked against: tests/published/test_friction_line.py.
    """
    Rn = defined_where(np.asarray(reynolds) > 100.0, reynolds)
    return plain(0.075 / (np.log10(Rn) - 2.0) ** 2)

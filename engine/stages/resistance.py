"""The resistance of the boat over a grid of speeds, by every method: what the speed and power stages share."""

from dataclasses import dataclass

import numpy as np

from engine.constants import KNOT
from engine.hull.added_resistance import UPPERWORKS, air_resistance
from engine.hull.methods import METHODS, ResistanceMethod
from engine.numeric import Array
from engine.plan import Plan
from engine.stages.defaults import amount, amount_or_none, word
from engine.stages.hull import HullAnswers

SPEED_STEP_KN = 0.125
_REACH = 1.6
"""The grid reaches this many times the higher of hull speed and top speed, so that full throttle lies inside it."""


@dataclass(frozen=True, eq=False)
class ResistanceCurve:
    """Resistance of the whole boat in deep water, keel and rudder included, against speed.

    speed: (S,) from 0 [m/s].   calm: (S,) by the chosen method, with the drag of still air [N].
    service: (S,) with head wind and sea margin [N].   by_method: label -> (S,) like `calm`, by each method [N].
    """

    method: ResistanceMethod
    speed: Array
    calm: Array
    service: Array
    by_method: dict[str, Array]


def chosen_method(plan: Plan) -> ResistanceMethod:
    """The method the owner chose, or the default."""
    label = word(plan.power, "method")
    return next(method for method in METHODS.values() if method.label == label)


def resistance_curve(plan: Plan, hull: HullAnswers, top_speed: float) -> ResistanceCurve:
    """Resistance against speed for the boat of a plan.   top_speed: wanted [m/s]; sets how far the grid reaches."""
    highest_kn = _REACH * max(hull.hull_speed_kn, top_speed / KNOT)
    speed: Array = KNOT * SPEED_STEP_KN * np.arange(np.ceil(highest_kn / SPEED_STEP_KN) + 1.0, dtype=np.float64)
    area = amount_or_none(plan.hull, "windage_area") or 0.0
    drag = UPPERWORKS["unknown"].drag_coefficient
    still_air = np.asarray(air_resistance(area, drag, speed))
    windy = np.asarray(air_resistance(area, drag, speed, wind_speed=amount(plan.power, "head_wind")))
    by_method = {
        method.label: np.asarray(method.resistance(hull.form, speed, hull.water).total) + still_air
        for method in METHODS.values()
    }
    method = chosen_method(plan)
    calm = by_method[method.label]
    service = (calm - still_air) * (1.0 + amount(plan.power, "sea_margin")) + windy
    return ResistanceCurve(method, speed, calm, service, by_method)


def at_speed(curve: ResistanceCurve, values: Array, speed: float) -> float:
    """A value of the curve's grid at a speed between [m/s]."""
    return float(np.interp(speed, curve.speed, values))

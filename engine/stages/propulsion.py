"""Propellers behind the plausible boats: what each boat asks of one, and what it then does."""

import math

import numpy as np

from engine.defaults import amount_or_none, whole
from engine.numeric import Array, Real
from engine.plan import Plan
from engine.propeller.equilibrium import OperatingPoint, shaft_speed_for_thrust
from engine.propeller.hull_curve import HullCurve, hull_curve
from engine.propeller.interaction import Interaction
from engine.propeller.open_water import OpenWater
from engine.stages.boats import Boats, each_boat


def shaft_angle(plan: Plan) -> float:
    """Between shaft and flow [rad]."""
    return math.radians(amount_or_none(plan.shaft, "angle") or 0.0)


def plans_hull_curve(plan: Plan, between: Interaction, speed: Array, resistance: Array, density: Real) -> HullCurve:
    """The hull as one propeller of a plan meets it, from resistance (..., S) [N] at speeds (S,) [m/s]."""
    screws = whole(plan.hull, "screws")
    return hull_curve(speed, resistance, between, density, propellers=screws, shaft_angle=shaft_angle(plan))


def boats_hull_curve(plan: Plan, boats: Boats, speed: Array, resistance: Array, density: Real) -> HullCurve:
    """Hull curves of a fleet (N, S), from resistance (N, S) [N] at speeds (S,) [m/s]."""
    wake, deduction, rotative = (
        each_boat(value, len(resistance))
        for value in (boats.wake_fraction, boats.thrust_deduction, boats.relative_rotative_efficiency)
    )
    between = Interaction(wake, deduction, rotative, np.zeros(1, dtype=bool), ())
    return plans_hull_curve(plan, between, speed, resistance, density)


def boats_points(open_water: OpenWater, diameter: Real, hull: HullCurve, speed: Array | None = None) -> OperatingPoint:
    """What a propeller does on each boat: fields (N, S) on the curves' own speeds, or at others between them [m/s].

    open_water, diameter: of one propeller, or a column (N, 1).
    On the curves' own speeds nothing is interpolated: they need not rise, and one is enough.
    """
    if speed is None:
        return boats_points_for(open_water, diameter, hull, hull.speed, hull.thrust)
    return boats_points_for(open_water, diameter, hull, speed, hull.thrust_at(speed))


def boats_points_for(
    open_water: OpenWater, diameter: Real, hull: HullCurve, speed: Array, thrust: Array
) -> OperatingPoint:
    """The same for a thrust (N, M) [N] asked at boat speeds that broadcast to it [m/s]."""
    advance, rotative = (
        np.asarray(value)[..., None] for value in (hull.advance_fraction, hull.relative_rotative_efficiency)
    )
    advance_speed = np.multiply(speed, advance, order="F")  # as the thrusts lie
    return shaft_speed_for_thrust(open_water, diameter, thrust, advance_speed, hull.density, rotative)

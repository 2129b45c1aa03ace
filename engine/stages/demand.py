"""What the boats ask of their propellers, and a fair propeller's answer, over the speeds of the resistance curve."""

from dataclasses import dataclass

import numpy as np

from engine.constants import KNOT
from engine.defaults import whole
from engine.findings import Outcome, lacking
from engine.numeric import Array, Real
from engine.plan import Plan
from engine.propeller import handbook
from engine.propeller.design import optimum_for_thrust_at_diameter
from engine.propeller.equilibrium import OperatingPoint, shaft_speed_at_boat_speed
from engine.propeller.hull_curve import HullCurve
from engine.propeller.interaction import Interaction, interaction
from engine.propeller.market import Blades
from engine.propeller.open_water import OpenWater
from engine.propeller.wageningen import WAGENINGEN_B
from engine.stages.blades import fouled, months_allowed_for
from engine.stages.boats import each_boat, room_share, stern
from engine.stages.hull import HullAnswers
from engine.stages.propulsion import boats_hull_curve, boats_points, plans_hull_curve
from engine.stages.resistance import CalmResistance, ResistanceCurve, at_speed, each_at_speed
from engine.stages.room import propeller_limit
from engine.stages.speed import SpeedAnswers

_REFERENCE = Blades(WAGENINGEN_B, 3, 0.55)


@dataclass(frozen=True, eq=False)
class ReferencePropeller:
    """The propeller assumed for the efficiency until one is chosen.   diameter: [m]."""

    open_water: OpenWater
    diameter: float
    pitch_ratio: float

    def after(self, months: float) -> OpenWater:
        """Its curves some months after cleaning."""
        return fouled(self.open_water, self.diameter, self.pitch_ratio, _REFERENCE, months)


@dataclass(frozen=True, eq=False)
class CalmDemand:
    """What each propeller is asked for, clean and calm.   middle: of the middle of the fleet, (S,).   boats: (N, S)."""

    interaction: Interaction
    middle: HullCurve
    boats: HullCurve


@dataclass(frozen=True, eq=False)
class ReferenceInCalm:
    """The reference propeller, and what it does clean and calm.

    boats_diameter: as there is room for it on each of the boats [m].   point: on the middle of the fleet, (S,).
    delivered: power at all propellers of each boat (N, S) [W].
    """

    propeller: ReferencePropeller
    boats_diameter: Real
    point: OperatingPoint
    delivered: Array


@dataclass(frozen=True, eq=False, kw_only=True)
class ThrustDemand:
    """Hull curves per propeller, whatever propeller that is.

    interaction, calm, service: of the middle of the fleet, on the grid (S,).
    boats_calm, boats_service: of the boats, (N, S).
    """

    resistance: ResistanceCurve
    interaction: Interaction
    screws: int
    calm: HullCurve
    service: HullCurve
    boats_calm: HullCurve
    boats_service: HullCurve


@dataclass(frozen=True, eq=False, kw_only=True)
class Demand(ThrustDemand):
    """The same, and what the reference propeller does on them.

    propeller, service_propeller: on the middle of the fleet, on the grid (S,).
    boats_diameter: of the reference propeller, as there is room for it on each of the boats [m].
    delivered, service_delivered: power at all propellers of each boat (N, S) [W].
    """

    reference: ReferencePropeller
    boats_diameter: Real
    propeller: OperatingPoint
    service_propeller: OperatingPoint
    delivered: Array
    service_delivered: Array

    def delivered_power(self, speed: float) -> float:
        """Power at all propellers of the middle of the fleet at a boat speed [m/s], clean and calm [W]."""
        return self.screws * at_speed(self.resistance, np.asarray(self.propeller.delivered_power), speed)

    def each_delivered_power(self, speed: Real, *, service: bool = False) -> Array:
        """Power at all propellers of each boat at boat speeds () or (M,) [m/s], (N,) or (N, M) [W]."""
        return each_at_speed(self.resistance, self.service_delivered if service else self.delivered, speed)


def assess_calm_demand(plan: Plan, hull: HullAnswers, resistance: CalmResistance) -> Outcome[CalmDemand]:
    """What the boats of a plan ask of each propeller, clean and calm."""
    if plan.hull.propeller_place is None:
        return lacking("where the propeller works", "hull")
    speed, density = resistance.speed, hull.water.density
    between = _middle_interaction(plan, hull)
    middle = plans_hull_curve(plan, between, speed, resistance.median, density)
    return Outcome(CalmDemand(between, middle, boats_hull_curve(plan, hull.boats, speed, resistance.force, density)))


def assess_thrust(plan: Plan, hull: HullAnswers, speed: SpeedAnswers, calm: CalmDemand) -> Outcome[ThrustDemand]:
    """What the boats of a plan ask of each propeller, calm and in service."""
    curve, density = speed.curve, hull.water.density
    thrust = ThrustDemand(
        resistance=curve,
        interaction=calm.interaction,
        screws=whole(plan.hull, "screws"),
        calm=calm.middle,
        service=plans_hull_curve(plan, calm.interaction, curve.speed, curve.median_service, density),
        boats_calm=calm.boats,
        boats_service=boats_hull_curve(plan, hull.boats, curve.speed, curve.service, density),
    )
    return Outcome(thrust)


def assess_reference(plan: Plan, hull: HullAnswers, top_kn: float, calm: CalmDemand) -> Outcome[ReferenceInCalm]:
    """A fair propeller for the top speed, until one is chosen."""
    propeller = _reference_propeller(plan, hull, calm.middle, top_kn * KNOT)
    boats_diameter = propeller.diameter * np.asarray(room_share(plan, hull.boats.room))
    point = shaft_speed_at_boat_speed(propeller.open_water, propeller.diameter, calm.middle.speed, calm.middle)
    delivered = boats_points(propeller.open_water, boats_diameter, calm.boats).delivered_power
    screws = whole(plan.hull, "screws")
    return Outcome(ReferenceInCalm(propeller, boats_diameter, point, screws * np.asarray(delivered)))


def assess_demand(plan: Plan, thrust: ThrustDemand, reference: ReferenceInCalm) -> Outcome[Demand]:
    """The power that this takes through a fair propeller."""
    propeller = reference.propeller
    foul = propeller.after(months_allowed_for(plan))
    in_service = boats_points(foul, reference.boats_diameter, thrust.boats_service)
    demand = Demand(
        **vars(thrust),
        reference=propeller,
        boats_diameter=reference.boats_diameter,
        propeller=reference.point,
        service_propeller=shaft_speed_at_boat_speed(foul, propeller.diameter, thrust.service.speed, thrust.service),
        delivered=reference.delivered,
        service_delivered=thrust.screws * np.asarray(in_service.delivered_power),
    )
    return Outcome(demand)


def _middle_interaction(plan: Plan, hull: HullAnswers) -> Interaction:
    """Wake and thrust deduction of the middle of the fleet, with what the formulas have to say about their ranges."""
    estimate = interaction(stern(plan), hull.form.block_coefficient)
    wake, deduction = (
        float(hull.fleet.median(each_boat(value, hull.fleet.rows)))
        for value in (hull.boats.wake_fraction, hull.boats.thrust_deduction)
    )
    return Interaction(wake, deduction, estimate.relative_rotative_efficiency, estimate.wake_clamped, estimate.outside)


def _reference_propeller(plan: Plan, hull: HullAnswers, calm: HullCurve, top: float) -> ReferencePropeller:
    """The best propeller of its diameter for the top speed: the room's, else the handbook's smallest good one."""
    diameter = propeller_limit(plan) or float(
        handbook.minimum_diameter(hull.waterline_beam_m.best, hull.hull_draft_m.best, whole(plan.hull, "screws"))
    )
    best = optimum_for_thrust_at_diameter(
        _REFERENCE.series,
        _REFERENCE.blades,
        _REFERENCE.area_ratio,
        thrust=float(calm.thrust_at(top)),
        diameter=diameter,
        advance_speed=top * float(calm.advance_fraction),
        density=float(hull.water.density),
    )
    open_water = _REFERENCE.series.cubics(best.pitch_ratio, _REFERENCE.area_ratio, _REFERENCE.blades)
    return ReferencePropeller(open_water, diameter, float(best.pitch_ratio))

"""What a propeller is tried in: boat, engine, gear, and the kind of blades that the plan asks for."""

from collections.abc import Callable
from dataclasses import MISSING, dataclass, fields, replace
from functools import cached_property
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from engine.constants import KNOT
from engine.defaults import amount
from engine.findings import Outcome
from engine.fleet import equally_likely, thinned_rows
from engine.machinery.derating import pressure_at_altitude, saturation_pressure
from engine.numeric import Array, Real
from engine.plan import Plan
from engine.propeller.cavitation import pressure_above_vapour
from engine.propeller.equilibrium import OperatingPoint
from engine.propeller.market import Blades
from engine.propeller.open_water import BladeFamily, OpenWater
from engine.stages.blades import BladeWater, wanted_blades
from engine.stages.boats import rows_of
from engine.stages.cases import Cases
from engine.stages.demand import ThrustDemand
from engine.stages.drive import Drive
from engine.stages.hull import HullAnswers
from engine.stages.room import shaft_depth
from engine.stages.speed import SpeedAnswers

_Answers = TypeVar("_Answers")


@dataclass(frozen=True, eq=False)
class Setting:
    """One ratio of the gear, with all that stands on either side of it."""

    plan: Plan
    hull: HullAnswers
    speed: SpeedAnswers
    demand: ThrustDemand
    cases: Cases
    drive: Drive
    ratio: float
    area_ratio: float | None = None
    """Expanded area ratio that the size was taken with [-]; None for what the plan asks for, or is usual."""
    blades: int | None = None
    """Number of blades that are tried instead of those of the plan; None for those."""

    def with_fewer_boats(self, size: int) -> "Setting":
        """The same with fewer boats, all equally likely, for tables beside the answers; itself when it has no more."""
        fleet = self.hull.fleet
        if fleet.size <= size:
            return self
        rows = self.rows_of_fewer(size)
        hull = replace(self.hull, fleet=equally_likely(fleet, rows), boats=rows_of(self.hull.boats, rows))
        return replace(self, hull=hull, cases=self.cases.rows(rows))

    def rows_of_fewer(self, size: int) -> NDArray[np.intp]:
        """Which of the boats are those of `with_fewer_boats`, in their order."""
        fleet = self.hull.fleet
        return np.arange(fleet.rows) if fleet.size <= size else thinned_rows(fleet, size)

    @cached_property
    def kind(self) -> Blades:
        """The blades that the plan asks for, but for what is tried instead."""
        wanted = wanted_blades(self.plan, self.blades)
        return wanted if self.area_ratio is None else replace(wanted, area_ratio=self.area_ratio)

    @property
    def rated_shaft_speed(self) -> float:
        """[rev/s]."""
        return self.drive.engine.rated_speed / self.ratio

    @property
    def wanted_margin(self) -> float:
        """The light-running margin that the plan asks for [-]."""
        return amount(self.plan.propeller, "light_running")

    @property
    def cruise(self) -> float:
        """Cruising speed [m/s]."""
        return self.speed.cruise_kn * KNOT

    @property
    def shaft_pressure(self) -> float:
        """Of the water at the shaft centre above that of its vapour [Pa], as high and as warm as hers."""
        vapour = saturation_pressure(amount(self.plan.hull, "water_temperature"))
        air = pressure_at_altitude(amount(self.plan.engine, "altitude"))
        return float(pressure_above_vapour(shaft_depth(self.plan), self.hull.water.density, vapour, air))

    def consumption(self, point: OperatingPoint) -> Array:
        """What all engines take when each propeller works at a point, as Drive.consumption."""
        engine_speed = np.asarray(point.shaft_speed) * self.ratio
        return self.drive.consumption(point.delivered_power, engine_speed) * self.demand.screws

    @property
    def blade_water(self) -> BladeWater:
        """The water that the blades meet at rated shaft speed and top speed."""
        return BladeWater(
            self.rated_shaft_speed,
            self.speed.top_kn * KNOT * float(self.demand.calm.advance_fraction),
            float(self.hull.water.kinematic_viscosity),
        )

    def family(self, diameter: Real) -> BladeFamily:
        """The blades at any pitch, corrected for their Reynolds number, for diameters [m]."""
        return self.blade_water.family(self.kind, diameter)

    def open_water(self, diameter: Real, pitch: Real) -> OpenWater:
        """The curves of clean propellers of these sizes [m], which broadcast."""
        return self.family(diameter).at(np.asarray(pitch) / diameter)


_PARTS = sum(part.default is MISSING for part in fields(Setting)) - 1
"""Of a setting, beside the plan and what may be tried instead of what it asks for."""


def in_setting(assess: Callable[..., Outcome[_Answers]]) -> Callable[..., Outcome[_Answers]]:
    """A step of the chain from a function that takes the setting, and behind it what else the step is handed.

    The step makes its own from what a setting is made of: one that another step had made would read its plan.
    """

    def step(plan: Plan, *handed: Any) -> Outcome[_Answers]:
        return assess(Setting(plan, *handed[:_PARTS]), *handed[_PARTS:])

    return step

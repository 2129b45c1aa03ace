"""One engine with its gear and shaft losses, as the stages from the engine on need it."""

from dataclasses import dataclass
from typing import cast

import numpy as np

from engine.machinery import gearbox
from engine.machinery.diesel import DieselEngine, EngineKind, PowerBasis, full_load_power
from engine.machinery.fuel import DIESEL, fuel_rate, litres_per_hour
from engine.numeric import Array, Real
from engine.plan import Plan
from engine.sections.engine import Candidate
from engine.stages.defaults import amount, amount_or_none, word


@dataclass(frozen=True)
class Drive:
    """A diesel, what is left of its power aboard, and the losses between it and the propeller.

    derating: share of the rated power that is left [-].   Powers at the engine are at its crankshaft.
    """

    engine: DieselEngine
    derating: float
    gear_efficiency: float
    shaft_efficiency: float

    @property
    def usable_power(self) -> float:
        """Power at rated speed, after losses aboard [W]."""
        return self.engine.crankshaft_rated_power * self.derating

    @property
    def gear_rating_needed(self) -> float:
        """What the gear must be rated for [W per rev/s]."""
        return float(gearbox.gear_rating_required(self.engine.crankshaft_rated_power, self.engine.rated_speed))

    @property
    def power_after_gear(self) -> float:
        """Usable power behind the gear, which sizes the shaft [W]."""
        return float(gearbox.power_after_gear(self.usable_power, self.gear_efficiency))

    @property
    def power_at_propeller(self) -> float:
        """Usable power that reaches the propeller [W]."""
        return float(gearbox.delivered_power(self.usable_power, self.gear_efficiency, self.shaft_efficiency))

    def at_crankshaft(self, delivered: Real) -> Array:
        """Engine power that delivers a power to the propeller [W]."""
        return np.asarray(gearbox.crankshaft_power(delivered, self.gear_efficiency, self.shaft_efficiency))

    def full_load_at_propeller(self, shaft_speed: Array, ratio: float) -> Array:
        """Power at the propeller with the throttle wide open, over the shaft speed [rev/s] [W]."""
        power = full_load_power(self.engine, shaft_speed * ratio, derating=self.derating)
        return np.asarray(gearbox.delivered_power(power, self.gear_efficiency, self.shaft_efficiency))

    def burn_l_per_h(self, delivered: Real, engine_speed: Real) -> Array:
        """Diesel burned by one engine [L/h] for a power at its propeller [W] at an engine speed [rev/s]."""
        rate = fuel_rate(self.engine, self.at_crankshaft(delivered), engine_speed)
        return np.asarray(litres_per_hour(rate, DIESEL.density))


def drive_of(plan: Plan, candidate: Candidate) -> Drive | None:
    """The drive with one candidate; None while its rated power or speed is missing."""
    if candidate.rated_power is None or candidate.rated_speed is None:
        return None
    gear_efficiency = amount(plan.gear, "efficiency")
    engine = DieselEngine(
        rated_power=candidate.rated_power.si,
        rated_speed=candidate.rated_speed.si,
        kind=cast(EngineKind, word(candidate, "kind")),
        power_basis=cast(PowerBasis, word(candidate, "power_at")),
        gear_efficiency=gear_efficiency,
        specific_consumption=amount_or_none(candidate, "fuel_at_rated"),
    )
    lost = amount(candidate, "power_lost")
    return Drive(engine, 1.0 - lost, gear_efficiency, amount(plan.gear, "shaft_efficiency"))

"""One engine or motor with its gear and shaft losses, as the stages from the engine on need it."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from typing import TypeVar, cast

import numpy as np

from engine.answers import said_of_motor
from engine.defaults import amount, amount_or_none, word
from engine.findings import Finding, Outcome
from engine.machinery import gearbox
from engine.machinery.derating import SiteConditions, pressure_at_altitude, site_adjustment
from engine.machinery.diesel import (
    DieselEngine,
    EngineKind,
    Points,
    PowerBasis,
    full_load_power,
    torque_points_from_power,
)
from engine.machinery.duty_cycles import DutyCycle
from engine.machinery.electric import Battery, ElectricMotor, motor_full_load_power
from engine.machinery.fuel import (
    DIESEL,
    cycle_specific_consumption,
    fuel_rate,
    litres_per_hour,
    usual_idle_speed,
)
from engine.numeric import Array, Real
from engine.plan import Plan
from engine.plan_defaults import gear_efficiency, intake_air, raw_water
from engine.propeller.full_load import FullLoad
from engine.sections.electric import Motor
from engine.sections.engine import Candidate
from engine.showing import numbered
from engine.stages.batteries import battery_of, chain_of
from engine.stages.wording import listed
from engine.units import Quantity

Value = TypeVar("Value")
_STANDSTILL = 0.01
"""Of its highest speed: where the full load of an engine without idling speed begins. Ours."""


@dataclass(frozen=True)
class Drive:
    """What turns the propeller: what is left of its power aboard, and the losses between it and the propeller.

    derating: share of the rated power that is left [-].   Powers at the engine are at its crankshaft or motor shaft.
    rate: of a diesel in kilograms of fuel a second, of a motor in watts out of the battery.
    consumption: of a diesel in litres of fuel an hour, of a motor in kilowatts out of the battery.
    """

    engine: DieselEngine | ElectricMotor
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
        """Rated power behind the gear, which sizes the shaft: on a cool day all of it is there [W]."""
        return float(gearbox.power_after_gear(self.engine.crankshaft_rated_power, self.gear_efficiency))

    @property
    def power_at_propeller(self) -> float:
        """Usable power that reaches the propeller [W]."""
        return float(gearbox.delivered_power(self.usable_power, self.gear_efficiency, self.shaft_efficiency))

    def at_crankshaft(self, delivered: Real) -> Array:
        """Engine power that delivers a power to the propeller [W]."""
        return np.asarray(gearbox.crankshaft_power(delivered, self.gear_efficiency, self.shaft_efficiency))

    def full_load(self, engine_speed: Real) -> Array:
        """Power with the throttle wide open at an engine speed [rev/s] [W]."""
        raise NotImplementedError

    def full_load_at_propeller(self, shaft_speed: Array, ratio: Real) -> Array:
        """Power at the propeller with the throttle wide open, over the shaft speed [rev/s] [W]."""
        power = self.full_load(shaft_speed * ratio)
        return np.asarray(gearbox.delivered_power(power, self.gear_efficiency, self.shaft_efficiency))

    @cached_property
    def full_load_torque(self) -> FullLoad | None:
        """Torque with the throttle wide open, from idling speed on; None where it rises faster than the speed."""
        highest = self.engine.no_load_speed
        lowest = self.engine.idle_speed or _STANDSTILL * highest
        return FullLoad.of(self.full_load, lowest, highest, self.engine.full_load_corners)

    @property
    def slowest(self) -> float:
        """Speed below which the engine does not run in gear [rev/s]."""
        return 0.0

    def engine_rate(self, power: Real, engine_speed: Real) -> Array:
        """What one engine takes for a power of its own [W] at an engine speed [rev/s]: [kg/s], or [W]."""
        raise NotImplementedError

    def rate(self, delivered: Real, engine_speed: Real) -> Array:
        """What one engine takes for a power at its propeller [W] at an engine speed [rev/s]: [kg/s], or [W]."""
        return self.engine_rate(self.at_crankshaft(delivered), engine_speed)

    def per_hour(self, rate: Real) -> Array:
        """A rate as it is shown: [L/h], or [kW]."""
        raise NotImplementedError

    def consumption(self, delivered: Real, engine_speed: Real) -> Array:
        """What one engine takes, as it is shown: [L/h], or [kW]."""
        return self.per_hour(self.rate(delivered, engine_speed))

    def if_fuel(self, consumed: Value) -> Value | None:
        """A consumption if it is one of fuel, else None."""
        raise NotImplementedError

    def if_electric(self, consumed: Value) -> Value | None:
        """A consumption if it is one of electricity, else None."""
        return consumed if self.if_fuel(consumed) is None else None


@dataclass(frozen=True)
class DieselDrive(Drive):
    """A diesel.   consumption_ratio: what hot air adds to its fuel per energy [-]."""

    engine: DieselEngine
    consumption_ratio: float = 1.0

    def full_load(self, engine_speed: Real) -> Array:
        """As Drive."""
        return np.asarray(full_load_power(self.engine, engine_speed, derating=self.derating))

    @property
    def slowest(self) -> float:
        """As Drive: its idle speed, or a usual one where the data sheet gives none."""
        return usual_idle_speed(self.engine)

    def engine_rate(self, power: Real, engine_speed: Real) -> Array:
        """As Drive, fuel [kg/s]."""
        return np.asarray(fuel_rate(self.engine, power, engine_speed)) * self.consumption_ratio

    def over_cycle(self, cycle: DutyCycle) -> float:
        """Fuel per energy over the modes of a test cycle [kg/J]."""
        return cycle_specific_consumption(self.engine, cycle) * self.consumption_ratio

    def per_hour(self, rate: Real) -> Array:
        """As Drive, litres of diesel an hour."""
        return np.asarray(litres_per_hour(rate, DIESEL.density))

    def if_fuel(self, consumed: Value) -> Value | None:
        """As Drive."""
        return consumed


@dataclass(frozen=True)
class ElectricDrive(Drive):
    """A motor on a battery.

    chain: efficiency from the battery to the motor's shaft [-].   house_load: what else draws on it [W].
    """

    engine: ElectricMotor
    battery: Battery
    chain: float
    house_load: float

    def full_load(self, engine_speed: Real) -> Array:
        """As Drive, at the continuous rating."""
        return np.asarray(motor_full_load_power(self.engine, engine_speed, derating=self.derating))

    def engine_rate(self, power: Real, engine_speed: Real) -> Array:
        """As Drive, power out of the battery [W]; the speed does not matter."""
        drawn, _ = np.broadcast_arrays(np.asarray(power) / self.chain, engine_speed)
        return drawn

    def per_hour(self, rate: Real) -> Array:
        """As Drive, kilowatts."""
        return np.asarray(rate) / 1e3

    def if_fuel(self, _: Value) -> Value | None:
        """As Drive."""
        return None


def said_of(drive: Drive, findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Sentences on the engine, none of whose words are the owner's, as they are said of a motor where it is one."""
    if not isinstance(drive, ElectricDrive):
        return tuple(findings)
    return tuple(replace(finding, text=said_of_motor(finding.text)) for finding in findings)


def assess_drive(plan: Plan) -> Outcome[DieselDrive | ElectricDrive]:
    """The drive with the chosen candidate, or what that lacks."""
    item = plan.engine.selected
    drive = None if item is None else drive_of(plan, item)
    return Outcome(drive, waits_for=_lacks(plan, item) if drive is None else "")


def _lacks(plan: Plan, chosen: Candidate | Motor | None) -> str:
    """What is missing while the chosen candidate is not complete; one that is may wait beside it."""
    other = next((item for item in plan.engine.all if drive_of(plan, item) is not None), None)
    is_begun = chosen is not None and (chosen.rated_power is not None or chosen.rated_speed is not None)
    if chosen is None or not (other or is_begun):
        return "an engine with its rated power and rated speed; of a motor the battery as well."
    missing = [
        words
        for words, known in (
            ("rated power", chosen.rated_power),
            ("rated speed", chosen.rated_speed),
            ("battery", battery_of(chosen) if isinstance(chosen, Motor) else chosen),
        )
        if known is None
    ]
    lacks = f"the {listed(missing)} of {chosen.name or 'the candidate without a name'}"
    if other is None:
        return f"{lacks}."
    return f"{lacks}, which is chosen; {other.name or 'unnamed'} has all that is needed, and could be chosen."


def drive_of(plan: Plan, candidate: Candidate | Motor) -> DieselDrive | ElectricDrive | None:
    """The drive with one candidate; None while its power, its speed or a motor's battery is missing."""
    if candidate.rated_power is None or candidate.rated_speed is None:
        return None
    if isinstance(candidate, Motor):
        return _electric(plan, candidate)
    engine = diesel_of(plan, candidate)
    derating, consumption = losses_aboard(plan, candidate)
    return DieselDrive(
        engine, derating, engine.gear_efficiency, amount(plan.gear, "shaft_efficiency"), consumption_ratio=consumption
    )


def _electric(plan: Plan, candidate: Motor) -> ElectricDrive | None:
    battery = battery_of(candidate)
    if battery is None:
        return None
    motor = ElectricMotor(
        rated_power=amount(candidate, "rated_power"),
        rated_speed=amount(candidate, "rated_speed"),
        peak_power=amount_or_none(candidate, "peak_power"),
        highest_speed=amount_or_none(candidate, "highest_speed"),
    )
    efficiencies = gear_efficiency(plan, candidate), amount(plan.gear, "shaft_efficiency")
    return ElectricDrive(motor, 1.0, *efficiencies, battery, chain_of(candidate), amount(candidate, "house_load"))


def diesel_of(plan: Plan, candidate: Candidate) -> DieselEngine:
    """The diesel of a data sheet with its rated power and speed; a curve that does not make sense is left out."""
    return DieselEngine(
        rated_power=amount(candidate, "rated_power"),
        rated_speed=amount(candidate, "rated_speed"),
        kind=cast(EngineKind, word(candidate, "kind")),
        power_basis=cast(PowerBasis, word(candidate, "power_at")),
        gear_efficiency=amount(plan.gear, "efficiency"),
        governed_speed=amount_or_none(candidate, "governed_speed"),
        idle_speed=amount_or_none(candidate, "idle_speed"),
        torque_curve=_torque_curve(candidate),
        specific_consumption=amount_or_none(candidate, "fuel_at_rated"),
        propeller_fuel_curve=_fuel_curve(candidate),
    )


def losses_aboard(plan: Plan, candidate: Candidate) -> tuple[float, float]:
    """Share of the rated power that is left aboard, and fuel per energy over that of the data sheet.

    The maker's loss comes first; else the standard's formula for the air and water of the plan.
    """
    if candidate.power_lost is not None:
        return 1.0 - candidate.power_lost.si, 1.0
    adjustment = site_adjustment(cast(EngineKind, word(candidate, "kind")), site_of(plan))
    return float(adjustment.claimed_power_ratio), float(adjustment.consumption_ratio)


def site_of(plan: Plan) -> SiteConditions:
    """Air and water that the engine will work in."""
    return SiteConditions(
        air_pressure=float(pressure_at_altitude(amount(plan.engine, "altitude"))),
        air_temperature=intake_air(plan),
        humidity=amount(plan.engine, "humidity"),
        raw_water_temperature=raw_water(plan),
    )


def curve_trouble(speeds: tuple[Quantity, ...], values: tuple[Quantity, ...]) -> str:
    """Why points of a data sheet cannot be used, in plain words; "" when they can, or there are none."""
    if not speeds and not values:
        return ""
    if len(speeds) != len(values):
        both = f"{numbered(len(speeds), 'speed')} and {numbered(len(values), 'value')}"
        return f"it has {both}; give one value for each speed"
    if len(speeds) < 2:
        return "one point makes no curve; give two at least"
    if any(b.si <= a.si for a, b in pairwise(speeds)):
        return "its speeds do not rise"
    return ""


def _points(speeds: tuple[Quantity, ...], values: tuple[Quantity, ...], to_value: float = 1.0) -> Points | None:
    if not speeds or curve_trouble(speeds, values):
        return None
    return tuple((speed.si, value.si * to_value) for speed, value in zip(speeds, values, strict=True))


def _torque_curve(candidate: Candidate) -> Points | None:
    """Torques come before powers."""
    torques = _points(candidate.full_load_speeds, candidate.full_load_torques)
    if torques is not None or candidate.full_load_torques:
        return torques
    powers = _points(candidate.full_load_speeds, candidate.full_load_powers)
    return None if powers is None else torque_points_from_power(powers)


def _fuel_curve(candidate: Candidate) -> Points | None:
    return _points(candidate.fuel_speeds, candidate.fuel_flows, DIESEL.density)

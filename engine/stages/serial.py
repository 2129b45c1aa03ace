"""The generator of an electric candidate, which lets the fuel tank drive the motor as well."""

from dataclasses import dataclass

import numpy as np

from engine.machinery.electric import GENERATOR_CONSUMPTION
from engine.machinery.serial_hybrid import serial_endurance
from engine.numeric import Array
from engine.plan import Plan
from engine.sections.electric import Motor
from engine.sections.engine import Candidate
from engine.stages.voyage import Voyage, fuel_aboard


@dataclass(frozen=True)
class Serial:
    """power: electric, continuous [W].   fuel: usable [kg]."""

    power: float
    fuel: float

    def distance(self, voyage: Voyage, speed: Array, rate: Array) -> Array:
        """Range over the ground [m] on battery and fuel, both with the reserve kept back."""
        share = 1.0 - voyage.reserve
        drawn = np.asarray(rate) + voyage.hotel
        time = serial_endurance(voyage.usable * share, self.fuel * share, drawn, self.power, GENERATOR_CONSUMPTION)
        return np.asarray(time) * np.maximum(speed - voyage.current, 0.0)


def serial_of(plan: Plan, item: Candidate | Motor) -> Serial | None:
    """The generator of a candidate; None when it has none, or no fuel is known for it."""
    if not isinstance(item, Motor) or item.generator_power is None:
        return None
    fuel = fuel_aboard(plan)
    return None if fuel is None else Serial(item.generator_power.si, fuel)

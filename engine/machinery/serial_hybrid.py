"""A battery with a diesel generator beside it: how long both together hold a power."""

import numpy as np

from engine.numeric import Real, plain
from engine.validity import not_negative, positive


def serial_endurance(energy: Real, fuel: Real, drawn: Real, generator_power: Real, fuel_per_energy: Real) -> Real:
    """Time for which a power can be drawn, generator running as long as there is fuel.

    energy: in the battery to spend [J], >= 0.   fuel: to spend [kg], >= 0.   drawn: all that is drawn [W], > 0.
    generator_power: electric, continuous [W], > 0.   fuel_per_energy: of the generator [kg/J], > 0.
    Returns: time [s]; broadcast shape. Drawing more than the generator gives ends when the battery is spent, though
    fuel be left: then she must slow down.
    Valid: the generator follows the load at one specific consumption; charging losses are left out, since what the
    generator gives goes straight to the motor.
    Raises: ValueError naming the argument.   Source: balance of energy.
    """
    power, given = positive("drawn", drawn), positive("generator_power", generator_power)
    per_energy = positive("fuel_per_energy", fuel_per_energy)
    stored, burnt = not_negative("energy", energy), not_negative("fuel", fuel)
    shared = burnt / (per_energy * power) + stored / power
    short = np.where(power > given, power - given, 1.0)
    running = burnt / (per_energy * given)
    emptied = stored / short
    beyond = np.where(emptied <= running, emptied, running + (stored - short * running) / power)
    return plain(np.where(power <= given, shared, beyond))

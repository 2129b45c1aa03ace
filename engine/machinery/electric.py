"""Electric drive: a motor's limits, what a battery gives, how long it lasts, charging, and the generator beside it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from engine.constants import HOUR, KNOT, TWO_PI
from engine.data import table
from engine.findings import Finding, fits, look, stop
from engine.machinery.fuel import G_PER_KWH
from engine.numeric import Array, Real, plain
from engine.showing import round_number
from engine.validity import not_negative, positive

_ELECTRIC = table("electric")
_CHAIN: Mapping[str, float] = _ELECTRIC["chain"]
_REGENERATION = _ELECTRIC["regeneration"]
_GENERATOR: Mapping[str, float] = _ELECTRIC["generator"]

ELECTRIC_STATUS: str = _ELECTRIC["status"]
POWER_NOTE: str = _ELECTRIC["notes"]["power"]
CHARGER_EFFICIENCY: float = _ELECTRIC["charger"]["efficiency"]
GENERATOR_CONSUMPTION: float = _GENERATOR["consumption_g_per_kwh"] * G_PER_KWH / _GENERATOR["efficiency"]
"""Fuel of a diesel generator per electric energy [kg/J]; the diesel's figure is ours, the efficiency from memory."""
SAILING_SPEEDS: tuple[float, ...] = tuple(knots * KNOT for knots in _REGENERATION["speed_kn"])
"""Speeds under sail for which a figure of charging is known [m/s]."""
PEUKERT_EXPONENT: float = _ELECTRIC["peukert"]["exponent"]
PEUKERT_HOURS: float = _ELECTRIC["peukert"]["hours"]
_HIGH_LOAD = 0.85
"""A load above it leaves little for wind and sea over long hours (ours)."""
_MOST_OF_A_BATTERY = 1.0
"""A battery that gives more of its rated energy in an hour than this wants a look at its data sheet [1/h]; ours."""
_DISCHARGE_SOURCE = "power over energy, and over voltage: definitions; 1 C as the limit is ours, the maker decides"
_LOAD_SOURCE = "continuous rating of the motor; 85 % for long hours is our own choice"


@dataclass(frozen=True)
class BatteryKind:
    """usable_fraction, discharge_efficiency: [-].   specific_energy: of a pack, least and most [J/kg]."""

    name: str
    usable_fraction: float
    discharge_efficiency: float
    specific_energy: tuple[float, float]
    status: str


def _kind(name: str, row: Mapping[str, Any]) -> BatteryKind:
    low, high = (HOUR * value for value in row["specific_energy_wh_per_kg"])
    return BatteryKind(name, row["usable_fraction"], row["discharge_efficiency"], (low, high), row["status"])


BATTERY_KINDS: Mapping[str, BatteryKind] = {name: _kind(name, row) for name, row in _ELECTRIC["battery"].items()}


@dataclass(frozen=True)
class ElectricMotor:
    """One motor, as on its data sheet.

    rated_power: continuous, at its shaft [W].   rated_speed: at that power [rev/s].   peak_power: for a minute [W].
    highest_speed: where the controller holds it [rev/s]; None takes 1.08 of rated.
    Raises: ValueError naming the field.
    """

    rated_power: float
    rated_speed: float
    peak_power: float | None = None
    highest_speed: float | None = None

    def __post_init__(self) -> None:
        for name in ("rated_power", "rated_speed", "peak_power", "highest_speed"):
            if getattr(self, name) is not None:
                positive(name, getattr(self, name))

    @property
    def crankshaft_rated_power(self) -> float:
        """Continuous power at its shaft [W], under the name a diesel has for it."""
        return self.rated_power

    @property
    def rated_torque(self) -> float:
        """Torque at continuous power [N m]."""
        return self.rated_power / (TWO_PI * self.rated_speed)

    @property
    def no_load_speed(self) -> float:
        """Highest speed [rev/s], not under the rated one."""
        highest = self.highest_speed or _ELECTRIC["motor"]["highest_speed"] * self.rated_speed
        return max(float(highest), self.rated_speed)

    @property
    def full_load_corners(self) -> tuple[float, ...]:
        """Where full torque ends and full power begins [rev/s]."""
        return (self.rated_speed,)

    @property
    def idle_speed(self) -> float | None:
        """A motor has none."""
        return None


@dataclass(frozen=True)
class Battery:
    """capacity: rated energy when new [J].   usable_fraction: of it that may be drawn.   end_of_life_fraction: of the
    capacity that is left at the end of its life.   All shares [-], > 0 to 1.

    Raises: ValueError naming the field.
    """

    capacity: float
    usable_fraction: float
    end_of_life_fraction: float = _ELECTRIC["aged"]["capacity"]

    def __post_init__(self) -> None:
        for name in ("capacity", "usable_fraction", "end_of_life_fraction"):
            positive(name, getattr(self, name))
        for name in ("usable_fraction", "end_of_life_fraction"):
            if getattr(self, name) > 1.0:
                raise ValueError(f"{name} must not be over one")


def motor_full_load_power(motor: ElectricMotor, speed: Real, *, derating: Real = 1.0) -> Real:
    """Power at the motor's shaft with the lever right forward, for hours.

    speed: [rev/s], >= 0.   derating: > 0 to 1 [-].
    Returns: [W]; broadcast shape. Full torque from standstill to rated speed, full power above it, nothing beyond the
    highest speed.
    Raises: ValueError naming the argument.
    Source: how controllers are set, trade practice, from memory.
    """
    turning = not_negative("speed", speed)
    power = motor.rated_power * np.minimum(turning / motor.rated_speed, 1.0)
    held = np.where(turning > motor.no_load_speed * (1.0 + 1e-9), 0.0, power)
    return plain(held * positive("derating", derating))


def usable_energy(battery: Battery) -> float:
    """Energy that may be drawn from a battery at the end of its life [J].   Source: product of its shares."""
    return battery.capacity * battery.usable_fraction * battery.end_of_life_fraction


def chain_efficiency(*, battery: Real = 1.0, reduction: Real = 1.0) -> Real:
    """Efficiency from the battery's rated energy to the motor's shaft [-]: battery, cables, controller and motor.

    battery: of its discharge.   reduction: of a belt or gear, when it is not counted elsewhere.
    Raises: ValueError naming the argument.
    Source: product of figures from memory; 0.848 for lithium.
    """
    parts = _CHAIN["cable"] * _CHAIN["controller"] * _CHAIN["motor"]
    return plain(parts * positive("battery", battery) * positive("reduction", reduction))


def peukert_time(capacity: Real, hours_rating: Real, current: Real, exponent: Real) -> Real:
    """Hours that a lead battery lasts at a steady current.

    capacity: [A h] at the rating.   hours_rating: hours over which the capacity is rated, 20 as a rule.
    current: [A].   exponent: 1.1 to 1.3 for lead, 1.03 for lithium; from memory.
    Returns: time [h]; broadcast shape.
    Raises: ValueError naming the argument.   Source: Peukert (1897), t = H (C/(I H))^k.
    """
    hours = positive("hours_rating", hours_rating)
    share = positive("capacity", capacity) / (positive("current", current) * hours)
    return plain(hours * share ** np.asarray(exponent))


def charge_time(energy: Real, charge_power: Real, efficiency: Real = CHARGER_EFFICIENCY) -> Real:
    """Time on the plug [s] to put an energy [J] back with a power drawn from it [W]; 0.92 of it arrives, from memory.

    Raises: ValueError naming the argument.   Source: definition; the slow end of the charge is left out.
    """
    arriving = positive("charge_power", charge_power) * positive("efficiency", efficiency)
    return plain(not_negative("energy", energy) / arriving)


def battery_mass(capacity: Real, kind: str) -> tuple[Real, Real]:
    """Least and most mass of a pack [kg] of a rated energy [J]; kind: a key of BATTERY_KINDS.

    Raises: ValueError naming the argument.   Source: specific energies from memory.
    """
    if kind not in BATTERY_KINDS:
        raise ValueError(f"kind must be one of {', '.join(BATTERY_KINDS)}, not {kind!r}")
    low, high = BATTERY_KINDS[kind].specific_energy
    energy = positive("capacity", capacity)
    return plain(energy / high), plain(energy / low)


def regeneration_power(speed: Real) -> tuple[Real, Real]:
    """Least and most power that a fixed propeller of 13 to 18 in charges under sail.

    speed: through the water [m/s], >= 0.
    Returns: powers [W]; same shape. Nothing up to 4 kn; between the figures straight on logarithmic scales; outside
    SAILING_SPEEDS the outermost slope goes on, a guess.
    Raises: ValueError naming the argument.
    Source: yachting press (printed) for the 4 kn; the figures from memory.
    """
    knots = not_negative("speed", speed) / KNOT
    given = np.asarray(_REGENERATION["speed_kn"])
    low, high = (_on_logarithmic_scales(knots, given, np.asarray(_REGENERATION[name])) for name in ("low_w", "high_w"))
    sails = knots > _REGENERATION["from_kn"]
    return plain(np.where(sails, low, 0.0)), plain(np.where(sails, high, 0.0))


def _on_logarithmic_scales(x: Array, given_x: Array, given_y: Array) -> Array:
    log_x, log_y = np.log(given_x), np.log(given_y)
    at = np.log(np.maximum(x, 1e-9))
    place = np.clip(np.searchsorted(log_x, at) - 1, 0, log_x.size - 2)
    slope = (log_y[place + 1] - log_y[place]) / (log_x[place + 1] - log_x[place])
    return np.asarray(np.exp(log_y[place] + slope * (at - log_x[place])))


def judge_continuous_load(load: float) -> Finding:
    """Verdict on the load a motor cruises at in calm water, of its continuous rating [-]; over 100 % stops.

    Judged as it is told.

    Source: definition of the rating; 85 % for long hours is ours.
    """
    load = round(load, 2)
    words = f"In calm water the motor cruises at {100.0 * load:.0f} % of its continuous power"
    if load > 1.0:
        return stop(f"{words}: more than it may give for hours. Its peak power does not count.", _LOAD_SOURCE)
    if load > _HIGH_LOAD:
        return look(f"{words}; little is left for wind, sea and a foul bottom.", _LOAD_SOURCE)
    return fits(f"{words}; a motor takes no harm from a light load.", _LOAD_SOURCE)


def discharge_rate(power: Real, capacity: Real) -> Real:
    """Share of its rated energy that a battery would give in an hour, the "C" of the trade [1/h].

    power: drawn from it [W], >= 0.   capacity: rated energy [J].
    Raises: ValueError naming the argument.   Source: definition.
    """
    return plain(not_negative("power", power) * HOUR / positive("capacity", capacity))


def judge_discharge(power: float, capacity: float, voltage: float | None = None, path: str = "") -> Finding:
    """Verdict on the most that is drawn from a battery [W], of a rated energy [J], and the current in its cables.

    voltage: of the battery [V], as far as it is known.   path: of the field with the battery.
    Source: definitions; the limit of 1 C is ours.
    """
    rate = float(discharge_rate(power, capacity))
    times = round_number(rate, 2)
    current = (
        f"Its voltage is not given: at 48 V that would be {power / 48.0:.0f} A in cables, fuses and switches, at twice "
        "the voltage half of it."
        if voltage is None
        else f"At {voltage:g} V that is {power / voltage:.0f} A in cables, fuses and switches."
    )
    rated = f"{times} times its rated energy in an hour ({times} C)"
    told = f"At full throttle the battery gives {power / 1e3:.1f} kW, {rated}. {current}"
    if rate > _MOST_OF_A_BATTERY:
        return look(
            f"{told} Not every battery may give so much for as long as there is energy in it: ask its maker, or take a "
            "larger one.",
            _DISCHARGE_SOURCE,
            path,
        )
    return fits(told, _DISCHARGE_SOURCE)

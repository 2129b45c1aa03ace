"""A diesel as its data sheet states it: power at full throttle, load, duty class and cruise band."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal, TypeAlias

import numpy as np

from engine.constants import RPM, TWO_PI
from engine.data import table
from engine.findings import Finding, fits, look, stop
from engine.machinery.fuel_maps import FuelMap, fuel_map
from engine.machinery.gearbox import GEAR_EFFICIENCY
from engine.numeric import Array, Real, plain
from engine.validity import OutOfRange, not_negative, outside_range, positive

EngineKind: TypeAlias = Literal[
    "indirect injection", "direct injection", "turbocharged", "turbocharged and charge-cooled"
]
PowerBasis: TypeAlias = Literal["crankshaft", "propeller shaft"]
Points: TypeAlias = tuple[tuple[float, float], ...]

_RATING = table("engine_rating")
_LOADING = _RATING["loading"]
_CONSUMPTION: Mapping[str, Mapping[str, Any]] = table("fuel")["default_consumption"]
ENGINE_KINDS: tuple[str, ...] = tuple(_CONSUMPTION)
TURBOCHARGED = tuple(kind for kind in ENGINE_KINDS if kind.startswith("turbocharged"))
NO_LOAD_SPEED: float = _RATING["governor"]["no_load_speed"]
"""Speed without load over rated speed when the data sheet gives none; from memory, 1.05 to 1.10."""

CRUISE_LOAD_LOW: float = _LOADING["cruise_low"]
CRUISE_LOAD_HIGH: float = _LOADING["cruise_high"]
LIGHT_LOAD_CAUTION: float = _LOADING["light_caution"]
LIGHT_LOAD_WARNING: float = _LOADING["light_warning"]
_CURVE_DISAGREES = 0.03
"""A torque curve further off the rated power than this does not agree with it (ours)."""
_LIGHT_SOURCE = "trade practice, from memory; limits are our own choice"
_CRUISE_SOURCE = "trade practice, from memory; best near 80 % (Johnson, T., Alaska Sea Grant)"


@dataclass(frozen=True)
class DutyClass:
    """One class of the five-step duty ladder. hours_per_year, load_factor: most, None when unlimited."""

    name: str
    full_power: str
    status: str
    hours_per_year: float | None = None
    load_factor: float | None = None

    def allows(self, hours_per_year: float, load_factor: float) -> bool:
        """Whether an engine of the class may run so many hours a year [h] at such a load factor [-]."""
        hours_fit = self.hours_per_year is None or hours_per_year <= self.hours_per_year
        return hours_fit and (self.load_factor is None or load_factor <= self.load_factor)


DUTY_CLASSES: tuple[DutyClass, ...] = tuple(DutyClass(**row) for row in _RATING["duty"])
"""From continuous, the hardest, to pleasure. After one maker's words, anonymised."""


@dataclass(frozen=True)
class DieselEngine:
    """One diesel, as on its data sheet.

    rated_power: [W].   rated_speed: [rev/s].   kind: picks the generic torque shape and fuel map.
    power_basis: where the maker measures power and torque; "propeller shaft" is after the gear.
    gear_efficiency: the maker's gear loss, used only to bring "propeller shaft" figures to the crankshaft [-].
    governed_speed: the governor's no-load speed [rev/s]; None takes 1.08 of rated.   idle_speed: [rev/s].
    torque_curve: full-load points (speed [rev/s], torque [N m]), speeds rising, on the same basis as rated_power.
    specific_consumption: at rated power, per energy at the crankshaft on either basis (ISO 3046-1, from memory) [kg/J].
    propeller_fuel_curve: maker's points (speed [rev/s], fuel [kg/s]) along the cubic propeller curve, speeds rising.
    Raises: ValueError naming the field.
    """

    rated_power: float
    rated_speed: float
    kind: EngineKind
    power_basis: PowerBasis = "crankshaft"
    gear_efficiency: float = GEAR_EFFICIENCY
    governed_speed: float | None = None
    idle_speed: float | None = None
    torque_curve: Points | None = None
    specific_consumption: float | None = None
    propeller_fuel_curve: Points | None = None

    def __post_init__(self) -> None:
        for name in ("rated_power", "rated_speed", "gear_efficiency"):
            positive(name, getattr(self, name))
        for name in ("governed_speed", "idle_speed", "specific_consumption"):
            if getattr(self, name) is not None:
                positive(name, getattr(self, name))
        if self.kind not in _CONSUMPTION:
            raise ValueError(f"kind must be one of {', '.join(ENGINE_KINDS)}, not {self.kind!r}")
        if self.power_basis not in ("crankshaft", "propeller shaft"):
            raise ValueError(f"power_basis must be crankshaft or propeller shaft, not {self.power_basis!r}")
        for name in ("torque_curve", "propeller_fuel_curve"):
            points = getattr(self, name)
            if points is None:
                continue
            if len(points) < 2:
                raise ValueError(f"{name} needs at least two points")
            positive(name, np.asarray(points, dtype=float))
            if np.any(np.diff([speed for speed, _ in points]) <= 0.0):
                raise ValueError(f"{name} must have rising speeds")

    @property
    def crankshaft_rated_power(self) -> float:
        """Rated power at the flywheel [W], whatever the basis of the data sheet."""
        return self.rated_power * self._to_crankshaft

    @property
    def rated_torque(self) -> float:
        """Torque at the flywheel at rated power [N m]."""
        return self.crankshaft_rated_power / (TWO_PI * self.rated_speed)

    @property
    def no_load_speed(self) -> float:
        """Speed at which the governor has cut the fuel right back [rev/s]."""
        if self.governed_speed is not None:
            return self.governed_speed
        return max(NO_LOAD_SPEED * self.rated_speed, float(self._curve[0][-1]))

    @property
    def full_load_corners(self) -> tuple[float, ...]:
        """Speeds between which the torque at full load goes by straight lines [rev/s]."""
        return tuple(self._full_load[0].tolist())

    @property
    def shape(self) -> FuelMap:
        """The published map that shapes its torque, when it has no curve of its own, and its fuel."""
        return fuel_map(_CONSUMPTION[self.kind]["map"])

    @property
    def _to_crankshaft(self) -> float:
        return 1.0 if self.power_basis == "crankshaft" else 1.0 / self.gear_efficiency

    @cached_property
    def _curve(self) -> tuple[Array, Array]:
        """Full-load speeds [rev/s] and flywheel torques [N m] up to where the governor begins to cut."""
        if self.torque_curve is not None:
            points = np.asarray(self.torque_curve, dtype=float)
            return points[:, 0], points[:, 1] * self._to_crankshaft
        shape = self.shape
        kept = shape.full_load_speed_fraction <= 1.0
        speeds = shape.full_load_speed_fraction[kept] * self.rated_speed
        return speeds, shape.full_load_torque_fraction[kept] * self.rated_torque

    @cached_property
    def _full_load(self) -> tuple[Array, Array]:
        """The same with the line from standstill before it, and behind it that on which the governor cuts."""
        speeds, torques = self._curve
        if self.no_load_speed > speeds[-1]:
            speeds, torques = np.append(speeds, self.no_load_speed), np.append(torques, 0.0)
        return np.insert(speeds, 0, 0.0), np.insert(torques, 0, 0.0)


def torque_points_from_power(points: Points) -> Points:
    """Torque points (speed [rev/s], torque [N m]) from a maker's power points (speed [rev/s], power [W]).

    points: speeds > 0.   Source: definition of torque.
    """
    return tuple((speed, power / (TWO_PI * speed)) for speed, power in points)


def full_load_power(engine: DieselEngine, speed: Real, *, derating: Real = 1.0) -> Real:
    """Power at the flywheel at full throttle.

    speed: of the engine [rev/s], >= 0.   derating: owner's factor for air and place, > 0 to 1 [-].
    Returns: power [W]; broadcast shape of speed and derating. From the engine's own torque points, else from the
    published shape of its kind. From the last point (rated speed for a published shape) the governor lets torque fall
    in a straight line to nothing at its no-load speed. Below the first point torque falls in proportion to speed (own
    choice, on the low side; check_full_load says where). Nothing below idle speed, when that is given.
    Raises: ValueError naming the argument.
    Source: torque shapes Heywood (1988), Neumann et al. (c. 1993), Merrion (1994), one copy each, of road and
    industrial engines; see engine/data/fuel_maps.toml.
    """
    if np.any(np.asarray(derating) > 1.0):
        raise ValueError("derating must not be over one")
    turning = not_negative("speed", speed)
    torque = np.interp(turning, *engine._full_load)
    torque = np.where(turning > engine.no_load_speed, 0.0, torque)
    if engine.idle_speed is not None:
        torque = np.where(turning < engine.idle_speed, 0.0, torque)
    return plain(TWO_PI * turning * torque * positive("derating", derating))


def check_full_load(engine: DieselEngine, speed: Real) -> tuple[OutOfRange, ...]:
    """Where full_load_power is a guess because no full-load point reaches down to that engine speed.

    speed: [rev/s], any shape.
    """
    lowest_rpm = float(engine._curve[0][0]) / RPM
    note = "below that no full-load torque is known and a straight line to standstill is used"
    return outside_range("engine speed in rpm", np.asarray(speed) / RPM, lowest_rpm, np.inf, note)


def check_engine(engine: DieselEngine) -> tuple[str, ...]:
    """Plain sentences about what does not agree within one data sheet; empty when all does.

    Source: that a curve may miss the rated power by 3 % is ours.
    """
    sentences = []
    if engine.torque_curve is not None:
        speeds, torques = engine._curve
        if not speeds[0] <= engine.rated_speed <= speeds[-1]:
            sentences.append("The torque curve does not reach the rated speed.")
        else:
            ratio = float(np.interp(engine.rated_speed, speeds, torques)) / engine.rated_torque
            if abs(ratio - 1.0) > _CURVE_DISAGREES:
                sentences.append(f"The torque curve gives {100.0 * ratio:.0f} % of the rated power at rated speed.")
    if engine.governed_speed is not None and engine.governed_speed < engine.rated_speed:
        sentences.append("The governed speed is under the rated speed, so rated power cannot be reached.")
    if engine.idle_speed is not None and engine.idle_speed >= engine.rated_speed:
        sentences.append("The idle speed is not under the rated speed.")
    return tuple(sentences)


def load_factor(fuel_burned: Real, full_power_rate: Real, duration: Real) -> Real:
    """Share of the fuel that full power would have burned in the same time [-].

    fuel_burned: mass or volume.   full_power_rate: the same per second.   duration: [s], > 0.
    Raises: ValueError naming the argument.
    Source: engine maker's pocket guide (anonymised), printed.
    """
    full = positive("full_power_rate", full_power_rate) * positive("duration", duration)
    return plain(not_negative("fuel_burned", fuel_burned) / full)


def duty_class_for(hours_per_year: float, mean_load_factor: float) -> DutyClass:
    """The lightest duty class that allows the hours a year and the load factor; continuous allows any.

    hours_per_year: [h].   mean_load_factor: as load_factor [-].   Source: engine/data/engine_rating.toml.
    """
    return next(duty for duty in reversed(DUTY_CLASSES) if duty.allows(hours_per_year, mean_load_factor))


def cruise_speed_limit(rated_speed: Real) -> Real:
    """Engine speed to hold between spells of full power; NaN above the 5000 rpm that the rule reaches.

    rated_speed: [rev/s], > 0.
    Returns: engine speed [rev/s]; same shape.
    Raises: ValueError naming the argument.
    Source: one engine maker (anonymised), printed: 200 to 500 rpm under rated, by rated speed.
    """
    rated_rpm = positive("rated_speed", rated_speed) / RPM
    steps = _RATING["cruise_reduction"]
    within = [rated_rpm <= row["rated_rpm_to"] * (1.0 + 1e-12) for row in steps]
    minus = np.select(within, [np.full(rated_rpm.shape, row["minus_rpm"]) for row in steps], np.nan)
    return plain((rated_rpm - minus) * RPM)


def judge_cruise_load(load: float, *, can_be_smaller: bool = True) -> Finding:
    """Verdict on the load the engine cruises at in calm water, of the power it has aboard [-]; under 30 % wants a look,
    over 100 % stops. Judged in whole per cent, as it is told.

    can_be_smaller: whether a smaller engine would still reach the top speed wanted.
    A light load does not stop a plan: the trade installs two to four times the calm-water need, see displacement_rules.
    Source: trade practice, from memory; best near 80 % (Johnson, T., Alaska Sea Grant); limits of light load are ours.
    """
    load = round(load, 2)
    words = f"In calm water the engine cruises at {100.0 * load:.0f} % of the power it has aboard"
    if load > 1.0:
        return stop(f"{words}: more than all of it.", _CRUISE_SOURCE)
    if load > CRUISE_LOAD_HIGH:
        return look(f"{words}; for long hours stay at or under {100.0 * CRUISE_LOAD_HIGH:.0f} %.", _CRUISE_SOURCE)
    if load < LIGHT_LOAD_CAUTION:
        cold = ": that runs cold, glazes bores and soots up" if load < LIGHT_LOAD_WARNING else ""
        cure = "Run it up to three quarters for a quarter of an hour each day"
        other = (
            ", or take a smaller one."
            if can_be_smaller
            else ". A smaller one would not reach the top speed wanted: if you can do with less, lower that first."
        )
        return look(f"{words}{cold}. {cure}{other}", _LIGHT_SOURCE)
    if load < CRUISE_LOAD_LOW:
        low, high = 100.0 * CRUISE_LOAD_LOW, 100.0 * CRUISE_LOAD_HIGH
        return fits(f"{words}, under the {low:.0f} to {high:.0f} % of long passages but well loaded.", _CRUISE_SOURCE)
    return fits(f"{words}, in the band for long passages.", _CRUISE_SOURCE)

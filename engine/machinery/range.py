"""How far the fuel goes: endurance, range over the ground, fuel and cost per mile, best speeds."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from engine.data import table
from engine.numeric import Array, Real, plain
from engine.validity import not_negative, positive

_FUEL = table("fuel")
USABLE_FRACTION: float = _FUEL["tank"]["usable_fraction"]


@dataclass(frozen=True)
class ReservePolicy:
    """What is left on arrival, as a share of the usable fuel; any other share may be given instead."""

    name: str
    fraction: float
    words: str
    status: str


RESERVES: Mapping[str, ReservePolicy] = {
    name: ReservePolicy(name, float(Fraction(row["fraction"])), row["words"], row["status"])
    for name, row in _FUEL["reserve"].items()
}


@dataclass(frozen=True, eq=False)
class BestSpeed:
    """Speed through the water of least fuel per distance over the ground.

    speed: [m/s]; NaN where no speed makes way.   fuel_per_distance: [kg/m].
    at_edge: True where the least lies at an end of the curve, so the true one may lie beyond.
    """

    speed: Real
    fuel_per_distance: Real
    at_edge: bool | NDArray[np.bool_]


def usable_fuel(tank_volume: Real, density: Real, usable_fraction: Real = USABLE_FRACTION) -> Real:
    """Fuel mass that can be drawn from a tank [kg].

    tank_volume: gross [m3], >= 0.   density: [kg/m3], > 0.   usable_fraction: 0.90 from memory, 0.90 to 0.95.
    Raises: ValueError naming the argument.   Source: definition.
    """
    return plain(not_negative("tank_volume", tank_volume) * positive("density", density) * np.asarray(usable_fraction))


def _spendable(fuel: Real, reserve: Real) -> Array:
    share = not_negative("reserve", reserve)
    if np.any(share > 1.0):
        raise ValueError("reserve must not be over one")
    return np.asarray(not_negative("fuel", fuel) * (1.0 - share))


def _total_rate(rate: Real, hotel_rate: Real) -> Array:
    return np.asarray(positive("rate", rate) + not_negative("hotel_rate", hotel_rate))


def endurance(fuel: Real, rate: Real, *, hotel_rate: Real = 0.0, reserve: Real = 0.0) -> Real:
    """Time until only the reserve is left.

    fuel: usable [kg], >= 0.   rate: propulsion [kg/s], > 0.   hotel_rate: generator and heating [kg/s], >= 0.
    reserve: share of the usable fuel kept, 0 to 1.
    Returns: time [s]; broadcast shape.   Raises: ValueError naming the argument.   Source: definition.
    """
    return plain(_spendable(fuel, reserve) / _total_rate(rate, hotel_rate))


def cruising_range(
    fuel: Real, speed: Real, rate: Real, *, hotel_rate: Real = 0.0, head_current: Real = 0.0, reserve: Real = 0.0
) -> Real:
    """Distance over the ground until only the reserve is left; 0 where she makes no way against the current.

    fuel: usable [kg], >= 0.   speed: through the water [m/s], >= 0.   rate: propulsion at that speed [kg/s], > 0.
    hotel_rate: [kg/s], >= 0.   head_current: [m/s], negative when fair.   reserve: share kept, 0 to 1.
    Returns: distance [m]; broadcast shape.   Raises: ValueError naming the argument.   Source: definition.
    """
    over_ground = not_negative("speed", speed) - np.asarray(head_current)
    time = np.asarray(endurance(fuel, rate, hotel_rate=hotel_rate, reserve=reserve))
    return plain(time * np.where(over_ground > 0.0, over_ground, np.where(np.isnan(over_ground), np.nan, 0.0)))


def fuel_per_distance(speed: Real, rate: Real, *, hotel_rate: Real = 0.0, head_current: Real = 0.0) -> Real:
    """Fuel mass per distance over the ground [kg/m]; inf where she makes no way.

    Arguments and Raises: as cruising_range.   Source: definition.
    """
    over_ground = not_negative("speed", speed) - np.asarray(head_current)
    makes_way = over_ground > 0.0
    spent = _total_rate(rate, hotel_rate) / np.where(makes_way, over_ground, 1.0)
    return plain(np.where(makes_way, spent, np.where(np.isnan(over_ground), np.nan, np.inf)))


def best_range_speed(speeds: Array, rates: Array, *, hotel_rate: Real = 0.0, head_current: Real = 0.0) -> BestSpeed:
    """Speed of least fuel per distance over the ground, found on a curve and refined by a parabola through the least.

    speeds: through the water, rising (S,) [m/s], at least 3.   rates: propulsion (..., S) [kg/s], > 0.
    hotel_rate [kg/s], head_current [m/s]: any shape that broadcasts against rates without its last axis.
    Returns: BestSpeed with shapes (...).
    Raises: ValueError naming the argument.
    Source: definition; numerical, no power law assumed.
    """
    through_water = _rising("speeds", speeds)
    spent = _curve_per_distance(through_water, rates, hotel_rate, head_current)
    filled = np.where(np.isnan(spent), np.inf, spent)
    least = np.argmin(filled, axis=-1)
    middle = np.clip(least, 1, through_water.size - 2)

    def at(offset: int) -> tuple[Array, Array]:
        place = middle + offset
        return through_water[place], np.take_along_axis(filled, place[..., None], axis=-1)[..., 0]

    (left, f_left), (centre, f_centre), (right, f_right) = at(-1), at(0), at(1)
    at_edge = (least == 0) | (least == through_water.size - 1)
    lowest = np.take_along_axis(filled, least[..., None], axis=-1)[..., 0]
    usable = ~at_edge & np.isfinite(f_left) & np.isfinite(f_right)
    with np.errstate(invalid="ignore", divide="ignore"):
        slope_left = (f_centre - f_left) / (centre - left)
        slope_right = (f_right - f_centre) / (right - centre)
        bend = (slope_right - slope_left) / (right - left)
        vertex = 0.5 * (left + centre) - 0.5 * slope_left / bend
        value = f_left + slope_left * (vertex - left) + bend * (vertex - left) * (vertex - centre)
    usable &= bend > 0.0
    makes_way = np.isfinite(lowest)
    speed = np.where(makes_way, np.where(usable, vertex, through_water[least]), np.nan)
    per_distance = np.where(usable, value, lowest)
    edge = at_edge & makes_way
    return BestSpeed(plain(speed), plain(per_distance), bool(edge) if edge.ndim == 0 else edge)


def fastest_speed_for_leg(
    speeds: Array,
    rates: Array,
    distance: Real,
    fuel: Real,
    *,
    hotel_rate: Real = 0.0,
    head_current: Real = 0.0,
    reserve: Real = 0.0,
) -> Real:
    """Highest speed at which a leg can be run with the reserve left; NaN where no speed of the curve can.

    speeds: through the water, rising (S,) [m/s].   rates: propulsion (..., S) [kg/s], > 0.   distance: over the
    ground [m], > 0.   fuel: usable [kg].   The others as best_range_speed; all broadcast without the last axis.
    Returns: speed through the water [m/s], between the curve's points by a straight line; the curve's end where
    even that can.
    Raises: ValueError naming the argument.   Source: definition.
    """
    through_water = _rising("speeds", speeds)
    spent = _curve_per_distance(through_water, rates, hotel_rate, head_current)
    limit = np.asarray(_spendable(fuel, reserve) / positive("distance", distance))[..., None]
    spent, limit = np.broadcast_arrays(spent, limit)
    can = spent <= limit
    last = through_water.size - 1 - np.argmax(can[..., ::-1], axis=-1)
    following = np.minimum(last + 1, through_water.size - 1)

    def at(place: NDArray[np.intp]) -> Array:
        return np.asarray(np.take_along_axis(spent, place[..., None], axis=-1)[..., 0])

    with np.errstate(invalid="ignore"):  # both ends endless: no way at either
        rise = at(following) - at(last)
    crosses = (following > last) & np.isfinite(rise) & (rise > 0.0)
    share = np.where(crosses, (limit[..., 0] - at(last)) / np.where(crosses, rise, 1.0), 0.0)
    speed = through_water[last] + share * (through_water[following] - through_water[last])
    return plain(np.where(can.any(axis=-1), speed, np.nan))


def _rising(name: str, values: Array) -> Array:
    array = np.asarray(values, dtype=float)
    if array.ndim != 1 or array.size < 3 or np.any(np.diff(array) <= 0.0):
        raise ValueError(f"{name} must be at least three rising values")
    return array


def _curve_per_distance(speeds: Array, rates: Array, hotel_rate: Real, head_current: Real) -> Array:
    hotel, current = np.asarray(hotel_rate)[..., None], np.asarray(head_current)[..., None]
    return np.asarray(fuel_per_distance(speeds, rates, hotel_rate=hotel, head_current=current))

"""The market searched: every stock wheel with every gear ratio, on the boat and on the plausible boats.

What is assumed: one engine drives one propeller; power at the propeller and rated speed are the engine's; a wheel is
judged where she takes that power (`point_at_power`) and at the cruising speed, in the condition of the hull curves
given. KT and KQ are those of a published series; a pitch made wrong by a factor acts as that pitch would.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.numeric import Array, Real
from engine.propeller.at_power import point_at_power, reaches_shaft_speed
from engine.propeller.cavitation import burrill_check, dynamic_pressure, tip_speed
from engine.propeller.equilibrium import shaft_speed_at_boat_speed
from engine.propeller.hull_curve import HullCurve
from engine.propeller.open_water import BladeFamily, OpenWater, OpenWaterSeries
from engine.propeller.polynomials import CUBIC_LENGTH, PITCH_POWERS, powers_of
from engine.propeller.ranking import (
    MarketLimits,
    Rule,
    RuledOut,
    broken_rules,
    compared,
    in_order,
    mean_regret,
    nothing_better_follows,
)
from engine.propeller.series import corrected_family
from engine.propeller.wageningen import reynolds_number

_WHEELS_AT_ONCE = 2048
_FIRST_COMBINATIONS, _COMBINATIONS_AT_ONCE = 16, 64
"""Wheels times plausible boats that are worked out together stay within a processor's cache; the first few often
suffice."""
_ROUNDING = 1e-9
"""A pitch at the very end of a series is not lost to rounding."""

Burn = Callable[[Real, Real], Real]
Told = Callable[[float], None]


@dataclass(frozen=True)
class Blades:
    """A kind of wheel: all that two wheels of different diameter and pitch share.   area_ratio: expanded AE/A0 [-]."""

    series: OpenWaterSeries
    blades: int
    area_ratio: float


@dataclass(frozen=True, eq=False)
class Stock:
    """Wheels that can be had.   kind: (W,) index into kinds.   diameter, pitch: (W,) [m]."""

    kinds: tuple[Blades, ...]
    kind: NDArray[np.intp]
    diameter: Array
    pitch: Array


def stock_of(
    kinds: Sequence[Blades], diameters: Sequence[float] | Array, pitch_step: float | Callable[[float], float]
) -> Stock:
    """Every kind in every diameter, with the pitches that are whole steps and that her series was tested for.

    diameters: (D,) [m], > 0.   pitch_step: [m], > 0, or a function of diameter such as `geometry.stock_pitch_step`.
    Returns: W wheels, kind by kind, then by diameter as given, then by rising pitch; none is a stock of none.
    Source: that of the series' ranges; stepping is ours.
    """
    parts = [(np.zeros(0, dtype=np.intp), np.zeros(0), np.zeros(0))]
    for index, kind in enumerate(kinds):
        low, high = kind.series.pitch_ratio
        for diameter in diameters:
            step = pitch_step(diameter) if callable(pitch_step) else pitch_step
            first, last = np.ceil(low * diameter / step - _ROUNDING), np.floor(high * diameter / step + _ROUNDING)
            pitch = step * np.arange(first, last + 1.0)
            parts.append((np.full(pitch.size, index, dtype=np.intp), np.full(pitch.size, diameter), pitch))
    kind_of, diameter_of, pitch_of = (np.concatenate(columns) for columns in zip(*parts, strict=True))
    return Stock(tuple(kinds), kind_of, diameter_of, pitch_of)


@dataclass(frozen=True, eq=False)
class MarketBoat:
    """The boat the choice is made on: the middle of the plausible ones.

    hull: one curve (S,).   cruise_speed: [m/s].   shaft_pressure: p0 - pv at the shaft centre [Pa].
    kinematic_viscosity: [m2/s].
    """

    hull: HullCurve
    cruise_speed: float
    shaft_pressure: float
    kinematic_viscosity: float


@dataclass(frozen=True, eq=False)
class PlausibleBoats:
    """The boats she may be.   hull: curves (N, S).   weights: (N,).

    pitch_factor, torque_factor: (N,) or one, on the pitch ordered and on KQ of the series.   output_factor: (N,) or
    one, on the power at the propeller.
    """

    hull: HullCurve
    weights: Array
    pitch_factor: Real = 1.0
    output_factor: Real = 1.0
    torque_factor: Real = 1.0


@dataclass(frozen=True, eq=False)
class MarketEngine:
    """The engine.   power_at_propeller: at rated speed, all losses taken [W].   rated_speed: [rev/s].

    burn: what this engine takes, in any unit of fuel or energy an hour, for a power at its propeller [W] and its speed
    [rev/s], which broadcast.
    """

    power_at_propeller: float
    rated_speed: float
    burn: Burn


@dataclass(frozen=True)
class MarketRow:
    """One wheel with one ratio.   kind: index into the stock's kinds.   diameter, pitch: [m].   ratio: of the gear.

    light_running: on the middle of the boats [-].   chance: that rated speed is reached [-].   burn: at cruise.
    top_speed: where rated power is taken [m/s].   cruise_efficiency: open water [-].   tip_speed: at rated speed [m/s].
    regret: see `mean_regret`; NaN when it was not among those too close to call.
    """

    kind: int
    diameter: float
    pitch: float
    ratio: float
    light_running: float
    chance: float
    burn: float
    top_speed: float
    cruise_efficiency: float
    tip_speed: float
    regret: float


@dataclass(frozen=True, eq=False)
class MarketFound:
    """rows: the recommended one first, the others by rank.   Counts are of wheels, and of wheels with a ratio.

    feasible: keep to all rules.   tried: of them, on the plausible boats.
    """

    rows: tuple[MarketRow, ...]
    wheels: int
    combinations: int
    feasible: int
    tried: int
    ruled_out: Mapping[Rule, RuledOut]


def search(
    stock: Stock,
    ratios: Array,
    boat: MarketBoat,
    boats: PlausibleBoats,
    engine: MarketEngine,
    limits: MarketLimits,
    rows: int = 10,
    told: Told | None = None,
    blades_asked: int | None = None,
) -> MarketFound:
    """The best wheels and gear ratios of a market for one engine.

    ratios: (G,) of the gears, > 0 [-].   rows: how many to return, at least 1.
    told: called with the share done, 0 to 1; it may raise, which ends the search.
    blades_asked: number of blades that decides first where it is too close to call; None for any.
    Method: all wheels on the middle of the boats; whatever keeps to all rules goes, in order of burn, to the plausible
    boats. Ranking is by class of the chance, then by burn, so the search may stop as soon as the top class holds enough
    rows and nothing left burns within the tie share of the best: what it returns is what trying everything would.
    Of those in the best class whose burn is within the tie share of the least, the one with the least mean regret over
    the plausible boats is recommended: of those with the number of blades nearest to the one asked for.
    Blades with a Reynolds correction take the number they have where they absorb rated power; the same on all boats.
    Returns: MarketFound; without rows when no combination keeps to all rules.   Raises: what told raises.
    Valid: as `point_at_power`; pitch ratios of the series.
    Error: the points relative 1e-11; a chance means no more than a step of `chance_class`.   Source: ours.
    """
    tell = told or _tell_nobody
    tell(0.0)
    middle = _on_the_middle(stock, boat, engine, limits.area_line)
    rated = engine.rated_speed / ratios
    light = middle.shaft_speed[:, None] / rated - 1.0
    tips = np.asarray(tip_speed(stock.diameter[:, None], rated))
    spare_area = np.array([kind.area_ratio for kind in stock.kinds])[stock.kind] - middle.area_needed
    broken = broken_rules(limits, stock.diameter, light, tips, spare_area, middle.cruise_power)
    count_broken = np.sum(list(broken.values()), axis=0, dtype=np.int8)
    wheel, gear = np.nonzero(count_broken == 0)
    burn = np.asarray(engine.burn(middle.cruise_power[wheel], middle.cruise_shaft_speed[wheel] * ratios[gear]))
    order = np.argsort(burn, kind="stable")
    wheel, gear, burn = wheel[order], gear[order], burn[order]
    fleet = _OnTheBoats.of(stock, middle, boats, engine)
    chance = _chances(fleet, wheel, ratios[gear], burn, rows, tell)
    tried = chance.size
    wheel, gear, burn = wheel[:tried], gear[:tried], burn[:tried]
    regret = np.full(tried, np.nan)
    close = np.flatnonzero(compared(chance, burn))
    if close.size:
        regret[close] = fleet.regret(wheel[close], ratios[gear[close]], boat.cruise_speed, limits)
    best_first = in_order(chance, burn)
    is_known = np.isfinite(regret)
    if is_known.any():
        other = np.array([abs(kind.blades - (blades_asked or kind.blades)) for kind in stock.kinds])[stock.kind[wheel]]
        is_near = is_known & (other == other[is_known].min())
        recommended = int(np.nanargmin(np.where(is_near, regret, np.nan)))
        best_first = np.concatenate(([recommended], best_first[best_first != recommended]))
    tell(1.0)
    return MarketFound(
        rows=tuple(
            MarketRow(
                kind=int(stock.kind[wheel[one]]),
                diameter=float(stock.diameter[wheel[one]]),
                pitch=float(stock.pitch[wheel[one]]),
                ratio=float(ratios[gear[one]]),
                light_running=float(light[wheel[one], gear[one]]),
                chance=float(chance[one]),
                burn=float(burn[one]),
                top_speed=float(middle.speed[wheel[one]]),
                cruise_efficiency=float(middle.cruise_efficiency[wheel[one]]),
                tip_speed=float(tips[wheel[one], gear[one]]),
                regret=float(regret[one]),
            )
            for one in best_first[:rows]
        ),
        wheels=stock.diameter.size,
        combinations=stock.diameter.size * ratios.size,
        feasible=order.size,
        tried=tried,
        ruled_out={
            rule: RuledOut(int(breaks.sum()), int((breaks & (count_broken == 1)).sum()))
            for rule, breaks in broken.items()
        },
    )


def _chances(fleet: "_OnTheBoats", wheel: NDArray[np.intp], ratio: Array, burn: Array, rows: int, tell: Told) -> Array:
    """Chances of combinations in order of burn, of as many as must be tried before nothing better can follow."""
    chance = np.zeros(burn.size)
    tried = 0
    while tried < burn.size and not (
        tried and nothing_better_follows(chance[:tried], burn[:tried], float(burn[tried]), rows)
    ):
        step = min(max(tried, _FIRST_COMBINATIONS), _COMBINATIONS_AT_ONCE)
        now = slice(tried, min(tried + step, burn.size))
        chance[now] = fleet.chance(wheel[now], ratio[now])
        tried = now.stop
        tell(tried / burn.size)
    return chance[:tried]


def _tell_nobody(share: float) -> None:
    """For a search nobody watches."""


@dataclass(frozen=True, eq=False)
class _Middle:
    """Every wheel on the middle of the boats, (W,), NaN where she cannot be worked out.

    thrust_terms, torque_terms: (W, 7, 4), of her corrected family.   advance_ratio, shaft_speed, speed, area_needed:
    where she takes rated power [-, rev/s, m/s, AE/A0].   cruise_shaft_speed [rev/s], cruise_power [W]: at cruise.
    """

    thrust_terms: Array
    torque_terms: Array
    advance_ratio: Array
    shaft_speed: Array
    speed: Array
    area_needed: Array
    cruise_efficiency: Array
    cruise_shaft_speed: Array
    cruise_power: Array

    @classmethod
    def unknown(cls, size: int) -> "_Middle":
        """Of so many wheels, with nothing worked out yet."""
        terms = np.full((2, size, PITCH_POWERS, CUBIC_LENGTH), np.nan)
        return cls(*terms, *np.full((7, size), np.nan))


def _on_the_middle(stock: Stock, boat: MarketBoat, engine: MarketEngine, area_line: str) -> _Middle:
    middle = _Middle.unknown(stock.diameter.size)
    found: dict[bytes, Real] = {}  # the J of the same sizes of the kind before, near those of this one
    for index, kind in enumerate(stock.kinds):
        of_kind = np.flatnonzero(stock.kind == index)
        for start in range(0, of_kind.size, _WHEELS_AT_ONCE):
            part = of_kind[start : start + _WHEELS_AT_ONCE]
            D, pitch_ratio = stock.diameter[part], stock.pitch[part] / stock.diameter[part]
            sizes = np.stack([D, pitch_ratio]).tobytes()
            family, near = _corrected(kind, D, pitch_ratio, boat, engine, found.get(sizes, np.nan))
            open_water = family.at(pitch_ratio)
            run = point_at_power(open_water, D, engine.power_at_propeller, boat.hull, near=near)
            found[sizes] = run.point.advance_ratio
            n, V, thrust = (np.asarray(value) for value in (run.point.shaft_speed, run.speed, run.point.thrust))
            advance = V * boat.hull.advance_fraction
            q = dynamic_pressure(D, n, advance, boat.hull.density)
            burrill = burrill_check(thrust, D, pitch_ratio, kind.area_ratio, q, boat.shaft_pressure, area_line)
            cruise = shaft_speed_at_boat_speed(open_water, D, boat.cruise_speed, boat.hull)
            middle.thrust_terms[part], middle.torque_terms[part] = family.thrust, family.torque
            middle.advance_ratio[part], middle.shaft_speed[part], middle.speed[part] = run.point.advance_ratio, n, V
            middle.area_needed[part], middle.cruise_efficiency[part] = burrill.area_ratio_needed, cruise.efficiency
            middle.cruise_shaft_speed[part] = cruise.shaft_speed
            middle.cruise_power[part] = cruise.delivered_power
    return middle


def _corrected(
    kind: Blades, D: Array, pitch_ratio: Array, boat: MarketBoat, engine: MarketEngine, near: Real
) -> tuple[BladeFamily, Real]:
    """The wheels' family, at the Reynolds number of the point that the uncorrected series finds, and the J there.

    near: as of `point_at_power`; given back for a series without a correction, which is the same at any number.
    """
    Z, area = kind.blades, kind.area_ratio
    if not kind.series.reynolds_correction:
        return kind.series.family(area, Z), near
    blades = kind.series.cubics(pitch_ratio, area, Z)
    first = point_at_power(blades, D, engine.power_at_propeller, boat.hull, near=near)
    advance = np.asarray(first.speed) * boat.hull.advance_fraction
    reynolds = reynolds_number(D, area, Z, first.point.shaft_speed, advance, boat.kinematic_viscosity)
    return corrected_family(kind.series, area, Z, reynolds), first.point.advance_ratio


@dataclass(frozen=True, eq=False)
class _OnTheBoats:
    """Wheels on the plausible boats, some at a time.   factor_powers: (7, N), of the pitch factors."""

    stock: Stock
    middle: _Middle
    boats: PlausibleBoats
    engine: MarketEngine
    power: Array
    factor_powers: Array

    @classmethod
    def of(cls, stock: Stock, middle: _Middle, boats: PlausibleBoats, engine: MarketEngine) -> "_OnTheBoats":
        size = boats.weights.size
        powers = powers_of(np.broadcast_to(boats.pitch_factor, (size,)), PITCH_POWERS)
        power = engine.power_at_propeller * np.broadcast_to(boats.output_factor, (size,))
        return cls(stock, middle, boats, engine, power, powers)

    def chance(self, wheel: NDArray[np.intp], ratio: Array) -> Array:
        """Share of the boats, by weight, on which each wheel lets the engine reach its rated speed; (C,)."""
        open_water, zero_thrust = self._open_water(wheel)
        D, shaft_speed = self.stock.diameter[wheel, None], self.engine.rated_speed / ratio[:, None]
        reached = reaches_shaft_speed(open_water, D, self.power, shaft_speed, self.boats.hull, zero_thrust)
        return np.asarray(reached @ self.boats.weights / self.boats.weights.sum())

    def regret(self, wheel: NDArray[np.intp], ratio: Array, cruise_speed: float, limits: MarketLimits) -> Array:
        """Mean regret of each wheel among these, (C,)."""
        burn, light = np.empty((2, wheel.size, self.boats.weights.size))
        for start in range(0, wheel.size, _COMBINATIONS_AT_ONCE):
            part = slice(start, start + _COMBINATIONS_AT_ONCE)
            burn[part], light[part] = self._burn_and_light(wheel[part], ratio[part, None], cruise_speed)
        return mean_regret(burn, light, self.boats.weights, limits.light_running + limits.light_width)

    def _burn_and_light(self, wheel: NDArray[np.intp], ratio: Array, cruise_speed: float) -> tuple[Array, Array]:
        open_water, zero_thrust = self._open_water(wheel)
        hull, D = self.boats.hull, self.stock.diameter[wheel, None]
        near = self.middle.advance_ratio[wheel, None]
        run = point_at_power(open_water, D, self.power, hull, zero_thrust, near)
        cruise = shaft_speed_at_boat_speed(open_water, D, cruise_speed, hull)
        n, power = np.asarray(cruise.shaft_speed), np.asarray(cruise.delivered_power)
        burn = np.full(n.shape, np.nan)
        runs = np.isfinite(n)
        burn[runs] = self.engine.burn(power[runs], (n * ratio)[runs])
        return burn, np.asarray(run.point.shaft_speed) * ratio / self.engine.rated_speed - 1.0

    def _open_water(self, wheel: NDArray[np.intp]) -> tuple[OpenWater, Array]:
        """The wheels as each boat gets them, (C, N), and a J at which none of a wheel's gives thrust, (C, 1)."""
        pitch_ratio = self.stock.pitch[wheel] / self.stock.diameter[wheel]
        powers = powers_of(pitch_ratio, PITCH_POWERS).T[:, :, None]
        # powers of J first, so that each of them lies in one piece for all wheels and boats
        thrust, torque = (
            np.moveaxis(terms[wheel] * powers, -1, 0) for terms in (self.middle.thrust_terms, self.middle.torque_terms)
        )
        as_made = OpenWater(*(np.moveaxis(terms @ self.factor_powers, 0, -1) for terms in (thrust, torque)))
        largest_factor = self.factor_powers.max(axis=1)
        coarsest = OpenWater(*((terms @ largest_factor).T for terms in (thrust, torque)))
        torque_factor = np.asarray(self.boats.torque_factor)[..., None]
        zero_thrust = np.asarray(coarsest.zero_thrust_advance_ratio)
        return OpenWater(as_made.thrust_cubic, as_made.torque_cubic * torque_factor), zero_thrust[:, None]

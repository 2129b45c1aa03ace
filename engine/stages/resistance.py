"""The resistance of the plausible boats over a grid of speeds: what the hull, speed and power stages share."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from engine.constants import GRAVITY, KNOT, MONTH
from engine.data import table
from engine.defaults import amount, amount_or_none, word
from engine.fleet import Fleet
from engine.hull.added_resistance import ServiceConditions, ServiceParts, air_resistance, service_resistance
from engine.hull.consensus import Consensus, applies, consensus
from engine.hull.displacement_rules import hull_speed
from engine.hull.form import HullForm
from engine.hull.fouling import FOULING_RATES, fouling_allowance_after
from engine.hull.methods import ANCHOR, METHODS, ResistanceMethod
from engine.hull.roughness import fouling_resistance
from engine.hull.waves import kreitner_resistance, stawave1_resistance, usual_bow_length
from engine.hull.wetted_surface import wetted_surface_holtrop
from engine.numeric import Array, Real, plain
from engine.plan import Plan
from engine.sections.performance import ALL_METHODS
from engine.stages.boats import Boats
from engine.stages.unknowns import between
from engine.water import Water

SPEED_STEP_KN = 0.25
_REACH = 1.6
"""The grid reaches this many times the higher of hull speed and top speed, so that full throttle lies inside it."""
_DRAWING_SPEEDS = np.linspace(0.25, 0.40, 7)
"""Froude numbers of displacement boats at work; a boat's method is drawn by the methods' weights over them."""
_LEVEL_FROUDE = 0.32
"""Here the drawn error of a method is its level alone; towards slower and faster its tilt takes over."""
_APART: float = table("doubt")["method"]["correlation_froude"]
_AFLOAT = 1.01
"""Times its draft, the least depth that a boat is reckoned in (ours)."""
_WARM = 22.0
"""Water warmer than this [C] fouls between the rates of temperate water and of the tropics (ours)."""


@dataclass(frozen=True, eq=False)
class ResistanceCurve:
    """Resistance of the whole boat, keel and rudder included, against speed.

    speed: (S,) from 0 [m/s].   calm: (boats, S) clean, in deep calm water, with the drag of still air [N].
    service: (boats, S) with all that is allowed for [N].   median_calm, median_service: (S,) the middle of the fleet.
    parts: of the boats in service.   together: (S,) by the methods that count, on the boat as described [N].
    weights: label -> (S,) share of each method that counts.
    by_method: label -> (S,) the same by each method alone, NaN where it has no value.
    applies: label -> (S,) whether the method applies to the boat as described.
    """

    speed: Array
    fleet: Fleet
    calm: Array
    service: Array
    median_calm: Array
    median_service: Array
    parts: ServiceParts
    together: Array
    weights: Mapping[str, Array]
    by_method: Mapping[str, Array]
    applies: Mapping[str, NDArray[np.bool_]]


@dataclass(frozen=True, eq=False)
class CalmResistance:
    """Clean, in deep calm water: what no allowance of the power page changes.

    bare: (boats, S) without the air [N].   force: with the drag of still air [N].   median: (S,) of that, the middle of
    the fleet.   every, in_use: what all the methods, and those that count, say of the boat as described.
    """

    bare: Array
    force: Array
    median: Array
    every: Consensus
    in_use: Consensus

    @property
    def speed(self) -> Array:
        """(S,) from 0 [m/s]."""
        return self.every.speed


def methods_in_use(plan: Plan) -> tuple[str, ...]:
    """Names of the methods that count: the one the owner chose, or all."""
    label = word(plan.power, "method")
    return tuple(name for name, method in METHODS.items() if label in (ALL_METHODS, method.label))


def opinion_of(plan: Plan, form: HullForm, speed: Array, water: Water) -> Consensus:
    """What the methods in use say of one hull of the plan's kind of boat over speeds (S,) [m/s]."""
    return consensus(form, speed, water, methods_in_use(plan), word(plan.hull, "kind"))


def bare_resistance(boats: Boats, described: HullForm, opinion: Consensus, water: Water) -> Array:
    """Calm-water resistance of each boat [N], without the air, by the method drawn for her and with its drawn error.

    boats: a fleet, columns (N, 1).   described: the boat as described.   opinion: what the methods in use say of her.
    Returns: (N, S), at the speeds of the opinion.
    A boat stays with her method while its weight is what it was drawn with; as the method leaves its range she goes
    over to the consensus by as much as the weight falls. There her resistance is the anchor method's, times what the
    consensus is to the anchor on the boat as described.
    """
    speed = opinion.speed
    anchor = np.asarray(ANCHOR.resistance(boats.form, speed, water).total)
    rest = _carried_on(anchor, boats.form, described, opinion, water)
    shares = _drawing_shares(described, water, tuple(opinion.says), opinion.kind)
    drawn = _drawn_method(np.asarray(boats.method)[:, 0], tuple(shares.values()))
    angle = (described.froude_number(speed) - _LEVEL_FROUDE) / _APART * (np.pi / 2.0)
    error = boats.method_error * np.cos(angle) + boats.method_tilt * np.sin(angle)
    resistance: Array = np.full_like(rest, np.nan)
    for index, (name, share) in enumerate(shares.items()):
        mine = np.flatnonzero(drawn == index)
        if not mine.size:
            continue
        if name == ANCHOR.name:
            own = anchor[mine]
        else:
            own = np.asarray(METHODS[name].resistance(boats.form.rows(mine), speed, water).total)
        stays = np.where(np.isfinite(own) & (own >= 0.0), np.minimum(opinion.says[name].weight / share, 1.0), 0.0)
        doubt = stays * opinion.says[name].doubt + (1.0 - stays) * opinion.doubt
        blend = np.where(stays > 0.0, stays * own, 0.0) + (1.0 - stays) * rest[mine]
        resistance[mine] = blend * np.exp(doubt * np.asarray(error)[mine])
    return resistance


def _carried_on(anchor: Array, forms: HullForm, described: HullForm, opinion: Consensus, water: Water) -> Array:
    """Resistance (N, S) of each boat [N] by the anchor, times what the opinion is to it on the boat as described.

    anchor: (N, S), what that method says of each boat [N].
    A boat for which the anchor has no value has that of the first other method with a value at every speed, times what
    the opinion is to that one; NaN where there is none, and where the anchor knows the boat as described no better.
    """
    ratio, is_known = _opinion_over(ANCHOR, described, opinion, water)
    carried = anchor * ratio
    for method in METHODS.values() if is_known else ():
        left = np.flatnonzero(np.isnan(carried).any(axis=1))
        if not left.size:
            break
        if method is not ANCHOR:
            ratio, _ = _opinion_over(method, described, opinion, water)
            other = np.asarray(method.resistance(forms.rows(left), opinion.speed, water).total) * ratio
            has_value = ~np.isnan(other).any(axis=1)
            carried[left[has_value]] = other[has_value]
    return carried


def _opinion_over(
    method: ResistanceMethod, described: HullForm, opinion: Consensus, water: Water
) -> tuple[Array, bool]:
    """What an opinion of the boat as described is to one method's (S,) [-], and whether that has a value for her."""
    says = opinion.says.get(method.name)
    own = says.total if says else np.asarray(method.resistance(described, opinion.speed, water).total)
    ratio = np.divide(opinion.total, own, out=np.ones_like(opinion.speed), where=own > 0.0)
    return ratio, not np.isnan(own).any()


@lru_cache(maxsize=64)
def usual_opinion(described: HullForm, water: Water, names: tuple[str, ...], kind: str | None) -> Consensus:
    """What the named methods say of the boat as described at the speeds that a method is drawn by, and last at hull
    speed."""
    drawing = _DRAWING_SPEEDS * np.sqrt(GRAVITY * described.waterline_length)
    return consensus(described, np.append(drawing, hull_speed(described.waterline_length)), water, names, kind)


@lru_cache(maxsize=64)
def _drawing_shares(described: HullForm, water: Water, names: tuple[str, ...], kind: str | None) -> Mapping[str, float]:
    """The share of the boats that each method is drawn for."""
    says = usual_opinion(described, water, names, kind).says
    means = {name: float(np.mean(np.nan_to_num(say.weight[:-1]))) for name, say in says.items()}
    return {name: mean for name, mean in means.items() if mean > 0.0}


def _drawn_method(score: Array, shares: tuple[float, ...]) -> NDArray[np.intp]:
    """Which method each boat has, from her standard normal score."""
    bounds = np.cumsum(shares)[:-1] / np.sum(shares)
    return np.searchsorted([NormalDist().inv_cdf(float(bound)) for bound in bounds], score)


def fouls_fast(plan: Plan) -> bool:
    """Whether her water is so warm that growth is reckoned between the rates of temperate water and the tropics."""
    return amount(plan.hull, "water_temperature") > _WARM


def fouling_rise(months: float, boats: Boats, speed: Real, water: Water, plan: Plan) -> Real:
    """Rise of the friction coefficient [-] of the boats' hulls some months after cleaning."""
    if months == 0.0:
        return 0.0
    rate = FOULING_RATES
    slow, usual, fast = (
        rate[f"temperate water{pace}"].share_per_day for pace in (", slow growth", "", ", fast growth")
    )
    if fouls_fast(plan):
        slow, fast = usual, rate["tropical water"].share_per_day
        usual = 0.5 * (slow + fast)
    share = between(boats.fouling, usual, slow, fast)
    return fouling_allowance_after(
        months, speed, boats.form.waterline_length, water, share_per_day=np.maximum(share, 0.0)
    )


def steps_to_reach(highest: float) -> int:
    """Steps of the grid beyond rest, so that it reaches far enough for a highest speed of interest [m/s]."""
    return math.ceil(_REACH * highest / KNOT / SPEED_STEP_KN)


def calm_resistance(
    plan: Plan, fleet: Fleet, boats: Boats, described: HullForm, water: Water, steps: int
) -> CalmResistance:
    """Of the boats of a plan over a grid of so many steps beyond rest."""
    speed: Array = KNOT * SPEED_STEP_KN * np.arange(steps + 1.0)
    every = consensus(described, speed, water, kind=word(plan.hull, "kind"))
    in_use = every if len(methods_in_use(plan)) == len(every.says) else opinion_of(plan, described, speed, water)
    bare = bare_resistance(boats, described, in_use, water)
    force = bare + still_air(plan, boats, speed)
    return CalmResistance(bare, force, fleet.median(force), every, in_use)


def resistance_curve(
    plan: Plan, fleet: Fleet, boats: Boats, described: HullForm, water: Water, calm: CalmResistance
) -> ResistanceCurve:
    """Resistance against speed for the boats of a plan, with all that it allows for."""
    speed = calm.speed
    parts = service_resistance(
        boats.form,
        speed,
        calm.bare,
        total_wetted_surface(boats.form),
        water,
        ServiceConditions(
            friction_rise=fouling_rise(amount(plan.power, "time_since_cleaning") / MONTH, boats, speed, water, plan),
            depth=_depth(plan, boats.form),
            frontal_area=_frontal_area(plan),
            drag_coefficient=boats.air_drag,
            wind_speed=amount(plan.power, "head_wind"),
            wave_resistance=_wave_resistance(boats.form, amount(plan.power, "wave_height"), speed, water),
            sea_margin=amount(plan.power, "sea_margin"),
        ),
    )
    usual_air = np.asarray(air_resistance(_frontal_area(plan), fleet.median(np.asarray(boats.air_drag)), speed))
    return ResistanceCurve(
        speed=speed,
        fleet=fleet,
        calm=calm.force,
        service=np.asarray(parts.total),
        median_calm=calm.median,
        median_service=fleet.median(np.asarray(parts.total)),
        parts=parts,
        together=calm.in_use.total + usual_air,
        weights={METHODS[name].label: np.nan_to_num(say.weight) for name, say in calm.in_use.says.items()},
        by_method={say.method.label: say.total + usual_air for say in calm.every.says.values()},
        applies={
            say.method.label: np.broadcast_to(applies(say.method, described, speed), speed.shape)
            for say in calm.every.says.values()
        },
    )


def fouling_force(plan: Plan, boats: Boats, speed: Array, water: Water, months: float) -> Real:
    """What some months without cleaning add to the resistance of each boat [N]."""
    rise = fouling_rise(months, boats, speed, water, plan)
    return fouling_resistance(rise, total_wetted_surface(boats.form), speed, water)


def head_wind_force(plan: Plan, boats: Boats, speed: Array, water: Water, wind: float) -> Real:
    """What a true wind from ahead [m/s], with the head sea of the plan, adds to still air on each boat [N]."""
    in_wind = air_resistance(_frontal_area(plan), boats.air_drag, speed, wind_speed=wind)
    waves = _wave_resistance(boats.form, amount(plan.power, "wave_height"), speed, water)
    return plain(np.asarray(in_wind) - still_air(plan, boats, speed) + waves)


def _frontal_area(plan: Plan) -> float:
    """What the wind sees from ahead [m2]; nought while it is not given."""
    return amount_or_none(plan.hull, "windage_area") or 0.0


def still_air(plan: Plan, boats: Boats, speed: Array) -> Real:
    """Drag of still air on each boat [N]."""
    return air_resistance(_frontal_area(plan), boats.air_drag, speed)


def total_wetted_surface(form: HullForm) -> Real:
    """Hull and appendages of each boat [m2]."""
    return plain(wetted_surface_holtrop(form) + form.appendage_area)


def _depth(plan: Plan, form: HullForm) -> Real | None:
    """Depth of the water [m], None for deep; no boat is put aground, the power page stops who would be."""
    depth = amount_or_none(plan.power, "water_depth")
    return None if depth is None else np.maximum(depth, _AFLOAT * np.asarray(form.draft))


def _wave_resistance(form: HullForm, height: float, speed: Array, water: Water) -> Real:
    """The mean of both formulas [N], growing from nothing at rest as the boat gathers way (ours)."""
    if height == 0.0:
        return 0.0
    both = (stawave1_resistance(form, height, usual_bow_length(form), water), kreitner_resistance(form, height, water))
    force: Array = 0.5 * (np.asarray(both[0]) + np.asarray(both[1])) * np.minimum(speed / KNOT, 1.0)
    return force


def at_speed(curve: ResistanceCurve, values: Array, speed: float) -> float:
    """A value of the curve's grid (S,) at a speed between [m/s]."""
    return float(np.interp(speed, curve.speed, values))


def each_at_speed(curve: ResistanceCurve, values: Array, speed: Real) -> Array:
    """The values (boats, S) of the boats at speeds () or (M,) between those of the grid [m/s], (boats,) or (boats, M);
    NaN outside it."""
    grid, asked = curve.speed, np.asarray(speed, dtype=float)
    above = grid[1:-1].searchsorted(asked) + 1
    share = (asked - grid[above - 1]) / (grid[above] - grid[above - 1])
    share = np.where((asked >= grid[0]) & (asked <= grid[-1]), share, np.nan)
    low, high = values[:, above - 1], values[:, above]
    return np.asarray(low + share * (high - low))

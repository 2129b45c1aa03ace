"""What the methods say together: each weighs by its measured error and by how far the boat lies outside its range.

The weights are ours. A method's doubt is its measured error and, in quadrature, a share of how far the boat lies
outside each of its ranges, and what is missed by a method that was measured on the hulls it was made from when she is
of another kind; its weight is one over the square of that doubt. A method that gives no value beyond some Froude
number, or some other limit, fades out before it, so that the curve has no step.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.data import table
from engine.hull.form import HullForm
from engine.hull.methods import METHODS, ParameterRange, ResistanceMethod
from engine.numeric import Array, Real
from engine.showing import round_number
from engine.water import Water

_DOUBT = table("doubt")["method"]
SMALLEST_DOUBT: float = _DOUBT["floor"]
DOUBT_PER_SHARE_OUTSIDE: float = _DOUBT["per_share_outside"]
MOST_DOUBT_OUTSIDE: float = _DOUBT["applies_up_to"]
DOUBT_OF_ANOTHER_KIND: float = _DOUBT["another_kind"]
_NEXT_TO_NOTHING = 2e-3
"""Outside a range by less than this share is spoken of as inside: the figures would read alike (ours)."""
TAPER_FROUDE: float = _DOUBT["taper_froude"]


@dataclass(frozen=True, eq=False)
class Say:
    """What one method says of one hull over speeds.

    total: resistance [N], NaN where the method gives none.   doubt: of its logarithm, one standard deviation [-].
    weight: its share in the consensus [-]; the weights of all methods add up to one at every speed.
    """

    method: ResistanceMethod
    total: Array
    doubt: Array
    weight: Array


@dataclass(frozen=True, eq=False)
class Consensus:
    """All methods on one hull.   speed: (S,) [m/s].   total: (S,) their weighted mean [N].   says: by method name.

    kind: the kind of boat that she is, None for one of each method's own.
    """

    speed: Array
    total: Array
    says: Mapping[str, Say]
    kind: str | None

    @property
    def doubt(self) -> Array:
        """Of the logarithm of the mean, as if the methods erred together: the weighted mean of their doubts [-]."""
        return np.asarray(sum(say.weight * say.doubt for say in self.says.values()))

    def at_first(self, count: int) -> "Consensus":
        """The same at the first of its speeds."""
        says = {
            name: Say(say.method, say.total[:count], say.doubt[:count], say.weight[:count])
            for name, say in self.says.items()
        }
        return Consensus(self.speed[:count], self.total[:count], says, self.kind)


def share_outside(limit: ParameterRange, form: HullForm, speed: Real) -> Array:
    """How far a hull lies outside a range, as a share [-], zero within.

    speed: [m/s].   Returns: the broadcast shape.
    The logarithm of value over end; of a range that is not all positive the distance in widths of the range (ours).
    """
    value = np.asarray(limit.value(form, speed))
    if limit.low < 0.0:
        return np.abs(limit.distance(value)) / (limit.high - limit.low)
    above = np.log(np.maximum(value, limit.high) / limit.high)
    below = np.log(limit.low / np.minimum(value, limit.low)) if limit.low > 0.0 else 0.0
    return np.asarray(above + below)


def doubt_outside(method: ResistanceMethod, form: HullForm, speed: Real) -> Array:
    """Doubt of ln(resistance) that comes from lying outside a method's ranges [-]; zero inside all of them.

    speed: [m/s]. Returns: the broadcast shape of form and speed.   Source: ours, engine/data/doubt.toml.
    """
    square: Array = np.asarray(0.0)
    for limit in method.ranges:
        square = square + (DOUBT_PER_SHARE_OUTSIDE * share_outside(limit, form, speed)) ** 2
    return np.asarray(np.sqrt(square))


def method_doubt(method: ResistanceMethod, form: HullForm, speed: Real, kind: str | None = None) -> Array:
    """Doubt of ln(resistance) by one method [-], from its measured errors, the distance from its ranges and the kind.

    kind: of boat, as the owner chooses it; None for one that the method was made from.
    Source: errors as in the method's data; the floor, the growth outside and that for another kind are ours,
    engine/data/doubt.toml.
    """
    froude_numbers, errors = (np.array(column) for column in zip(*method.errors, strict=True))
    measured = np.maximum(np.interp(form.froude_number(speed), froude_numbers, errors), SMALLEST_DOUBT)
    if is_of_another_kind(method, kind):
        measured = np.hypot(measured, DOUBT_OF_ANOTHER_KIND)
    return np.asarray(np.hypot(measured, doubt_outside(method, form, speed)))


def is_of_another_kind(method: ResistanceMethod, kind: str | None) -> bool:
    """Whether a boat is of no kind that a method was made from, while its errors were measured on those alone."""
    return kind is not None and bool(method.kinds) and kind not in method.kinds


def applies(method: ResistanceMethod, form: HullForm, speed: Real) -> NDArray[np.bool_]:
    """Whether a method speaks of such a hull at a speed [m/s]: inside its ranges, or hardly outside.

    form, speed: any shapes that broadcast.   Source: the limit is ours, engine/data/doubt.toml.
    """
    near = doubt_outside(method, form, speed) <= MOST_DOUBT_OUTSIDE
    return np.asarray(near & (standing(method, form, speed) >= 0.5))


def standing(method: ResistanceMethod, form: HullForm, speed: Real) -> Array:
    """One while a method can speak at a speed [m/s], fading to zero before it gives no value to trust [-].

    Source: ours; the ends are in the data of the method.
    """
    left: Array = (method.highest_froude_number - np.asarray(form.froude_number(speed))) / TAPER_FROUDE
    for limit in method.ranges:
        if limit.fades_out_at is not None:
            lowest, highest = limit.fades_out_at
            value = np.asarray(limit.value(form, speed))
            left = np.minimum(left, (value - lowest) / (limit.low - lowest))
            left = np.minimum(left, (highest - value) / (highest - limit.high))
    share = np.clip(left, 0.0, 1.0)
    return np.asarray(share * share * (3.0 - 2.0 * share))


def consensus(
    form: HullForm, speed: Array, water: Water, names: tuple[str, ...] = tuple(METHODS), kind: str | None = None
) -> Consensus:
    """What the named methods say together of one hull over speeds.

    form: one hull, fields without axes.   speed: (S,) [m/s].   kind: as in method_doubt.
    Valid: where at least one method gives a value; NaN elsewhere.   Source: weights by inverse square of doubt, ours.
    """
    totals, doubts, raw = {}, {}, {}
    for name in names:
        method = METHODS[name]
        totals[name] = np.asarray(method.resistance(form, speed, water).total)
        doubts[name] = np.broadcast_to(method_doubt(method, form, speed, kind), speed.shape)
        can_speak = np.isfinite(totals[name]) & (totals[name] >= 0.0)
        raw[name] = np.where(can_speak, standing(method, form, speed) / doubts[name] ** 2, 0.0)
    everything = np.asarray(sum(raw.values()))
    with np.errstate(invalid="ignore"):
        says = {name: Say(METHODS[name], totals[name], doubts[name], raw[name] / everything) for name in names}
    parts = [np.where(say.weight > 0.0, say.weight * say.total, 0.0) for say in says.values()]
    return Consensus(speed, np.where(everything > 0.0, sum(parts), np.nan), says, kind)


def standing_in_words(method: ResistanceMethod, form: HullForm, kind: str | None = None) -> str:
    """How far inside its ranges a hull lies, or what puts it outside, speed left aside, and what else the method was
    made from: a phrase for the owner."""
    made = f"; made from {method.made_from}" if is_of_another_kind(method, kind) else ""
    return _place_in_words(method, form) + made


def _place_in_words(method: ResistanceMethod, form: HullForm) -> str:
    limits = [limit for limit in method.ranges if limit.parameter != "froude_number"]
    places = [(limit, float(limit.value(form, 0.0))) for limit in limits]
    outside = [(limit, value) for limit, value in places if share_outside(limit, form, 0.0) > _NEXT_TO_NOTHING]
    if outside:
        return "outside: " + "; ".join(
            f"{limit.label} {round_number(value, 3)}, range {limit.low:g} to {limit.high:g}" for limit, value in outside
        )
    nearest, value = min(places, key=lambda place: _room_inside(*place))
    return (
        f"inside all {len(places)} ranges; nearest an end with {nearest.label} {round_number(value, 3)} "
        f"({nearest.low:g} to {nearest.high:g})"
    )


def _room_inside(limit: ParameterRange, value: float) -> float:
    """Distance to the nearer end in widths of the range; of a range that is all positive on a logarithmic scale."""
    low, high, place = limit.low, limit.high, value
    if low > 0.0:
        low, high, place = (float(np.log(number)) for number in (low, high, place))
    return min(place - low, high - place) / (high - low)

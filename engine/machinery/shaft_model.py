"""Lateral vibration of a shaft in its bearings by finite elements: the critical speeds of any line of shafting."""

from dataclasses import dataclass
from itertools import accumulate, pairwise
from math import ceil, inf, pi

import numpy as np

from engine.constants import TWO_PI
from engine.findings import Finding, fits, look
from engine.numeric import Array
from engine.validity import not_negative, positive

ELEMENTS = 24
"""Enough for the first mode of one span and its overhang to 0.01 %; ours, held by a test."""
ELEMENTS_A_SPAN = 12
"""Enough for the first mode of a shaft with an overhung propeller to 0.001 %; ours, held by a test."""
_SAME_PLACE = 1e-9
_ONE_NODE = 1e-4
"""Places nearer than this share of the length share a node, which moves a critical speed as little; elements far
shorter drown in rounding. Ours, held by a test."""
_ROUNDING = 1e-6
_AGREES = 0.10
"""Most that the sum may lie under the model [-]; ours: 8.1 % was the most of 4000 small craft drawn at random."""
_AGREEMENT_SOURCE = "finite elements against the Dunkerley sum, both ours; the sum errs low, by 1 to 8 % on small craft"


@dataclass(frozen=True)
class Disc:
    """A mass on the shaft.   position: [m].   mass: [kg].   tilting_inertia: about a diameter [kg m2], may be below 0
    for the gyroscopic effect of forward whirl."""

    position: float
    mass: float
    tilting_inertia: float


@dataclass(frozen=True)
class ElasticShaft:
    """A round solid shaft from 0 to `length` [m].

    diameter: [m].   elastic_modulus: [Pa].   density: [kg/m3].   supports: places of simple bearings [m].
    clamped: places where the slope is held as well [m].   discs: what it carries.
    support_stiffness: of every simple bearing and its seat across the shaft [N/m], infinity where it gives nothing.
    with_rotary_inertia: whether the tilting of the shaft's own slices counts; in a slender shaft it hardly does.
    Raises: ValueError naming the field.
    """

    length: float
    diameter: float
    elastic_modulus: float
    density: float
    supports: tuple[float, ...]
    clamped: tuple[float, ...] = ()
    discs: tuple[Disc, ...] = ()
    support_stiffness: float = inf
    with_rotary_inertia: bool = False

    def __post_init__(self) -> None:
        for name in ("length", "diameter", "elastic_modulus", "density", "support_stiffness"):
            positive(name, getattr(self, name))
        places = (*self.supports, *self.clamped, *(disc.position for disc in self.discs))
        if any(not 0.0 <= place <= self.length * (1.0 + _SAME_PLACE) for place in places):
            raise ValueError("supports and discs must lie on the shaft")
        if len(set(self.supports)) + 2 * len(set(self.clamped)) < 2:
            raise ValueError("supports must hold the shaft: two bearings, or one clamped end")


def critical_speeds(shaft: ElasticShaft, count: int = 3, elements: int = ELEMENTS) -> Array:
    """The lowest critical speeds of a shaft [rev/s], rising; infinity where there are fewer.

    count: how many, > 0.   elements: along the whole shaft; one more where a bearing or disc falls between.
    Method: Euler-Bernoulli beam elements with consistent mass. The eigenvalue sought is 1/omega^2, of the mass over the
    stiffness: the stiffness of a held shaft is always positive, so a tilting inertia below zero does no harm. Motions
    whose 1/omega^2 comes out below zero have no critical speed.
    Valid: slender shafts; shear and damping are left out. Real bearings give, which lowers it: see support_stiffness.
    Source: beam theory; method as in Friswell, Penny, Garvey and Lees (2010), Dynamics of Rotating Machines.
    """
    nodes = _nodes(shaft, elements)
    stiffness, mass = _matrices(shaft, nodes)
    for disc in shaft.discs:
        at = 2 * _node_at(nodes, disc.position)
        mass[at, at] += disc.mass
        mass[at + 1, at + 1] += disc.tilting_inertia
    bearings = {2 * _node_at(nodes, place) for place in shaft.supports}
    held = {2 * _node_at(nodes, place) for place in shaft.clamped}
    held |= {2 * _node_at(nodes, place) + 1 for place in shaft.clamped}
    if np.isinf(shaft.support_stiffness):
        held |= bearings
    else:
        for at in bearings:
            stiffness[at, at] += shaft.support_stiffness
    free = [i for i in range(2 * len(nodes)) if i not in held]
    kept = np.ix_(free, free)
    flexibility = _eigenvalues(mass[kept], stiffness[kept])[::-1][:count]
    found = np.full(count, inf)
    real = flexibility > 0.0
    found[: len(flexibility)][real] = 1.0 / (TWO_PI * np.sqrt(flexibility[real]))
    return found


def overhung_critical_speed(
    span: float,
    overhang: float,
    diameter: float,
    elastic_modulus: float,
    density: float,
    propeller_mass: float,
    tilting_inertia: float,
    *,
    spans_ahead: tuple[float, ...] = (),
    support_stiffness: float = inf,
) -> float:
    """First critical speed of a shaft with an overhung propeller [rev/s], by finite elements.

    Arguments as `engine.machinery.whirling.whirling_critical_speed`, which bounds it from below for mode "safe".
    spans_ahead: between the bearings ahead of `span`, the nearest first [m], > 0.
    support_stiffness: as `ElasticShaft` [N/m].
    Raises: ValueError naming the argument.   Source: `critical_speeds`.
    """
    ahead = [float(positive("spans_ahead", each)) for each in reversed(spans_ahead)]
    supports = tuple(accumulate([*ahead, float(positive("span", span))], initial=0.0))
    length = supports[-1] + float(not_negative("overhang", overhang))
    propeller = Disc(length, float(not_negative("propeller_mass", propeller_mass)), tilting_inertia)
    shaft = ElasticShaft(
        length,
        diameter,
        elastic_modulus,
        density,
        supports,
        discs=(propeller,),
        support_stiffness=support_stiffness,
    )
    return float(critical_speeds(shaft, 1, ELEMENTS_A_SPAN * (1 + len(spans_ahead)))[0])


def judge_model_agreement(model: float, dunkerley: float) -> Finding:
    """Verdict on the two ways of reckoning the first critical speed: the sum must lie under the model, by 10 % at most.

    model, dunkerley: first critical speed by `overhung_critical_speed` and by `whirling_critical_speed`, in one unit.
    Source: both ours; the sum errs low, by 1 to 8 % on small craft.
    """
    if np.isinf(model) or np.isinf(dunkerley):
        return look("Only one of two ways of reckoning finds a critical speed: check the weights.", _AGREEMENT_SOURCE)
    gap = 1.0 - dunkerley / model
    words = f"Two ways of reckoning the critical speed differ by {100.0 * abs(gap):.0f} %"
    if gap < -_ROUNDING:
        text = f"{words}, and the one that should err low does not. Look at span, overhang and weight."
        return look(text, _AGREEMENT_SOURCE)
    if gap <= _AGREES:
        return fits(f"{words}, as they should: the sum errs on the safe side.", _AGREEMENT_SOURCE)
    return look(f"{words}: more than they should. Look at span, overhang and weight.", _AGREEMENT_SOURCE)


def _eigenvalues(mass: Array, stiffness: Array) -> Array:
    """Of mass over stiffness, rising; both symmetric, the stiffness positive. numpy alone: scipy takes long to load."""
    inverse = np.linalg.inv(np.linalg.cholesky(stiffness))
    return np.asarray(np.linalg.eigvalsh(inverse @ mass @ inverse.T), dtype=float)


def _nodes(shaft: ElasticShaft, elements: int) -> Array:
    """Ends of the elements [m]: every place that matters, neighbours too near as one, and between them elements of
    about the same length."""
    discs = (min(disc.position, shaft.length) for disc in shaft.discs)
    every = sorted({0.0, shaft.length, *shaft.supports, *shaft.clamped, *discs})
    places = [0.0, *(b for a, b in pairwise(every) if b - a > _ONE_NODE * shaft.length)]
    step, nodes = shaft.length / elements, list[float]()
    for a, b in pairwise(places):
        parts = max(ceil((b - a) / step), 1)
        nodes += [a + part * ((b - a) / parts) for part in range(parts)]
    return np.array([*nodes, places[-1]])


def _node_at(nodes: Array, place: float) -> int:
    return int(np.argmin(np.abs(nodes - place)))


def _matrices(shaft: ElasticShaft, nodes: Array) -> tuple[Array, Array]:
    """Stiffness and mass over deflection and slope of every node, alternating."""
    second_moment = pi * shaft.diameter**4 / 64.0
    bending = shaft.elastic_modulus * second_moment
    mass_per_length = shaft.density * pi * shaft.diameter**2 / 4.0
    h = np.diff(nodes)
    stiffness = _summed(bending * _of_elements(_STIFFNESS, h, h**-3))
    mass = _summed(mass_per_length / 420.0 * _of_elements(_MASS, h, h))
    if shaft.with_rotary_inertia:
        mass += _summed(shaft.density * second_moment / 30.0 * _of_elements(_ROTARY, h, 1.0 / h))
    return stiffness, mass


def _summed(elements: Array) -> Array:
    """The matrix of the shaft from those of its elements (E, 4, 4), each of which shares a node with the next."""
    size = 2 * len(elements) + 2
    at = 2 * np.arange(len(elements))[:, None] + np.arange(4)
    place = at[:, :, None] * size + at[:, None, :]
    return np.asarray(np.bincount(place.ravel(), elements.ravel(), size * size).reshape(size, size), dtype=float)


_STIFFNESS = np.array(
    [[12.0, 6.0, -12.0, 6.0], [6.0, 4.0, -6.0, 2.0], [-12.0, -6.0, 12.0, -6.0], [6.0, 2.0, -6.0, 4.0]]
)
_MASS = np.array(
    [[156.0, 22.0, 54.0, -13.0], [22.0, 4.0, 13.0, -3.0], [54.0, 13.0, 156.0, -22.0], [-13.0, -3.0, -22.0, 4.0]]
)
_ROTARY = np.array([[36.0, 3.0, -36.0, 3.0], [3.0, 4.0, -3.0, -1.0], [-36.0, -3.0, 36.0, -3.0], [3.0, -1.0, -3.0, 4.0]])
"""Of a beam element of unit length: stiffness, consistent mass, mass of its tilting; any text on finite elements."""


def _of_elements(unit: Array, h: Array, factor: Array) -> Array:
    """The matrix of an element of unit length for elements of lengths h (E,), times a factor (E,); (E, 4, 4)."""
    scale = np.stack([np.ones_like(h), h, np.ones_like(h), h], axis=-1)  # slopes count with the element's length
    return np.asarray(factor[:, None, None] * unit * scale[:, :, None] * scale[:, None, :])

"""The resistance methods side by side, and whether a boat lies within what each was made from.

A new method is one module with its function, one table of ranges in engine/data and one entry in METHODS.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.data import table
from engine.hull.form import HullForm
from engine.hull.holtrop_1982 import resistance_holtrop_1982
from engine.hull.holtrop_1984 import resistance_holtrop_1984
from engine.hull.resistance import Resistance
from engine.numeric import Array, Real, plain
from engine.water import Water

PARAMETERS: dict[str, tuple[str, Callable[[HullForm, Real], Real]]] = {
    "froude_number": ("Froude number", lambda form, speed: form.froude_number(speed)),
    "prismatic_coefficient": ("prismatic coefficient", lambda form, _: form.prismatic_coefficient),
    "length_beam_ratio": ("length-beam ratio", lambda form, _: form.length_beam_ratio),
    "beam_draft_ratio": ("beam-draft ratio", lambda form, _: form.beam_draft_ratio),
    "midship_coefficient": ("midship coefficient", lambda form, _: form.midship_coefficient),
    "slenderness": ("length over cube root of volume", lambda form, _: form.slenderness),
    "lcb_percent": ("centre of buoyancy, percent forward", lambda form, _: form.lcb_percent),
}
"""What a range may limit: name in words, and how to read it off a hull at a speed."""


@dataclass(frozen=True)
class ParameterRange:
    """Where one parameter may lie, both ends included, and what it means to be outside."""

    parameter: str
    low: float
    high: float
    note: str
    status: str

    @property
    def label(self) -> str:
        return PARAMETERS[self.parameter][0]

    def value(self, form: HullForm, speed: Real) -> Real:
        return PARAMETERS[self.parameter][1](form, speed)

    def distance(self, value: Real) -> Array:
        """How far outside: zero within, negative below, positive above."""
        array = np.asarray(value)
        return np.minimum(array - self.low, 0.0) + np.maximum(array - self.high, 0.0)


@dataclass(frozen=True)
class ResistanceMethod:
    """One published way to the calm-water resistance of a hull, and where it may be trusted."""

    name: str
    label: str
    resistance: Callable[[HullForm, Real, Water], Resistance]
    ranges: tuple[ParameterRange, ...]
    accuracy: str
    source: str
    status: str


def _method(name: str, data_table: str, resistance: Callable[[HullForm, Real, Water], Resistance]) -> ResistanceMethod:
    row = table(data_table)[name]
    return ResistanceMethod(
        name=name,
        label=row["label"],
        resistance=resistance,
        ranges=tuple(ParameterRange(**entry) for entry in row["ranges"]),
        accuracy=row["accuracy"],
        source=row["source"],
        status=row["status"],
    )


METHODS: dict[str, ResistanceMethod] = {
    method.name: method
    for method in (
        _method("holtrop_1982", "holtrop", resistance_holtrop_1982),
        _method("holtrop_1984", "holtrop", resistance_holtrop_1984),
    )
}


@dataclass(frozen=True)
class OutsideSample:
    """One parameter outside a method's range, in part of a fleet at least."""

    limit: ParameterRange
    value: Real
    distance: Real
    """Zero within, negative below the range, positive above; the shape of value."""
    is_outside: NDArray[np.bool_]
    sentence: str

    @property
    def share(self) -> float:
        """Share of the boats and speeds that lie outside."""
        return float(np.mean(self.is_outside))


def range_report(method: ResistanceMethod, form: HullForm, speed: Real) -> tuple[OutsideSample, ...]:
    """Which parameters of a hull at a speed [m/s] lie outside a method's ranges; empty when all are inside.

    The sentence of each quotes the case farthest out.
    """
    report = []
    for limit in method.ranges:
        value = limit.value(form, speed)
        distance = limit.distance(value)
        if not np.any(distance):
            continue
        farthest = float(distance.flat[int(np.argmax(np.abs(distance)))])
        bound, side = (limit.high, "above") if farthest > 0.0 else (limit.low, "below")
        sentence = (
            f"{method.label}: the {limit.label} is {bound + farthest:.3g}, {side} the range of "
            f"{limit.low:g} to {limit.high:g}. {limit.note}"
        )
        report.append(OutsideSample(limit, value, plain(distance), distance != 0.0, sentence))
    return tuple(report)

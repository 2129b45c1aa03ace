"""The resistance methods side by side, and whether a boat lies within what each was made from.

A new method is one module with its function, its table and its label in engine/data, and one entry in METHODS.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from engine.data import table
from engine.hull.delft_1992 import resistance_delft_1992
from engine.hull.delft_1998 import resistance_delft_1998
from engine.hull.delft_2008 import resistance_delft_2008
from engine.hull.form import HullForm
from engine.hull.holtrop_1982 import resistance_holtrop_1982
from engine.hull.holtrop_1984 import resistance_holtrop_1984
from engine.hull.holtrop_form import half_entrance_angle
from engine.hull.resistance import Resistance
from engine.hull.van_oortmerssen_1971 import is_anomalous, resistance_van_oortmerssen_1971
from engine.numeric import Array, Real, plain
from engine.showing import round_number
from engine.water import Water

PARAMETERS: dict[str, tuple[str, Callable[[HullForm, Real], Real]]] = {
    "froude_number": ("Froude number", lambda form, speed: form.froude_number(speed)),
    "prismatic_coefficient": ("prismatic coefficient", lambda form, _: form.prismatic_coefficient),
    "length_beam_ratio": ("length-beam ratio", lambda form, _: form.length_beam_ratio),
    "beam_draft_ratio": ("beam-draft ratio", lambda form, _: form.beam_draft_ratio),
    "midship_coefficient": ("midship coefficient", lambda form, _: form.midship_coefficient),
    "slenderness": ("length over cube root of volume", lambda form, _: form.slenderness),
    "lcb_percent": ("centre of buoyancy, percent forward", lambda form, _: form.lcb_percent),
    "lcf_percent": ("centre of flotation, percent forward", lambda form, _: form.flotation_percent),
    "waterplane_volume_ratio": ("waterplane area over volume^(2/3)", lambda form, _: form.waterplane_volume_ratio),
    "half_entrance_angle_deg": ("half angle of entrance in degrees", lambda form, _: half_entrance_angle(form)),
    "waterline_length": ("waterline length in metres", lambda form, _: form.waterline_length),
    "volume": ("displaced volume in cubic metres", lambda form, _: form.volume),
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
    fades_out_at: tuple[float, float] | None = None
    """Ends, outside the range, by which the method has left the consensus: no value there, or none to trust."""

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
    highest_froude_number: float
    """Beyond it the method gives no value; infinite where it always gives one."""
    accuracy: str
    errors: tuple[tuple[float, float], ...]
    """Froude number, rms of ln(estimated / measured total resistance) over 22 tank models of yachts."""
    source: str
    status: str
    is_smoothed: Callable[[HullForm], NDArray[np.bool_]]
    """Whether the published curve sags for a hull, so that it is smoothed and another method should agree."""
    made_from: str
    """What its errors were measured on, in words, where that is what it was made from; else empty."""
    kinds: tuple[str, ...]
    """The kinds of boat that are meant."""


def _range(row: dict[str, Any]) -> ParameterRange:
    ends = row.get("fades_out_at")
    return ParameterRange(**{**row, "fades_out_at": None if ends is None else (float(ends[0]), float(ends[1]))})


def _never(form: HullForm) -> NDArray[np.bool_]:
    return np.zeros(np.shape(form.volume), dtype=bool)


def _method(
    name: str,
    data_table: str,
    resistance: Callable[[HullForm, Real, Water], Resistance],
    is_smoothed: Callable[[HullForm], NDArray[np.bool_]] = _never,
) -> ResistanceMethod:
    row = table(data_table)[name]
    return ResistanceMethod(
        name=name,
        label=table("resistance_methods")["labels"][name],
        resistance=resistance,
        ranges=tuple(_range(entry) for entry in row["ranges"]),
        highest_froude_number=float(row["highest_froude_number"]),
        accuracy=row["accuracy"],
        errors=tuple((float(froude_number), float(error)) for froude_number, error in row["errors"]),
        source=row["source"],
        status=row["status"],
        is_smoothed=is_smoothed,
        made_from=row.get("made_from", ""),
        kinds=tuple(row.get("kinds", ())),
    )


METHODS: dict[str, ResistanceMethod] = {
    method.name: method
    for method in (
        _method("holtrop_1982", "holtrop", resistance_holtrop_1982),
        _method("holtrop_1984", "holtrop", resistance_holtrop_1984),
        _method("van_oortmerssen_1971", "van_oortmerssen", resistance_van_oortmerssen_1971, is_anomalous),
        _method("delft_1992", "delft", resistance_delft_1992),
        _method("delft_1998", "delft", resistance_delft_1998),
        _method("delft_2008", "delft", resistance_delft_2008),
    )
}
ANCHOR = METHODS["holtrop_1982"]
"""It has a value at every speed, hulls as full as a canal boat apart, so it carries a boat on where hers has none."""


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

    form, speed: any shapes that broadcast. The sentence of each quotes the case farthest out.
    Source: the ranges are those of the method's table.
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
            f"{method.label}: the {limit.label} is {round_number(bound + farthest, 3)}, {side} the range of "
            f"{limit.low:g} to {limit.high:g}. {limit.note}"
        )
        report.append(OutsideSample(limit, value, plain(distance), distance != 0.0, sentence))
    return tuple(report)

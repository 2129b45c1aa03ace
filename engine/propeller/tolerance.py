"""How exactly a propeller is made: the classes of pitch that a shop works to."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from engine.data import table
from engine.numeric import Real
from engine.validity import OutOfRange, outside_range

_DATA = table("pitch_tolerance")
SOURCE: str = _DATA["source"]
STATUS: str = _DATA["status"]


@dataclass(frozen=True)
class PitchTolerance:
    """One class of ISO 484-2: plus or minus, over the pitch ordered [-].

    local: at any place, None where the class has none.   radius: mean of one radius.   blade: mean of one blade.
    wheel: mean of the whole propeller.
    Source: two published summaries of ISO 484-2 that agree.
    """

    name: str
    local: float | None
    radius: float
    blade: float
    wheel: float


def _tolerance(row: Mapping[str, Any]) -> PitchTolerance:
    local = row.get("local")
    return PitchTolerance(
        row["name"],
        None if local is None else local / 100.0,
        *(row[part] / 100.0 for part in ("radius", "blade", "wheel")),
    )


PITCH_TOLERANCES: Mapping[str, PitchTolerance] = {row["name"]: _tolerance(row) for row in _DATA["class"]}
"""By name, the closest first: S, I, II, III."""


def class_outside(diameter: Real) -> tuple[OutOfRange, ...]:
    """Where the standard does not reach.

    diameter: [m], any shape.   Returns: one record, or none within 0.80 to 2.50 m.   Source: title of ISO 484-2.
    """
    low, high = _DATA["diameter_m"]
    note = "outside the standard; the trade quotes the same classes, so agree with the shop what is meant"
    return outside_range("diameter in metres", np.asarray(diameter), low, high, note)

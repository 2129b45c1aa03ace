"""Keel, rudder, shaft and brackets: each with its own wetted surface and form factor 1 + k2."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from engine.data import table
from engine.numeric import Real, plain
from engine.validity import require_not_negative, require_positive


@dataclass(frozen=True)
class AppendageKind:
    """Usual range of 1 + k2 [-] of one kind of appendage."""

    name: str
    low: float
    high: float

    @property
    def factor(self) -> float:
        """The middle of the range, the default (ours)."""
        return 0.5 * (self.low + self.high)


APPENDAGE_KINDS: dict[str, AppendageKind] = {
    name: AppendageKind(name, low, high) for name, (low, high) in table("appendages")["kinds"].items()
}
"""After the table of Holtrop & Mennen (1982), from memory."""


def combine_appendages(appendages: Iterable[tuple[Real, Real]]) -> tuple[Real, Real]:
    """Total wetted surface [m2] and equivalent 1 + k2 [-] of several appendages, for a HullForm.

    appendages: pairs of wetted surface, both sides [m2], and 1 + k2 [-]; any shapes.
    Returns: area, factor; the factor is 1 where there is no area.
    Raises: ValueError for a negative area or a factor of zero and less.
    Source: Holtrop & Mennen (1982), the area-weighted mean of 1 + k2.
    """
    area: Real = 0.0
    weighted: Real = 0.0
    for one_area, factor in appendages:
        require_not_negative(appendage_area=one_area)
        require_positive(appendage_factor=factor)
        area = area + one_area
        weighted = weighted + one_area * factor
    has_area = np.asarray(area) > 0.0
    return plain(area), plain(np.where(has_area, weighted, 1.0) / np.where(has_area, area, 1.0))

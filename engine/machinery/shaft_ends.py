"""Stock shaft diameters, and the taper, keyway and thread of a shaft's propeller end."""

from dataclasses import dataclass
from typing import Any, Literal, TypeAlias

import numpy as np

from engine.constants import INCH
from engine.data import table
from engine.numeric import Array, Real, plain
from engine.validity import positive

System: TypeAlias = Literal["inch", "metric"]

_ENDS = table("shaft_ends")
_SAE = _ENDS["sae_j755"]
_ISO = _ENDS["iso_4566"]
_SAME_SIZE = 1e-6
"""Two diameters nearer than this share of each other are one stock size."""

COUPLING_NOTE: str = _ENDS["notes"]["coupling"]
BORE_NOTE: str = _ENDS["notes"]["bore"]
FIT_NOTE: str = _ENDS["notes"]["fit"]


@dataclass(frozen=True)
class ShaftTaper:
    """Propeller end of a shaft; lengths in m, None where the table seen does not give it.

    taper: change of diameter per length [-], 1/16 for 1:16, None when not known.   length: shortest and longest.
    keyway_depth: least, at the side.   key_height: None where the key is square or not known.   thread: with
    thread_status saying how sure it is.   note: what to measure.
    """

    standard: str
    diameter: float
    taper: float | None = None
    small_end_diameter: float | None = None
    length: tuple[float, float] | None = None
    keyway_width: float | None = None
    keyway_depth: float | None = None
    key_height: float | None = None
    thread: str | None = None
    thread_status: str = ""
    status: str = ""
    note: str = ""


@dataclass(frozen=True)
class HubBore:
    """What a propeller shop bores in the hub for a shaft's taper; lengths in m, None where no table seen gives it.

    shaft: the end it goes on, with its taper, large end (the shaft's diameter), length and keyway.
    small_end_diameter: of the bore, at the nut.
    """

    shaft: ShaftTaper
    small_end_diameter: float | None = None


def _diameters(system: System) -> Array:
    unit, key = {"inch": (INCH, "diameter_in"), "metric": (1e-3, "diameter_mm")}[system]
    return np.array([row[key] for row in table("shaft_sizes")["size"] if row["system"] == system]) * unit


def _system(system: str) -> System:
    if system == "inch":
        return "inch"
    if system == "metric":
        return "metric"
    raise ValueError(f"system must be inch or metric, not {system!r}")


def standard_diameters(system: str) -> Array:
    """Stock shaft diameters, (K,) [m], rising; a copy.   system: "inch" (SAE J755) or "metric" (within ISO 4566).

    Raises: ValueError for another system.   Source: as next_standard_diameter.
    """
    return _diameters(_system(system))


def is_standard_diameter(diameter: float, system: str) -> bool:
    """Whether a shaft [m] is of a stock size.   system, Raises: as standard_diameters."""
    return bool(np.isclose(standard_diameters(system), diameter, rtol=_SAME_SIZE, atol=0.0).any())


def next_standard_diameter(diameter: Real, system: str) -> Real:
    """Smallest stock diameter not under the one wanted; NaN beyond the table.

    diameter: [m], > 0.   system: "inch" or "metric".
    Returns: stock diameter [m]; same shape.
    Raises: ValueError naming the argument.
    Source: sizes of SAE J755 (reaffirmed 2015) and within ISO 4566:1992.
    """
    wanted = positive("diameter", diameter)
    sizes = standard_diameters(system)
    place = np.searchsorted(sizes, wanted * (1.0 - _SAME_SIZE))
    return plain(np.append(sizes, np.nan)[place])


def taper_for(diameter: float, system: str) -> ShaftTaper:
    """Taper, keyway and thread of the propeller end of one stock shaft.

    diameter: a stock diameter [m].   system: "inch" for SAE J755, "metric" for ISO 4566.
    Returns: what the standard's table seen says; where it says nothing, the taper alone or a note to ask the maker.
    Nothing is interpolated.
    Raises: ValueError naming the argument.
    Source: SAE J755 (reaffirmed 2015); ISO 4566:1992, of which two rows were seen.
    """
    size = float(positive("diameter", diameter))
    return _inch_taper(size) if _system(system) == "inch" else _metric_taper(size)


def _row(rows: list[dict[str, Any]], key: str, size: float) -> dict[str, Any] | None:
    return next((row for row in rows if abs(row[key] - size) <= _SAME_SIZE * size), None)


def _lies_within(size: float, low: float, high: float) -> bool:
    """Whether a size lies in a range, both ends included, rounding of the unit apart: 6 in from metres is 6 in."""
    return low * (1.0 - _SAME_SIZE) <= size <= high * (1.0 + _SAME_SIZE)


def _inch_taper(diameter: float) -> ShaftTaper:
    size = diameter / INCH
    row = _row(_SAE["row"], "diameter_in", size)
    if row is not None:
        length = row["length_in"] * INCH
        return ShaftTaper(
            standard=_SAE["source"],
            diameter=diameter,
            taper=_SAE["taper"],
            small_end_diameter=row["small_end_in"] * INCH,
            length=(length, length),
            keyway_width=row["keyway_width_in"] * INCH,
            keyway_depth=row["keyway_depth_in"] * INCH,
            thread=row["thread"],
            thread_status=_SAE["thread_status"],
            status=_SAE["status"],
            note=row.get("note", ""),
        )
    lowest, highest = _SAE["range_in"]
    taper = None
    if _lies_within(size, lowest, _SAE["taper_to_in"]):
        taper = _SAE["taper"]
    elif _lies_within(size, _SAE["taper_large_from_in"], highest):
        taper = _SAE["taper_large"]
    return ShaftTaper(_SAE["source"], diameter, taper, status=_SAE["status"], note=_not_in_table(taper))


def _not_in_table(taper: float | None) -> str:
    note: str = _ENDS["notes"]["unknown" if taper is None else "others_unknown"]
    return note


def _metric_taper(diameter: float) -> ShaftTaper:
    size = diameter * 1e3
    row = _row(_ISO["row"], "diameter_mm", size)
    if row is not None:
        shortest, longest = row["length_mm"]
        return ShaftTaper(
            standard=_ISO["source"],
            diameter=diameter,
            taper=_ISO["taper"],
            length=(shortest / 1e3, longest / 1e3),
            keyway_width=row["keyway_width_mm"] / 1e3,
            key_height=row["key_height_mm"] / 1e3 if "key_height_mm" in row else None,
            thread=row["thread"],
            thread_status=_ISO["thread_status"],
            status=_ISO["status"],
            note=row.get("note", ""),
        )
    taper = _ISO["taper"] if _lies_within(size, *_ISO["range_mm"]) else None
    return ShaftTaper(_ISO["source"], diameter, taper, status=_ISO["status"], note=_not_in_table(taper))


def bore_for(diameter: float, system: str) -> HubBore:
    """Bore of the propeller's hub for one stock shaft; arguments as `taper_for`.

    Returns: SAE J755's bore for an inch size; a metric size, or one not in the table, has the shaft's end alone, and
    the bore is taken from the shaft.   Raises: ValueError naming the argument.
    Source: SAE J755 (reaffirmed 2015).
    """
    shaft = taper_for(diameter, system)
    row = _row(_SAE["row"], "diameter_in", diameter / INCH) if system == "inch" else None
    return HubBore(shaft, None if row is None else row["bore_small_end_in"] * INCH)

"""Open-water propeller series: thrust and torque polynomials, which for one geometry are cubics in J.

J = Va/(n D), KT = T/(rho n2 D4), KQ = Q/(rho n2 D5), efficiency = J KT/(2 pi KQ).
A new series is one table in engine/data and one line in series.py.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import NDArray

from engine.constants import TWO_PI
from engine.data import table
from engine.numeric import Array, Real, arrays, plain
from engine.propeller.geometry import developed_area_ratio
from engine.propeller.polynomials import Term, at_pitch, collapse
from engine.propeller.roots import falling_cubic_root, falling_root, first_fall, pick
from engine.validity import OutOfRange, outside_range

_HIGHEST_ADVANCE_RATIO = 3.0
"""No J of zero thrust is looked for above it: the coarsest wheels of the series lie below 2."""
_COLUMNS = ("coefficient", "advance_ratio", "pitch_ratio", "area_ratio", "blades")


def cubic_value(cubic: Array, x: Array) -> Array:
    """c0 + c1 x + c2 x2 + c3 x3; cubic (..., 4), x broadcasts against (...).   Returns: the broadcast shape."""
    value = cubic[..., 3] * x
    for power in (2, 1):  # in place: to make a large array anew takes longer than to fill it
        value += cubic[..., power]
        value *= x
    value += cubic[..., 0]
    return np.asarray(value)


def cubic_slope(cubic: Array, x: Array) -> Array:
    """c1 + 2 c2 x + 3 c3 x2; shapes as in `cubic_value`."""
    slope = 3.0 * cubic[..., 3] * x
    slope += 2.0 * cubic[..., 2]
    slope *= x
    slope += cubic[..., 1]
    return np.asarray(slope)


def _turns(cubic: Array) -> Array:
    """0, the x between 0 and 3 at which a cubic (..., 4) turns, and 3: between two of them it rises or falls.

    Returns: (..., 4), rising; 3 stands for a turn that there is not.
    """
    _, c1, c2, c3 = np.moveaxis(cubic, -1, 0)
    with np.errstate(divide="ignore", invalid="ignore"):
        larger = -c2 - np.copysign(np.sqrt(c2 * c2 - 3.0 * c1 * c3), c2)
        turns = np.stack([larger / (3.0 * c3), c1 / larger])
    inside = np.where((turns > 0.0) & (turns < _HIGHEST_ADVANCE_RATIO), turns, _HIGHEST_ADVANCE_RATIO)
    first, last = inside.min(axis=0), inside.max(axis=0)
    return np.stack([np.zeros(c1.shape), first, last, np.full(c1.shape, _HIGHEST_ADVANCE_RATIO)], axis=-1)


def _root_without_cube(c0: Array, c1: Array, c2: Array) -> Array:
    """Where c0 + c1 x + c2 x2, above zero and falling at 0, passes zero; if nowhere, where its tangent at 0 does.

    Good to start from: from the tangent alone Newton steps leave the range of some propellers.
    """
    square = c1 * c1 - 4.0 * c0 * c2
    return np.asarray(2.0 * c0 / (np.sqrt(np.where(square > 0.0, square, c1 * c1)) - c1))


@dataclass(frozen=True, eq=False)
class OpenWater:
    """Thrust and torque of one geometry, or of an array of them, in open water.

    thrust_cubic, torque_cubic: coefficients of J^0 to J^3 of KT and KQ; geometry shape + (4,).
    Valid: 0 <= J <= `zero_thrust_advance_ratio`; beyond it the propeller is dragged.
    """

    thrust_cubic: Array
    torque_cubic: Array

    def thrust_coefficient(self, advance_ratio: Real) -> Real:
        """KT at J [-]; J broadcasts against the geometry."""
        return plain(cubic_value(self.thrust_cubic, np.asarray(advance_ratio, dtype=float)))

    def torque_coefficient(self, advance_ratio: Real) -> Real:
        """KQ at J [-]; J broadcasts against the geometry."""
        return plain(cubic_value(self.torque_cubic, np.asarray(advance_ratio, dtype=float)))

    def efficiency(self, advance_ratio: Real) -> Real:
        """J KT/(2 pi KQ) [-]; 0 at J = 0, NaN where the propeller gives no thrust.   J broadcasts."""
        J = np.asarray(advance_ratio, dtype=float)
        KT = cubic_value(self.thrust_cubic, J)
        KQ = cubic_value(self.torque_cubic, J)
        with np.errstate(divide="ignore", invalid="ignore"):
            return plain(np.where(KT >= 0.0, J * KT / (TWO_PI * KQ), np.nan))

    @cached_property
    def zero_thrust_advance_ratio(self) -> Real:
        """The lowest J at which KT is zero [-]; NaN where there is none up to J = 3. Geometry shape.

        Error: relative 1e-11.
        """
        cubic = self.thrust_cubic
        c0, c1, c2, c3 = np.ascontiguousarray(np.moveaxis(cubic, -1, 0))
        if ((c0 > 0.0) & (c1 < 0.0)).all():
            highest = np.asarray(_HIGHEST_ADVANCE_RATIO)
            J = falling_cubic_root(c0, c1, c2, c3, highest, start=_root_without_cube(c0, c1, c2))
            has_no_turn_between = (c3 >= 0.0) | (c2 <= 0.0) | (c2 + 3.0 * c3 * J >= 0.0)
            if (has_no_turn_between & (cubic_slope(cubic, J) < 0.0)).all():  # KT falls all the way to it
                return plain(J)
        turns = _turns(cubic)
        step, found = first_fall(cubic_value(cubic[..., None, :], turns))
        low = np.where(found, pick(turns, step), np.nan)
        high = pick(turns, step + 1)
        middle = 0.5 * (low + high)
        return plain(falling_root(lambda J: (cubic_value(cubic, J), cubic_slope(cubic, J)), low, high, middle))

    def with_trailing_axis(self) -> "OpenWater":
        """The same with one more geometry axis of length 1 at the end."""
        return OpenWater(self.thrust_cubic[..., None, :], self.torque_cubic[..., None, :])

    def __add__(self, other: "OpenWater") -> "OpenWater":
        return OpenWater(self.thrust_cubic + other.thrust_cubic, self.torque_cubic + other.torque_cubic)


@dataclass(frozen=True, eq=False)
class BladeFamily:
    """Thrust and torque of propellers that differ in pitch alone: one number of blades and one blade area, or arrays.

    thrust, torque: coefficients of KT and KQ for the powers of P/D (rows) and of J (columns); shape (..., 7, 4).
    """

    thrust: Array
    torque: Array

    def at(self, pitch_ratio: Real) -> OpenWater:
        """The cubics at a pitch ratio [-], which broadcasts against the family's own shape.

        Valid: pitch ratios of the series; `OpenWaterSeries.outside` tells.
        """
        return OpenWater(
            *(at_pitch(terms, np.asarray(pitch_ratio, dtype=float)) for terms in (self.thrust, self.torque))
        )

    def with_trailing_axis(self) -> "BladeFamily":
        """The same with one more axis of length 1 at the end of its own shape."""
        return BladeFamily(self.thrust[..., None, :, :], self.torque[..., None, :, :])

    def __add__(self, other: "BladeFamily") -> "BladeFamily":
        return BladeFamily(self.thrust + other.thrust, self.torque + other.torque)


@dataclass(frozen=True)
class DoubtfulBlades:
    """Numbers of blades that a series answers for with more doubt.   note: why, and what to expect."""

    blades: tuple[int, ...]
    note: str


@dataclass(frozen=True)
class CoarseEnough:
    """The finest pitch ratio at which a series is trusted fully [-].   note: what is wrong with finer ones."""

    pitch_ratio: float
    note: str


@dataclass(frozen=True, eq=False)
class OpenWaterSeries:
    """A family of tested propellers, as polynomials of J, pitch ratio, blade area ratio and blades.

    thrust_terms, torque_terms: rows of (coefficient, powers of J, P/D, area ratio, Z), J at most cubed.
    blades, pitch_ratio: lowest and highest.   area_ratio: lowest and highest for each number of blades, in its basis.
    area_basis: "expanded", or "developed" when polynomial and range are in AD/A0; arguments are AE/A0 always.
    lowest_advance_ratio: lowest J of the tests.   source: author, year, title, table.
    reynolds_correction: whether a correction for the blades' Reynolds number belongs to it.
    doubtful: blades it answers for with more doubt.   coarse_enough: the finest pitch to be trusted fully, if known.
    two_blade_efficiency_limit: above it the efficiency of two blades is optimistic; infinite when none is known.
    """

    name: str
    label: str
    thrust_terms: tuple[Term, ...]
    torque_terms: tuple[Term, ...]
    blades: tuple[int, int]
    pitch_ratio: tuple[float, float]
    area_ratio: Mapping[int, tuple[float, float]]
    source: str
    area_basis: str = "expanded"
    lowest_advance_ratio: float = 0.0
    reynolds_correction: bool = False
    doubtful: DoubtfulBlades | None = None
    coarse_enough: CoarseEnough | None = None
    two_blade_efficiency_limit: float = np.inf

    def cubics(self, pitch_ratio: Real, area_ratio: Real, blades: Real) -> OpenWater:
        """KT and KQ of the geometry as cubics in J.

        pitch_ratio: P/D [-].   area_ratio: expanded AE/A0 [-].   blades: number [-]. They broadcast.
        Returns: cubics of shape (broadcast shape) + (4,).
        Valid: `outside` tells; the value is still the polynomial's.
        """
        return self.family(area_ratio, blades).at(pitch_ratio)

    def family(self, area_ratio: Real, blades: Real) -> BladeFamily:
        """KT and KQ of blades of one outline at any pitch; arguments as `cubics`.   Returns: family of their shape."""
        if np.ndim(area_ratio) == np.ndim(blades) == 0:
            return _family_of_one(self, float(area_ratio), float(blades))
        return self._summed_up(area_ratio, blades)

    def _summed_up(self, area_ratio: Real, blades: Real) -> BladeFamily:
        area = self._area_in_basis(area_ratio, blades)
        return BladeFamily(collapse(self.thrust_terms, area, blades), collapse(self.torque_terms, area, blades))

    def outside(
        self, pitch_ratio: Real, area_ratio: Real, blades: Real, advance_ratio: Real | None = None
    ) -> tuple[OutOfRange, ...]:
        """Which of these geometries (and advance ratios) the series was not tested for; empty when all were.

        pitch_ratio: P/D.   area_ratio: expanded AE/A0.   blades: number; broadcasts with area_ratio.
        advance_ratio: J; None leaves it out.   All [-].
        """
        counts = np.asarray(blades, dtype=float)
        is_doubtful = np.isin(counts, self.doubtful.blades) if self.doubtful else np.zeros(counts.shape, dtype=bool)
        no_such = f"there are none in the {self.label}"
        records = outside_range("number of blades", np.where(is_doubtful, np.nan, counts), *self.blades, no_such)
        if self.doubtful:
            in_doubt = np.where(is_doubtful, counts, np.nan)
            records += outside_range("number of blades", in_doubt, *self.blades, self.doubtful.note)
        records += outside_range("pitch ratio", pitch_ratio, *self.pitch_ratio, f"range of the {self.label}")
        area, Z = np.broadcast_arrays(np.asarray(self._area_in_basis(area_ratio, blades), dtype=float), counts)
        name = "developed blade area ratio" if self.area_basis == "developed" else "blade area ratio"
        for count, (low, high) in self.area_ratio.items():
            note = f"range with {count} blades of the {self.label}"
            records += outside_range(name, np.where(count == Z, area, np.nan), low, high, note)
        if advance_ratio is not None:
            note = f"below it there are no tests of the {self.label}"
            records += outside_range("advance ratio", advance_ratio, self.lowest_advance_ratio, np.inf, note)
        return records

    def reservations(self, pitch_ratio: Real, blades: Real, efficiency: Real | None = None) -> tuple[OutOfRange, ...]:
        """What the series answers inside its range and is known to answer less well; empty when nothing is known.

        pitch_ratio: P/D [-].   blades: number.   efficiency: eta0 [-], read for two blades. They broadcast.
        Source: the notes of the series' table.
        """
        records: tuple[OutOfRange, ...] = ()
        if self.coarse_enough:
            records += outside_range(
                "pitch ratio", pitch_ratio, self.coarse_enough.pitch_ratio, np.inf, self.coarse_enough.note
            )
        if efficiency is not None and np.isfinite(self.two_blade_efficiency_limit):
            of_two = np.where(np.asarray(blades) == 2, np.asarray(efficiency, dtype=float), np.nan)
            note = f"higher ones are optimistic in the {self.label}"
            records += outside_range(
                "open-water efficiency of two blades", of_two, 0.0, self.two_blade_efficiency_limit, note
            )
        return records

    def _area_in_basis(self, area_ratio: Real, blades: Real) -> Real:
        """The expanded area ratio as the polynomial and its range want it."""
        return developed_area_ratio(area_ratio, blades) if self.area_basis == "developed" else area_ratio

    def describes(self, diameter: Real, pitch: Real) -> NDArray[np.bool_]:
        """Whether the series was tested for the pitch ratio of propellers.   diameter, pitch: [m]; they broadcast."""
        low, high = self.pitch_ratio
        D, P = arrays(diameter, pitch)
        return np.asarray((low * D <= P) & (high * D >= P))

    def pitch_ratio_grid(self, step: float) -> Array:
        """Pitch ratios from the lowest to the highest of the series, rising, (P,) [-].   step: about how far apart."""
        low, high = self.pitch_ratio
        return np.linspace(low, high, round((high - low) / step) + 1)


@lru_cache(maxsize=64)
def _family_of_one(series: OpenWaterSeries, area_ratio: float, blades: float) -> BladeFamily:
    """The family of one outline, kept: every wheel that is tried has the same. Read-only."""
    family = series._summed_up(area_ratio, blades)
    for terms in (family.thrust, family.torque):
        terms.flags.writeable = False
    return family


def series_from_table(name: str) -> OpenWaterSeries:
    """Read a series from its coefficient table in engine/data.   name: of the table.   Raises: as `engine.data.table`.

    Source: as the table says.
    """
    data = table(name)
    validity = data["validity"]
    margin = validity["area_margin"]
    areas = {
        int(blades): (min(tested) - margin, max(tested) + margin)
        for blades, tested in validity["tested_area_ratio"].items()
    }
    doubtful, coarse = validity.get("doubtful"), validity.get("coarse_enough")
    return OpenWaterSeries(
        name=data["name"],
        label=data["label"],
        thrust_terms=_terms(data, "kt"),
        torque_terms=_terms(data, "kq"),
        blades=tuple(validity["blades"]),
        pitch_ratio=tuple(validity["pitch_ratio"]),
        area_ratio=MappingProxyType(areas),
        source=data["source"],
        area_basis=data["area_basis"],
        lowest_advance_ratio=data["lowest_advance_ratio"],
        reynolds_correction=data["reynolds_correction"],
        doubtful=DoubtfulBlades(tuple(doubtful["blades"]), doubtful["note"]) if doubtful else None,
        coarse_enough=CoarseEnough(**coarse) if coarse else None,
        two_blade_efficiency_limit=validity.get("two_blade_efficiency_limit", np.inf),
    )


def _terms(data: Mapping[str, Any], curve: str) -> tuple[Term, ...]:
    """The rows of one polynomial as terms; a table whose columns are not the usual ones names them in `columns`."""
    columns = data.get("columns", _COLUMNS)
    cells = [{"power_of_ten": 0, "blades": 0} | dict(zip(columns, row, strict=True)) for row in data[curve]["terms"]]
    return tuple(
        (
            cell["coefficient"] * 10.0 ** cell["power_of_ten"],
            cell["advance_ratio"],
            cell["pitch_ratio"],
            cell["area_ratio"],
            cell["blades"],
        )
        for cell in cells
    )

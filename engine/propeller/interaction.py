"""What the hull does to the propeller and the propeller to the hull, for small craft.

w = 1 - Va/V, t = 1 - R/T, relative rotative efficiency eta_R, hull efficiency (1 - t)/(1 - w).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.data import table
from engine.numeric import Array, LowMiddleHigh, Real, plain
from engine.validity import OutOfRange, outside_range

_DATA = table("interaction")
_FORMULAS = _DATA["formulas"]
_HANDBOOK_WAKE = table("handbook_propeller")["wake_factor"]
WAKE_LIMITS: tuple[float, float] = tuple(_FORMULAS["wake_limits"])


@dataclass(frozen=True)
class Arrangement:
    """How a propeller sits under the stern, with values typical of it (low, high), from trade and tank practice.

    words: "in an aperture behind a full keel".   screws: 1 or 2.   thrust_deduction_per_wake: t/w.
    status: how sure the values are.   note: what else to mind.
    """

    key: str
    words: str
    screws: int
    wake_fraction: tuple[float, float]
    thrust_deduction: tuple[float, float]
    thrust_deduction_per_wake: float
    relative_rotative_efficiency: tuple[float, float]
    status: str
    note: str


def _arrangements() -> dict[str, Arrangement]:
    rows = _DATA["arrangements"]
    return {
        key: Arrangement(
            key=key,
            words=row["words"],
            screws=row["screws"],
            wake_fraction=tuple(row["wake_fraction"]),
            thrust_deduction=tuple(row["thrust_deduction"]),
            thrust_deduction_per_wake=row["thrust_deduction_per_wake"],
            relative_rotative_efficiency=tuple(row["relative_rotative_efficiency"]),
            status=rows["status"],
            note=row["note"],
        )
        for key, row in rows.items()
        if key != "status"
    }


ARRANGEMENTS = _arrangements()
"""By key: aperture, long_keel, skeg, strut, twin_struts."""


@dataclass(frozen=True, eq=False)
class Interaction:
    """Wake fraction, thrust deduction and relative rotative efficiency [-]; fields broadcast.

    wake_clamped: where the wake was held to 0..0.35.   outside: ranges left, with sentences for the owner.
    """

    wake_fraction: Real
    thrust_deduction: Real
    relative_rotative_efficiency: Real
    wake_clamped: NDArray[np.bool_]
    outside: tuple[OutOfRange, ...]

    @property
    def hull_efficiency(self) -> Real:
        """(1 - t)/(1 - w) [-]."""
        return hull_efficiency(self.wake_fraction, self.thrust_deduction)


@dataclass(frozen=True, eq=False)
class InteractionBands:
    """Bands of the three factors [-]; see `interaction_bands`.   wake_clamped, outside: as `Interaction`."""

    wake_fraction: LowMiddleHigh
    thrust_deduction: LowMiddleHigh
    relative_rotative_efficiency: LowMiddleHigh
    wake_clamped: NDArray[np.bool_]
    outside: tuple[OutOfRange, ...]


def wake_fraction_taylor(block_coefficient: Real, screws: int = 1) -> Real:
    """Wake fraction: 0.5 Cb - 0.05 for one screw, 0.55 Cb - 0.20 for two.

    block_coefficient: of the canoe body, without keel, skeg and deadwood [-], any shape.   screws: 1 or 2.
    Returns: w [-], not held to any limit.
    Valid: Cb 0.35 to 0.50, where it was compared with `wake_fraction_gerr`; `interaction_bands` has the record.
    Source: D. W. Taylor (1943), The Speed and Power of Ships.
    """
    slope, intercept = _FORMULAS["taylor"]["single" if screws == 1 else "twin"]
    return plain(slope * np.asarray(block_coefficient, dtype=float) + intercept)


def wake_fraction_gerr(block_coefficient: Real, screws: int = 1) -> Real:
    """Wake fraction 1 - Wf: Wf = 1.11 - 0.6 Cb for one screw, 1.06 - 0.4 Cb for two.

    Arguments, returns and valid range: as `wake_fraction_taylor`.
    Source: D. Gerr (1989), Propeller Handbook, formula 6-4, from memory.
    """
    constant, slope = _HANDBOOK_WAKE["single" if screws == 1 else "twin"]
    return plain(1.0 - (constant - slope * np.asarray(block_coefficient, dtype=float)))


def interaction_bands(arrangement: str, block_coefficient: Real) -> InteractionBands:
    """Likely low, middle and high of the factors for an arrangement and a hull.

    arrangement: key of ARRANGEMENTS.   block_coefficient: of the canoe body [-], broadcasts.
    Method, ours: the wake formulas know the hull's fullness but not what stands ahead of the propeller, the typical
    values know that but not the fullness, so each of low, middle and high is the mean of two: the mean of Taylor and
    Gerr with 0.04 either side, and the typical values. Thrust deduction likewise, from t/w of the arrangement and its
    typical values. The wake is held to 0..0.35 and `wake_clamped` says so.
    Valid: Cb 0.35 to 0.50, where the formulas were compared.   Raises: ValueError for an unknown arrangement.
    """
    if arrangement not in ARRANGEMENTS:
        raise ValueError(f"arrangement must be one of {', '.join(ARRANGEMENTS)}; got {arrangement!r}")
    stern = ARRANGEMENTS[arrangement]
    taylor = wake_fraction_taylor(block_coefficient, stern.screws)
    gerr = wake_fraction_gerr(block_coefficient, stern.screws)
    formula = 0.5 * (np.asarray(taylor) + np.asarray(gerr))
    spread = _FORMULAS["band"] * np.array([-1.0, 0.0, 1.0])
    wake = 0.5 * (formula[..., None] + spread + _low_middle_high(stern.wake_fraction))
    held = np.clip(wake, *WAKE_LIMITS)
    deduction = 0.5 * (stern.thrust_deduction_per_wake * held + _low_middle_high(stern.thrust_deduction))
    low, high = _FORMULAS["block_coefficient"]
    return InteractionBands(
        _split(held),
        _split(deduction),
        _split(_low_middle_high(stern.relative_rotative_efficiency)),
        np.any(held != wake, axis=-1),
        outside_range("block coefficient", block_coefficient, low, high, "the wake formulas were compared only there"),
    )


def interaction(arrangement: str, block_coefficient: Real) -> Interaction:
    """The middle of `interaction_bands`: our recommended central values.

    Arguments, valid range and what it raises: as there.   Source: ours.
    """
    bands = interaction_bands(arrangement, block_coefficient)
    return Interaction(
        bands.wake_fraction.middle,
        bands.thrust_deduction.middle,
        bands.relative_rotative_efficiency.middle,
        bands.wake_clamped,
        bands.outside,
    )


def _low_middle_high(pair: tuple[float, float]) -> Array:
    low, high = pair
    return np.array([low, 0.5 * (low + high), high])


def _split(values: Array) -> LowMiddleHigh:
    return LowMiddleHigh(plain(values[..., 0]), plain(values[..., 1]), plain(values[..., 2]))


def hull_efficiency(wake_fraction: Real, thrust_deduction: Real) -> Real:
    """(1 - t)/(1 - w) [-].   wake_fraction: [-], < 1.   thrust_deduction: [-]. They broadcast.   Source: definition."""
    return plain((1.0 - np.asarray(thrust_deduction)) / (1.0 - np.asarray(wake_fraction)))


def bollard_thrust_deduction() -> LowMiddleHigh:
    """Thrust deduction with no way on [-], 0.04 to 0.08. The wake has no meaning there.   Source: from memory."""
    return _split(_low_middle_high(tuple(_DATA["bollard"]["thrust_deduction"])))

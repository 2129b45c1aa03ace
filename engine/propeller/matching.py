"""Propeller against engine: what limits the shaft's speed, how light the propeller runs, and the pitch that suits.

Shaft speed is the propeller shaft's, in rev/s; power is delivered at the propeller. Gearbox, shaft losses and derating
are the caller's.
"""

from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from engine.constants import TWO_PI
from engine.numeric import Array, Real, arrays, plain
from engine.propeller.at_power import thrust_to_spare
from engine.propeller.equilibrium import boat_speed_at_shaft_speed
from engine.propeller.hull_curve import HullCurve
from engine.propeller.open_water import BladeFamily
from engine.propeller.roots import bracketed_root, first_fall, pick

PITCH_RATIO_STEP = 0.05
"""Of the grid that a pitch is bracketed on (ours)."""
_SAME_POWER = 1e-6
"""A power nearer than this share to the one asked for is that power; the rest is rounding."""


class Limit(IntEnum):
    """What ends the shaft's speed at full throttle."""

    ENGINE = 0
    GOVERNOR = 1
    NOT_FOUND = 2

    @property
    def words(self) -> str:
        """The limit in plain words."""
        return {
            Limit.ENGINE: "the engine has no more power to give",
            Limit.GOVERNOR: "the governor holds the engine",
            Limit.NOT_FOUND: "the curves given do not reach far enough to tell",
        }[self]


def value_at_first_fall(values: Array, spare: Array) -> Array:
    """The value, along the last axis, at which what is spare first falls to zero, by straight lines.

    values: (S,) or (..., S), any unit.   spare: (..., S), any unit.
    Returns: (...), unit of values; NaN where it does not fall to zero.   Error: of straight lines between the columns.
    """
    step, meets = first_fall(spare)
    first, second = pick(spare, step), pick(spare, step + 1)
    before, after = pick(values, step), pick(values, step + 1)
    with np.errstate(invalid="ignore", divide="ignore"):
        share = first / (first - second)
    return np.where(meets, before + share * (after - before), np.nan)


def light_running_margin(crossing: Real, rated_shaft_speed: Real) -> Real:
    """How far above rated speed the propeller takes rated power, n/n_rated - 1 [-]; negative is overloaded.

    crossing: shaft speed at which it takes rated power [rev/s].   rated_shaft_speed: [rev/s], > 0. They broadcast.
    Source: trade; the definition.
    """
    return plain(np.asarray(crossing) / rated_shaft_speed - 1.0)


class PitchFound(IntEnum):
    """Whether a pitch was found at which the propeller absorbs the power."""

    YES = 0
    FINEST_ABSORBS_MORE = 1
    COARSEST_ABSORBS_LESS = 2
    OUTSIDE_SPEEDS = 3

    @property
    def words(self) -> str:
        """The answer in plain words."""
        return {
            PitchFound.YES: "found",
            PitchFound.FINEST_ABSORBS_MORE: "even the finest pitch of the series overloads the engine: less diameter",
            PitchFound.COARSEST_ABSORBS_LESS: "even the coarsest pitch of the series is too light: more diameter",
            PitchFound.OUTSIDE_SPEEDS: "the boat's speed leaves the range of the resistance curve",
        }[self]


@dataclass(frozen=True, eq=False)
class PitchToAbsorb:
    """The pitch that absorbs a power; NaN where `found` is not YES.

    pitch_ratio, advance_ratio, efficiency (open water): [-].   boat_speed: [m/s].   thrust: [N].
    delivered_power: absorbed at that pitch, the power asked [W].   found: PitchFound values.
    """

    pitch_ratio: Real
    boat_speed: Real
    advance_ratio: Real
    efficiency: Real
    thrust: Real
    delivered_power: Real
    found: NDArray[np.int8]


def pitch_ratio_to_absorb(
    family: BladeFamily, pitch_ratios: Array, diameter: Real, power: Real, shaft_speed: Real, hull: HullCurve
) -> PitchToAbsorb:
    """The pitch ratio at which the propeller, driving the hull, absorbs exactly a power at a shaft speed.

    family: the blades, of no shape or that of the diameters.   pitch_ratios: (P,) rising, those of the series.
    diameter: [m].   power: delivered [W].   shaft_speed: [rev/s].
    They broadcast against the hull's leading axes; a grid over diameters is an axis of diameter.
    Valid: pitch ratios of the series only; other ranges by `series.outside`.
    Method: every pitch ratio of the grid at once, then false position on the thrust to spare where the power is taken.
    Where a hump holds the boat at a lower speed, at which that pitch takes more, none is found.
    Returns: PitchToAbsorb of the broadcast shape.   Error: relative 1e-11 of the pitch ratio.
    Source: definitions of KT, KQ, J, w, t and eta_R.
    """
    D, P, n = arrays(diameter, power, shaft_speed)
    KQ = P * hull.relative_rotative_efficiency / (TWO_PI * np.asarray(hull.density) * n**3 * D**5)
    wide = family.with_trailing_axis().at(pitch_ratios)
    highest = np.asarray(wide.zero_thrust_advance_ratio)
    spare, _ = thrust_to_spare(wide, D[..., None], n[..., None], KQ[..., None], hull.with_trailing_axis(), highest)
    step, has_fall = first_fall(spare)
    highest = pick(highest, step + 1)

    def spare_thrust(pitch_ratio: Array) -> Array:
        return thrust_to_spare(family.at(pitch_ratio), D, n, KQ, hull, highest)[0]

    low = np.where(has_fall, pitch_ratios[step], np.nan)
    high = np.where(has_fall, pitch_ratios[step + 1], np.nan)
    pitch_ratio = bracketed_root(spare_thrust, low, high, pick(spare, step), pick(spare, step + 1))
    return _checked(family, pitch_ratios, pitch_ratio, D, P, n, hull)


def _checked(
    family: BladeFamily, pitch_ratios: Array, pitch_ratio: Array, D: Array, P: Array, n: Array, hull: HullCurve
) -> PitchToAbsorb:
    """The answer for a pitch ratio found, NaN where none was, with what the boat does from rest up with it, and with
    the finest and the coarsest pitch of the series."""
    shape = pitch_ratio.shape
    ends = (np.broadcast_to(end, shape) for end in (pitch_ratios[0], pitch_ratios[-1]))
    three = np.stack([pitch_ratio, *ends], axis=-1)
    runs = boat_speed_at_shaft_speed(
        family.with_trailing_axis().at(three), D[..., None], n[..., None], hull.with_trailing_axis()
    )
    spare = P[..., None] - np.asarray(runs.point.delivered_power)
    is_absorbed = np.abs(spare[..., 0]) <= _SAME_POWER * P
    found = np.select(
        [is_absorbed, spare[..., 1] <= 0.0, spare[..., 2] > 0.0],
        [PitchFound.YES, PitchFound.FINEST_ABSORBS_MORE, PitchFound.COARSEST_ABSORBS_LESS],
        PitchFound.OUTSIDE_SPEEDS,
    )
    answers = (
        np.where(is_absorbed, np.asarray(each)[..., 0], np.nan)
        for each in (
            three,
            runs.speed,
            runs.point.advance_ratio,
            runs.point.efficiency,
            runs.point.thrust,
            runs.point.delivered_power,
        )
    )
    ratio, speed, advance_ratio, efficiency, thrust, taken = map(plain, answers)
    return PitchToAbsorb(ratio, speed, advance_ratio, efficiency, thrust, taken, found.astype(np.int8))

"""Does the bottom slow the boat? Deep-water resistance holds only with enough water under her."""

from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import NDArray

from engine import constants
from engine.data import table
from engine.hull.form import HullForm
from engine.numeric import Array, Real, plain
from engine.validity import require_not_negative, require_positive

SHALLOW_SOURCE = "Lackenby (1963) after Schlichting (1934), from memory"
"""What a sentence about the speed lost to the bottom names."""


class ShallowWarning(Enum):
    """What to mind about a depth and speed."""

    NEAR_CRITICAL = "she squats and power climbs"
    BEYOND_FORMULA = "she is too fast for the formula to hold"


@dataclass(frozen=True)
class ShallowWater:
    """Effect of a depth. speed_loss is a fraction of the deep-water speed at the same power, zero in deep water.

    Every field but the last two has the broadcast shape of boats, speeds and depths.
    """

    depth_froude_number: Real
    is_shallow: NDArray[np.bool_]
    is_beyond: NDArray[np.bool_]
    """Where the formula does not hold: too fast for the depth, or too much speed lost."""
    speed_loss: Real
    critical_speed: Real
    """Speed of the fastest wave in this depth [m/s]."""
    warnings: tuple[ShallowWarning, ...]


def shallow_water(form: HullForm, speed: Real, depth: Real, *, gravity: float = constants.GRAVITY) -> ShallowWater:
    """The speed a boat loses to the bottom at constant power.

    speed: [m/s]; depth: [m], more than the canoe body's draft; any shapes that broadcast.
    Valid: depth Froude number below about 0.7 and loss below 15 %; beyond, BEYOND_FORMULA is among the warnings and
    the value is still the formula's, NaN where it loses all speed.
    The rule sets in with a step: 0.1242 (CM/9 - 0.05) where the depth grows short for the section, 0.4 % where it grows
    short for the speed, the sum where both meet. For a boat of 10 m that is at most 0.8 % of speed with CM 0.75, 1.2 %
    with CM 1; in resistance it is as many times that as the power of speed with which resistance climbs.
    Raises: ValueError for a depth not greater than the draft or a negative speed.
    Source: H. Lackenby (1963), The effect of shallow water on ship speed, after Schlichting (1934); no effect beyond
    the depths of ITTC 7.5-04-01-01; from memory.
    """
    require_not_negative(speed=speed)
    require_positive(water_under_the_hull=depth - form.draft)
    rule = table("service_allowances")["shallow_water"]
    V, h, T = np.asarray(speed, dtype=float), np.asarray(depth, dtype=float), form.draft
    depth_froude = np.asarray(V / np.sqrt(gravity * h))
    is_shallow = (h <= rule["no_effect_section_factor"] * np.sqrt(form.waterline_beam * T)) | (
        h <= rule["no_effect_speed_factor"] * V**2 / gravity
    )
    moving = depth_froude > 0.0
    blockage = np.maximum(form.midship_area / h**2 - rule["blockage_threshold"], 0.0)
    wave_part = 1.0 - np.sqrt(np.tanh(np.minimum(1.0 / np.where(moving, depth_froude, 1.0) ** 2, 1e3)))
    loss = np.where(is_shallow & moving, rule["blockage_slope"] * blockage + wave_part, 0.0)
    warnings = []
    if np.any(is_shallow & (depth_froude > rule["warning_depth_froude_number"])):
        warnings.append(ShallowWarning.NEAR_CRITICAL)
    too_much = (depth_froude > rule["limit_depth_froude_number"]) | (loss > rule["limit_speed_loss"])
    is_beyond = np.asarray(is_shallow & too_much)
    if np.any(is_beyond):
        warnings.append(ShallowWarning.BEYOND_FORMULA)
    return ShallowWater(
        depth_froude_number=plain(np.broadcast_to(depth_froude, loss.shape)),
        is_shallow=np.broadcast_to(is_shallow, loss.shape),
        is_beyond=np.broadcast_to(is_beyond, loss.shape),
        speed_loss=plain(np.where(loss < 1.0, loss, np.nan)),
        critical_speed=plain(np.sqrt(gravity * h)),
        warnings=tuple(warnings),
    )


def squat(form: HullForm, speed: Real, *, confined: bool) -> Real:
    """How far a boat settles in shallow water [m].

    speed: [m/s], >= 0.   confined: in a channel hardly wider than a few beams, else in open water. They broadcast.
    Valid: ships, below the critical speed; on boats an order of size.   Raises: ValueError for a negative speed.
    Source: Barrass (1979), CB V^2/100 and CB V^2/50 with V in knots; from memory.
    """
    require_not_negative(speed=speed)
    over = table("service_allowances")["squat"]["confined" if confined else "open_water"]
    return plain(form.block_coefficient * np.square(np.asarray(speed, dtype=float) / constants.KNOT) / over)


def in_shallow_water(speed_grid: Array, resistance: Real, loss: Real) -> Real:
    """Resistance on a grid of speeds in shallow water: the deep-water curve read at V/(1 - dV/V).

    speed_grid: (S,), rising [m/s].   resistance: in deep water, (..., S) [N].
    loss: dV/V of `shallow_water` for these speeds, (..., S) [-].
    Returns: (..., S) [N], linear between grid points; NaN where the deep-water speed leaves the grid, and where the
    loss is NaN or above the 15 % of the formula. Where only the depth Froude number is too high the value stays the
    formula's: `ShallowWater.is_beyond` tells.
    Error: of straight lines between the grid's speeds.
    Raises: ValueError for a grid that does not rise or has fewer than two points.   Source: meaning of `shallow_water`.
    """
    grid = np.asarray(speed_grid, dtype=float)
    if grid.ndim != 1 or grid.size < 2 or not np.all(np.diff(grid) > 0.0):
        raise ValueError("The speeds of the grid must rise, and be two at least.")
    most = table("service_allowances")["shallow_water"]["limit_speed_loss"]
    lost = np.asarray(loss, dtype=float)
    deep = grid / (1.0 - np.where(lost <= most, lost, np.nan))
    upper = np.clip(np.searchsorted(grid, deep, side="right"), 1, grid.size - 1)
    weight = (deep - grid[upper - 1]) / (grid[upper] - grid[upper - 1])
    shape = np.broadcast_shapes(np.shape(resistance), deep.shape)
    curve, upper = np.broadcast_to(resistance, shape), np.broadcast_to(upper, shape)
    below, above = np.take_along_axis(curve, upper - 1, axis=-1), np.take_along_axis(curve, upper, axis=-1)
    return plain(np.where(deep <= grid[-1], (1.0 - weight) * below + weight * above, np.nan))

"""Does the bottom slow the boat? Deep-water resistance holds only with enough water under her."""

from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import NDArray

from engine import constants
from engine.data import table
from engine.hull.form import HullForm
from engine.numeric import Real, plain
from engine.validity import require_not_negative, require_positive


class ShallowWarning(Enum):
    """What to mind about a depth and speed."""

    NEAR_CRITICAL = "the boat squats and power climbs: slow down or find deeper water"
    BEYOND_FORMULA = "too fast for this depth for the formula to hold"


@dataclass(frozen=True)
class ShallowWater:
    """Effect of a depth. speed_loss is a fraction of the deep-water speed at the same power, zero in deep water."""

    depth_froude_number: Real
    is_shallow: NDArray[np.bool_]
    speed_loss: Real
    critical_speed: Real
    """Speed of the fastest wave in this depth [m/s]."""
    warnings: tuple[ShallowWarning, ...]

    def deep_water_speed(self, speed: Real) -> Real:
        """The deep-water speed [m/s] whose power and resistance the boat has at `speed` in this depth."""
        return plain(speed / (1.0 - self.speed_loss))


def shallow_water(form: HullForm, speed: Real, depth: Real, *, gravity: float = constants.GRAVITY) -> ShallowWater:
    """The speed a boat loses to the bottom at constant power.

    speed: [m/s]; depth: [m], more than the canoe body's draft; any shapes that broadcast.
    Valid: depth Froude number below about 0.7 and loss below 15 %; beyond, BEYOND_FORMULA is among the warnings and
    the value is still the formula's, NaN where it loses all speed.
    Raises: ValueError for a depth not greater than the draft or a negative speed.
    Source: H. Lackenby (1963), The effect of shallow water on ship speed, after Schlichting (1934); no effect beyond
    the depths of ITTC 7.5-04-01-01; from memory.
    """
    require_not_negative(speed=speed)
    require_positive(water_under_the_hull=depth - form.draft)
    rule = table("service_allowances")["shallow_water"]
    V, h, T = np.asarray(speed), np.asarray(depth), form.draft
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
    beyond = (depth_froude > rule["limit_depth_froude_number"]) | (loss > rule["limit_speed_loss"])
    if np.any(is_shallow & beyond):
        warnings.append(ShallowWarning.BEYOND_FORMULA)
    return ShallowWater(
        depth_froude_number=plain(depth_froude),
        is_shallow=is_shallow,
        speed_loss=plain(np.where(loss < 1.0, loss, np.nan)),
        critical_speed=plain(np.sqrt(gravity * h)),
        warnings=tuple(warnings),
    )

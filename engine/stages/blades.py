"""Propeller blades in service: what growth on them costs, by the months since they were cleaned."""

import numpy as np

from engine.constants import MONTH
from engine.numeric import Real
from engine.plan import Plan
from engine.propeller.blade_roughness import BLADE_STATES, blade_roughness_after, blade_roughness_effect
from engine.propeller.open_water import OpenWater
from engine.propeller.wageningen import blade_chord, blade_thickness
from engine.stages.defaults import amount

LIGHT_GROWTH = BLADE_STATES["light growth"]


def months_allowed_for(plan: Plan) -> float:
    """Months without cleaning that the plan allows for in service."""
    return amount(plan.power, "time_since_cleaning") / MONTH


def fouled(
    open_water: OpenWater, diameter: Real, pitch_ratio: Real, area_ratio: float, blades: int, months: float
) -> OpenWater:
    """A propeller's curves with growth on the blades some months after cleaning.

    Growth is reckoned up to light growth and no further: with barnacles the formula is outside its range, and a wheel
    in that state is cleaned, not planned for. `growth_is_beyond` tells the stages, which tell the owner.
    """
    height = min(float(blade_roughness_after(months)), LIGHT_GROWTH.roughness_height)
    chord = blade_chord(diameter, area_ratio, blades)
    thickness_ratio = blade_thickness(diameter, blades) / np.asarray(chord)
    return open_water + blade_roughness_effect(diameter, pitch_ratio, blades, chord, thickness_ratio, height).open_water


def growth_is_beyond(months: float) -> bool:
    """Whether the wheel may carry more than the light growth that is reckoned."""
    return float(blade_roughness_after(months)) > LIGHT_GROWTH.roughness_height

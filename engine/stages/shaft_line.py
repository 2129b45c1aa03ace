"""The chosen shaft in its bearings, with the propeller on its end where weight and overhang are known."""

import math
from dataclasses import dataclass

from engine.machinery.bearings import bare_shaft_critical_speed
from engine.machinery.shaft_materials import ShaftMaterial
from engine.machinery.shaft_model import overhung_critical_speed
from engine.machinery.whirling import (
    LEAST_WHIRLING_MARGIN,
    PropellerInWater,
    propeller_in_water,
    propeller_polar_inertia,
    whirling_critical_speed,
    whirling_inertia,
)
from engine.plan import Plan

_SHORTEST = 5.0
"""Shaft diameters under which no span is looked at (ours)."""
_HALVINGS = 16
"""Halvings of the bearing span sought: leaves 1/65536 of the range searched (ours)."""


@dataclass(frozen=True)
class ShaftLine:
    """A shaft of a plan.   diameter, propeller_diameter: [m]."""

    plan: Plan
    material: ShaftMaterial
    diameter: float
    propeller_diameter: float

    @property
    def wheel(self) -> PropellerInWater | None:
        """What hangs on its end; None while its weight is not known."""
        weight = self.plan.shaft.propeller_weight
        if weight is None or self.plan.shaft.overhang is None:
            return None
        return propeller_in_water(weight.si, propeller_polar_inertia(weight.si, self.propeller_diameter))

    def critical_speeds(self, span: float) -> tuple[float, float]:
        """(by finite elements, by the Dunkerley sum) [rev/s] for a span between bearings [m]; of the bare shaft, where
        both are the same, while the propeller is not known."""
        material, wheel, overhang = self.material, self.wheel, self.plan.shaft.overhang
        if wheel is None or overhang is None:
            bare = bare_shaft_critical_speed(span, self.diameter, material.elastic_modulus, material.density)
            return float(bare), float(bare)
        shaft = (span, overhang.si, self.diameter, material.elastic_modulus, material.density)
        load = (float(wheel.mass), float(whirling_inertia(wheel)))
        return overhung_critical_speed(*shaft, *load), float(whirling_critical_speed(*shaft, *load))

    def longest_span(self, highest: float, allowed: float) -> float:
        """The longest distance between bearings [m], up to what the spacing formula allows [m], at which the critical
        speed with the propeller stands the least margin over the highest shaft speed [rev/s]; NaN where none does, or
        where that speed is not known."""
        least = (1.0 + LEAST_WHIRLING_MARGIN) * highest
        if self.wheel is None or math.isnan(allowed) or self.critical_speeds(allowed)[0] >= least:
            return allowed
        low, high = _SHORTEST * self.diameter, allowed
        if self.critical_speeds(low)[0] < least:
            return math.nan
        for _ in range(_HALVINGS):
            middle = 0.5 * (low + high)
            low, high = (middle, high) if self.critical_speeds(middle)[0] >= least else (low, middle)
        return low

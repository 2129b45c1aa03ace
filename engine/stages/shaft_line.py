"""The chosen shaft in its bearings, with the propeller on its end where weight and overhang are known."""

import math
from dataclasses import dataclass
from functools import cached_property

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
from engine.numeric import Real
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

    @cached_property
    def wheel(self) -> PropellerInWater | None:
        """What hangs on its end; None while its weight is not known."""
        weight = self.plan.shaft.propeller_weight
        if weight is None or self.plan.shaft.overhang is None:
            return None
        return propeller_in_water(weight.si, propeller_polar_inertia(weight.si, self.propeller_diameter))

    @cached_property
    def _behind_the_span(self) -> tuple[float, float, float, float, float, float] | None:
        """What both ways of reckoning take behind the span: overhang, diameter, modulus, density, mass and tilting
        inertia; None while the propeller is not known."""
        wheel, overhang, metal = self.wheel, self.plan.shaft.overhang, self.material
        if wheel is None or overhang is None:
            return None
        load = float(wheel.mass), float(whirling_inertia(wheel))
        return overhang.si, self.diameter, metal.elastic_modulus, metal.density, *load

    def critical_speed(self, span: float) -> float:
        """By finite elements [rev/s], for a span between bearings [m]; of the bare shaft while the propeller is not
        known."""
        behind = self._behind_the_span
        return float(self._bare_critical_speed(span)) if behind is None else overhung_critical_speed(span, *behind)

    def dunkerley_sum(self, span: Real) -> Real:
        """The same by the Dunkerley sum, for spans of any shape; for the bare shaft both are one."""
        behind = self._behind_the_span
        return self._bare_critical_speed(span) if behind is None else whirling_critical_speed(span, *behind)

    def _bare_critical_speed(self, span: Real) -> Real:
        return bare_shaft_critical_speed(span, self.diameter, self.material.elastic_modulus, self.material.density)

    def longest_span(self, highest: float, allowed: float) -> float:
        """The longest distance between bearings [m], up to what the spacing formula allows [m], at which the critical
        speed with the propeller stands the least margin over the highest shaft speed [rev/s]; NaN where none does, or
        where that speed is not known."""
        least = (1.0 + LEAST_WHIRLING_MARGIN) * highest
        if self.wheel is None or math.isnan(allowed) or self.critical_speed(allowed) >= least:
            return allowed
        low, high = _SHORTEST * self.diameter, allowed
        if self.critical_speed(low) < least:
            return math.nan
        for _ in range(_HALVINGS):
            middle = 0.5 * (low + high)
            low, high = (middle, high) if self.critical_speed(middle) >= least else (low, middle)
        return low

"""Stage 7: which shaft? Diameter, bearing spacing and the speed at which it would whip."""

import math
from collections.abc import Iterator

import numpy as np

from engine.constants import RPM
from engine.findings import Outcome, stop
from engine.machinery.bearings import bearing_spacing_allowed
from engine.machinery.shaft import (
    GENERIC_PROPELLER_DIVISOR,
    allowable_shaft_power,
    propeller_divisor,
    safety_factor_of_shaft,
    shaft_diameter_from_propeller,
    shaft_diameter_iacs_m68,
    shaft_torque,
)
from engine.machinery.shaft_ends import bore_for, next_standard_diameter, taper_for
from engine.plan import Plan
from engine.stages.engine import EngineAnswers
from engine.stages.gear_answers import GearAnswers
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.shaft_answers import RuleRow, ShaftAnswers, SpanRow
from engine.stages.shaft_findings import About, shaft_findings
from engine.stages.shaft_line import ShaftLine
from engine.stages.shaft_size import needed_diameter, shaft_material, shaft_system, wanted_factor
from engine.stages.stern_gear import bore_words, key_load, taper_words, yard_rows
from engine.stages.wording import Wording

_SPANS = 13
_LEAST_SPAN, _MOST_SPAN = 15.0, 50.0
"""The curve of critical speeds reaches from and to this many diameters, beyond the twenty-forty rule on both sides."""
_RULE_BLADES = (2, 4)
"""The quick rule's table knows two to four blades."""
_RULE_METALS = ("high-strength stainless", "weaker metals")


def assess_shaft(
    plan: Plan, engine: EngineAnswers, gear: GearAnswers, propeller: PropellerAnswers
) -> Outcome[ShaftAnswers]:
    """Diameter for the torque, stock size or the owner's own, bearing spacing and critical speed of one shaft."""
    if plan.shaft.span is None:
        return Outcome(None, waits_for="the longest distance between bearings.")
    material, wanted = shaft_material(plan), wanted_factor(plan)
    system, own = shaft_system(plan), plan.shaft.diameter
    carried, shaft_speed, strength = engine.drive.power_after_gear, gear.shaft_rpm * RPM, material.shear_yield
    needed = needed_diameter(plan, engine.drive, shaft_speed)
    diameter = float(next_standard_diameter(needed, system)) if own is None else own.si
    if math.isnan(diameter):
        text = (
            f"No stock shaft in the table is thick enough for {Wording(plan.units).size(needed)}. Take a "
            "stronger material, or give a diameter of your own, to be turned to order."
        )
        waits_for = "a stronger material, or a diameter of your own."
        return Outcome(None, (stop(text, "SAE J755 and ISO 4566 sizes", "shaft.material"),), waits_for)
    line = ShaftLine(plan, material, diameter, propeller.diameter_m)
    span, present = plan.shaft.span.si, plan.present.shaft_diameter
    critical, dunkerley = line.critical_speed(span), float(line.dunkerley_sum(span))
    highest = propeller.full_throttle_rpm.high / engine.rated_rpm * shaft_speed
    allowed = float(bearing_spacing_allowed(diameter, highest, material.elastic_modulus, material.density))
    torque = float(shaft_torque(carried, shaft_speed))
    taper = taper_for(diameter, system)
    answers = ShaftAnswers(
        material=material.words,
        torque_nm=torque,
        shaft_rpm=gear.shaft_rpm,
        thrust_n=propeller.thrust_n,
        static_thrust_n=propeller.static_thrust_n,
        safety_factor=wanted,
        needed_diameter_m=needed,
        diameter_m=diameter,
        actual_safety_factor=float(safety_factor_of_shaft(diameter, carried, shaft_speed, strength)),
        allowed_power_kw=float(allowable_shaft_power(diameter, shaft_speed, strength, wanted)) / 1e3,
        present_safety_factor=None
        if present is None
        else float(safety_factor_of_shaft(present.si, carried, shaft_speed, strength)),
        class_diameter_m=float(shaft_diameter_iacs_m68(carried, shaft_speed, material.tensile_strength)),
        largest_span_m=line.longest_span(highest, allowed),
        span_m=span,
        span_over_diameter=span / diameter,
        critical_rpm=critical / RPM,
        dunkerley_rpm=dunkerley / RPM,
        whirling_margin_fraction=critical / highest - 1.0,
        taper=taper_words(plan, taper),
        bore=bore_words(plan, bore_for(diameter, system)),
        key_load_fraction=key_load(torque, taper, material),
        hub_diameter_m=propeller.hub_diameter_m,
        rules=tuple(_rules(propeller)),
        fits=tuple(yard_rows(plan, diameter)),
        spans=tuple(_spans(line)),
    )
    about = About(plan, line, answers, highest, allowed, gear.ratio, propeller, engine)
    return Outcome(answers, tuple(shaft_findings(about)))


def _spans(line: ShaftLine) -> Iterator[SpanRow]:
    spans = line.diameter * np.linspace(_LEAST_SPAN, _MOST_SPAN, _SPANS)
    for span, dunkerley in zip(spans.tolist(), np.asarray(line.dunkerley_sum(spans)).tolist(), strict=True):
        yield SpanRow(span_m=span, critical_rpm=line.critical_speed(span) / RPM, dunkerley_rpm=dunkerley / RPM)


def _rules(propeller: PropellerAnswers) -> Iterator[RuleRow]:
    """The quick rules from the propeller's diameter."""
    blades = min(max(propeller.blades, _RULE_BLADES[0]), _RULE_BLADES[1])
    for metal in _RULE_METALS:
        divisor = propeller_divisor(blades, metal)
        yield RuleRow(
            rule=f"propeller diameter over {divisor:g}, {metal}",
            diameter_m=float(shaft_diameter_from_propeller(propeller.diameter_m, divisor)),
            standing="sanity band only; Gerr (2009), Table 1-1",
        )
    yield RuleRow(
        rule=f"propeller diameter over {GENERIC_PROPELLER_DIVISOR:g}",
        diameter_m=float(shaft_diameter_from_propeller(propeller.diameter_m)),
        standing="sanity band only; common practice, no source",
    )

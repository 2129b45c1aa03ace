"""Stage 7: which shaft? Diameter, bearing spacing and the speed at which it would whip."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from engine.answers import answer, maybe, table
from engine.bands import Band
from engine.constants import RPM
from engine.findings import Finding, Outcome, fits, look, stop
from engine.machinery.bearings import (
    MOST_DIAMETERS,
    bare_shaft_critical_speed,
    bearing_spacing_allowed,
    judge_bearing_spacing,
    judge_shaft_angle,
)
from engine.machinery.shaft import (
    SAFETY_FACTORS,
    judge_safety_factor,
    safety_factor_of_shaft,
    shaft_diameter_iacs_m68,
    shaft_diameter_small_craft,
    shaft_torque,
)
from engine.machinery.shaft_ends import BORE_NOTE, HubBore, ShaftTaper, bore_for, next_standard_diameter, taper_for
from engine.machinery.shaft_materials import MATERIALS, ShaftMaterial
from engine.machinery.vibration import critical_crossings, judge_critical_crossing
from engine.machinery.whirling import (
    judge_whirling,
    propeller_in_water,
    propeller_polar_inertia,
    whirling_critical_speed,
    whirling_inertia,
)
from engine.plan import Plan
from engine.stages.defaults import amount_or_none, word
from engine.stages.engine import EngineAnswers
from engine.stages.gear_answers import GearAnswers
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.wording import Wording


@dataclass(frozen=True)
class SpanRow:
    """Critical speed of the chosen shaft for one bearing span."""

    span_m: float = answer("Span")
    critical_rpm: float = answer("Critical speed")


@dataclass(frozen=True, kw_only=True)
class ShaftAnswers:
    """The shaft, and what carries it."""

    material: str = answer("Material")
    torque_nm: float = answer("Torque at rated power")
    shaft_rpm: float = answer("Shaft speed")
    safety_factor: float = answer("Safety factor asked for")
    needed_diameter_m: float = answer("Diameter needed", metric="mm", imperial="in")
    diameter_m: float = answer("Stock diameter", metric="mm", imperial="in")
    actual_safety_factor: float = answer("Safety factor of the stock diameter")
    present_safety_factor: float | None = maybe("Safety factor of the present shaft with this engine")
    class_diameter_m: float = answer("Class formula, for comparison only", metric="mm", imperial="in")
    largest_span_m: float = answer("Largest distance between bearings")
    span_m: float = answer("Longest distance between bearings, yours")
    span_over_diameter: float = answer("Span over diameter")
    critical_rpm: float = answer("Critical speed")
    whirling_margin_fraction: float = answer("Margin to critical speed")
    taper: str = answer("Taper and key")
    bore: str = answer("Bore of the propeller's hub")
    hub_diameter_m: Band = answer("Hub of such propellers, about", metric="mm", imperial="in")
    spans: tuple[SpanRow, ...] = table("Critical speed against bearing span")


_P6 = "small-craft shaft formula, Gerr (2009), Formula 1-2; American Boat and Yacht Council P-6"
_SPANS = 24
_MOST_SPAN = 50.0
"""The curve of critical speeds reaches this many diameters."""


def assess_shaft(
    plan: Plan, engine: EngineAnswers, gear: GearAnswers, propeller: PropellerAnswers
) -> Outcome[ShaftAnswers]:
    """Diameter for the torque, stock size, bearing spacing and critical speed of one shaft."""
    if plan.shaft.span is None:
        return Outcome(None, waits_for="the longest distance between bearings.")
    material = MATERIALS[word(plan.shaft, "material")]
    wanted = amount_or_none(plan.shaft, "safety_factor") or SAFETY_FACTORS[word(plan.shaft, "use")].value
    system = plan.shaft.sizes or ("inch" if plan.units == "imperial" else "metric")
    carried = engine.drive.power_after_gear
    shaft_speed = gear.shaft_rpm * RPM
    needed = float(shaft_diameter_small_craft(carried, shaft_speed, material.shear_yield, wanted))
    stock = float(next_standard_diameter(needed, system))
    if math.isnan(stock):
        text = (
            f"No stock shaft in the table is thick enough for {Wording(plan.units).size(needed)}. Take a "
            "stronger material."
        )
        return Outcome(None, (stop(text, "SAE J755 and ISO 4566 sizes", "shaft.material"),), "a stronger material.")
    case = _Case(plan, material, stock, propeller, gear.ratio)
    critical = case.critical_speed(plan.shaft.span.si)
    highest = propeller.full_throttle_rpm.high / engine.rated_rpm * shaft_speed
    allowed = float(bearing_spacing_allowed(stock, highest, material.elastic_modulus, material.density))
    present = plan.present.shaft_diameter
    answers = ShaftAnswers(
        material=f"{material.uns} ({material.kind})",
        torque_nm=float(shaft_torque(carried, shaft_speed)),
        shaft_rpm=gear.shaft_rpm,
        safety_factor=wanted,
        needed_diameter_m=needed,
        diameter_m=stock,
        actual_safety_factor=float(safety_factor_of_shaft(stock, carried, shaft_speed, material.shear_yield)),
        present_safety_factor=None
        if present is None
        else float(safety_factor_of_shaft(present.si, carried, shaft_speed, material.shear_yield)),
        class_diameter_m=float(shaft_diameter_iacs_m68(carried, shaft_speed, material.tensile_strength)),
        largest_span_m=min(allowed, MOST_DIAMETERS * stock),
        span_m=plan.shaft.span.si,
        span_over_diameter=plan.shaft.span.si / stock,
        critical_rpm=critical / RPM,
        whirling_margin_fraction=critical / highest - 1.0,
        taper=_taper_words(plan, taper_for(stock, system)),
        bore=_bore_words(plan, bore_for(stock, system)),
        hub_diameter_m=propeller.hub_diameter_m,
        spans=tuple(
            SpanRow(span_m=float(span), critical_rpm=case.critical_speed(float(span)) / RPM)
            for span in stock * np.linspace(15.0, _MOST_SPAN, _SPANS)
        ),
    )
    return Outcome(answers, tuple(_findings(case, answers, highest, allowed)))


@dataclass(frozen=True)
class _Case:
    """One shaft in its bearings with the propeller on its end, where weight and overhang are known."""

    plan: Plan
    material: ShaftMaterial
    diameter: float
    propeller: PropellerAnswers
    ratio: float

    @property
    def has_propeller(self) -> bool:
        return self.plan.shaft.propeller_weight is not None and self.plan.shaft.overhang is not None

    def critical_speed(self, span: float) -> float:
        """First critical speed [rev/s] for a span between bearings [m]."""
        material = self.material
        weight, overhang = self.plan.shaft.propeller_weight, self.plan.shaft.overhang
        if weight is None or overhang is None:
            return float(bare_shaft_critical_speed(span, self.diameter, material.elastic_modulus, material.density))
        wheel = propeller_in_water(weight.si, propeller_polar_inertia(weight.si, self.propeller.diameter_m))
        return float(
            whirling_critical_speed(
                span,
                overhang.si,
                self.diameter,
                material.elastic_modulus,
                material.density,
                wheel.mass,
                whirling_inertia(wheel),
            )
        )


def _findings(case: _Case, answers: ShaftAnswers, highest: float, allowed: float) -> Iterator[Finding]:
    """highest: shaft speed at full throttle [rev/s].   allowed: span by the spacing formula with its margin [m]."""
    plan, material = case.plan, case.material
    yield judge_safety_factor(answers.actual_safety_factor, answers.safety_factor)
    if answers.present_safety_factor is not None:
        old = judge_safety_factor(answers.present_safety_factor, answers.safety_factor)
        yield replace(
            old,
            text=f"With this engine and gear, the present shaft, taken as {material.uns}: "
            f"{old.text[0].lower()}{old.text[1:]}",
        )
    yield judge_bearing_spacing(answers.span_m, answers.diameter_m, allowed)
    yield judge_whirling(answers.critical_rpm * RPM, highest)
    yield judge_critical_crossing(
        critical_crossings(case.propeller.blades, answers.critical_rpm * RPM, 0.0, highest),
        case.propeller.cruise_rpm.best / case.ratio * RPM,
    )
    if not case.has_propeller:
        yield look(
            "Weight and overhang of the propeller are not given, so the critical speed is that of the bare shaft; "
            "the wheel lowers it.",
            "Dunkerley sum with the overhung propeller, derived from beam flexibilities",
            "shaft.propeller_weight",
        )
    yield fits(
        f"For comparison, the class formula IACS M68 gives {Wording(plan.units).size(answers.class_diameter_m)}. "
        "It is written for protected forgings of ships, caps the strength of the steel, and does not size a yacht "
        "shaft.",
        "IACS UR M68; keyed taper",
    )
    if not material.fit_for_sea_water:
        yield stop(f"{material.uns} is not for sea water: {material.note}.", material.status, "shaft.material")
    elif material.pits_when_idle:
        yield look(f"{material.uns}: {material.note}.", f"material data {material.status}", "shaft.material")
    if "memory" in material.status:
        yield look(
            f"The strength of {material.uns} is from memory, a default: put the certificate of the bar beside it.",
            material.status,
            "shaft.material",
        )
    if plan.shaft.angle is not None:
        yield judge_shaft_angle(plan.shaft.angle.si)
    yield look(
        "Tapers in service differ (1:10, 1:12, 1:16): the old wheel often does not fit the new shaft. "
        "Measure small end, large end, length and key.",
        "SAE J755; ISO 4566",
    )
    yield look(BORE_NOTE, "SAE J755; contact of the fit from memory")


def _bore_words(plan: Plan, bore: HubBore) -> str:
    """What the propeller shop bores for this shaft."""
    if bore.small_end_diameter is None:
        return "to the shaft's own taper, from the shaft or its drawing: our table has no bore for it"
    say = Wording(plan.units)
    words = [f"large end {say.size(bore.shaft.diameter)}", f"small end {say.size(bore.small_end_diameter)}"]
    if bore.shaft.keyway_width is not None:
        words.append(f"key {say.size(bore.shaft.keyway_width)}")
    return f"{', '.join(words)}; {bore.shaft.standard}"


def _taper_words(plan: Plan, taper: ShaftTaper) -> str:
    if taper.taper is None:
        return f"{taper.standard}: {taper.note}"
    words = [f"1:{1.0 / taper.taper:.0f}"]
    if taper.length is not None:
        shortest, longest = (Wording(plan.units).size(length) for length in taper.length)
        words.append(f"length {shortest}" if shortest == longest else f"length {shortest} to {longest}")
    if taper.small_end_diameter is not None:
        words.append(f"small end {Wording(plan.units).size(taper.small_end_diameter)}")
    if taper.keyway_width is not None:
        words.append(f"key {Wording(plan.units).size(taper.keyway_width)}")
    if taper.thread:
        words.append(f"thread {taper.thread} (from memory)")
    if taper.note:
        words.append(taper.note)
    return ", ".join(words)

"""Stage 1: what boat is it? Dimensions, form coefficients, and whether they agree with each other."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import cast

from engine.answers import answer, table
from engine.constants import KNOT
from engine.data import table as data_table
from engine.findings import Finding, Outcome, Verdict, fits, look, stop
from engine.hull.appendages import APPENDAGE_KINDS
from engine.hull.coefficients import FormCoefficients, TypicalForm, reconcile_coefficients, typical
from engine.hull.dimension_check import Diagnosis, DimensionFinding, check_dimensions
from engine.hull.displacement_rules import displacement_length_ratio, hull_speed
from engine.hull.form import HullForm
from engine.hull.holtrop_form import half_entrance_angle
from engine.hull.methods import METHODS
from engine.hull.wetted_surface import wetted_surface_holtrop
from engine.plan import Plan
from engine.propeller.interaction import ARRANGEMENTS
from engine.stages.defaults import amount, amount_or_none, word
from engine.stages.wording import Wording, percent
from engine.water import Water, WaterKind, water


@dataclass(frozen=True)
class RangePlace:
    """Where the boat lies in one range of one resistance method."""

    method: str = answer("Method")
    parameter: str = answer("Parameter")
    value: float = answer("Boat")
    low: float = answer("Range from")
    high: float = answer("to")
    inside: bool = answer("Inside")


@dataclass(frozen=True, kw_only=True)
class HullAnswers:
    """The boat as the later stages see her."""

    displacement_kg: float = answer("Displacement", digits=4)
    volume_m3: float = answer("Displaced volume")
    waterline_length_m: float = answer("Waterline length", digits=4)
    waterline_beam_m: float = answer("Waterline beam")
    hull_draft_m: float = answer("Hull draft")
    block_coefficient: float = answer("Block coefficient")
    prismatic_coefficient: float = answer("Prismatic coefficient")
    midship_coefficient: float = answer("Midship coefficient")
    waterplane_coefficient: float = answer("Waterplane coefficient")
    entrance_angle_deg: float = answer("Half angle of entrance")
    wetted_surface_m2: float = answer("Wetted surface, hull")
    appendage_area_m2: float = answer("Wetted surface, keel and rudder")
    length_beam_ratio: float = answer("Length / beam")
    beam_draft_ratio: float = answer("Beam / hull draft")
    displacement_length_ratio: float = answer("Displacement-length ratio")
    hull_speed_kn: float = answer("Hull speed")
    form: HullForm
    water: Water
    places: tuple[RangePlace, ...] = table("The boat's place in the ranges of the methods")


_TEXTBOOK = "typical forms from memory, consensus of small-craft textbooks"
_GEOMETRY = "volume = Cp Cm L B T, by definition"
_LONG_KEELS = ("full-keel launch", "long-keel sailing yacht")
_BEHIND_A_KEEL = tuple(ARRANGEMENTS[key].words for key in ("aperture", "long_keel"))
_STOPPING = (Diagnosis.IMPOSSIBLE, Diagnosis.COEFFICIENTS_DISAGREE, Diagnosis.DRAFT_TO_KEEL)


def assess_hull(plan: Plan) -> Outcome[HullAnswers]:
    """Dimensions and form coefficients of the boat, checked against each other.

    A contradiction between the numbers is a finding that stops; answers still follow while they can be computed.
    """
    hull = plan.hull
    needed = (hull.kind, hull.waterline_length, hull.waterline_beam, hull.hull_draft, hull.displacement)
    if any(value is None for value in needed):
        return Outcome(None, waits_for="the kind of boat, her length, beam, hull draft and weight.")
    length, beam, draft, mass = (
        amount(hull, name) for name in ("waterline_length", "waterline_beam", "hull_draft", "displacement")
    )
    usual = typical(word(hull, "kind"))
    medium = water(cast(WaterKind, word(hull, "water")), amount(hull, "water_temperature"))
    prismatic, midship = amount_or_none(hull, "prismatic"), amount_or_none(hull, "midship")
    volume = mass / float(medium.density)
    block = volume / (length * beam * draft)
    checked = check_dimensions(
        length, beam, draft, mass, float(medium.density), usual, prismatic=prismatic, midship=midship
    )
    findings = [*_dimension_findings(plan, checked), *_keel_draft_findings(plan)]
    coefficients = reconcile_coefficients(block, usual, prismatic=prismatic, midship=midship)
    if float(coefficients.midship) >= 1.0 or float(coefficients.prismatic) >= 1.0 or block >= 1.0:
        return Outcome(None, tuple(findings), "dimensions and displacement that can belong to one hull.")
    form = _form(plan, usual, coefficients, volume)
    if not checked:
        findings += _coefficient_findings(usual, coefficients, plan)
    findings += _appendage_findings(plan, form)
    if all(found.verdict is Verdict.FITS for found in findings):
        findings.insert(0, fits("Length, beam, hull draft, weight and kind of boat agree with each other.", _GEOMETRY))
    return Outcome(_answers(form, medium, mass), tuple(findings))


def _form(plan: Plan, usual: TypicalForm, coefficients: FormCoefficients, volume: float) -> HullForm:
    hull = plan.hull

    def given_or(name: str, default: float) -> float:
        value = amount_or_none(hull, name)
        return default if value is None else value

    bare = HullForm(
        waterline_length=amount(hull, "waterline_length"),
        waterline_beam=amount(hull, "waterline_beam"),
        draft=amount(hull, "hull_draft"),
        volume=volume,
        midship_coefficient=coefficients.midship,
        waterplane_coefficient=given_or("waterplane", usual.waterplane.middle),
        lcb_percent=given_or("buoyancy_centre", usual.lcb_percent.middle),
        half_entrance_angle_deg=given_or("entrance_angle", usual.half_entrance_angle_deg.middle),
        transom_area=amount(hull, "transom_area"),
    )
    area = amount_or_none(hull, "appendage_area")
    if area is None:
        area = _default_appendage_share(plan) * float(wetted_surface_holtrop(bare))
    return replace(bare, appendage_area=area, appendage_factor=APPENDAGE_KINDS["long keel"].factor)


def _has_long_keel(plan: Plan) -> bool:
    return word(plan.hull, "kind") in _LONG_KEELS or plan.hull.propeller_place in _BEHIND_A_KEEL


def _default_appendage_share(plan: Plan) -> float:
    return float(data_table("appendages")["long_keel_share"]["middle"]) if _has_long_keel(plan) else 0.0


def _dimension_findings(plan: Plan, checked: tuple[DimensionFinding, ...]) -> Iterator[Finding]:
    paths = {
        Diagnosis.DRAFT_TO_KEEL: "hull.hull_draft",
        Diagnosis.DISPLACEMENT_TOO_SMALL: "hull.displacement",
        Diagnosis.DISPLACEMENT_TOO_LARGE: "hull.displacement",
        Diagnosis.LENGTH_BEAM_UNUSUAL: "hull.waterline_beam",
    }
    for found in checked:
        say, source = (stop, _GEOMETRY) if found.diagnosis in _STOPPING else (look, _TEXTBOOK)
        text = found.sentence
        if found.suggested_share is not None:
            suggested = Wording(plan.units).length(found.suggested_share * amount(plan.hull, "hull_draft"))
            text = f"{text} That would be {suggested}."
        yield say(text, source, paths.get(found.diagnosis, "hull.displacement"))


def _keel_draft_findings(plan: Plan) -> Iterator[Finding]:
    hull_draft, keel_draft = plan.hull.hull_draft, plan.hull.keel_draft
    if hull_draft is None or keel_draft is None:
        return
    if keel_draft.si < hull_draft.si:
        yield stop(
            f"The draft to the keel ({keel_draft.text}) is less than the hull draft ({hull_draft.text}). "
            "Measure both again.",
            "the hull lies above the bottom of its keel",
            "hull.keel_draft",
        )
    elif keel_draft.si == hull_draft.si and _has_long_keel(plan):
        yield look(
            f"Hull draft and draft to the keel are both {hull_draft.text}, on a boat with a long keel. "
            "The hull draft leaves the keel out.",
            _TEXTBOOK,
            "hull.hull_draft",
        )


def _coefficient_findings(usual: TypicalForm, coefficients: FormCoefficients, plan: Plan) -> Iterator[Finding]:
    for name, value, is_usual, span in (
        ("prismatic", coefficients.prismatic, coefficients.prismatic_is_usual, usual.prismatic),
        ("midship", coefficients.midship, coefficients.midship_is_usual, usual.midship),
    ):
        if not bool(is_usual):
            given = "you gave" if getattr(plan.hull, name) is not None else "that follows"
            yield look(
                f"The {name} coefficient {given}, {float(value):.2f}, lies outside {span.low:.2f} to {span.high:.2f} "
                f"of a {usual.kind}. Look again at hull draft and displacement.",
                _TEXTBOOK,
                f"hull.{name}",
            )


def _appendage_findings(plan: Plan, form: HullForm) -> Iterator[Finding]:
    if plan.hull.appendage_area is not None:
        return
    if form.appendage_area:
        yield look(
            f"Keel, skeg and rudder are taken as {Wording(plan.units).area(float(form.appendage_area))}, "
            f"{percent(_default_appendage_share(plan))} of the hull's surface, because none is given.",
            "a long keel adds 20 to 35 % to the wetted surface; from memory",
            "hull.appendage_area",
        )
    else:
        yield look(
            "No surface of keel, skeg and rudder is given, so their resistance is left out.",
            "resistance of appendages, Holtrop and Mennen (1982)",
            "hull.appendage_area",
        )


def _answers(form: HullForm, medium: Water, mass: float) -> HullAnswers:
    length = float(form.waterline_length)
    return HullAnswers(
        displacement_kg=mass,
        volume_m3=float(form.volume),
        waterline_length_m=length,
        waterline_beam_m=float(form.waterline_beam),
        hull_draft_m=float(form.draft),
        block_coefficient=float(form.block_coefficient),
        prismatic_coefficient=float(form.prismatic_coefficient),
        midship_coefficient=float(form.midship_coefficient),
        waterplane_coefficient=float(form.waterplane_coefficient),
        entrance_angle_deg=float(half_entrance_angle(form)),
        wetted_surface_m2=float(wetted_surface_holtrop(form)),
        appendage_area_m2=float(form.appendage_area),
        length_beam_ratio=float(form.length_beam_ratio),
        beam_draft_ratio=float(form.beam_draft_ratio),
        displacement_length_ratio=float(displacement_length_ratio(mass, length)),
        hull_speed_kn=float(hull_speed(length)) / KNOT,
        form=form,
        water=medium,
        places=tuple(_places(form)),
    )


def _places(form: HullForm) -> Iterator[RangePlace]:
    for method in METHODS.values():
        for limit in method.ranges:
            if limit.parameter == "froude_number":
                continue
            value = float(limit.value(form, 0.0))
            yield RangePlace(method.label, limit.label, value, limit.low, limit.high, limit.low <= value <= limit.high)

"""Stage 1: what boat is it? Dimensions, form coefficients, and whether they agree with each other."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import cast

import numpy as np

from engine.answers import answer, detail, table
from engine.bands import Band
from engine.constants import KNOT
from engine.defaults import amount, amount_or_none, word
from engine.findings import Outcome, Verdict, fits
from engine.fleet import Fleet, draw, levelled
from engine.hull.coefficients import reconcile_coefficients, typical
from engine.hull.consensus import standing_in_words
from engine.hull.dimension_check import Diagnosis, check_dimensions
from engine.hull.displacement_rules import displacement_length_ratio, hull_speed
from engine.hull.form import HullForm
from engine.hull.holtrop_form import half_entrance_angle
from engine.hull.methods import METHODS
from engine.hull.wetted_surface import wetted_surface_holtrop
from engine.numeric import Real
from engine.plan import Plan
from engine.stages.boats import FULLEST, Boats, boats_of, each_boat, keel_volume
from engine.stages.hull_findings import GEOMETRY, basis_findings, boat_findings, form_findings, impossible_findings
from engine.stages.logbook import Logbook, read_logs
from engine.stages.resistance import methods_in_use, usual_opinion
from engine.stages.unknowns import UNKNOWNS, as_described, scores_of
from engine.stages.wording import listed
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


@dataclass(frozen=True)
class MethodRow:
    """What one method is worth for this boat, near hull speed."""

    method: str = answer("Method")
    weight_fraction: float = answer("Weight", digits=2)
    doubt_fraction: float = answer("Doubt", digits=2)
    standing: str = answer("Why")
    accuracy: str = detail("What is known of its error")
    source: str = detail("Source")


@dataclass(frozen=True, kw_only=True)
class HullAnswers:
    """The boat as the later stages see her: bands over the plausible boats, and the boats themselves.

    form: of the boat as described.   fleet, boats: after the log.   before_log: the boats before it, if a log counts.
    before_trial: the boats after the log of the present engine alone, if the trial counts.
    """

    displacement_kg: Band = answer("Displacement", digits=4)
    volume_m3: Band = answer("Displaced volume")
    waterline_length_m: Band = answer("Waterline length", digits=4)
    waterline_beam_m: Band = answer("Waterline beam")
    hull_draft_m: Band = answer("Hull draft")
    block_coefficient: Band = answer("Block coefficient")
    prismatic_coefficient: Band = answer("Prismatic coefficient")
    midship_coefficient: Band = answer("Midship coefficient")
    waterplane_coefficient: Band = answer("Waterplane coefficient")
    entrance_angle_deg: Band = answer("Half angle of entrance")
    wetted_surface_m2: Band = answer("Wetted surface, hull")
    appendage_area_m2: Band = answer("Wetted surface, keel and rudder")
    length_beam_ratio: Band = answer("Length / beam")
    beam_draft_ratio: Band = answer("Beam / hull draft")
    displacement_length_ratio: Band = answer("Displacement-length ratio")
    hull_speed_kn: Band = answer("Hull speed")
    form: HullForm
    water: Water
    fleet: Fleet
    boats: Boats
    before_log: tuple[Fleet, Boats] | None
    logbook: Logbook
    before_trial: tuple[Fleet, Boats] | None
    trial: Logbook
    methods: tuple[MethodRow, ...] = table("Which methods apply")
    places: tuple[RangePlace, ...] = table("The boat's place in the ranges of the methods", on_page=False)


FLEET_SIZE = 1024
"""Plausible boats; a power of two, so that the points that draw them fill every unknown evenly (ours)."""

_NEEDED = {
    "kind": "the kind of boat",
    "waterline_length": "her length",
    "waterline_beam": "her beam",
    "hull_draft": "her hull draft",
    "displacement": "her weight",
}


def assess_hull(plan: Plan) -> Outcome[HullAnswers]:
    """Dimensions and form coefficients of the boat, checked against each other.

    A contradiction between the numbers is a finding that stops; answers still follow while they can be computed.
    """
    hull = plan.hull
    missing = [name for name in _NEEDED if getattr(hull, name) is None]
    if missing:
        asked = [name for name in missing if f"hull.{name}" not in plan.not_known]  # the guess waits for these
        return Outcome(None, waits_for=f"{listed([_NEEDED[name] for name in asked or missing])}.")
    length, beam, draft, mass = (
        amount(hull, name) for name in ("waterline_length", "waterline_beam", "hull_draft", "displacement")
    )
    usual = typical(word(hull, "kind"))
    medium = water(cast(WaterKind, word(hull, "water")), amount(hull, "water_temperature"))
    prismatic, midship = amount_or_none(hull, "prismatic"), amount_or_none(hull, "midship")
    density = float(medium.density)
    displaced = mass / density
    keel = float(keel_volume(plan, displaced))
    block = (displaced - keel) / (length * beam * draft)
    checked = check_dimensions(
        length,
        beam,
        draft,
        mass,
        density,
        usual,
        prismatic=prismatic,
        midship=midship,
        keel_draft=amount_or_none(hull, "keel_draft"),
        keel_volume=keel,
    )
    findings = list(boat_findings(plan, checked, displaced))
    coefficients = reconcile_coefficients(block, usual, prismatic=prismatic, midship=midship)
    if block >= FULLEST**2 or any(finding.diagnosis is Diagnosis.IMPOSSIBLE for finding in checked):
        findings += impossible_findings(findings, block)
        return Outcome(None, tuple(findings), "dimensions and displacement that can belong to one hull.")
    form = boats_of(plan, medium, as_described).form
    findings += form_findings(plan, form, usual, None if checked else coefficients)
    if all(found.verdict is Verdict.FITS for found in findings):
        findings.insert(0, fits("Length, beam, hull draft, weight and kind of boat agree with each other.", GEOMETRY))
    answers = _answers(plan, form, medium)
    standings = [row.standing for row in answers.methods]
    return Outcome(answers, (*findings, *basis_findings(plan, form, answers.logbook, standings)))


def _answers(plan: Plan, form: HullForm, medium: Water) -> HullAnswers:
    prior = draw(FLEET_SIZE, len(UNKNOWNS))
    fleet, boats, before = prior, boats_of(plan, medium, scores_of(prior.scores)), None
    logs = read_logs(plan, prior, boats, form, medium)
    if logs.conditioned:
        fleet, before = levelled(logs.conditioned.fleet), (prior, boats)
        boats = boats_of(plan, medium, scores_of(fleet.scores))
    before_trial = before if logs.trial.conditioned else None
    if before_trial is not None and logs.before_trial is not None:
        alone = levelled(logs.before_trial.fleet)
        before_trial = alone, boats_of(plan, medium, scores_of(alone.scores))
    forms = boats.form

    def band(values: Real) -> Band:
        return fleet.band(each_boat(values, fleet.rows))

    return HullAnswers(
        displacement_kg=band(boats.mass),
        volume_m3=band(forms.volume),
        waterline_length_m=band(forms.waterline_length),
        waterline_beam_m=band(forms.waterline_beam),
        hull_draft_m=band(forms.draft),
        block_coefficient=band(forms.block_coefficient),
        prismatic_coefficient=band(forms.prismatic_coefficient),
        midship_coefficient=band(forms.midship_coefficient),
        waterplane_coefficient=band(forms.waterplane_coefficient),
        entrance_angle_deg=band(half_entrance_angle(forms)),
        wetted_surface_m2=band(wetted_surface_holtrop(forms)),
        appendage_area_m2=band(forms.appendage_area),
        length_beam_ratio=band(forms.length_beam_ratio),
        beam_draft_ratio=band(forms.beam_draft_ratio),
        displacement_length_ratio=band(displacement_length_ratio(boats.mass, forms.waterline_length)),
        hull_speed_kn=band(np.asarray(hull_speed(forms.waterline_length)) / KNOT),
        form=form,
        water=medium,
        fleet=fleet,
        boats=boats,
        before_log=before,
        logbook=logs.present,
        before_trial=before_trial,
        trial=logs.trial,
        methods=tuple(_method_rows(plan, form, medium)),
        places=tuple(_places(form)),
    )


def _method_rows(plan: Plan, form: HullForm, medium: Water) -> Iterator[MethodRow]:
    in_use = methods_in_use(plan)
    kind = word(plan.hull, "kind")
    says = usual_opinion(form, medium, tuple(METHODS), kind).says
    weights = usual_opinion(form, medium, in_use, kind).says
    for name, say in says.items():
        yield MethodRow(
            method=say.method.label,
            weight_fraction=float(np.nan_to_num(weights[name].weight[-1])) if name in in_use else 0.0,
            doubt_fraction=float(say.doubt[-1]),
            standing=standing_in_words(say.method, form, kind) if name in in_use else "not chosen on the power page",
            accuracy=say.method.accuracy,
            source=say.method.source,
        )


def _places(form: HullForm) -> Iterator[RangePlace]:
    for method in METHODS.values():
        for limit in method.ranges:
            if limit.parameter == "froude_number":
                continue
            value = float(limit.value(form, 0.0))
            yield RangePlace(method.label, limit.label, value, limit.low, limit.high, limit.low <= value <= limit.high)

"""What there is to say of the boat: dimensions, coefficients, what hangs below her, and the methods."""

from collections.abc import Iterable, Iterator

from engine.defaults import amount, amount_or_none, whole
from engine.findings import Finding, Verdict, look, stop
from engine.hull.coefficients import FormCoefficients, TypicalForm
from engine.hull.dimension_check import Diagnosis, DimensionFinding
from engine.hull.form import HullForm
from engine.hull.methods import METHODS
from engine.hull.wetted_surface import WETTED_SURFACES
from engine.plan import Plan
from engine.propeller.interaction import ARRANGEMENTS
from engine.stages.boats import (
    FULLEST,
    MOST_KEEL,
    has_long_keel,
    is_sailing_yacht,
    listed_appendages,
    stern,
    usual_appendage_share,
)
from engine.stages.log_findings import log_findings
from engine.stages.logbook import Logbook
from engine.stages.resistance import methods_in_use
from engine.stages.unknowns import held_findings
from engine.stages.wording import Wording, percent

_TEXTBOOK = "typical forms from memory, consensus of small-craft textbooks"
_WEIGHTS = "measured errors on 22 tank models (Gerritsma, Onnink and Versluis 1981); the weights are ours"
GEOMETRY = "volume = Cp Cm L B T, by definition"
_AS_GIVEN = 0.015
"""A coefficient nearer to the one given than this is the one given: two of them are rounded to two digits (ours)."""
_SURFACES_PART = 0.15
"""From here on the formulas for the wetted surface lie farther apart than on usual forms (ours)."""
_OF_LENGTH = (Diagnosis.LENGTH_BEAM_UNUSUAL, Diagnosis.DISPLACEMENT_LENGTH_UNUSUAL)
"""Of ratios that stand among the answers as well, there of the middle boat: the last digit may differ."""
_STOPPING = (Diagnosis.IMPOSSIBLE, Diagnosis.COEFFICIENTS_DISAGREE, Diagnosis.DRAFT_TO_KEEL)


def boat_findings(plan: Plan, checked: tuple[DimensionFinding, ...], displaced: float) -> Iterator[Finding]:
    """Whether the dimensions can be those of one boat.   checked: what looks wrong with them.   displaced: [m3]."""
    yield from _dimension_findings(plan, checked)
    yield from _keel_draft_findings(plan)
    yield from _keel_volume_findings(plan, displaced)


def _dimension_findings(plan: Plan, checked: tuple[DimensionFinding, ...]) -> Iterator[Finding]:
    """Where length, beam, draft and weight contradict each other."""
    paths = {
        Diagnosis.DRAFT_TO_KEEL: "hull.hull_draft",
        Diagnosis.DISPLACEMENT_TOO_SMALL: "hull.displacement",
        Diagnosis.DISPLACEMENT_TOO_LARGE: "hull.displacement",
        Diagnosis.LENGTH_BEAM_UNUSUAL: "hull.waterline_beam",
    }
    for found in checked:
        say, source = (stop, GEOMETRY) if found.diagnosis in _STOPPING else (look, _TEXTBOOK)
        if found.is_far_off and found.value < FULLEST**2:  # over that no hull is worked out, and another stop says why
            say = stop
        text = found.sentence
        if found.suggested_share is not None:
            suggested = Wording(plan.units).length(found.suggested_share * amount(plan.hull, "hull_draft"))
            text = f"{text} That would be {suggested}."
        if found.diagnosis in _OF_LENGTH:
            text = f"{text} That ratio is of the boat as given; the answers have that of the middle boat."
        yield say(text, source, paths.get(found.diagnosis, "hull.displacement"))


def _keel_draft_findings(plan: Plan) -> Iterator[Finding]:
    """Whether hull draft and draft to the keel can both be right."""
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
    elif keel_draft.si == hull_draft.si and has_long_keel(plan):
        yield look(
            f"Hull draft and draft to the keel are both {hull_draft.text}, on a boat with a long keel. "
            "The hull draft leaves the keel out.",
            _TEXTBOOK,
            "hull.hull_draft",
        )


def _keel_volume_findings(plan: Plan, displaced: float) -> Iterator[Finding]:
    """Whether the volume given for a fin keel can be one's.   displaced: by all of her [m3]."""
    volume = plan.hull.keel_volume
    if plan.hull.keel_draft is not None and volume is not None and volume.si > MOST_KEEL * displaced:
        yield stop(
            f"A keel of {volume.text} would be {percent(volume.si / displaced)} of all that she displaces, which no "
            f"fin keel is; {percent(MOST_KEEL)} is reckoned with. Give the volume of the fin alone.",
            "the limit is ours",
            "hull.keel_volume",
        )


def impossible_findings(found: Iterable[Finding], block: float) -> Iterator[Finding]:
    """Why no hull is worked out, where no finding so far says it."""
    if not any(finding.verdict is Verdict.STOP for finding in found):
        yield stop(
            f"The displacement fills {block:.2f} of the box of waterline length, beam and draft, and no hull over "
            f"{FULLEST**2:.2f} is reckoned with: check the displacement and the dimensions.",
            f"{GEOMETRY}; the limit is ours",
            "hull.displacement",
        )


def form_findings(
    plan: Plan, form: HullForm, usual: TypicalForm, coefficients: FormCoefficients | None
) -> Iterator[Finding]:
    """What is unusual about the form that is reckoned with, and what hangs below it.

    coefficients: to be held against what is usual; None where the dimensions they follow from look wrong themselves.
    """
    if coefficients is not None:
        yield from _coefficient_findings(usual, coefficients, plan)
    yield from _held_coefficient_findings(plan, form)
    yield from _transom_findings(plan, form)
    yield from _appendage_findings(plan, form)


def _coefficient_findings(usual: TypicalForm, coefficients: FormCoefficients, plan: Plan) -> Iterator[Finding]:
    """Form coefficients that such a boat seldom has; one that would read as inside its range passes."""
    for name, value, is_usual, span in (
        ("prismatic", coefficients.prismatic, coefficients.prismatic_is_usual, usual.prismatic),
        ("midship", coefficients.midship, coefficients.midship_is_usual, usual.midship),
    ):
        if not bool(is_usual) and not span.contains(round(float(value), 2)):
            given = "you gave" if getattr(plan.hull, name) is not None else "that follows"
            yield look(
                f"The {name} coefficient {given}, {float(value):.2f}, lies outside {span.low:.2f} to {span.high:.2f} "
                f"of a {usual.kind}. Look again at hull draft and displacement.",
                _TEXTBOOK,
                f"hull.{name}",
            )


def _held_coefficient_findings(plan: Plan, form: HullForm) -> Iterator[Finding]:
    """Form coefficients that are not reckoned with as they were given."""
    for name, value in (("prismatic", form.prismatic_coefficient), ("midship", form.midship_coefficient)):
        given = amount_or_none(plan.hull, name)
        if given is None or abs(float(value) / given - 1.0) <= _AS_GIVEN:
            continue
        why, source = f"no coefficient over {FULLEST:g} is reckoned with", f"{GEOMETRY}; the limit is ours"
        if name == "prismatic" and plan.hull.midship is not None:
            why, source = "her displacement and the midship coefficient that you gave leave no other", GEOMETRY
        yield look(
            f"The {name} coefficient is reckoned with as {float(value):.2f}, not {given:.2f} as you gave it: {why}.",
            source,
            f"hull.{name}",
        )


def _transom_findings(plan: Plan, form: HullForm) -> Iterator[Finding]:
    """Whether the transom is no larger than the largest section."""
    if plan.hull.transom_area is not None and plan.hull.transom_area.si > float(form.midship_area):
        yield stop(
            f"The immersed transom ({plan.hull.transom_area.text}) is larger than the largest section of the hull, "
            f"{Wording(plan.units).area(float(form.midship_area))}. Only what lies under water at rest counts: measure "
            "it again.",
            "no section of a hull is larger than her largest one, by definition",
            "hull.transom_area",
        )


def _appendage_findings(plan: Plan, form: HullForm) -> Iterator[Finding]:
    """What is taken for keel, skeg and rudder while no surface is given."""
    if plan.hull.appendage_area is not None or listed_appendages(plan):
        return
    if form.appendage_area:
        yield look(
            f"Keel, skeg and rudder are taken as {Wording(plan.units).area(float(form.appendage_area))}, "
            f"{percent(usual_appendage_share(plan)[1])} of the hull's surface, because none is given.",
            "a long keel adds 20 to 35 % to the wetted surface; from memory",
            "hull.appendage_area",
        )
    else:
        if is_sailing_yacht(plan):
            counts = "On a yacht with a fin keel that counts: take it"
        elif whole(plan.hull, "screws") == 2:
            counts = "With two shafts, their struts and two rudders that counts: list them one by one, or take it all"
        else:
            counts = "Take it"
        yield look(
            "No surface of keel, skeg and rudder is given, so their resistance is left out and the power told is too "
            f"low. {counts} from a photograph on the hard.",
            "resistance of appendages, Holtrop and Mennen (1982)",
            "hull.appendage_area",
        )


def basis_findings(plan: Plan, form: HullForm, logbook: Logbook, standings: Iterable[str]) -> Iterator[Finding]:
    """How firm a ground she is for the later pages: what is held at a limit, propeller, log, surface and methods.

    standings: where she lies in the ranges of each method.
    """
    yield from held_findings(plan, "hull")
    yield from _place_findings(plan)
    yield from log_findings(plan, logbook)
    yield from _wetted_surface_findings(plan, form)
    yield from method_findings(plan, form, standings)


def _place_findings(plan: Plan) -> Iterator[Finding]:
    """Whether as many propellers work in the place that is named as there are."""
    if plan.hull.propeller_place is None:
        return
    place, screws = ARRANGEMENTS[stern(plan)], whole(plan.hull, "screws")
    if place.screws == screws:
        return
    if place.screws == 2:
        text = f"One propeller is given, in the place of two ({place.words}): give two, or choose another place."
    else:
        two = next(each.words for each in ARRANGEMENTS.values() if each.screws == 2)
        text = f"Two propellers are given, in the place of one ({place.words}): choose {two}, or give one propeller."
    yield look(text, f"usual wake and thrust deduction of the place: {place.status}", "hull.screws")


def _wetted_surface_findings(plan: Plan, form: HullForm) -> Iterator[Finding]:
    """That the formulas for the wetted surface lie far apart on this form, where they do: her friction is less sure."""
    areas = {authors: float(formula(form)) for authors, formula in WETTED_SURFACES.items()}
    least, most = min(areas, key=areas.__getitem__), max(areas, key=areas.__getitem__)
    apart, say = areas[most] / areas[least] - 1.0, Wording(plan.units)
    if apart >= _SURFACES_PART:
        yield look(
            f"Of {len(areas)} formulas for the wetted surface of her hull that of {least} gives least, "
            f"{say.area(areas[least])}, and that of {most} most, {say.area(areas[most])}: {percent(apart)} apart, "
            "which is far. Her draft for her beam is not what they were made from, so the friction is less sure.",
            "the formulas by their authors, all but Holtrop's from memory; each method of resistance has its own",
            "hull.hull_draft",
        )


def method_findings(plan: Plan, form: HullForm, standings: Iterable[str]) -> Iterator[Finding]:
    """What the owner should know of the resistance methods on this form.

    standings: where she lies in the ranges of each.
    """
    for method in (METHODS[name] for name in methods_in_use(plan)):
        if method.is_smoothed(form):
            yield look(
                f"The curve of {method.label} sags for this combination of coefficients, which no hull does; it is "
                "smoothed, and another method should agree before it is believed.",
                f"{method.source}; the remedy is ours",
                "power.method",
            )
    if plan.hull.keel_volume is not None and plan.hull.keel_draft is None:
        yield look(
            "The volume of the keel is not used while the draft to the bottom of the keel is missing.",
            "Keuning and Sonnenberg (1998)",
            "hull.keel_draft",
        )
    if not any(standing.startswith("inside") for standing in standings):
        yield look(
            "The boat lies outside some range of every method. They are weighed all the same, with a doubt that grows "
            "with the distance; a log of the present engine is worth more than any of them.",
            _WEIGHTS,
            "present.log",
        )

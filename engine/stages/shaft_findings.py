"""What there is to say about the shaft: strength, spacing, whirling, metal, thrust, and what the yard must check."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from engine.constants import RPM
from engine.defaults import word
from engine.findings import Finding, Verdict, fits, look, stop
from engine.machinery.bearings import (
    ALIGNMENT_NOTE,
    COUPLING_SUPPORT_NOTE,
    SEAL_NOTE,
    judge_bearing_spacing,
    judge_shaft_angle,
)
from engine.machinery.shaft import IACS_M68_CONTEXT, SAFETY_FACTOR_FLOOR, check_iacs_m68, judge_safety_factor
from engine.machinery.shaft_ends import BORE_NOTE, COUPLING_NOTE, FIT_NOTE, bore_for
from engine.machinery.shaft_materials import ShaftMaterial, check_material_diameter
from engine.machinery.shaft_model import judge_model_agreement
from engine.machinery.stern_gear import DIRECT_THRUST_NOTE, DRIP_NOTE, SEAL_FEED_NOTE, THRUST_PATH_NOTE, judge_torsion
from engine.machinery.vibration import critical_crossings, judge_critical_crossing
from engine.machinery.whirling import judge_whirling
from engine.numeric import told_apart
from engine.plan import Plan, is_direct, noun_of
from engine.sections.electric import Motor
from engine.sections.shaft import FLEXIBLE_COUPLING, FLEXIBLE_SEAL, SOFT_MOUNTS, STUFFING_BOX
from engine.stages.drive import DieselDrive
from engine.stages.engine import EngineAnswers
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.shaft_answers import ShaftAnswers
from engine.stages.shaft_line import ShaftLine
from engine.stages.shaft_size import is_one_diameter, shaft_system
from engine.stages.wording import Wording, capitalised, listed, percent

_BEFORE_IT_STAYS = (
    "The shaft that is in her stays. Before the propeller is bored for it, have it drawn and looked over: wear under "
    "bearings and seal, pits, cracks at the keyway and the taper, and whether it runs true."
)
_PEAK_SOURCE = "torque goes with power at a speed; floor ABYC P-6, committee minutes (2008), at the peak ours"


@dataclass(frozen=True)
class About:
    """What the sentences are about.

    highest: shaft speed at full throttle [rev/s].   allowed: span by the spacing formula with its margin [m].
    """

    plan: Plan
    line: ShaftLine
    answers: ShaftAnswers
    highest: float
    allowed: float
    ratio: float
    propeller: PropellerAnswers
    engine: EngineAnswers


def shaft_findings(about: About) -> Iterator[Finding]:
    """Sentences about the chosen shaft."""
    yield from _strength_findings(about)
    yield from _bearing_findings(about)
    yield from _metal_findings(about)
    yield from _thrust_findings(about)
    if about.plan.shaft.angle is not None:
        yield judge_shaft_angle(about.plan.shaft.angle.si)
    yield from _fitting_findings(about)


def stays(plan: Plan) -> bool:
    """Whether the shaft that is in her now is the one of the plan."""
    own, present = plan.shaft.diameter, plan.present.shaft_diameter
    return own is not None and present is not None and is_one_diameter(own.si, present.si)


def _strength_findings(about: About) -> Iterator[Finding]:
    answers, say = about.answers, Wording(about.plan.units)
    own = about.plan.shaft.diameter
    if own is None:
        yield judge_safety_factor(answers.actual_safety_factor, answers.safety_factor)
    else:
        called = f"Your shaft of {say.fitted(own.si)}"
        found = judge_safety_factor(answers.actual_safety_factor, answers.safety_factor, called)
        yield replace(found, path="shaft.diameter")
    if stays(about.plan):
        yield look(_BEFORE_IT_STAYS, "common practice, no source", "shaft.diameter")
    elif answers.present_safety_factor is not None:
        new = f"{noun_of(about.engine.chosen.item)}{'' if is_direct(about.plan, about.ratio) else ' and gear'}"
        present = f"With this {new}, the present shaft, taken as {about.line.material.uns},"
        found = judge_safety_factor(answers.present_safety_factor, answers.safety_factor, present)
        if found.verdict is Verdict.STOP:  # of the shaft that comes out, which stops nothing
            found = look(f"{found.text} The plan has one of {say.fitted(answers.diameter_m)}.", found.source)
        yield found
    yield from _peak_findings(about)
    held = " ".join(outside.sentence() for outside in check_iacs_m68(about.line.material.tensile_strength))
    yield fits(
        f"The class formula IACS M68 gives {say.size(answers.class_diameter_m)}. {IACS_M68_CONTEXT} {held}".strip(),
        "IACS UR M68; keyed taper",
    )
    if answers.key_load_fraction is not None:
        text = f"At rated torque a key along the whole taper bears {percent(answers.key_load_fraction)} of what it may"
        source = "shear and crushing of the key: statics; limits 0.4 and 0.9 of yield, from memory"
        if answers.key_load_fraction <= 1.0:
            yield fits(f"{text}; the fit of the taper carries most of it besides.", source)
        else:
            yield look(
                f"{text}: the fit of the taper must carry the rest. Ask the propeller shop.", source, "shaft.material"
            )


def _peak_findings(about: About) -> Iterator[Finding]:
    """What a motor's peak power does to the line: a crash stop, or a rope in the propeller, asks the motor for it."""
    motor = about.engine.chosen.item
    if not isinstance(motor, Motor) or (times := motor.peak_over_continuous) <= 1.0:
        return
    factor = about.answers.actual_safety_factor / times
    text = (
        f"On its peak power the motor twists the shaft {times:.1f} times as much as on its continuous power; the "
        f"safety factor is then {told_apart(factor, SAFETY_FACTOR_FLOOR, 1)}"
    )
    is_geared = not is_direct(about.plan, about.ratio)
    if factor >= SAFETY_FACTOR_FLOOR:
        of_gear = "; for the gear see its page" if is_geared else ""
        yield fits(f"{text}. Ask the makers whether the coupling may carry that, too{of_gear}.", _PEAK_SOURCE)
        return
    others = "gear and coupling" if is_geared else "the coupling"
    cure = "Have the controller hold the motor to less, or take a thicker shaft; ask the makers what"
    text = f"{text}, under the floor of {SAFETY_FACTOR_FLOOR:g}. {cure} {others} may carry."
    yield look(text, _PEAK_SOURCE, "shaft.diameter")


def _bearing_findings(about: About) -> Iterator[Finding]:
    answers, plan = about.answers, about.plan
    yield judge_bearing_spacing(answers.span_m, answers.diameter_m, about.allowed)
    yield judge_whirling(answers.critical_rpm * RPM, about.highest)
    yield judge_critical_crossing(
        critical_crossings(about.propeller.blades, answers.critical_rpm * RPM, 0.0, about.highest),
        about.propeller.cruise_rpm.best / about.ratio * RPM,
    )
    if about.line.wheel is None:
        fields = (
            ("weight", "propeller_weight", plan.shaft.propeller_weight),
            ("overhang", "overhang", plan.shaft.overhang),
        )
        missing = {name: field for name, field, given in fields if given is None}
        yield look(
            f"{capitalised(listed([*missing]))} of the propeller {'are' if len(missing) > 1 else 'is'} not given, so "
            "the critical speed is that of the bare shaft; the wheel lowers it.",
            "finite elements and Dunkerley sum with the overhung propeller",
            f"shaft.{next(iter(missing.values()))}",
        )
    else:
        yield judge_model_agreement(answers.critical_rpm, answers.dunkerley_rpm)
    if plan.shaft.seal == STUFFING_BOX:
        yield fits(DRIP_NOTE, "trade practice, from memory")
    elif plan.shaft.seal == FLEXIBLE_SEAL:
        yield look(f"{SEAL_NOTE} {SEAL_FEED_NOTE}", "printed case, informal; water feed from memory", "shaft.span")
    if plan.shaft.coupling in (SOFT_MOUNTS, FLEXIBLE_COUPLING):
        yield look(COUPLING_SUPPORT_NOTE, "trade practice, from memory", "shaft.span")


def _metal_findings(about: About) -> Iterator[Finding]:
    material = about.line.material
    if word(about.plan.hull, "water") == "fresh":
        yield from _fresh_water_findings(material)
    elif not material.fit_for_sea_water:
        yield stop(f"{material.uns} is not for sea water: {material.note}.", material.status, "shaft.material")
    elif material.pits_when_idle:
        yield look(f"{material.uns}: {material.note}.", f"material data {material.status}", "shaft.material")
    for outside in check_material_diameter(material, about.answers.diameter_m):
        yield look(outside.sentence(), material.status, "shaft.material")
    if "memory" in material.status:
        yield look(
            f"The strength of {material.uns} is from memory, a default: put the certificate of the bar beside it.",
            material.status,
            "shaft.material",
        )


def _fresh_water_findings(material: ShaftMaterial) -> Iterator[Finding]:
    """Of metals that sea water attacks, on a boat that works in fresh water."""
    if not material.fit_for_sea_water:
        text = f"{material.uns} will do in fresh water and is not for sea water: with it she must stay in fresh water."
        yield look(text, material.status, "shaft.material")
    elif material.pits_when_idle:
        text = (
            f"{material.uns} pits in still sea water; in fresh water that matters little, as long as she stays in it."
        )
        yield fits(text, f"material data {material.status}; the judgement from memory", "shaft.material")


def _thrust_findings(about: About) -> Iterator[Finding]:
    answers, say = about.answers, Wording(about.plan.units)
    text = (
        f"The shaft carries {say.torque(answers.torque_nm)} and pushes with {say.force(answers.thrust_n.best)} at full "
        f"throttle, {say.force(answers.static_thrust_n.best)} tied to the quay:"
    )
    source = "propeller series in equilibrium; where the thrust goes: from memory"
    if is_direct(about.plan, about.ratio):
        yield look(f"{text} {DIRECT_THRUST_NOTE}", source, "shaft.coupling")
    else:
        yield fits(f"{text} the gear must be rated for both thrusts. {THRUST_PATH_NOTE}", source)
    if about.plan.shaft.coupling == FLEXIBLE_COUPLING:
        yield look(
            "A flexible coupling that gives along the shaft cannot take thrust: fit a thrust block, or ask its maker "
            "what it may push.",
            "trade practice, from memory",
            "shaft.coupling",
        )
    length = about.plan.shaft.length
    yield judge_torsion(
        cylinders=about.engine.chosen.item.cylinders,
        rated_power=about.engine.drive.engine.crankshaft_rated_power,
        length_over_diameter=None if length is None else length.si / answers.diameter_m,
        is_diesel=isinstance(about.engine.drive, DieselDrive),
    )


def _fitting_findings(about: About) -> Iterator[Finding]:
    yield look(
        "Tapers in service differ (1:10, 1:12, 1:16): the old wheel often does not fit the new shaft. "
        "Measure small end, large end, length and key.",
        "SAE J755; ISO 4566",
    )
    if bore_for(about.answers.diameter_m, shaft_system(about.plan)).small_end_diameter is None:
        yield look(FIT_NOTE, "contact of the fit from memory")
    else:
        yield look(f"{BORE_NOTE} {FIT_NOTE}", "SAE J755; contact of the fit from memory")
    if is_direct(about.plan, about.ratio):
        yield look(
            "The flange is the motor's: measure it or take it from its maker's drawing.", "common practice, no source"
        )
    else:
        yield look(COUPLING_NOTE, "SAE J756, cancelled April 2005; printed")
    yield look(ALIGNMENT_NOTE, "owners' class guide, printed", "shaft.flange")

"""The order for the propeller: what the shop needs to make it, bore it and, if need be, repitch it."""

from collections.abc import Iterator
from math import pi

from engine.answers import Label
from engine.constants import INCH, RPM
from engine.data import table
from engine.findings import Verdict
from engine.plan import text_at
from engine.propeller.geometry import CLEARANCES
from engine.propeller.tolerance import PITCH_TOLERANCES, STATUS, class_outside
from engine.readiness import readiness
from engine.sections.hull import IN_APERTURE
from engine.stages.engine import EngineAnswers
from engine.stages.gear_answers import GearAnswers
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.shaft_answers import ShaftAnswers
from engine.stages.shaft_size import is_one_diameter
from engine.stages.speed import SpeedAnswers
from engine.stages.unknowns import UNKNOWNS
from engine.stages.wording import Wording, percent
from wizard.handover.heads import assumed, cautions, few
from wizard.handover.lines import Asked, answered, called, given
from wizard.handover.sheet import Line, Part, Sheet
from wizard.stages.propeller import chart

_WORDS = table("sheets")["propeller"]
_PITCH = "of the driving face, at 0.7 of the radius"
_MOST_LOOKS = 3
"""Second looks that stand on the order, blade area before all else; the plan's own sheet has them all."""
_MATCH = "What it should do"
_CLASS = PITCH_TOLERANCES["II"]
"""What the bands of the plan allow for."""
_PRESENT = {
    "gear_ratio": "present_gear_ratio",
    "propeller_diameter": "present_propeller_diameter_m",
    "propeller_pitch": "present_propeller_pitch_m",
    "propeller_blades": "present_propeller_blades",
    "propeller_hand": "present_propeller_hand",
    "shaft_diameter": "present_shaft_diameter_m",
}
"""What the boat has now, as far as it is given, by its key on the sheet."""
_ASSUMED = (
    "hull.displacement",
    "chosen.power_at",
    "chosen.kind",
    "gear.efficiency",
    "gear.shaft_efficiency",
    "propeller.tip_clearance",
    "propeller.blades",
    "propeller.area_measure",
    "propeller.sections",
    "propeller.light_running",
    "propeller.margin_state",
    "propeller.room",
    "shaft.material",
)


def propeller_order(asked: Asked) -> Sheet:
    """The sheet for the propeller shop."""
    (ready,) = (item for item in readiness(asked.assessment) if item.item == "propeller")
    reasons = few([reason.text for reason in ready.reasons])
    looks = _second_looks(asked)
    return Sheet(
        key="propeller",
        name=asked.plan.name,
        units=asked.units,
        parts=tuple(_parts(asked, looks)),
        refusal="Do not order from this sheet yet.",
        reasons=reasons,
        assumed=assumed(asked, _ASSUMED),
        cautions=cautions("haul-out", "wheel-off", "hot-work", "rotating-shaft"),
        second_looks=looks,
    )


def _parts(asked: Asked, looks: tuple[str, ...]) -> list[Part]:
    answers = asked.answers("propeller")
    parts = [
        Part("The wheel", _wheel(asked), sentences=(*asked.not_yet("propeller"), *_two(asked), *_WORDS["wheel"])),
        *_to_look_at(looks),
        Part("Bore", tuple(_bore(asked)), sentences=(*asked.not_yet("shaft"), *_other_bore(asked))),
        Part("What turns it, one wheel", tuple(_power(asked))),
        Part(_MATCH, tuple(_match(asked))),
        Part("The boat, and what she has now", tuple(_boat(asked))),
        Part("Room round it", tuple(_room(asked))),
        _tolerance(asked),
        Part("To agree with the shop", blanks=tuple(_WORDS["agree"])),
        Part("Before it is sent", to_do=tuple(_WORDS["check"])),
    ]
    if answers is not None:
        at = next(i for i, part in enumerate(parts) if part.title == _MATCH)
        parts.insert(at, Part("", chart=chart(answers, asked.units)))
    return parts


def _second_looks(asked: Asked) -> tuple[str, ...]:
    """What trial and propeller page want looked at again: the shop must not cast in ignorance of it."""
    looks = [
        finding
        for finding in asked.outcome("propeller").findings
        if finding.verdict is Verdict.LOOK and finding.path not in asked.plan.not_known
    ]
    looks.sort(key=lambda finding: finding.path != "propeller.area_ratio")
    return (*_tried(asked), *(finding.text for finding in looks))


def _tried(asked: Asked) -> Iterator[str]:
    """What the trial says of the wheel that was fitted, which the one that comes next is reckoned without."""
    trial = asked.answers("trial")
    if trial is not None and trial.is_the_wheel and not trial.is_of_plan:
        yield _WORDS["tried"].format(wheel=trial.size, words=trial.causes[0].size)


def _to_look_at(looks: tuple[str, ...]) -> Iterator[Part]:
    if looks:
        yield Part("To look at again before it is made", sentences=few(looks, _MOST_LOOKS, "second looks"))


def _wheel(asked: Asked) -> tuple[Line, ...]:
    outcome = asked.outcome("propeller")
    names = ("diameter_m", "pitch_m", "blades", "area_ratio", "disc_area_ratio", "mean_width_ratio", "series")
    return (
        *answered(PropellerAnswers, outcome, ("size",)),
        Line("wheels", Label("Number of wheels"), asked.screws),
        *answered(PropellerAnswers, outcome, ("hand", *names), {"pitch_m": _PITCH}),
        given(asked, "propeller.sections", "sections"),
        Line("cup", Label("Cup"), "none"),
        Line("metal", Label("Metal"), None, absent="to be agreed"),
    )


def _two(asked: Asked) -> tuple[str, ...]:
    ask = "Two wheels, tops outward as is usual: ask the gear's maker whether one gear may drive ahead the other way."
    return (ask,) if asked.screws == 2 else ()


def _bore(asked: Asked) -> list[Line]:
    outcome = asked.outcome("shaft")
    lines = list(answered(ShaftAnswers, outcome, ("diameter_m",)))
    shaft = Line("shaft_diameter_m", Label("Shaft", "mm", "in", digits=4), lines[0].value, absent=lines[0].absent)
    hub = answered(PropellerAnswers, asked.outcome("propeller"), ("hub_diameter_m",), {"hub_diameter_m": "from memory"})
    return [shaft, *answered(ShaftAnswers, outcome, ("taper", "bore")), *hub]


def _other_bore(asked: Asked) -> tuple[str, ...]:
    """A warning where the shaft that is in her now has another diameter than the new one."""
    shaft, present = asked.answers("shaft"), asked.plan.present.shaft_diameter
    is_same = shaft is None or present is None or is_one_diameter(shaft.diameter_m, present.si)
    return () if is_same else (_WORDS["other_bore"],)


def _boat(asked: Asked) -> Iterator[Line]:
    yield given(asked, "hull.kind", "kind")
    yield given(asked, "hull.waterline_length", "waterline_length_m")
    yield given(asked, "hull.displacement", "displacement_kg")
    yield given(asked, "hull.propeller_place", "propeller_place")
    yield from answered(SpeedAnswers, asked.outcome("speed"), ("cruise_kn",))
    for name, key in _PRESENT.items():
        if text_at(asked.plan, f"present.{name}"):
            yield given(asked, f"present.{name}", key)


def _power(asked: Asked) -> list[Line]:
    engine, gear = asked.answers("engine"), asked.answers("gear")
    power = None if engine is None else engine.drive.power_at_propeller / 1e3
    rpm = None if gear is None else gear.shaft_rpm
    torque = None if power is None or rpm is None else power * 1e3 / (2.0 * pi * rpm * RPM)
    return [
        *called(
            answered(EngineAnswers, asked.outcome("engine"), ("rated_power_kw", "rated_rpm", "aboard_fraction")),
            aboard_fraction="Of that left in her air and water",
        ),
        *called(answered(GearAnswers, asked.outcome("gear"), ("ratio",)), ratio="Gear ratio"),
        Line("wheel_power_kw", Label("Rated power at the wheel"), power, "all losses taken off"),
        Line("wheel_rpm", Label("Rated speed of the wheel", digits=4), rpm),
        Line("wheel_torque_nm", Label("Torque at the wheel"), torque),
    ]


def _match(asked: Asked) -> list[Line]:
    names = (
        "full_throttle_rpm",
        "reaches_rated_fraction",
        "light_running_fraction",
        "top_kn",
        "cruise_rpm",
        "bollard_pull_n",
    )
    answers = asked.answers("propeller")
    inch = None if answers is None else -answers.inch_of_pitch_rpm
    centimetre = None if inch is None else inch * 0.01 / INCH
    return [
        *answered(PropellerAnswers, asked.outcome("propeller"), names),
        Line("rpm_lost_per_inch_of_pitch_rpm", Label("An inch more pitch slows full throttle by"), inch),
        Line("rpm_lost_per_centimetre_of_pitch_rpm", Label("A centimetre more pitch, by"), centimetre),
    ]


def _room(asked: Asked) -> list[Line]:
    answers = asked.answers("propeller")
    diameter = None if answers is None else answers.diameter_m
    aperture, least = CLEARANCES["aperture"], CLEARANCES["class_minimum"]

    def share(key: str, words: str, of_diameter: float, status: str) -> Line:
        value = None if diameter is None else of_diameter * diameter
        return Line(key, Label(words, "mm", "in"), value, f"{of_diameter:g} of the diameter; {status}")

    tip, share_of_tip = None, ""
    if answers is not None:
        tip = answers.tip_clearance_fraction * answers.diameter_m
        share_of_tip = f"{percent(answers.tip_clearance_fraction)} of the diameter"
    below = [share("below_m", "Free below, to a sole piece", least["below_to_sole_piece"], least["status"])]
    return [
        given(asked, "propeller.room", "room_m"),
        Line("tip_clearance_m", Label("Tip clearance of this wheel", "mm", "in"), tip, share_of_tip),
        share("ahead_m", "Free ahead of the blades", aperture["ahead_at_070_radius"], aperture["status"]),
        share("aft_m", "Free aft, to the rudder", aperture["aft_to_rudder"], aperture["status"]),
        *(below if asked.guessed.hull.propeller_place == IN_APERTURE else ()),
        given(asked, "shaft.overhang", "overhang_m", "Hub to the last bearing, overhang"),
    ]


def _tolerance(asked: Asked) -> Part:
    answers = asked.answers("propeller")
    pitch = None if answers is None else answers.pitch_m
    assert _CLASS.local is not None
    shares = (("wheel", "whole wheel", _CLASS.wheel), ("blade", "each blade", _CLASS.blade))
    lines = [
        Line("tolerance_class", Label("Class of ISO 484-2"), _CLASS.name, STATUS),
        *(
            Line(
                f"{key}_pitch_tolerance_m",
                Label(f"Pitch, {words}, + or -", "mm", "in"),
                None if pitch is None else share * pitch,
                f"{100.0 * share:g} %",
            )
            for key, words, share in (
                *shares,
                ("radius", "each radius", _CLASS.radius),
                ("local", "at any place", _CLASS.local),
            )
        ),
    ]
    sentences, say = ["The plan's bands allow for class II."], Wording(asked.units)
    if answers is not None:
        sentences[0] += _closer(answers)
        sentences += [
            f"The standard is for {say.size(record.low)} to {say.size(record.high)}; the trade quotes the same classes "
            "for other wheels: agree what is meant."
            for record in class_outside(answers.diameter_m)
        ]
    return Part("How exactly it is made", tuple(lines), sentences=tuple(sentences))


def _closer(answers: PropellerAnswers) -> str:
    """What a closer class could be worth at the most, where it is worth naming."""
    pitch = next(unknown for unknown in UNKNOWNS if unknown.name == "propeller_pitch")
    share = next((row.share_fraction for row in answers.doubt if row.action == pitch.action), None)
    if share is None:
        return ""
    return f" How exactly the pitch is made is worth {100.0 * share:.0f} % of the doubt in the full-throttle speed."

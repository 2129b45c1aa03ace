"""Do length, beam, draft, weight and coefficients belong to one boat? The usual slip is the draft down to the keel."""

from dataclasses import dataclass
from enum import Enum

from engine.hull.coefficients import Range, TypicalForm
from engine.hull.displacement_rules import displacement_length_ratio
from engine.showing import round_number
from engine.validity import require_positive

TOLERANCE = 0.10
"""How far volume and coefficients may disagree, and a block coefficient leave its range, before a cause is named
(ours)."""
FAR_OFF = 0.6
"""Below this share of the least usual block coefficient, or as far above the most, no hull of the kind is (ours)."""
_BLOCK = "block coefficient"


class Diagnosis(Enum):
    """What is wrong, or looks wrong, with a set of dimensions."""

    IMPOSSIBLE = "more water displaced than the hull has room for"
    COEFFICIENTS_DISAGREE = "prismatic and midship coefficient do not give the displaced volume"
    DRAFT_TO_KEEL = "draft is probably to the bottom of the keel"
    DISPLACEMENT_TOO_SMALL = "displacement is probably too small"
    DISPLACEMENT_TOO_LARGE = "displacement is probably too large"
    DIMENSIONS_TOO_SMALL = "length, beam or draft is probably too small"
    BLOCK_UNUSUAL = "block coefficient is unusual for this kind of boat"
    LENGTH_BEAM_UNUSUAL = "length-beam ratio is unusual for this kind of boat"
    DISPLACEMENT_LENGTH_UNUSUAL = "displacement-length ratio is unusual for this kind of boat"


_UNUSUAL = {
    Diagnosis.LENGTH_BEAM_UNUSUAL: ("length-beam ratio", "wide", "narrow", "beam and length"),
    Diagnosis.DISPLACEMENT_LENGTH_UNUSUAL: ("displacement-length ratio", "light", "heavy", "weight and length"),
}
"""Diagnosis -> the ratio, what she is for her length below what is usual and above it, and what to look at again."""


@dataclass(frozen=True)
class DimensionFinding:
    """One thing that looks wrong: a quantity, its value, where it should lie, and the sentence for the owner."""

    diagnosis: Diagnosis
    quantity: str
    value: float
    low: float
    high: float
    sentence: str
    suggested_share: float | None = None
    """What the draft should be, over what was given, where that is the likely slip."""

    @property
    def is_far_off(self) -> bool:
        """A block coefficient that no hull of her kind has: a slip, whatever its cause, not an unusual boat."""
        far = self.value < FAR_OFF * self.low or self.value > self.high / FAR_OFF
        return self.quantity == _BLOCK and far


def check_dimensions(
    waterline_length: float,
    waterline_beam: float,
    draft: float,
    mass: float,
    water_density: float,
    typical_form: TypicalForm,
    *,
    prismatic: float | None = None,
    midship: float | None = None,
    keel_draft: float | None = None,
    keel_volume: float = 0.0,
) -> tuple[DimensionFinding, ...]:
    """Whether the dimensions of one boat agree with each other and with her kind; empty when they do.

    waterline_length, waterline_beam, draft (canoe body): [m]; mass: [kg]; water_density: [kg/m3].
    prismatic, midship: as given by the owner [-], None when not given.
    keel_draft: down to the bottom of the keel [m], None when not given; a draft well above it is not taken for it.
    keel_volume: displaced by a fin keel, so not by the canoe body [m3].
    Returns: findings, contradictions first; none on what would read as inside its range, and none on an unusual
    fullness that both coefficients, when they are given, bear out.
    Raises: ValueError for values of zero and less, and where the keel displaces all.
    Source: volume = CP CM L B T by definition; ranges engine/data/hull_kinds.toml; tolerance 10 % (ours).
    """
    given = {"prismatic_coefficient": prismatic, "midship_coefficient": midship}
    require_positive(
        waterline_length=waterline_length,
        waterline_beam=waterline_beam,
        draft=draft,
        mass=mass,
        water_density=water_density,
        **{name: value for name, value in given.items() if value is not None},
    )
    volume = mass / water_density - keel_volume
    require_positive(volume_of_the_canoe_body=volume)
    block = volume / (waterline_length * waterline_beam * draft)
    heaviness = float(displacement_length_ratio(mass, waterline_length))
    keel_is_apart = keel_draft is not None and keel_draft > draft * (1.0 + TOLERANCE)
    findings = [
        _find_impossible(block, prismatic, midship),
        _find_disagreement(block, prismatic, midship),
        _find_unusual_block(block, heaviness, typical_form, keel_is_apart) if None in given.values() else None,
        _find_unusual(
            Diagnosis.LENGTH_BEAM_UNUSUAL,
            waterline_length / waterline_beam,
            typical_form.length_beam_ratio,
            typical_form.kind,
        ),
        _find_unusual(
            Diagnosis.DISPLACEMENT_LENGTH_UNUSUAL,
            heaviness,
            typical_form.displacement_length_ratio,
            typical_form.kind,
        ),
    ]
    return tuple(finding for finding in findings if finding is not None)


def _find_impossible(block: float, prismatic: float | None, midship: float | None) -> DimensionFinding | None:
    room = min(prismatic or 1.0, midship or 1.0)
    if block < room:
        return None
    but = f"but a hull with these coefficients has room for less than {room:.2f}"
    if prismatic is None and midship is None:
        but = "and no hull fills all of it"
    return DimensionFinding(
        Diagnosis.IMPOSSIBLE,
        _BLOCK,
        block,
        0.0,
        room,
        f"The displacement fills {block:.2f} of the box of waterline length, beam and draft, {but}: check the "
        "displacement and the dimensions.",
    )


def _find_disagreement(block: float, prismatic: float | None, midship: float | None) -> DimensionFinding | None:
    if prismatic is None or midship is None:
        return None
    ratio = block / (prismatic * midship)
    low, high = 1.0 - TOLERANCE, 1.0 + TOLERANCE
    if low <= ratio <= high:
        return None
    return DimensionFinding(
        Diagnosis.COEFFICIENTS_DISAGREE,
        "displaced volume over the volume from the coefficients",
        ratio,
        low,
        high,
        f"The displacement is {ratio:.2f} times what the prismatic and midship coefficients give with this length, "
        "beam and draft: one of them is wrong.",
    )


def _find_unusual_block(
    block: float, heaviness: float, typical_form: TypicalForm, keel_is_apart: bool
) -> DimensionFinding | None:
    usual, usual_heaviness = typical_form.block, typical_form.displacement_length_ratio
    if usual.low <= round(block, 2) <= usual.high:
        return None
    suggested = None
    start = f"The block coefficient comes out at {block:.2f}; {usual.low:.2f} to {usual.high:.2f} is usual."
    middle = typical_form.prismatic.middle * typical_form.midship.middle
    if block < usual.low * (1.0 - TOLERANCE):
        if heaviness < usual_heaviness.low * (1.0 - TOLERANCE):
            diagnosis = Diagnosis.DISPLACEMENT_TOO_SMALL
            cause = "The boat is also light for her length: the displacement is probably too small."
        elif keel_is_apart:
            diagnosis = Diagnosis.BLOCK_UNUSUAL
            cause = "Look again at the draft of the hull, keel left out, and at the displacement."
        else:
            diagnosis, suggested = Diagnosis.DRAFT_TO_KEEL, block / middle
            cause = (
                "The draft is probably to the bottom of the keel; what is wanted is the draft of the hull itself, "
                f"probably near {100.0 * suggested:.0f} % of what is given."
            )
    elif block > usual.high * (1.0 + TOLERANCE):
        if heaviness > usual_heaviness.high * (1.0 + TOLERANCE):
            diagnosis = Diagnosis.DISPLACEMENT_TOO_LARGE
            cause = "The boat is also heavy for her length: the displacement is probably too large."
        else:
            diagnosis = Diagnosis.DIMENSIONS_TOO_SMALL
            cause = (
                "The draft, the beam or the waterline length is probably too small. If she is as full as a barge, give "
                "her midship and prismatic coefficient."
            )
    else:
        diagnosis = Diagnosis.BLOCK_UNUSUAL
        cause = "Look again at the draft of the hull and at the displacement."
    return DimensionFinding(diagnosis, _BLOCK, block, usual.low, usual.high, f"{start} {cause}", suggested)


def _find_unusual(diagnosis: Diagnosis, value: float, usual: Range, kind: str) -> DimensionFinding | None:
    quantity, below, above, inputs = _UNUSUAL[diagnosis]
    said = round_number(value, 3)
    if usual.low <= float(said) <= usual.high:
        return None
    return DimensionFinding(
        diagnosis,
        quantity,
        value,
        usual.low,
        usual.high,
        f"The {quantity} is {said}; {usual.low:.3g} to {usual.high:.3g} is usual for a {kind}. She is "
        f"{below if value < usual.low else above} for her length: look again at {inputs}.",
    )

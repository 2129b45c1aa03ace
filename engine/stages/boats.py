"""The plausible boats of a plan: from scores of what is unknown to the boats' forms, factors and resistance."""

from dataclasses import dataclass, fields, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from engine.data import table
from engine.defaults import amount, amount_or_none, word
from engine.hull.added_resistance import UPPERWORKS
from engine.hull.appendages import APPENDAGE_KINDS, AppendageKind, combine_appendages
from engine.hull.coefficients import TypicalForm, TypicalRange, reconcile_coefficients, typical
from engine.hull.form import HullForm
from engine.hull.wetted_surface import wetted_surface_holtrop
from engine.numeric import Array, Real, plain
from engine.plan import Plan
from engine.propeller.interaction import ARRANGEMENTS, InteractionBands, interaction_bands
from engine.stages.unknowns import TENTH, Score, between, doubted, made, share_of
from engine.water import Water

_DOUBT = table("doubt")
_LONG_KEELS = ("full-keel launch", "long-keel sailing yacht")
_BEHIND_A_KEEL = tuple(ARRANGEMENTS[key].words for key in ("aperture", "long_keel"))
MOST_KEEL = 0.25
"""Share of all that she displaces over which nothing is taken for a fin keel (ours)."""
FULLEST = 0.97
"""No prismatic or midship coefficient is drawn above it; a boat too heavy for that floats deeper (ours)."""


@dataclass(frozen=True, eq=False)
class Boats:
    """Plausible boats: every field has one value, or a column (boats, 1).

    mass: [kg].   method, method_error, method_tilt: scores of how her resistance is drawn.
    propeller_pitch, present_propeller_pitch, engine_output: factors on what is given or ordered [-].
    tachometer, trial_tachometer: what they show over what is [-].
    blade_torque: factor on the torque of the series that stands in for the new propeller [-].
    room, fouling: scores of the room for the propeller, and of the rate of fouling.
    air_drag: coefficient on the frontal area [-].
    """

    mass: Real
    form: HullForm
    wake_fraction: Real
    thrust_deduction: Real
    relative_rotative_efficiency: Real
    method: Real
    method_error: Real
    method_tilt: Real
    room: Real
    propeller_pitch: Real
    present_propeller_pitch: Real
    engine_output: Real
    fouling: Real
    air_drag: Real
    tachometer: Real
    trial_tachometer: Real
    blade_torque: Real


def boats_of(plan: Plan, water: Water, score: Score) -> Boats:
    """The boats of a plan for the scores of its unknowns: the boat as described, or a whole fleet.

    Raises: LookupError while the hull section lacks what is needed; ValueError when no hull has these dimensions.
    """
    form, mass = _form(plan, water, score)
    bands = _interaction_bands(plan, form)
    works = UPPERWORKS[word(plan.hull, "upperworks")]
    return Boats(
        mass=mass,
        form=form,
        wake_fraction=_doubted_band(plan, "wake", bands, score),
        thrust_deduction=_doubted_band(plan, "thrust_deduction", bands, score),
        relative_rotative_efficiency=np.nan if bands is None else bands.relative_rotative_efficiency.middle,
        method=score("method"),
        method_error=score("method_error"),
        method_tilt=score("method_tilt"),
        room=score("room"),
        propeller_pitch=made("propeller_pitch", score("propeller_pitch")),
        present_propeller_pitch=made("present_propeller_pitch", score("present_propeller_pitch")),
        engine_output=made("engine_output", score("engine_output")),
        fouling=score("fouling"),
        air_drag=between(score("air_drag"), works.drag_coefficient, works.low, works.high),
        tachometer=_tachometer(word(plan.present, "tachometer"), score("tachometer")),
        trial_tachometer=_tachometer(word(plan.trial, "tachometer"), score("trial_tachometer")),
        blade_torque=made("blade_torque", score("blade_torque")),
    )


def _form(plan: Plan, water: Water, score: Score) -> tuple[HullForm, Real]:
    hull = plan.hull
    usual = typical(word(hull, "kind"))
    mass = doubted(hull, "displacement", score("displacement"))
    length = doubted(hull, "waterline_length", score("waterline_length"))
    beam = doubted(hull, "waterline_beam", score("waterline_beam"))
    displaced = plain(mass / water.density)
    keel = keel_volume(plan, displaced)
    volume = plain(displaced - keel)
    floats = volume / (length * beam * FULLEST**2)
    draft = plain(np.maximum(doubted(hull, "hull_draft", score("hull_draft")), floats))
    block = plain(volume / (length * beam * draft))
    keel_draft = amount_or_none(hull, "keel_draft")
    bare = HullForm(
        waterline_length=length,
        waterline_beam=beam,
        draft=draft,
        volume=volume,
        midship_coefficient=_midship(plan, usual, block, score("fullness")),
        waterplane_coefficient=_waterplane(plan, usual, block, score("waterplane")),
        lcb_percent=doubted(hull, "buoyancy_centre", score("buoyancy_centre"), _three(usual.lcb_percent)),
        half_entrance_angle_deg=doubted(
            hull, "entrance_angle", score("entrance_angle"), _three(usual.half_entrance_angle_deg)
        ),
        transom_area=amount(hull, "transom_area"),
        keel_volume=keel,
        keel_draft=None if keel_draft is None else plain(np.maximum(keel_draft, draft)),
    )
    area, factor = _appendages(plan, bare, score)
    return replace(bare, appendage_area=area, appendage_factor=factor), plain(mass)


def keel_volume(plan: Plan, displaced: Real) -> Real:
    """What her fin keel displaces of all that she displaces [m3]; none while the draft to its bottom is missing."""
    given = None if plan.hull.keel_draft is None else plan.hull.keel_volume
    return 0.0 if given is None else plain(np.minimum(given.si, MOST_KEEL * displaced))


def _midship(plan: Plan, usual: TypicalForm, block: Real, score: Real) -> Real:
    """Midship coefficient: given, or what goes with a given prismatic one, or drawn along pairs that make the block.

    The usual ranges are read as independent normal spreads of the logarithms; with their sum known, what is left is a
    normal spread along it (ours).
    """
    hull = plan.hull
    if hull.midship is not None:
        given = doubted(hull, "midship", score)
        fullest = np.minimum(given, FULLEST)
    elif hull.prismatic is not None:
        fullest = np.minimum(block / doubted(hull, "prismatic", score), FULLEST)
    else:
        middle = reconcile_coefficients(block, usual)
        doubts = usual.prismatic.half_log_width / TENTH, usual.midship.half_log_width / TENTH
        left = doubts[0] * doubts[1] / np.hypot(*doubts)
        fullest = np.minimum(middle.midship * np.exp(-left * np.asarray(score)), FULLEST)
    return plain(np.maximum(fullest, block / FULLEST))


def _waterplane(plan: Plan, usual: TypicalForm, block: Real, score: Real) -> Real:
    """Waterplane coefficient: given, or usual for the kind of boat, but no less than the mean of the waterplanes below,
    which is the block coefficient by definition (volume over draft)."""
    drawn = doubted(plan.hull, "waterplane", score, _three(usual.waterplane))
    return drawn if plan.hull.waterplane is not None else plain(np.maximum(drawn, block))


def _three(usual: TypicalRange) -> tuple[float, float, float]:
    return usual.low, usual.middle, usual.high


def _appendages(plan: Plan, bare: HullForm, score: Score) -> tuple[Real, Real]:
    """Wetted surface of all appendages [m2] and their 1 + k2 [-]: listed by kind, else as one long keel."""
    kinds = listed_appendages(plan)
    if kinds:
        area = share_of(score("appendage_area"), sum(each for _, each in kinds), *_DOUBT["given"]["appendage_area"])
    elif plan.hull.appendage_area is None:
        low, middle, high = usual_appendage_share(plan)
        area = between(score("appendage_area"), middle, low, high) * wetted_surface_holtrop(bare)
        kinds = ((APPENDAGE_KINDS["long keel"], 1.0),)
    else:
        area = doubted(plan.hull, "appendage_area", score("appendage_area"))
        kinds = ((APPENDAGE_KINDS["long keel"], 1.0),)
    smallest, factor, largest = (
        combine_appendages((each, getattr(kind, end)) for kind, each in kinds)[1] for end in ("low", "factor", "high")
    )
    return plain(area), between(score("appendage_factor"), factor, smallest, largest)


def listed_appendages(plan: Plan) -> tuple[tuple[AppendageKind, float], ...]:
    """Kind and wetted surface [m2] of each appendage that the owner has listed."""
    return tuple(
        (APPENDAGE_KINDS[row.kind], row.area.si)
        for row in plan.hull.appendage
        if row.kind is not None and row.area is not None
    )


def usual_appendage_share(plan: Plan) -> tuple[float, float, float]:
    """Low, middle and high of keel and rudder over the hull's wetted surface, while none is given [-]."""
    share = table("appendages")["long_keel_share"]
    return (share["low"], share["middle"], share["high"]) if has_long_keel(plan) else (0.0, 0.0, 0.0)


def _interaction_bands(plan: Plan, form: HullForm) -> InteractionBands | None:
    """What is usual for the stern; None while the place of the propeller is not known."""
    if plan.hull.propeller_place is None:
        return None
    return interaction_bands(stern(plan), form.block_coefficient)


def _doubted_band(plan: Plan, name: str, bands: InteractionBands | None, score: Score) -> Real:
    if getattr(plan.power, name) is not None:
        return plain(np.maximum(doubted(plan.power, name, score(name)), 0.0))
    if bands is None:
        return np.nan
    band = bands.wake_fraction if name == "wake" else bands.thrust_deduction
    return between(score(name), band.middle, band.low, band.high)


def _tachometer(checked: str, score: Real) -> Real:
    """What it shows over what is [-]."""
    return plain(1.0 + _DOUBT["reading"]["tachometer"][checked] * np.asarray(score))


def room_share(plan: Plan, score: Real) -> Real:
    """The diameter that there is room for, over the one the plan reckons with [-].   score: `Boats.room`."""
    room = plan.propeller.room
    if room is None:
        return share_of(score, 1.0, *_DOUBT["not_given"]["room"])
    return doubted(plan.propeller, "room", score) / room.si


def rows_of(boats: Boats, rows: NDArray[np.intp]) -> Boats:
    """Some of the boats of a fleet, each as often as her row is named."""

    def of_rows(value: Any) -> Any:
        if isinstance(value, HullForm):
            return value.rows(rows)
        return value[rows] if np.ndim(value) else value

    return replace(boats, **{item.name: of_rows(getattr(boats, item.name)) for item in fields(boats)})


def each_boat(values: Real, size: int) -> Array:
    """One value, or a column (size, 1), as one value for each boat, (size,)."""
    return np.broadcast_to(values, (size, 1))[:, 0]


def stern(plan: Plan) -> str:
    """Key in ARRANGEMENTS of where the propeller works. Raises: LookupError while that is not known."""
    place = word(plan.hull, "propeller_place")
    return next(key for key, arrangement in ARRANGEMENTS.items() if arrangement.words == place)


def has_long_keel(plan: Plan) -> bool:
    """Whether keel and hull run into each other, so that the keel adds a good share of wetted surface."""
    return word(plan.hull, "kind") in _LONG_KEELS or is_behind_a_keel(plan)


def is_behind_a_keel(plan: Plan) -> bool:
    """Whether a keel stands right ahead of the propeller."""
    return plan.hull.propeller_place in _BEHIND_A_KEEL


def is_sailing_yacht(plan: Plan) -> bool:
    """Whether she sails, so that her propeller is dragged or turned when the engine is still."""
    return "sailing" in word(plan.hull, "kind")

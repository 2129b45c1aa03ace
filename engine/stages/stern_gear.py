"""What the yard and the propeller shop work to: taper, bore, key, clearances, lengths, gaps and alignment."""

from collections.abc import Iterator

from engine.machinery.bearings import (
    ALIGNMENT_PER_FLANGE,
    CLEARANCE_STATUS,
    MOST_MISALIGNMENT,
    RUNOUT_LIMIT,
    aft_bearing_length,
    bearing_clearance_new,
    bearing_wear_limit,
    coupling_alignment_limit,
    hub_gap_limit,
    intermediate_bearing_length,
)
from engine.machinery.shaft_ends import HubBore, ShaftTaper
from engine.machinery.shaft_materials import ShaftMaterial
from engine.machinery.stern_gear import (
    ANODE_GAP,
    PACKING_STATUS,
    bearing_press_fit,
    check_packing_size,
    key_stress_ratio,
    packing_size,
)
from engine.plan import Plan
from engine.sections.shaft import FLEXIBLE_SEAL
from engine.stages.shaft_answers import FitRow
from engine.stages.wording import Wording


def yard_rows(plan: Plan, diameter: float) -> Iterator[FitRow]:
    """Clearances, lengths and gaps of a stock shaft [m]."""
    say = Wording(plan.units)
    low, high = (float(value) for value in bearing_clearance_new(diameter))
    yield FitRow(
        item="rubber bearing, running clearance when new",
        wanted=f"{say.gap(low)} to {say.gap(high)}",
        standing=CLEARANCE_STATUS,
    )
    yield FitRow(
        item="rubber bearing, replace at a play of",
        wanted=say.gap(float(bearing_wear_limit(diameter))),
        standing=CLEARANCE_STATUS,
    )
    yield FitRow(
        item="aftmost rubber bearing, length",
        wanted=say.size(float(aft_bearing_length(diameter))),
        standing="from memory, trade standard",
    )
    yield FitRow(
        item="bearing ahead of it, length",
        wanted=say.size(float(intermediate_bearing_length(diameter))),
        standing="from memory, trade standard",
    )
    yield FitRow(
        item="gap from hub to bearing, at most",
        wanted=say.size(float(hub_gap_limit(diameter))),
        standing="printed, 3 copies; water must still enter",
    )
    yield FitRow(
        item="anode clear of the bearing by",
        wanted=say.about_size(ANODE_GAP),
        standing="printed, 1 copy; displacement boats",
    )
    if plan.shaft.seal != FLEXIBLE_SEAL:
        yield FitRow(
            item="packing of a stuffing box, square",
            wanted=say.size(float(packing_size(diameter))),
            standing=_packing_standing(diameter),
        )
    yield FitRow(
        item="bearing shell, press fit in its housing",
        wanted=say.gap(float(bearing_press_fit(diameter))),
        standing="a thousandth of the bore, here that of the shaft; printed, 1 copy, informal",
    )
    yield FitRow(
        item="run-out on taper and coupling, at most",
        wanted=say.gap(RUNOUT_LIMIT),
        standing="total indicated; US Army TM 55-1905-221, printed",
    )
    flange = plan.shaft.flange
    yield FitRow(
        item="gap round the coupling faces, at most",
        wanted=f"{ALIGNMENT_PER_FLANGE:g} of the flange, under {say.gap(MOST_MISALIGNMENT)}"
        if flange is None
        else say.gap(float(coupling_alignment_limit(flange.si))),
        standing="printed, owners' class guide and a V-drive manual; one manual asks 0.05 mm (0.002 in)",
    )


def _packing_standing(diameter: float) -> str:
    words = f"{PACKING_STATUS}; the box decides: half of its bore less the shaft"
    beyond = " ".join(outside.sentence() for outside in check_packing_size(diameter))
    return f"{words}. {beyond}" if beyond else words


def key_load(torque: float, taper: ShaftTaper, material: ShaftMaterial) -> float | None:
    """The greater of shear and crushing of a key of the shaft's own metal, over what it may bear [-]."""
    ratios = key_stress_ratio(torque, taper, material.tensile_yield)
    return None if ratios is None else max(ratios)


def bore_words(plan: Plan, bore: HubBore) -> str:
    """What the propeller shop bores for this shaft."""
    if bore.small_end_diameter is None:
        return "to the shaft's own taper, measured on it or from its drawing"
    say = Wording(plan.units)
    words = [f"large end {say.fitted(bore.shaft.diameter)}", f"small end {say.fitted(bore.small_end_diameter)}"]
    if bore.shaft.keyway_width is not None:
        words.append(f"key {say.fitted(bore.shaft.keyway_width)}")
    number, _, _ = bore.shaft.standard.partition(",")  # without its title: a sheet has little room
    return f"{', '.join(words)}; {number}"


def taper_words(plan: Plan, taper: ShaftTaper) -> str:
    """The propeller end of the shaft."""
    if taper.taper is None:
        return f"{taper.standard}: {taper.note}"
    say = Wording(plan.units)
    words = [f"1:{1.0 / taper.taper:.0f}"]
    if taper.length is not None:
        shortest, longest = (say.fitted(length) for length in taper.length)
        words.append(f"length {shortest}" if shortest == longest else f"length {shortest} to {longest}")
    if taper.small_end_diameter is not None:
        words.append(f"small end {say.fitted(taper.small_end_diameter)}")
    if taper.keyway_width is not None:
        key = f"key {say.fitted(taper.keyway_width)}"
        if taper.key_height is not None:
            key += f" x {say.fitted(taper.key_height)}"
        if taper.keyway_depth is not None:
            key += f", keyway at least {say.fitted(taper.keyway_depth)} deep at its side"
        words.append(key)
    if taper.thread:
        words.append(f"thread {taper.thread} ({taper.thread_status})")
    if taper.note:
        words.append(taper.note)
    return ", ".join(words)

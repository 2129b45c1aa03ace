"""What the machinery weighs that goes in, and that comes out."""

from dataclasses import dataclass

from engine.defaults import word
from engine.machinery.electric import battery_mass
from engine.plan import Plan
from engine.sections.electric import Motor
from engine.sections.engine import Candidate


@dataclass(frozen=True)
class Machinery:
    """One new drive.   engine: with gear [kg].   battery: of an electric drive [kg].   is_estimated: the battery's."""

    engine: float
    battery: float = 0.0
    is_estimated: bool = False


def machinery_of(candidate: Candidate | Motor) -> Machinery | None:
    """The weight of a candidate; None while its own is missing. A battery not weighed is estimated from its energy."""
    if candidate.weight is None:
        return None
    if not isinstance(candidate, Motor) or candidate.battery is None:
        return Machinery(candidate.weight.si)
    if candidate.battery_weight is not None:
        return Machinery(candidate.weight.si, candidate.battery_weight.si)
    low, high = battery_mass(candidate.battery.si, word(candidate, "battery_kind"))
    return Machinery(candidate.weight.si, 0.5 * (float(low) + float(high)), is_estimated=True)


def moved_weights(plan: Plan, candidate: Candidate | Motor, screws: int) -> tuple[tuple[float, float], ...] | None:
    """(mass [kg], place ahead of the stern [m]) of the engines that come out and go in, and of the battery.

    One battery serves all motors of a boat. A new place that is not given is the present one, which is nought while it
    is not given either. None while a weight is missing.
    """
    new, old, asked = machinery_of(candidate), plan.present.engine_weight, plan.fit
    if new is None or old is None:
        return None
    was = 0.0 if asked.present_place is None else asked.present_place.si
    will = was if asked.new_place is None else asked.new_place.si
    packs = will if asked.battery_place is None else asked.battery_place.si
    return (-old.si * screws, was), (new.engine * screws, will), (new.battery, packs)


def weight_change(plan: Plan, candidate: Candidate | Motor, screws: int) -> float | None:
    """Weight of the new machinery over that of the present one, all engines [kg]; None while either is missing."""
    moved = moved_weights(plan, candidate, screws)
    return None if moved is None else sum(mass for mass, _ in moved)

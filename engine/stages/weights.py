"""What the machinery weighs that goes in, and that comes out."""

from dataclasses import dataclass

from engine.machinery.electric import battery_mass
from engine.plan import Plan
from engine.sections.electric import Motor
from engine.sections.engine import Candidate
from engine.stages.defaults import word


@dataclass(frozen=True)
class Machinery:
    """One new drive.   engine: with gear [kg].   battery: of an electric drive [kg].   is_estimated: the battery's."""

    engine: float
    battery: float = 0.0
    is_estimated: bool = False

    @property
    def total(self) -> float:
        """[kg]."""
        return self.engine + self.battery


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


def weight_change(plan: Plan, candidate: Candidate | Motor, screws: int) -> float | None:
    """Weight of the new machinery over that of the present one, all engines [kg]; None while either is missing.

    One battery serves all motors of a boat.
    """
    new, old = machinery_of(candidate), plan.present.engine_weight
    if new is None or old is None:
        return None
    return (new.engine - old.si) * screws + new.battery

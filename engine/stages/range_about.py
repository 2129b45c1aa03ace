"""What the sentences about range are about, and when a speed or a leg counts as made."""

from dataclasses import dataclass

from engine.defaults import whole
from engine.machinery.electric import ELECTRIC_STATUS
from engine.plan import Plan, chosen_path
from engine.sections.electric import Motor
from engine.sections.engine import Candidate
from engine.stages.drive import Drive
from engine.stages.range_answers import RangeRow
from engine.stages.voyage import Voyage
from engine.stages.wording import Wording

SURE_ENOUGH = 0.9
"""Share of the boats that must make a speed or a leg for it to pass (ours)."""
_HALF = 0.5
"""Of the boats must make the cruising speed, or what is told at cruise is told of boats that do not (ours)."""
_MAP = (
    "open fuel maps of Heywood (1988), Neumann et al. (c. 1993) and Merrion (1994), scaled; about 10 % without figures"
)


@dataclass(frozen=True)
class About:
    """What the sentences are about.

    item: the chosen candidate.   at_slow_end: the best speed is the curve's slowest.   cruise, best: in service, at
    cruise and at the speed of best range.   diameter: of the chosen propeller [m].
    reference_load: at cruise in service by the propeller of the power page [-], whose diameter is reference_diameter
    [m].
    """

    plan: Plan
    voyage: Voyage
    item: Candidate | Motor
    drive: Drive
    at_slow_end: bool
    cruise: RangeRow
    best: RangeRow
    diameter: float
    reference_load: float
    reference_diameter: float

    @property
    def cruise_load(self) -> float:
        """Over the usable power [-]."""
        return self.cruise.load_fraction.best

    @property
    def makes_cruise(self) -> bool:
        """Whether most of the boats make the cruising speed: they may lack power or, with a light wheel, turns."""
        return self.cruise_load <= 1.0 and self.cruise.reached_fraction >= _HALF

    @property
    def cruise_power(self) -> float:
        """Of all engines at their crankshafts [W]."""
        return self.cruise_load * self.drive.usable_power * whole(self.plan.hull, "screws")

    @property
    def source(self) -> str:
        """Of the consumption."""
        return ELECTRIC_STATUS if isinstance(self.item, Motor) else _MAP

    @property
    def say(self) -> Wording:
        """In the plan's units."""
        return Wording(self.plan.units)

    def item_path(self, name: str) -> str:
        """Where a field of the chosen candidate is."""
        return f"{chosen_path(self.plan)}.{name}"

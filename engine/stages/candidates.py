"""The candidates side by side: reserve, speed and consumption at cruise, range, weight, and what gear and shaft must
bear."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from engine.answers import answer, maybe
from engine.bands import Band
from engine.constants import KNOT, NAUTICAL_MILE, RPM
from engine.findings import Outcome
from engine.plan import Plan, is_direct
from engine.plan_defaults import sure_ratio
from engine.sections.electric import Motor
from engine.sections.engine import Candidate
from engine.stages.cases import Cases
from engine.stages.demand import Demand
from engine.stages.drive import DieselDrive, ElectricDrive, drive_of
from engine.stages.hull import HullAnswers
from engine.stages.loading import Loading, loading_of
from engine.stages.shaft_size import deepest_ratio, needed_diameter
from engine.stages.speed import SpeedAnswers
from engine.stages.voyage import voyage_of
from engine.stages.weights import weight_change

_PER_100_RPM = 1e3 / (100.0 * RPM)


@dataclass(frozen=True, kw_only=True)
class CandidateRow:
    """One candidate in the comparison, with a propeller that suits it. Power is of one engine, consumption of all."""

    name: str = answer("Candidate")
    kind: str = answer("Kind")
    rated_power_kw: float = answer("Rated power")
    rated_rpm: float = answer("at", digits=4)
    usable_power_kw: float = answer("Left aboard")
    cruise_rpm: float = answer("Engine speed at cruise, about")
    cruise_load_fraction: Band = answer("Load at cruise")
    top_load_fraction: Band = answer("Load at top speed wanted", spread=True)
    reserve_fraction: Band = answer("Left at cruise for wind and sea", spread=True)
    reachable_kn: Band = answer("Speed it could reach")
    cruise_l_per_h: Band | None = maybe("Burn at cruise, calm", only_known=True)
    cruise_drawn_kw: Band | None = maybe("Drawn at cruise, calm", metric="kW", imperial="kW", only_known=True)
    cruise_range_nmi: Band | None = maybe("Range at cruise, with margin")
    weight_change_kg: float | None = maybe("Change of weight")
    gear_rating_kw_per_100_rpm: float | None = maybe("Gear rating needed", only_known=True)
    shaft_diameter_m: float | None = maybe("Shaft needed, at most", metric="mm", imperial="in")
    chosen: bool = answer("Chosen")


@dataclass(frozen=True, eq=False)
class Rival:
    """A candidate that is complete enough to be worked out.   name: one of its own among them."""

    item: Candidate | Motor
    name: str
    drive: DieselDrive | ElectricDrive
    loading: Loading


@dataclass(frozen=True, eq=False)
class Rivals:
    """The candidates that are complete.   chosen: the one of them that the later pages work with."""

    every: tuple[Rival, ...]
    chosen: Rival

    @property
    def drive(self) -> DieselDrive | ElectricDrive:
        """With the chosen one."""
        return self.chosen.drive


def assess_rivals(
    plan: Plan,
    hull: HullAnswers,
    speed: SpeedAnswers,
    demand: Demand,
    cases: Cases,
    drive: DieselDrive | ElectricDrive,
) -> Outcome[Rivals]:
    """Every complete candidate at the speeds of the plan.   drive: with the chosen one."""
    every = tuple(_rivals(plan, hull, speed, demand, cases, drive))
    return Outcome(Rivals(every, next(rival for rival in every if rival.drive is drive)))


def _rivals(
    plan: Plan,
    hull: HullAnswers,
    speed: SpeedAnswers,
    demand: Demand,
    cases: Cases,
    chosen: DieselDrive | ElectricDrive,
) -> Iterator[Rival]:
    """As the owner calls them; of two with one name the second has a number."""
    seen: Counter[str] = Counter()
    for item in plan.engine.all:
        drive = chosen if item is plan.engine.selected else drive_of(plan, item)
        if drive is None:
            continue
        name = item.name or "unnamed"
        seen[name] += 1
        own = name if seen[name] == 1 else f"{name} ({seen[name]})"
        yield Rival(item, own, drive, loading_of(drive, hull, speed, demand, cases))


def candidate_row(plan: Plan, rival: Rival, speed: SpeedAnswers, *, chosen: bool) -> CandidateRow:
    """One line of the comparison."""
    drive, loading, fleet = rival.drive, rival.loading, rival.loading.fleet
    cruise = speed.cruise_kn * KNOT
    consumed = fleet.band(drive.per_hour(loading.rate(cruise)))
    ratio, without_gear = deepest_ratio(plan), is_direct(plan, sure_ratio(plan), rival.item)
    return CandidateRow(
        name=rival.name,
        kind="electric" if isinstance(drive, ElectricDrive) else drive.engine.kind,
        rated_power_kw=drive.engine.crankshaft_rated_power / 1e3,
        rated_rpm=drive.engine.rated_speed / RPM,
        usable_power_kw=drive.usable_power / 1e3,
        cruise_rpm=loading.engine_speed(cruise) / RPM,
        cruise_load_fraction=fleet.band(loading.cruise),
        top_load_fraction=fleet.band(loading.top),
        reserve_fraction=loading.reserve,
        reachable_kn=fleet.band(loading.reachable).scaled(1.0 / KNOT),
        cruise_l_per_h=drive.if_fuel(consumed),
        cruise_drawn_kw=drive.if_electric(consumed),
        cruise_range_nmi=_range(plan, rival, cruise),
        weight_change_kg=weight_change(plan, rival.item, loading.demand.screws),
        gear_rating_kw_per_100_rpm=None if without_gear else drive.gear_rating_needed / _PER_100_RPM,
        shaft_diameter_m=None if ratio is None else needed_diameter(plan, drive, drive.engine.rated_speed / ratio),
        chosen=chosen,
    )


def _range(plan: Plan, rival: Rival, cruise: float) -> Band | None:
    voyage = voyage_of(plan, rival.drive)
    if voyage is None:
        return None
    rate = rival.loading.rate(cruise, service=True)
    return rival.loading.fleet.band(voyage.distance(cruise, rate) / NAUTICAL_MILE)

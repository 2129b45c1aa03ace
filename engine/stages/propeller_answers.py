"""What the propeller stage gives: the size, how it matches, the sizes beside it."""

from dataclasses import dataclass

from engine.answers import answer, maybe, table
from engine.bands import Band
from engine.propeller.bollard import BollardPull
from engine.stages.doubt import DoubtRow
from engine.stages.wheel import Wheel

_MOST_LIGHT = 0.25
"""Light running beyond which the wheel cannot be said to take the power at all (ours)."""
ENOUGH_BOATS = 0.75
"""When fewer of the plausible boats than this reach rated speed, the size wants a second look (ours)."""


@dataclass(frozen=True)
class CaseRow:
    """Full throttle in one state of boat, water and propeller."""

    state: str = answer("State")
    full_throttle_rpm: Band = answer("Full throttle", digits=4, spread=True)
    reaches_rated_fraction: float = answer("Boats that reach rated speed", of_boats=True)
    top_kn: Band = answer("Speed", spread=True)


@dataclass(frozen=True, kw_only=True)
class MatchRow:
    """One engine speed: what the propeller asks of the engine, and what it can give, per shaft.

    head_wind_demand_kw: None while no frontal area is given, and no head wind is tried.
    """

    engine_rpm: float = answer("Engine speed", digits=4)
    speed_kn: Band = answer("Boat speed")
    demand_kw: Band = answer("Demand, clean and calm", spread=True)
    foul_demand_kw: Band = answer("Demand, foul")
    head_wind_demand_kw: Band | None = maybe("Demand, head wind", only_known=True)
    available_kw: float = answer("Full-load power")


@dataclass(frozen=True, kw_only=True)
class NeighbourRow:
    """A stock size beside the chosen one."""

    diameter_m: float = answer("Diameter", metric="mm", imperial="in")
    pitch_m: float = answer("Pitch", metric="mm", imperial="in")
    tip_clearance_fraction: float = answer("Tip clearance")
    full_throttle_rpm: Band = answer("Full throttle", digits=4, spread=True)
    light_running_fraction: Band = answer("Light running")
    reaches_rated_fraction: float = answer("Boats that reach rated speed", of_boats=True)
    top_kn: Band = answer("Top speed")
    cruise_rpm: float = answer("Engine at cruise")
    cruise_l_per_h: float | None = maybe("Burn at cruise, calm", only_known=True)
    cruise_drawn_kw: float | None = maybe("Drawn at cruise, calm", metric="kW", imperial="kW", only_known=True)
    chosen: bool = answer("Chosen")


@dataclass(frozen=True, kw_only=True)
class PropellerAnswers:
    """The propeller and how it matches. Powers are for one engine, at its crankshaft.

    static_thrust_n: of one propeller with no way on, before thrust deduction: what its shaft and gear carry.
    held: one propeller of each boat with no way on.
    """

    size: str = answer("Size to order")
    other_size: str | None = maybe("Nearest in the other stock steps")
    hand: str = answer("Hand")
    diameter_m: float = answer("Diameter", metric="mm", imperial="in")
    pitch_m: float = answer("Pitch", metric="mm", imperial="in")
    blades: int = answer("Blades")
    series: str = answer("Tested series that stands in for it")
    area_ratio: float = answer("Blade area ratio, expanded")
    disc_area_ratio: float = answer("Disc-area ratio, developed", digits=2)
    mean_width_ratio: float = answer("Mean-width ratio of a blade", digits=2)
    pitch_ratio: float = answer("Pitch ratio")
    hub_diameter_m: Band = answer("Hub of such wheels, about", metric="mm", imperial="in", over_boats=False)
    tip_clearance_fraction: float = answer("Tip clearance")
    full_throttle_rpm: Band = answer("Full-throttle engine speed, clean and calm", digits=4)
    rated_rpm: float = answer("Rated engine speed", digits=4)
    reaches_rated_fraction: float = answer("Plausible boats that reach rated speed", of_boats=True)
    overloaded_fraction: float = answer("Plausible boats that overload the engine", of_boats=True)
    overspeeding_fraction: float = answer("Plausible boats in which she runs far too light", of_boats=True)
    light_running_fraction: Band = answer("Light running")
    top_kn: Band = answer("Speed at full throttle")
    service_full_throttle_rpm: Band = answer("Full-throttle engine speed, with margin", digits=4)
    cruise_rpm: Band = answer("Engine speed at cruise", digits=4)
    cruise_power_kw: Band = answer("Power at cruise, calm, at the crankshaft")
    cruise_efficiency_fraction: Band = answer("Propeller efficiency at cruise")
    cruise_slip_fraction: Band = answer("Apparent slip at cruise")
    thrust_n: Band = answer("Thrust at full throttle")
    bollard_pull_n: Band = answer("Bollard pull, all propellers", over_boats=False)
    astern_pull_n: Band = answer("Pull astern, at rest, a guess", over_boats=False)
    tip_speed_m_per_s: Band = answer("Tip speed at full throttle")
    needed_area_ratio: Band = answer("Blade area ratio needed (Keller)")
    handbook_diameter_m: float = answer("Handbook diameter", metric="mm", imperial="in")
    handbook_pitch_m: float | None = maybe("Handbook pitch", metric="mm", imperial="in")
    series_pitch_m: float | None = maybe("Pitch by the series, at the handbook diameter", metric="mm", imperial="in")
    inch_of_pitch_rpm: float = answer("One inch of pitch changes the engine speed by")
    static_thrust_n: Band
    held: BollardPull
    pitch_exponent: float
    wheel: Wheel
    cases: tuple[CaseRow, ...] = table("Full throttle, clean, foul and into the wind")
    match: tuple[MatchRow, ...] = table("The match over the range")
    neighbours: tuple[NeighbourRow, ...] = table("Next sizes up and down")
    doubt: tuple[DoubtRow, ...] = table("What to measure next, for the engine speed at full throttle")

    @property
    def takes_the_power(self) -> bool:
        """Whether the engine can give its power to it: False for a wheel that is far too light, and where that is not
        known."""
        return self.light_running_fraction.best <= _MOST_LIGHT

    @property
    def is_sure_enough(self) -> bool:
        """Whether the engine reaches its rated speed in as many of the plausible boats as are enough."""
        return self.reaches_rated_fraction >= ENOUGH_BOATS

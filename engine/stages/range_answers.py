"""What the range stage gives: the curve of the chosen drive, and the candidates on the same speeds."""

from dataclasses import dataclass

from engine.answers import answer, first_known, maybe, table
from engine.bands import Band, Money
from engine.stages.voyage import TankRow


@dataclass(frozen=True, kw_only=True)
class RangeRow:
    """One speed, whole boat, with the sea margin.

    reached_fraction: share of the boats that make it. The bands are over all: of the others, what it would take.
    """

    speed_kn: float = answer("Speed")
    engine_rpm: Band = answer("Engine speed")
    load_fraction: Band = answer("Engine load")
    burn_l_per_h: Band | None = maybe("Burn", spread=True, only_known=True)
    drawn_kw: Band | None = maybe("Drawn", metric="kW", imperial="kW", spread=True, only_known=True)
    range_nmi: Band = answer("Range", spread=True)
    endurance_h: Band = answer("Endurance")
    generator_range_nmi: Band | None = maybe("Range with the generator", spread=True, only_known=True)
    fuel_per_mile_l: Band | None = maybe("Fuel per mile", only_known=True)
    energy_per_mile_kwh: Band | None = maybe("Energy per mile", only_known=True)
    cost_per_mile_money: Money | None = maybe("Cost per mile", only_known=True)
    reached_fraction: float = answer("Boats that make it", of_boats=True)


@dataclass(frozen=True, kw_only=True)
class ComparedRow:
    """One candidate at one speed, middle of the fleet, with a propeller that suits it."""

    candidate: str = answer("Candidate")
    speed_kn: float = answer("Speed")
    range_nmi: float = answer("Range")
    endurance_h: float = answer("Hours")
    burn_l_per_h: float | None = maybe("Burn", only_known=True)
    drawn_kw: float | None = maybe("Drawn", metric="kW", imperial="kW", only_known=True)
    cost_per_mile_money: Money | None = maybe("Cost per mile", only_known=True)


@dataclass(frozen=True, kw_only=True)
class SailingRow:
    """What a turning propeller may charge under sail; a bonus, never range."""

    speed_kn: float = answer("Speed under sail")
    low_kw: float = answer("Charges at least", metric="kW", imperial="kW")
    high_kw: float = answer("and at most", metric="kW", imperial="kW")


@dataclass(frozen=True, kw_only=True)
class RangeAnswers:
    """Range with the reserve kept back, in service."""

    reserve_fraction: float = answer("Reserve kept back")
    usable_l: float | None = maybe("Usable fuel", only_known=True)
    usable_gallons: str | None = maybe("in gallons", only_known=True)
    planned_l: float | None = maybe("Fuel to plan with, reserve kept back", only_known=True)
    usable_kwh: float | None = maybe("Usable energy of the battery", only_known=True)
    planned_kwh: float | None = maybe("Energy to plan with, reserve kept back", only_known=True)
    cruise_l_per_h: Band | None = maybe("Burn at cruise, with margin", only_known=True)
    cruise_drawn_kw: Band | None = maybe("Drawn at cruise, with margin", metric="kW", imperial="kW", only_known=True)
    full_throttle_l_per_h: Band | None = maybe("Burn at full throttle", only_known=True)
    full_throttle_drawn_kw: Band | None = maybe("Drawn at full throttle", metric="kW", imperial="kW", only_known=True)
    battery_v: float | None = maybe("Voltage of the battery", only_known=True)
    cruise_battery_a: Band | None = maybe("Battery current at cruise", only_known=True)
    full_throttle_battery_a: Band | None = maybe("Battery current at full throttle", only_known=True)
    cruise_range_nmi: Band = answer("Range at cruise")
    cruise_endurance_h: Band = answer("Endurance at cruise")
    cruise_generator_range_nmi: Band | None = maybe("Range at cruise with the generator", only_known=True)
    cruise_fuel_per_mile_l: Band | None = maybe("Fuel per mile at cruise", only_known=True)
    cruise_energy_per_mile_kwh: Band | None = maybe("Energy per mile at cruise", only_known=True)
    cruise_cost_per_mile_money: Money | None = maybe("Cost per mile at cruise")
    best_kn: float = answer("Speed of best range")
    best_lies: str | None = maybe("which lies", only_known=True)
    best_range_nmi: Band = answer("Best range")
    leg_kn: Band | None = maybe("Fastest speed for the longest leg", only_known=True)
    leg_share_fraction: float | None = maybe("Boats that make the leg at all", only_known=True, of_boats=True)
    charge_h: float | None = maybe("Hours on the plug to charge what the plan spends", only_known=True)
    tanks: tuple[TankRow, ...] = table("Tanks measured with a tape")
    sailing: tuple[SailingRow, ...] = table("Charging under sail, a bonus (from memory)")
    curve: tuple[RangeRow, ...] = table("Range and consumption against speed")
    beside: tuple[ComparedRow, ...] = table("Candidates at cruise and at half a knot steps", on_page=False)
    at_cruise: tuple[ComparedRow, ...] = table("Candidates at cruise, each with a propeller that suits it")

    @property
    def cruise_consumption(self) -> Band:
        """Burn of a diesel or draw of a motor at cruise, whichever it is."""
        return first_known(self.cruise_l_per_h, self.cruise_drawn_kw)

    @property
    def full_throttle_consumption(self) -> Band:
        """The same at full throttle."""
        return first_known(self.full_throttle_l_per_h, self.full_throttle_drawn_kw)

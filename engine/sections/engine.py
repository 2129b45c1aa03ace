"""The engine section: the candidates, as they stand on a data sheet, and the one that is chosen."""

from dataclasses import dataclass

from engine.data import table
from engine.entries import choice, count, quantity, rows, words
from engine.units import Dimension, Quantity

ENGINE_KINDS: tuple[str, ...] = tuple(table("fuel")["default_consumption"])
POWER_BASES = ("crankshaft", "propeller shaft")
DUTIES: tuple[str, ...] = tuple(row["name"] for row in reversed(table("engine_rating")["duty"]))


@dataclass(frozen=True)
class Candidate:
    """One engine that could go in."""

    name: str = words(
        "Name",
        needed=True,
        what="What you call this engine, so that you can tell the candidates apart.",
    )
    rated_power: Quantity | None = quantity(
        "Rated power",
        Dimension.POWER,
        "kW",
        "hp",
        between=("2 kW", "1000 kW"),
        needed=True,
        what="Power at rated speed on the data sheet, declared to ISO 8665. PS is not quite hp: write the unit as printed.",
        changes="Top speed, and what the propeller must absorb.",
    )
    rated_speed: Quantity | None = quantity(
        "Rated engine speed",
        Dimension.ROTATION,
        "rpm",
        "rpm",
        between=("500 rpm", "5000 rpm"),
        needed=True,
        what="Engine speed at which the rated power is given.",
        changes="The gear ratio and the pitch: the loaded boat must just reach this at full throttle.",
    )
    power_at: str | None = choice(
        "Power is given at the",
        POWER_BASES,
        default="crankshaft",
        default_source="what most data sheets print in large figures",
        what="ISO 8665 knows power at the crankshaft and at the propeller shaft, after the gear.",
        changes="Three per cent or so.",
    )
    kind: str | None = choice(
        "Kind of diesel",
        ENGINE_KINDS,
        default="direct injection",
        default_source="common practice, no source",
        what="How the engine breathes and burns: the first two draw their own air. Chooses the published torque curve and "
        "fuel map that stand in for it.",
        changes="Torque at low speed and fuel at part load.",
    )
    duty: str | None = choice(
        "Duty class",
        DUTIES,
        what="What the maker allows: hours a year and how long at full power.",
        how="On the data sheet, beside the power. The same engine is sold at several powers for several duties.",
        changes="Nothing in the numbers; whether the engine suits the way you use the boat.",
    )
    fuel_at_rated: Quantity | None = quantity(
        "Specific fuel consumption at rated power",
        Dimension.CONSUMPTION,
        "g/kWh",
        "g/kWh",
        between=("180 g/kWh", "420 g/kWh"),
        what="From the data sheet; empty stands for a usual value of this kind of diesel.",
        changes="Fuel and range, in proportion.",
    )
    power_lost: Quantity | None = quantity(
        "Power lost aboard",
        Dimension.FRACTION,
        "%",
        "%",
        between=("0 %", "40 %"),
        default="0 %",
        default_source="conditions of the data sheet: 25 C air at the intake, 100 kPa (ISO 8665)",
        what="Loss against the data sheet: a hot engine room, alternators, pumps on the engine.",
        how="Ask the maker for the loss at your engine-room temperature.",
        changes="Power at full throttle, and so the pitch.",
    )
    cylinders: int | None = count("Cylinders", 1, 12, what="Number of cylinders.", changes="The check on vibration.")
    weight: Quantity | None = quantity(
        "Weight with gear, dry",
        Dimension.MASS,
        "kg",
        "lb",
        between=("20 kg", "6 t"),
        what="Dry weight of engine and gear on the data sheet.",
        changes="The change of weight against what comes out.",
    )


@dataclass(frozen=True)
class Engine:
    """The candidates, and which of them the later pages work with."""

    chosen: str = words(
        "Chosen candidate",
        what="Name of the candidate that gear, propeller, shaft and range are worked out for. Empty: the first.",
    )
    candidate: tuple[Candidate, ...] = rows("Candidates", Candidate)

    @property
    def selected(self) -> Candidate | None:
        """The chosen candidate; the first one while none is chosen by name."""
        named = (item for item in self.candidate if item.name == self.chosen)
        return next(named, self.candidate[0] if self.candidate else None)

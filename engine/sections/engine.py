"""The engine section: the candidates, as they stand on a data sheet, and the one that is chosen."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from engine.data import table
from engine.entries import Measure, choice, count, quantity, rows, words
from engine.sections.electric import DataSheet, Motor
from engine.sections.measures import FLOW, HOURS, LENGTH, PER_CENT, POWER, ROTATION, SMALL_LENGTH, TEMPERATURE, WEIGHT
from engine.units import Dimension, Quantity

ENGINE_KINDS: tuple[str, ...] = tuple(table("fuel")["default_consumption"])
POWER_BASES = ("crankshaft", "propeller shaft")
DUTIES: tuple[str, ...] = tuple(row["name"] for row in reversed(table("engine_rating")["duty"]))


def _duty_words(row: Mapping[str, Any]) -> str:
    """ "light: up to 800 hours a year, full power 1 of 12 hours, mean load 40 %"."""
    hours = f"up to {row['hours_per_year']:.0f} hours a year" if "hours_per_year" in row else "any hours"
    load = f", mean load up to {100.0 * row['load_factor']:.0f} %" if "load_factor" in row else ""
    return f"{row['name']}: {hours}, full power {row['full_power']}{load}"


_DUTY_WORDS = "; ".join(_duty_words(row) for row in reversed(table("engine_rating")["duty"])) + " (partly from memory)."


@dataclass(frozen=True)
class Candidate(DataSheet):
    """One engine that could go in."""

    rated_power: Quantity | None = quantity(
        "Rated power",
        POWER,
        between=("2 kW", "1000 kW"),
        needed=True,
        what="Power at rated speed on the data sheet, declared to ISO 8665. PS is not quite hp: write the unit as printed.",
        changes="Top speed, and what the propeller must absorb.",
    )
    rated_speed: Quantity | None = quantity(
        "Rated engine speed",
        ROTATION,
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
        what="What the maker allows: hours a year, how long at full power, and the mean load. Help (F1) spells them out.",
        how="On the data sheet, beside the power. The same engine is sold at several powers for several duties. "
        f"{_DUTY_WORDS}",
        changes="Nothing in the numbers; whether the engine suits the way you use the boat.",
    )
    fuel_at_rated: Quantity | None = quantity(
        "Specific fuel consumption at rated power",
        Measure(Dimension.CONSUMPTION, "g/kWh", "g/kWh"),
        between=("180 g/kWh", "420 g/kWh"),
        what="From the data sheet; empty stands for a usual value of this kind of diesel.",
        changes="Fuel and range, in proportion.",
    )
    power_lost: Quantity | None = quantity(
        "Power lost aboard, by the maker",
        PER_CENT,
        between=("0 %", "40 %"),
        what="Loss against the data sheet, all together: hot air at the intake, warm sea water, height, alternators and pumps. "
        "Empty: worked out from the air and the water by ISO 3046-1, which stands here from memory.",
        how="Ask the maker for the loss at your engine-room temperature; his figure comes before any formula.",
        changes="Power at full throttle, and so the pitch.",
    )
    full_load_speeds: tuple[Quantity, ...] = quantity(
        "Full-load curve, engine speeds",
        ROTATION,
        between=("300 rpm", "6000 rpm"),
        several=True,
        what="Points of the curve at full throttle on the data sheet, rising, with semicolons between: 1200; 1800; 2400.",
        how="Read three to six points off the maker's curve.",
        changes="Torque at low speed, so how she pulls away; without points a published curve of that kind of engine.",
    )
    full_load_torques: tuple[Quantity, ...] = quantity(
        "Full-load curve, torque at these speeds",
        Measure(Dimension.TORQUE, "N m", "lb ft"),
        between=("2 N m", "10000 N m"),
        several=True,
        what="One torque for each of the speeds above, in the same order.",
    )
    full_load_powers: tuple[Quantity, ...] = quantity(
        "or power at these speeds",
        POWER,
        between=("0.2 kW", "1000 kW"),
        several=True,
        what="Instead of torques, when the maker prints power.",
    )
    fuel_speeds: tuple[Quantity, ...] = quantity(
        "Fuel curve, engine speeds",
        ROTATION,
        between=("300 rpm", "6000 rpm"),
        several=True,
        what="Points of the maker's fuel curve along the propeller curve, rising, with semicolons between.",
        how="Data sheets call it propeller load or propeller demand; not the full-load curve.",
        changes="Fuel and range: your own curve comes before any published map.",
    )
    fuel_flows: tuple[Quantity, ...] = quantity(
        "Fuel curve, consumption at these speeds",
        FLOW,
        between=("0.05 L/h", "400 L/h"),
        several=True,
        what="One consumption for each of the speeds above, in the same order.",
    )
    governed_speed: Quantity | None = quantity(
        "Highest speed without load",
        ROTATION,
        between=("500 rpm", "6000 rpm"),
        what="Where the governor holds the engine out of gear. Empty: 1.08 of rated speed (from memory).",
        changes="How far the engine may run past its rated speed with a small wheel.",
    )
    idle_speed: Quantity | None = quantity(
        "Idle speed",
        ROTATION,
        between=("300 rpm", "1500 rpm"),
        what="Slowest speed in gear.",
        changes="The slowest speed the boat can hold; range below it is not to be had.",
    )
    cylinders: int | None = count("Cylinders", 1, 12, what="Number of cylinders.", changes="The check on vibration.")
    swept_volume: Quantity | None = quantity(
        "Displacement of the engine",
        Measure(Dimension.VOLUME, "L", "in3"),
        between=("0.2 L", "40 L"),
        what="Swept volume of all cylinders.",
        changes="The starting battery.",
    )
    length: Quantity | None = quantity(
        "Length with gear",
        SMALL_LENGTH,
        between=("300 mm", "4 m"),
        what="From the foremost part to the face of the gear's output flange.",
        changes="Whether it goes into the engine room.",
    )
    width: Quantity | None = quantity(
        "Width",
        SMALL_LENGTH,
        between=("200 mm", "3 m"),
        what="Over all, mounts included.",
        changes="Whether it goes into the engine room.",
    )
    height: Quantity | None = quantity(
        "Height",
        SMALL_LENGTH,
        between=("200 mm", "3 m"),
        what="Over all, sump to air filter.",
        changes="Whether it goes into the engine room.",
    )
    weight: Quantity | None = quantity(
        "Weight with gear, dry",
        WEIGHT,
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
    intake_air: Quantity | None = quantity(
        "Air at the engine's intake",
        TEMPERATURE,
        between=("-10 C", "70 C"),
        default="40 C",
        default_source="25 C (77 F) outside, or the fit page's air outside, and 15 C (27 F) more in the engine room; "
        "from memory",
        what="Temperature of the air that the engine breathes, at full power on a warm day.",
        how="Hang a thermometer that can be read from outside beside the air filter of the present engine. Run her half an "
        "hour at as much power as that engine may hold so long.",
        changes="Power and fuel of a diesel: some 4 % of the power for every 10 C (18 F), 7 % with a turbocharger and no charge "
        "cooling.",
    )
    humidity: Quantity | None = quantity(
        "Humidity of that air",
        PER_CENT,
        between=("0 %", "100 %"),
        default="60 %",
        default_source="common practice, no source",
        what="Relative humidity at the intake.",
        changes="Power of engines without turbocharger, a little.",
    )
    raw_water: Quantity | None = quantity(
        "Raw water",
        TEMPERATURE,
        between=("-2 C", "40 C"),
        default="25 C",
        default_source="what data sheets are declared for, from memory; the water of the hull page where that is warmer",
        what="Warmest water that you will cruise in. Tropical seas reach 32 C (90 F).",
        changes="Power of charge-cooled engines.",
    )
    altitude: Quantity | None = quantity(
        "Height above the sea",
        LENGTH,
        between=("-400 m", "4000 m"),
        default="0 m",
        default_source="sea level",
        what="Of the lake or canal, if she is not at sea.",
        changes="Power of a diesel: about 1.4 % for every 100 m (330 ft) without turbocharger, 1 % with one. A propeller "
        "cavitates a little sooner.",
    )
    hours_per_year: Quantity | None = quantity(
        "Hours run in a year",
        HOURS,
        between=("1 h", "8760 h"),
        what="What engine or motor will run in a year.",
        how="The hour meter over some years; many private boats run 50 to 200 hours.",
        changes="The duty class to ask for.",
    )
    candidate: tuple[Candidate, ...] = rows(
        Candidate,
        asked="Candidates, as on their data sheets",
        told="Candidates as entered",
        one="candidate",
        several="Candidates",
        add="Add a candidate engine",
    )
    motor: tuple[Motor, ...] = rows(
        Motor,
        asked="Electric candidates, as on their data sheets",
        told="Electric candidates as entered",
        one="motor",
        several="Electric candidates",
        add="Add an electric drive",
    )

    @property
    def all(self) -> tuple[Candidate | Motor, ...]:
        """Diesels first, then electric drives."""
        return (*self.candidate, *self.motor)

    @property
    def selected(self) -> Candidate | Motor | None:
        """The chosen candidate; the first one while none is chosen by name."""
        named = (item for item in self.all if item.name and item.name == self.chosen)
        return next(named, self.all[0] if self.all else None)

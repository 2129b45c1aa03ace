"""The trial section: what was fitted, what was read on the sea trial, and the log of the seasons after it."""

from dataclasses import dataclass
from datetime import date

from engine.entries import choice, count, day, quantity, rows, words
from engine.sections.measures import (
    ELECTRIC_POWER,
    FLOW,
    GAS_PRESSURE,
    KNOTS,
    LENGTH,
    MONTHS,
    OIL_PRESSURE,
    RATIO,
    ROTATION,
    SMALL_LENGTH,
    TEMPERATURE,
)
from engine.sections.present import TACHOMETERS, WAYS_TO_MEASURE_SPEED
from engine.units import Quantity

THROTTLES = PART, FULL = "part", "full"
LOADS = NORMAL_LOAD, LIGHT_LOAD, HEAVY_LOAD = (
    "normal, tanks half full or more",
    "light, tanks nearly empty",
    "heavier than planned",
)
SMOKES = NO_SMOKE, HAZE, BLACK_SMOKE = "none", "a haze", "black and steady"
ENTRIES = READING, BOTTOM_CLEANED, PROPELLER_CLEANED, BOTH_CLEANED = (
    "reading",
    "bottom cleaned",
    "propeller cleaned",
    "bottom and propeller cleaned",
)


@dataclass(frozen=True)
class TrialRun:
    """One steady run at one engine speed, best both ways over the same stretch."""

    engine_speed: Quantity | None = quantity(
        "Engine speed",
        ROTATION,
        between=("200 rpm", "12000 rpm"),
        needed=True,
        what="Steady for some minutes; the same both ways.",
        how="Steps of 200 rpm from idle to full throttle.",
    )
    speed: Quantity | None = quantity(
        "Speed, one way",
        KNOTS,
        between=("0.3 kn", "25 kn"),
        needed=True,
        what="Over the ground, as the satellite receiver shows it, when it has settled.",
        changes="What she is found to need, beside what the plan expected.",
    )
    speed_back: Quantity | None = quantity(
        "Speed, the other way",
        KNOTS,
        between=("0.3 kn", "25 kn"),
        what="Over the same stretch on the opposite course, straight after. The mean of both is free of a steady current.",
        changes="A single run carries the current with it and counts for less.",
    )
    throttle: str | None = choice(
        "Throttle",
        THROTTLES,
        default=PART,
        default_source="all runs but the last",
        what="Full: the lever is all the way forward and the engine gives all it has.",
        changes="The runs at full throttle judge the propeller.",
    )
    fuel_flow: Quantity | None = quantity(
        "Fuel flow of one engine",
        FLOW,
        between=("0.05 L/h", "400 L/h"),
        what="From the engine's own display or a flow meter.",
        changes="Tells a heavy hull from a wrong propeller: the one burns more, the other does not.",
    )
    drawn: Quantity | None = quantity(
        "Power drawn by one motor",
        ELECTRIC_POWER,
        between=("0.05 kW", "1000 kW"),
        what="Out of the battery, by this motor alone: volts times amperes, over 1000.",
        how="From the display of the controller, or from the battery monitor with everything else switched off.",
        changes="Tells a heavy hull from a wrong propeller: the one draws more, the other does not.",
    )
    coolant: Quantity | None = quantity(
        "Coolant",
        TEMPERATURE,
        between=("-5 C", "130 C"),
        what="Its temperature when it has settled, at least ten minutes into the full-throttle run.",
    )
    back_pressure: Quantity | None = quantity(
        "Exhaust back pressure",
        GAS_PRESSURE,
        between=("0 kPa", "60 kPa"),
        what="At the tapping behind the turbocharger or manifold.",
    )
    measured: str | None = choice(
        "A single speed was taken as",
        WAYS_TO_MEASURE_SPEED,
        default="one run over the ground",
        default_source="what a single speed usually is",
        what="Only where the other way is empty: a mean that you have formed yourself, or a log through the water.",
    )
    note: str = words("Note", what="Wind, sea, vibration, anything odd.")


@dataclass(frozen=True)
class SeasonEntry:
    """A day of the log that is kept over the seasons: a reading, or a cleaning."""

    day: date | None = day("Day", needed=True, what="When it was.", how="Write it like 2026-05-03 or 3 May 2026.")
    what: str | None = choice(
        "What",
        ENTRIES,
        default=READING,
        default_source="most entries are readings",
        what="A reading of engine speed and boat speed, or a cleaning, from which the months are counted.",
    )
    engine_speed: Quantity | None = quantity(
        "Engine speed",
        ROTATION,
        between=("200 rpm", "12000 rpm"),
        what="Steady, at about the same boat speed each time.",
    )
    speed: Quantity | None = quantity(
        "Speed",
        KNOTS,
        between=("0.5 kn", "25 kn"),
        what="Mean of both ways, in calm water and the usual load.",
    )
    fuel_flow: Quantity | None = quantity(
        "Fuel flow of one engine",
        FLOW,
        between=("0.05 L/h", "400 L/h"),
        what="If there is a flow meter.",
    )
    note: str = words("Note", what="Load, wind, what was found at the cleaning.")


@dataclass(frozen=True)
class Trial:
    """All of it is optional: it is filled in after the repower."""

    day: date | None = day(
        "Day of the trial",
        what="When she was tried. The log over the seasons counts the months of growth from the cleaning before that day, "
        "and anew from each later one.",
        how="Write it like 2026-05-03 or 3 May 2026.",
    )
    gear_ratio: Quantity | None = quantity(
        "Gear ratio fitted",
        RATIO,
        between=("1", "8"),
        what="From the plate of the new gear. Empty: the ratio that you chose on the gear page.",
        changes="How the trial is read.",
    )
    propeller_diameter: Quantity | None = quantity(
        "Propeller fitted, diameter",
        SMALL_LENGTH,
        between=("150 mm", "2 m"),
        what="From its hub. Empty: the diameter that you chose on the propeller page.",
        changes="How the trial is read.",
    )
    propeller_pitch: Quantity | None = quantity(
        "Propeller fitted, pitch",
        SMALL_LENGTH,
        between=("80 mm", "2.5 m"),
        what="From its hub, or from the shop's sheet, which is better. Empty: the pitch that you chose on the propeller page.",
        changes="How the trial is read.",
    )
    propeller_blades: int | None = count(
        "Propeller fitted, blades", 2, 7, what="How many it has. Empty: as many as the propeller page asks for."
    )
    load: str | None = choice(
        "Load at the trial",
        LOADS,
        default=NORMAL_LOAD,
        default_source="what a trial is made with",
        what="How full she was. The plan expects what she does at full load, as on the hull page; with half of it gone she is "
        "some 5 % lighter (ours). A light boat reaches more rpm than she will later, and a good propeller then looks small.",
    )
    depth: Quantity | None = quantity(
        "Depth of water",
        LENGTH,
        between=("0.5 m", "12000 m"),
        what="Least depth on the stretch. Shallow water slows her, most near hull speed.",
    )
    time_since_cleaning: Quantity | None = quantity(
        "Time since cleaning, at the trial",
        MONTHS,
        between=("0 months", "5 years"),
        default="0 months",
        default_source="a trial is made with a clean bottom and propeller",
        what="How long bottom and propeller had been in the water.",
        changes="What part of the resistance is put down to growth.",
    )
    tachometer: str | None = choice(
        "Tachometer at the trial",
        TACHOMETERS,
        default="not checked",
        default_source="a tachometer on an alternator may be several per cent out (common practice, no source)",
        what="Whether the rev counter was held against an optical one. Have that done before a propeller is judged by it.",
    )
    air: Quantity | None = quantity(
        "Air outside", TEMPERATURE, between=("-20 C", "50 C"), what="Its temperature in the shade."
    )
    engine_room: Quantity | None = quantity(
        "Air in the engine room",
        TEMPERATURE,
        between=("-20 C", "100 C"),
        what="Its temperature at the air filter, at the end of the full-throttle run.",
    )
    vibration: tuple[Quantity, ...] = quantity(
        "Engine speeds with vibration",
        ROTATION,
        between=("200 rpm", "12000 rpm"),
        several=True,
        what="Where something shakes more than just above and below it.",
    )
    gear_oil: Quantity | None = quantity(
        "Gear oil",
        TEMPERATURE,
        between=("-10 C", "180 C"),
        what="Its temperature at the end of the full-throttle run, at the gear's sender or cooler.",
    )
    no_load_speed: Quantity | None = quantity(
        "Engine speed at full throttle in neutral",
        ROTATION,
        between=("500 rpm", "15000 rpm"),
        what="For a few seconds, warm. The governor's upper end: it shows whether the lever opens the throttle all the way.",
    )
    smoke: str | None = choice("Smoke at full throttle", SMOKES, what="After a minute at full throttle, warm.")
    sea: Quantity | None = quantity(
        "Sea water", TEMPERATURE, between=("-2 C", "40 C"), what="Its temperature, where the engine takes it in."
    )
    raw_water_out: Quantity | None = quantity(
        "Raw water after the engine",
        TEMPERATURE,
        between=("-2 C", "110 C"),
        what="Its temperature where it leaves the last cooler, before it is injected.",
    )
    exhaust_hose: Quantity | None = quantity(
        "Skin of the exhaust hose",
        TEMPERATURE,
        between=("-5 C", "400 C"),
        what="Its temperature a hand's breadth behind the water injection, at full throttle.",
        how="An infrared thermometer. Do not touch it.",
    )
    intake_depression: Quantity | None = quantity(
        "Depression behind the air filter",
        GAS_PRESSURE,
        between=("0 kPa", "30 kPa"),
        what="How far the pressure there is below that of the air outside, at full throttle: a choked filter shows.",
    )
    oil_pressure: Quantity | None = quantity(
        "Oil pressure, hot, at full throttle",
        OIL_PRESSURE,
        between=("0 bar", "15 bar"),
        what="At the end of the full-throttle run.",
    )
    idle_oil_pressure: Quantity | None = quantity(
        "Oil pressure, hot, at idle",
        OIL_PRESSURE,
        between=("0 bar", "15 bar"),
        what="Straight after the full-throttle run.",
    )
    coolant_limit: Quantity | None = quantity(
        "Coolant, the maker's limit",
        TEMPERATURE,
        between=("60 C", "130 C"),
        what="From the engine's manual. Empty: 95 C (203 F), from memory.",
    )
    back_pressure_limit: Quantity | None = quantity(
        "Exhaust back pressure, the maker's limit",
        GAS_PRESSURE,
        between=("1 kPa", "60 kPa"),
        what="From the engine's manual. Empty: the limit of the fit page.",
    )
    run: tuple[TrialRun, ...] = rows(
        TrialRun,
        asked="Runs, each both ways over the same stretch",
        told="Runs as entered",
        one="run",
        several="Runs of the trial",
        add="Add a run of the trial",
    )
    season: tuple[SeasonEntry, ...] = rows(
        SeasonEntry,
        asked="Log over the seasons",
        told="Log over the seasons as entered",
        one="entry",
        several="Entries of the seasons",
        add="Add a reading or a cleaning",
    )

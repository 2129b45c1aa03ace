"""The present section: the engine, gear and propeller that are in her now, and the log taken with them."""

from dataclasses import dataclass

from engine.data import table
from engine.entries import choice, count, quantity, rows, words
from engine.sections.measures import FLOW, KNOTS, MONTHS, PLAIN, POWER, RATIO, ROTATION, SMALL_LENGTH, WEIGHT
from engine.units import Quantity

PROPELLER_HANDS = ("right-hand", "left-hand")
TACHOMETERS: tuple[str, ...] = tuple(table("doubt")["reading"]["tachometer"])
NOT_CHECKED = TACHOMETERS[0]
WAYS_TO_MEASURE_SPEED: tuple[str, ...] = tuple(table("doubt")["reading"]["speed_kn"])


@dataclass(frozen=True)
class LogRow:
    """One steady reading of the present engine and speed."""

    engine_speed: Quantity | None = quantity(
        "Engine speed",
        ROTATION,
        between=("200 rpm", "6000 rpm"),
        needed=True,
        what="Tachometer reading, steady for some minutes.",
        how="Check the tachometer once with an optical one.",
    )
    speed: Quantity | None = quantity(
        "Speed",
        KNOTS,
        between=("0.5 kn", "20 kn"),
        needed=True,
        what="Mean of two runs, with and against wind and current.",
        how="Satellite speed both ways over the same stretch, averaged.",
        changes="What the hull's resistance is taken to be: the best evidence there is.",
    )
    measured: str | None = choice(
        "Speed was taken as",
        WAYS_TO_MEASURE_SPEED,
        default="mean of two runs over the ground",
        default_source="the only way that cancels a steady current",
        what="How the speed was measured. A single run carries the current with it and counts for less.",
    )
    fuel_flow: Quantity | None = quantity(
        "Fuel flow",
        FLOW,
        between=("0.1 L/h", "200 L/h"),
        what="Fuel burned by one engine at that speed, if it is known.",
        how="A flow meter, or the time that a measured can lasts.",
        changes="A second, weaker reading of the power: engines differ by some 15 per cent in fuel for the same work.",
    )
    note: str = words("Note", what="Wind, sea, current, load.")


@dataclass(frozen=True)
class Present:
    """What is in the boat now. All of it is optional; the log of rpm and speed is worth more than any formula."""

    engine_power: Quantity | None = quantity(
        "Present engine, rated power",
        POWER,
        between=("1 kW", "1000 kW"),
        what="Power on the plate of the engine that is in her now; of two, that of one.",
    )
    engine_weight: Quantity | None = quantity(
        "Present engine and gear, weight",
        WEIGHT,
        between=("20 kg", "6 t"),
        what="Dry weight of the engine that comes out, with its gear; of two, that of one.",
        changes="Trim and sinkage, and the caution on stability.",
    )
    gear_ratio: Quantity | None = quantity(
        "Present gear ratio",
        RATIO,
        between=("1", "8"),
        what="Turns of the engine for one turn of the shaft, ahead.",
        how="On the plate of the gearbox; or count turns by hand, engine stopped and its key out.",
    )
    propeller_diameter: Quantity | None = quantity(
        "Present propeller, diameter",
        SMALL_LENGTH,
        between=("150 mm", "2 m"),
        what="Stamped on the hub, or twice the distance from shaft centre to blade tip.",
    )
    propeller_pitch: Quantity | None = quantity(
        "Present propeller, pitch",
        SMALL_LENGTH,
        between=("80 mm", "2.5 m"),
        what="Stamped on the hub after the diameter.",
    )
    propeller_blades: int | None = count("Present propeller, blades", 2, 7, what="Number of blades.")
    propeller_hand: str | None = choice(
        "Present propeller, hand",
        PROPELLER_HANDS,
        what="Right-hand turns clockwise going ahead, seen from astern.",
        how="Often stamped R or L on the hub. Or stand behind it and look at the blade that points up: of a right-hand wheel "
        "its right edge is the farther from you.",
        changes="Whether a new gear needs a wheel of the other hand.",
    )
    propeller_area_ratio: Quantity | None = quantity(
        "Present propeller, blade area ratio",
        PLAIN,
        between=("0.2", "1.1"),
        what="Area of all blades over the area of the disc. Empty: 0.30, 0.55, 0.65 or 0.80 for two to five blades.",
        how="Leave it empty unless a propeller shop has measured it.",
        changes="The reading of the log, a little.",
    )
    tachometer: str | None = choice(
        "Tachometer",
        TACHOMETERS,
        default="not checked",
        default_source="a tachometer on an alternator may be several per cent out (common practice, no source)",
        what="Whether the tachometer that the log was read from has been checked.",
        how="With an optical tachometer on the crankshaft pulley, at two speeds; hands, hair and clothes clear of the belts.",
        changes="How far the log may move the power: a tachometer that reads wrong does so in every row.",
    )
    time_since_cleaning: Quantity | None = quantity(
        "Time since cleaning, when the log was taken",
        MONTHS,
        between=("0 months", "5 years"),
        default="0 months",
        default_source="a clean bottom",
        what="How long the bottom and the propeller had been in the water when the readings were taken.",
        changes="What part of the resistance is put down to fouling, which the clean boat will not have.",
    )
    shaft_diameter: Quantity | None = quantity(
        "Present shaft, diameter",
        SMALL_LENGTH,
        between=("12 mm", "200 mm"),
        what="Diameter of the propeller shaft that is in her now.",
        how="Callipers, on a clean part between the bearings.",
        changes="The shaft page says what safety factor the old shaft would have with the new engine. If it stays, give it "
        "there as a diameter of your own.",
    )
    log: tuple[LogRow, ...] = rows(
        LogRow,
        asked="Log: steady readings of engine speed and boat speed",
        told="Log as entered",
        one="reading",
        several="Readings of the log",
        add="Add a reading to the log",
    )

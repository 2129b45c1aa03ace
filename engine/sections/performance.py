"""The speed and power sections: how fast she should go, and what is allowed for on the way."""

from dataclasses import dataclass

from engine.data import table
from engine.entries import choice, quantity
from engine.sections.measures import KNOTS, LENGTH, MONTHS, PER_CENT, PLAIN
from engine.units import Quantity

METHOD_LABELS: tuple[str, ...] = tuple(table("resistance_methods")["labels"].values())

ALL_METHODS = "all that apply, weighed"
"""The choice that lets every method count."""


@dataclass(frozen=True)
class Speed:
    """The speeds she is planned for."""

    cruise: Quantity | None = quantity(
        "Cruising speed",
        KNOTS,
        between=("1 kn", "20 kn"),
        needed=True,
        can_be_guessed=True,
        what="The speed at which she will spend most of her hours.",
        how="Knots of 1.0 to 1.15 times the root of the waterline length in feet (1.8 to 2.1 times that of metres) are "
        "where displacement boats are easy.",
        changes="Fuel and range more than anything else you can choose.",
    )
    top: Quantity | None = quantity(
        "Top speed wanted",
        KNOTS,
        between=("1 kn", "20 kn"),
        needed=True,
        can_be_guessed=True,
        what="The speed at full throttle in calm water, clean and loaded.",
        how="Hull speed is the natural limit; a tenth above it asks for about twice the power.",
        changes="The size of the engine.",
    )


@dataclass(frozen=True)
class Power:
    """Allowances and overrides between the bare hull and the engine."""

    method: str | None = choice(
        "Resistance method",
        (ALL_METHODS, *METHOD_LABELS),
        default=ALL_METHODS,
        default_source="by measured error, distance outside its range and kind of boat; the weights are ours",
        what="The published regression that gives the resistance of the hull, or all of them, each with its weight.",
        changes="The whole power curve. The page shows all methods side by side.",
    )
    time_since_cleaning: Quantity | None = quantity(
        "Time since the bottom was cleaned",
        MONTHS,
        between=("0 months", "5 years"),
        default="0 months",
        default_source="a clean bottom; fouling is then part of the sea margin",
        what="How long she may have been in the water since the last cleaning when she still has to do her speed.",
        changes="Friction: about a quarter of a per cent a day in temperate water (from memory, textbook tradition).",
    )
    sea_margin: Quantity | None = quantity(
        "Sea margin",
        PER_CENT,
        between=("0 %", "100 %"),
        default="15 %",
        default_source="sheltered water; our own choice, ship practice is 15 to 25 %",
        what="What waves, a light head wind and a not quite clean bottom add to the resistance in calm water. Leave out "
        "what you give by itself: months since cleaning, a head wind, waves.",
        how="15 % in sheltered water, 25 % along the coast, 35 to 50 % on passage into head seas.",
        changes="Power in service; the propeller is still matched in calm water, where the trial is run.",
    )
    head_wind: Quantity | None = quantity(
        "Head wind to allow for",
        KNOTS,
        between=("0 kn", "50 kn"),
        default="0 kn",
        default_source="wind is then part of the sea margin",
        what="A true wind from ahead, worked out from the frontal area instead of the margin.",
        changes="Air drag in service. Give a wind or a margin for the same thing, not both.",
    )
    wave_height: Quantity | None = quantity(
        "Head sea to allow for, wave height",
        LENGTH,
        between=("0 m", "1.5 m"),
        default="0 m",
        default_source="waves are then part of the sea margin",
        what="Significant height of short seas from ahead: the mean of the highest third.",
        how="What an experienced eye calls the height of the waves.",
        changes="Added resistance in service. Give waves or a margin for the same thing, not both.",
    )
    water_depth: Quantity | None = quantity(
        "Depth of the water",
        LENGTH,
        between=("0.5 m", "200 m"),
        what="Only where she works in shallow water: depth of the water, not under the keel.",
        changes="Speed for the same power in service; leave it empty for deep water.",
    )
    wake: Quantity | None = quantity(
        "Wake fraction",
        PLAIN,
        between=("0", "0.45"),
        what="By how much the hull drags the water along where the propeller works, as a share of boat speed.",
        how="Leave it empty: it is estimated from where the propeller works and how full the hull is.",
        changes="The pitch: 0.05 of wake is about a quarter of an inch on a 14 inch pitch (6 mm on 360 mm).",
    )
    thrust_deduction: Quantity | None = quantity(
        "Thrust deduction",
        PLAIN,
        between=("0", "0.45"),
        what="The share of the thrust that is lost because the propeller sucks at the stern.",
        how="Leave it empty: it is estimated like the wake.",
        changes="The thrust and so the power, in proportion.",
    )

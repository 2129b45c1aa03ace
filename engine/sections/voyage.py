"""The range section: tanks, reserve and what else burns fuel."""

from dataclasses import dataclass

from engine.data import table
from engine.entries import choice, quantity
from engine.units import Dimension, Quantity

RESERVES: tuple[str, ...] = tuple(table("fuel")["reserve"])


@dataclass(frozen=True)
class Range:
    """Fuel aboard and how much of it may be planned on."""

    tank: Quantity | None = quantity(
        "Fuel tanks, all together",
        Dimension.VOLUME,
        "L",
        "US gal",
        between=("5 L", "20000 L"),
        needed=True,
        what="What the tanks hold when brim full.",
        how="Fill from empty once and read the pump; tanks of 1 m by 0.5 m by 0.4 m hold 200 L.",
        changes="Range, in proportion.",
    )
    usable: Quantity | None = quantity(
        "Usable share of the tanks",
        Dimension.FRACTION,
        "%",
        "%",
        between=("30 %", "100 %"),
        default="90 %",
        default_source="from memory; the pick-up stands about 25 mm above the bottom",
        what="What can be drawn before the pump sucks air or sediment, in a seaway.",
    )
    reserve: str | None = choice(
        "Reserve",
        RESERVES,
        default="thirds",
        default_source="the rule of thirds: one out, one back, one left; common practice",
        what="What stays in the tank when you plan a passage. Ten per cent is too little for the open sea.",
    )
    hotel: Quantity | None = quantity(
        "Other consumption",
        Dimension.FLOW,
        "L/h",
        "US gal/h",
        between=("0 L/h", "50 L/h"),
        default="0 L/h",
        default_source="no generator, no heater",
        what="Fuel for a generator or heater while under way.",
        changes="Range at low speed, and the best speed.",
    )
    current: Quantity | None = quantity(
        "Current on the nose",
        Dimension.SPEED,
        "kn",
        "kn",
        between=("-6 kn", "6 kn"),
        default="0 kn",
        default_source="still water",
        what="Adverse current to plan with; a fair one is minus.",
        changes="Range over the ground and the best speed.",
    )
    price: Quantity | None = quantity(
        "Fuel price",
        Dimension.PRICE,
        "per L",
        "per US gal",
        between=("0.05 per L", "20 per L"),
        what="In your own currency.",
        changes="Cost per mile.",
    )

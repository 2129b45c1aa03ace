"""The range section: tanks, reserve and what else burns fuel."""

from dataclasses import dataclass

from engine.data import table
from engine.defaults import word
from engine.entries import Measure, choice, quantity, rows, words
from engine.sections.measures import FLOW, KNOTS, PER_CENT, TANK_LENGTH, VOLUME
from engine.units import Dimension, Quantity

RESERVES: tuple[str, ...] = tuple(table("fuel")["reserve"])
TANK_SHAPES = BOX, SLOPING, V_BOTTOMED, CYLINDER = "box", "sloping sides", "V-bottomed", "lying cylinder"


@dataclass(frozen=True)
class MeasuredTank:
    """One tank measured with a tape, instead of its contents."""

    name: str = words("Name", what="Which tank it is: port, starboard, day tank.")
    shape: str | None = choice(
        "Shape",
        TANK_SHAPES,
        default=BOX,
        default_source="the usual one",
        what="Seen from the end: a box; sides that slope; a V that comes to a point at the bottom; a cylinder on its side.",
    )
    length: Quantity | None = quantity(
        "Length",
        TANK_LENGTH,
        between=("5 cm", "8 m"),
        needed=True,
        what="Inside, fore and aft; of a cylinder along its axis.",
    )
    width: Quantity | None = quantity(
        "Width",
        TANK_LENGTH,
        between=("5 cm", "5 m"),
        what="Inside, at the top. A lying cylinder needs none.",
        how="Measure outside and take off two thicknesses of plate.",
    )
    bottom_width: Quantity | None = quantity(
        "Width at the bottom",
        TANK_LENGTH,
        between=("0 m", "5 m"),
        what="Of a tank with sloping sides only.",
    )
    height: Quantity | None = quantity(
        "Height, or diameter of a cylinder",
        TANK_LENGTH,
        between=("5 cm", "4 m"),
        needed=True,
        what="Inside, from the bottom up.",
    )
    dip: Quantity | None = quantity(
        "Dipstick reading now",
        Measure(Dimension.LENGTH, "cm", "in"),
        between=("0 cm", "4 m"),
        what="Depth of the fuel from the bottom, upright and level. Tank gauges are not to be trusted.",
        changes="The fuel that is aboard now; the range is worked out for full tanks.",
    )


def lacks_width(tank: MeasuredTank) -> bool:
    """Whether a tank waits for its width; a lying cylinder needs none."""
    return tank.width is None and word(tank, "shape") != CYLINDER


def is_whole(tank: MeasuredTank) -> bool:
    """Whether all measures of a tank are there that its volume needs."""
    return tank.length is not None and tank.height is not None and not lacks_width(tank)


@dataclass(frozen=True)
class Range:
    """Fuel aboard and how much of it may be planned on."""

    tank: tuple[Quantity, ...] = quantity(
        "Fuel tanks",
        VOLUME,
        between=("5 L", "20000 L"),
        several=True,
        what="What each tank holds when brim full, with semicolons between: 200; 200; 80. They are added up.",
        how="Fill from empty once and read the pump; a tank of 1 m by 0.5 m by 0.4 m holds 200 L, and a cubic foot 7.5 US gal.",
        changes="Range, in proportion.",
    )
    usable: Quantity | None = quantity(
        "Usable share of the tanks",
        PER_CENT,
        between=("30 %", "100 %"),
        default="90 %",
        default_source="from memory; the pick-up stands about 25 mm (1 in) above the bottom",
        what="What can be drawn before the pump sucks air or sediment, in a seaway.",
    )
    hotel: Quantity | None = quantity(
        "Other consumption",
        FLOW,
        between=("0 L/h", "50 L/h"),
        default="0 L/h",
        default_source="no generator, no heater",
        what="Fuel for a generator or heater while under way.",
        changes="Range at low speed, and the best speed.",
    )
    price: Quantity | None = quantity(
        "Fuel price",
        Measure(Dimension.PRICE, "per L", "per US gal"),
        between=("0.05 per L", "20 per L"),
        what="What you pay for it, in your own currency.",
        changes="Cost per mile.",
    )
    reserve: str | None = choice(
        "Reserve",
        RESERVES,
        default="thirds",
        default_source="the rule of thirds: one out, one back, one left; common practice",
        what="What stays in tank or battery when you plan a passage. Ten per cent is too little for the open sea.",
    )
    reserve_share: Quantity | None = quantity(
        "Reserve of your own",
        PER_CENT,
        between=("0 %", "80 %"),
        what="Another share of the usable fuel or energy that is kept back, instead of the rule above.",
    )
    leg: Quantity | None = quantity(
        "Longest leg",
        Measure(Dimension.DISTANCE, "nmi", "nmi"),
        between=("1 nmi", "6000 nmi"),
        what="Longest passage between two places where she can fuel or charge.",
        changes="The page says how fast she may go and still arrive with the reserve.",
    )
    current: Quantity | None = quantity(
        "Current on the nose",
        KNOTS,
        between=("-6 kn", "6 kn"),
        default="0 kn",
        default_source="still water",
        what="Adverse current to plan with; a fair one is minus.",
        changes="Range over the ground and the best speed.",
    )
    electricity_price: Quantity | None = quantity(
        "Price of electricity",
        Measure(Dimension.ENERGY_PRICE, "per kWh", "per kWh"),
        between=("0.01 per kWh", "10 per kWh"),
        what="At the marina's plug, in your own currency; for electric drive.",
        changes="Cost per mile of electric candidates.",
    )
    measured: tuple[MeasuredTank, ...] = rows(
        MeasuredTank,
        asked="Tanks measured with a tape, besides those above",
        told="Tanks as measured",
        one="tank",
        several="Tanks to measure",
        add="Add a tank to measure",
    )

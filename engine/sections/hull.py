"""The hull section: what boat it is, and what is in her now."""

from dataclasses import dataclass

from engine.data import table
from engine.entries import choice, count, quantity, rows, words
from engine.units import Dimension, Quantity

BOAT_KINDS: tuple[str, ...] = tuple(table("hull_kinds")["kinds"])

PROPELLER_PLACES: tuple[str, ...] = tuple(
    row["words"] for key, row in table("interaction")["arrangements"].items() if key != "status"
)


@dataclass(frozen=True)
class Hull:
    """The boat as she floats, ready for sea."""

    kind: str | None = choice(
        "Kind of boat",
        BOAT_KINDS,
        needed=True,
        what="The kind of hull she is most like. It stands in for the form coefficients that you do not know.",
        how="Look at her out of the water: a keel that runs the whole length and carries the rudder is a full or long keel.",
        changes="Typical form coefficients, and so the resistance by some ten or twenty per cent.",
    )
    waterline_length: Quantity | None = quantity(
        "Waterline length",
        Dimension.LENGTH,
        "m",
        "ft",
        between=("4 m", "30 m"),
        needed=True,
        what="Length of the water plane, from where the stem meets the water to where the stern leaves it.",
        how="Afloat in cruising trim, drop a plumb line from stem and stern to the water; take both overhangs off the length "
        "over all.",
        changes="Hull speed, and power near hull speed: one per cent of length is about three per cent of power.",
    )
    waterline_beam: Quantity | None = quantity(
        "Waterline beam",
        Dimension.LENGTH,
        "m",
        "ft",
        between=("1 m", "9 m"),
        needed=True,
        what="Greatest width of the hull at the water, not at the deck.",
        how="Afloat, hang plumb bobs from a plank across the deck where she is widest at the water.",
        changes="The check on displacement, the fullness of the hull and its wave making.",
    )
    hull_draft: Quantity | None = quantity(
        "Hull draft, keel left out",
        Dimension.LENGTH,
        "m",
        "ft",
        between=("0.2 m", "4 m"),
        needed=True,
        what="Depth of the hull body below the water amidships. Follow the curve of the planking as if there were no keel.",
        how="Hauled out, stretch a line along the waterline mark and measure down to where the hull would run through "
        "without the keel.",
        changes="Fullness of the hull. Giving the draft to the bottom of the keel is the classic slip: it nearly doubles the "
        "volume that the shape would have.",
    )
    displacement: Quantity | None = quantity(
        "Displacement, ready for sea",
        Dimension.MASS,
        "kg",
        "lb",
        between=("300 kg", "200 t"),
        needed=True,
        what="What she weighs with tanks half full, stores, gear and crew aboard.",
        how="Read the load cells of the travel lift and take the slings off. A designer's figure wants gear, tanks and crew "
        "added; brochure figures are often 10 to 25 per cent light (trade experience, from memory).",
        changes="Power, almost in proportion; more than that near hull speed.",
    )
    keel_draft: Quantity | None = quantity(
        "Draft to the bottom of the keel",
        Dimension.LENGTH,
        "m",
        "ft",
        between=("0.3 m", "5 m"),
        what="The depth she needs to float.",
        how="From the boat's papers, or sounding pole alongside.",
        changes="Only the check that the hull draft is not the keel draft.",
    )
    water: str | None = choice(
        "Water",
        ("sea", "brackish", "fresh"),
        default="sea",
        default_source="most boats of this kind",
        what="The water she works in.",
        changes="Density and viscosity; up to three per cent of power.",
    )
    water_temperature: Quantity | None = quantity(
        "Water temperature",
        Dimension.TEMPERATURE,
        "C",
        "F",
        between=("0 C", "30 C"),
        default="15 C",
        default_source="reference temperature of ship trials, ITTC",
        what="Usual temperature of the water.",
        changes="Friction, by about two per cent over the whole range.",
    )
    prismatic: Quantity | None = quantity(
        "Prismatic coefficient",
        Dimension.NUMBER,
        "",
        "",
        between=("0.45", "0.80"),
        what="Displaced volume over (largest section area times waterline length): how full the ends are.",
        how="From the lines plan. Without one leave it empty: it is estimated from the kind of boat and checked against "
        "the main dimensions.",
        changes="Wave making, both ways: full ends cost below hull speed and help above it.",
    )
    midship: Quantity | None = quantity(
        "Midship coefficient",
        Dimension.NUMBER,
        "",
        "",
        between=("0.45", "0.99"),
        what="Area of the largest section of the hull body over (waterline beam times hull draft).",
        how="Hauled out, measure down from a line at the waterline mark at five to seven places across the widest section; "
        "the area by trapezoids over (beam times hull draft).",
        changes="How the fullness is shared between the section and the ends.",
    )
    waterplane: Quantity | None = quantity(
        "Waterplane coefficient",
        Dimension.NUMBER,
        "",
        "",
        between=("0.55", "0.95"),
        what="Area of the water plane over (waterline length times waterline beam).",
        how="Half breadths of the waterline at five stations, by Simpson's rule; else leave it empty.",
        changes="Entrance of the bow and wetted surface, a little.",
    )
    buoyancy_centre: Quantity | None = quantity(
        "Centre of buoyancy",
        Dimension.NUMBER,
        "% L",
        "% L",
        between=("-10 % L", "5 % L"),
        what="How far the centre of buoyancy lies ahead of half the waterline length, in per cent of it; aft is minus.",
        how="It stands under the centre of gravity: the share of the weight in the forward and the after sling gives it.",
        changes="Wave making and the run aft, a little.",
    )
    entrance_angle: Quantity | None = quantity(
        "Half angle of entrance",
        Dimension.ANGLE,
        "deg",
        "deg",
        between=("5 deg", "60 deg"),
        what="Angle between the waterline at the stem and the centre line.",
        how="Half breadth of the waterline at a tenth of the length aft of the stem, over that distance: the angle with that "
        "tangent.",
        changes="Wave making: a blunt bow costs power below hull speed.",
    )
    transom_area: Quantity | None = quantity(
        "Immersed transom area at rest",
        Dimension.AREA,
        "m2",
        "ft2",
        between=("0 m2", "4 m2"),
        default="0 m2",
        default_source="a stern that leaves the water clean",
        what="The part of a flat stern that is under water when she lies still.",
        how="Depth times width of the wet part, times 0.6 to 0.9 for its shape.",
        changes="Drag of the transom at low speed.",
    )
    appendage_area: Quantity | None = quantity(
        "Keel, skeg and rudder surface",
        Dimension.AREA,
        "m2",
        "ft2",
        between=("0 m2", "60 m2"),
        what="Wetted area of all that hangs below the hull body: both sides of keel, skeg, rudder, struts.",
        how="Sketch the profile below the hull body from photographs on the hard, and double its area.",
        changes="Friction; a long keel adds 20 to 35 per cent to the wetted surface.",
    )
    windage_area: Quantity | None = quantity(
        "Frontal area above water",
        Dimension.AREA,
        "m2",
        "ft2",
        between=("0.5 m2", "80 m2"),
        what="What the wind sees from right ahead: hull, house and mast.",
        how="Greatest beam times height of hull and house, less the corners, plus the mast.",
        changes="Air drag; small in a calm, large with a head wind.",
    )
    screws: int | None = count(
        "Number of propellers",
        1,
        2,
        default="1",
        default_source="single screw",
        what="One propeller, or two.",
        changes="Everything is shared between the shafts; the engine, propeller and shaft pages are for one side.",
    )
    propeller_place: str | None = choice(
        "Where the propeller works",
        PROPELLER_PLACES,
        needed=True,
        what="What the water has passed before it meets the propeller.",
        how="Look at her stern out of the water.",
        changes="The wake and the thrust deduction, and with them the pitch by about five to ten per cent.",
    )


@dataclass(frozen=True)
class LogRow:
    """One steady reading of the present engine and speed."""

    engine_speed: Quantity | None = quantity(
        "Engine speed",
        Dimension.ROTATION,
        "rpm",
        "rpm",
        between=("200 rpm", "6000 rpm"),
        needed=True,
        what="Tachometer reading, steady for some minutes.",
        how="Check the tachometer once with an optical one.",
    )
    speed: Quantity | None = quantity(
        "Speed through the water",
        Dimension.SPEED,
        "kn",
        "kn",
        between=("0.5 kn", "20 kn"),
        needed=True,
        what="Mean of two runs, with and against wind and current.",
        how="Satellite speed both ways over the same stretch, averaged.",
    )
    note: str = words("Note", what="Wind, sea, current, load, time since cleaning.")


@dataclass(frozen=True)
class Present:
    """What is in the boat now. All of it is optional; the log of rpm and speed is worth more than any formula."""

    engine_power: Quantity | None = quantity(
        "Present engine, rated power",
        Dimension.POWER,
        "kW",
        "hp",
        between=("1 kW", "1000 kW"),
        what="Power on the plate of the engine that is in her now.",
    )
    engine_weight: Quantity | None = quantity(
        "Present engine and gear, weight",
        Dimension.MASS,
        "kg",
        "lb",
        between=("20 kg", "6 t"),
        what="Dry weight of what comes out.",
        changes="Trim and sinkage, and the caution on stability.",
    )
    gear_ratio: Quantity | None = quantity(
        "Present gear ratio",
        Dimension.RATIO,
        ":1",
        ":1",
        between=("1", "8"),
        what="Turns of the engine for one turn of the shaft, ahead.",
        how="On the plate of the gearbox, or count turns by hand.",
    )
    propeller_diameter: Quantity | None = quantity(
        "Present propeller, diameter",
        Dimension.LENGTH,
        "mm",
        "in",
        between=("150 mm", "2 m"),
        what="Stamped on the hub, or twice the distance from shaft centre to blade tip.",
    )
    propeller_pitch: Quantity | None = quantity(
        "Present propeller, pitch",
        Dimension.LENGTH,
        "mm",
        "in",
        between=("80 mm", "2.5 m"),
        what="Stamped on the hub after the diameter.",
    )
    propeller_blades: int | None = count("Present propeller, blades", 2, 7, what="Number of blades.")
    shaft_diameter: Quantity | None = quantity(
        "Present shaft, diameter",
        Dimension.LENGTH,
        "mm",
        "in",
        between=("12 mm", "200 mm"),
        what="Diameter of the propeller shaft that is in her now.",
        how="Callipers, on a clean part between the bearings.",
        changes="The shaft page says what safety factor the old shaft would have with the new engine.",
    )
    log: tuple[LogRow, ...] = rows("Log of engine speed and boat speed", LogRow)

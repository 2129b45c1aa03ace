"""The hull section: what boat it is."""

from dataclasses import dataclass

from engine.data import table
from engine.entries import Measure, choice, count, quantity, rows
from engine.sections.measures import ANGLE, AREA, LENGTH, PLAIN, TEMPERATURE, WEIGHT
from engine.units import Dimension, Quantity

BOAT_KINDS: tuple[str, ...] = tuple(table("hull_kinds")["kinds"])

PROPELLER_PLACES: tuple[str, ...] = tuple(
    row["words"] for key, row in table("interaction")["arrangements"].items() if key != "status"
)

IN_APERTURE: str = table("interaction")["arrangements"]["aperture"]["words"]
"""The place that has a sole piece below."""

UPPERWORKS_KINDS: tuple[str, ...] = tuple(table("air_drag")["kinds"])


APPENDAGES: tuple[str, ...] = tuple(table("appendages")["kinds"])


@dataclass(frozen=True)
class Appendage:
    """One thing that is fixed to the hull under water."""

    kind: str | None = choice(
        "Kind",
        APPENDAGES,
        needed=True,
        what="What it is. A long keel stands for keel, skeg and rudder together.",
        changes="How much more drag it has than a flat plate of its surface.",
    )
    area: Quantity | None = quantity(
        "Surface, both sides",
        AREA,
        between=("0.01 m2", "60 m2"),
        needed=True,
        what="Its wetted surface, both sides together.",
        how="From a photograph on the hard, beside something whose size is known: the outline, doubled.",
    )


@dataclass(frozen=True)
class Hull:
    """The boat as she floats, ready for sea."""

    kind: str | None = choice(
        "Kind of boat",
        BOAT_KINDS,
        needed=True,
        what="The kind of hull she is most like. It stands in for the form coefficients that you do not know.",
        how="Look at her out of the water: a keel that runs the whole length and carries the rudder is a full or long keel. "
        "A barge or a narrow canal boat is none of these: take the tug, and give her midship and prismatic coefficient.",
        changes="Typical form coefficients, and so the resistance by some ten or twenty per cent.",
    )
    waterline_length: Quantity | None = quantity(
        "Waterline length",
        LENGTH,
        between=("4 m", "30 m"),
        needed=True,
        can_be_guessed=True,
        what="Length of the water plane, from where the stem meets the water to where the stern leaves it.",
        how="Afloat in cruising trim, drop a plumb line from stem and stern to the water; take both overhangs off the length "
        "over all.",
        changes="Hull speed, and power near hull speed: one per cent of length is about three per cent of power.",
    )
    waterline_beam: Quantity | None = quantity(
        "Waterline beam",
        LENGTH,
        between=("1 m", "9 m"),
        needed=True,
        can_be_guessed=True,
        what="Greatest width of the hull at the water, not at the deck.",
        how="Afloat, hang plumb bobs from a plank across the deck where she is widest at the water.",
        changes="The check on displacement, the fullness of the hull and its wave making.",
    )
    hull_draft: Quantity | None = quantity(
        "Hull draft, keel left out",
        LENGTH,
        between=("0.2 m", "4 m"),
        needed=True,
        can_be_guessed=True,
        what="Depth of the hull body below the water amidships. Follow the curve of the planking as if there were no keel.",
        how="Hauled out, stretch a line along the waterline mark and measure down to where the hull would run through "
        "without the keel.",
        changes="Fullness of the hull. Giving the draft to the bottom of the keel is the classic slip: it nearly doubles the "
        "volume that the shape would have.",
    )
    displacement: Quantity | None = quantity(
        "Displacement, ready for sea",
        WEIGHT,
        between=("300 kg", "200 t"),
        needed=True,
        can_be_guessed=True,
        what="What she weighs at full load: full tanks, stores, gear and crew.",
        how="Read the load cells of the travel lift, take the slings off and add what was not aboard: a litre of fuel weighs "
        "0.84 kg, of water 1 kg (a US gallon 7 lb and 8.3 lb). A designer's figure wants gear, tanks and crew added; brochure figures are often 10 to 25 per cent light (trade experience, from memory).",
        changes="Power, almost in proportion; more than that near hull speed. The propeller must suit her at full load.",
    )
    keel_draft: Quantity | None = quantity(
        "Draft to the bottom of the keel",
        LENGTH,
        between=("0.3 m", "5 m"),
        what="The depth she needs to float.",
        how="From the boat's papers, or sounding pole alongside.",
        changes="The check that the hull draft is not the keel draft. With the volume of a fin keel also that keel's wave making "
        "in the methods of the Delft series.",
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
        TEMPERATURE,
        between=("0 C", "30 C"),
        default="15 C",
        default_source="reference temperature of ship trials, ITTC",
        what="Usual temperature of the water.",
        changes="Friction, by some 14 per cent over the whole range: cold water drags more.",
    )
    prismatic: Quantity | None = quantity(
        "Prismatic coefficient",
        PLAIN,
        between=("0.45", "0.97"),
        what="Displaced volume over (largest section area times waterline length): how full the ends are.",
        how="From the lines plan. Without one leave it empty: it is estimated from the kind of boat and checked against "
        "the main dimensions.",
        changes="Wave making, both ways: full ends cost below hull speed and help above it.",
    )
    midship: Quantity | None = quantity(
        "Midship coefficient",
        PLAIN,
        between=("0.45", "0.99"),
        what="Area of the largest section of the hull body over (waterline beam times hull draft).",
        how="Hauled out, measure down from a line at the waterline mark at five to seven places across the widest section; "
        "the area by trapezoids over (beam times hull draft).",
        changes="How the fullness is shared between the section and the ends.",
    )
    waterplane: Quantity | None = quantity(
        "Waterplane coefficient",
        PLAIN,
        between=("0.55", "0.95"),
        what="Area of the water plane over (waterline length times waterline beam).",
        how="Half breadths of the waterline at five stations, by Simpson's rule; else leave it empty.",
        changes="Entrance of the bow and wetted surface, a little.",
    )
    buoyancy_centre: Quantity | None = quantity(
        "Centre of buoyancy",
        Measure(Dimension.NUMBER, "% L", "% L"),
        between=("-10 % L", "5 % L"),
        what="How far the centre of buoyancy lies ahead of half the waterline length, in per cent of it; aft is minus.",
        how="It stands under the centre of gravity: the share of the weight in the forward and the after sling gives it.",
        changes="Wave making and the run aft, a little.",
    )
    entrance_angle: Quantity | None = quantity(
        "Half angle of entrance",
        ANGLE,
        between=("5 deg", "60 deg"),
        what="Angle between the waterline at the stem and the centre line.",
        how="Half breadth of the waterline at a tenth of the length aft of the stem, over that distance: the angle with that "
        "tangent.",
        changes="Wave making: a blunt bow costs power below hull speed.",
    )
    transom_area: Quantity | None = quantity(
        "Immersed transom area at rest",
        AREA,
        between=("0 m2", "4 m2"),
        default="0 m2",
        default_source="a stern that leaves the water clean",
        what="The part of a flat stern that is under water when she lies still.",
        how="Depth times width of the wet part, times 0.6 to 0.9 for its shape.",
        changes="Drag of the transom at low speed.",
    )
    appendage_area: Quantity | None = quantity(
        "Keel, skeg and rudder surface",
        AREA,
        between=("0 m2", "60 m2"),
        what="Wetted area of all that hangs below the hull body: both sides of keel, skeg, rudder, struts.",
        how="Sketch the profile below the hull body from photographs on the hard, and double its area.",
        changes="Friction; a long keel adds 20 to 35 per cent to the wetted surface. A list by kind, further down, comes "
        "before this.",
    )
    keel_volume: Quantity | None = quantity(
        "Volume of a fin keel",
        Measure(Dimension.VOLUME, "m3", "ft3"),
        between=("0.005 m3", "10 m3"),
        what="Only for a fin keel under a shallow hull: the volume of the keel, with its ballast.",
        how="Mean length times depth times mean thickness, times 0.7 for its rounded section (common practice, no source).",
        changes="The volume of the hull body, which it is taken off, and so how full she is; and the keel's share of wave "
        "making in the methods of the Delft series.",
    )
    windage_area: Quantity | None = quantity(
        "Frontal area above water",
        AREA,
        between=("0.5 m2", "80 m2"),
        what="What the wind sees from right ahead: hull, house and mast.",
        how="Greatest beam times height of hull and house, less the corners, plus the mast.",
        changes="Air drag; small in a calm, large with a head wind.",
    )
    upperworks: str | None = choice(
        "What stands above the water",
        UPPERWORKS_KINDS,
        default="unknown",
        default_source="drag coefficient 0.8, ITTC 7.5-02-03-01.4",
        what="The shape of hull and house in the wind.",
        changes="Air drag: up to 45 per cent more than while it is unknown.",
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
        changes="The wake and the thrust deduction, and with them the power by about ten per cent and the pitch by about three.",
    )
    appendage: tuple[Appendage, ...] = rows(
        Appendage,
        asked="What hangs below the hull, one by one, instead of the one surface above",
        told="Keel, rudder, struts and shafts as entered",
        one="part",
        several="Parts below the hull",
        add="Add a keel, rudder, strut or shaft",
    )

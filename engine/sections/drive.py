"""The gear and propeller sections."""

from dataclasses import dataclass

from engine.data import table
from engine.entries import Measure, choice, count, quantity
from engine.sections.measures import GEAR_RATING, LENGTH, PER_CENT, PLAIN, RATIO, SMALL_LENGTH
from engine.units import Dimension, Quantity

SIZE_STEPS: tuple[str, ...] = tuple(table("stock_propellers")["steps"])
BLADE_SECTIONS: tuple[str, ...] = (
    "as stock wheels usually have",
    *(row["words"] for row in table("stock_propellers")["sections"]),
)
AREA_MEASURES = EXPANDED_RATIO, DEVELOPED_RATIO, MEAN_WIDTH_RATIO = (
    "expanded area ratio",
    "developed or disc-area ratio",
    "mean-width ratio of a blade",
)
MARGIN_STATES = AT_FULL_LOAD, AT_HALF_LOAD = "clean, full load, calm water", "new, clean, half load, calm water"
OUTPUT_TURNS = ("clockwise", "anti-clockwise")


@dataclass(frozen=True)
class Gear:
    """The reduction gear."""

    ratios: tuple[Quantity, ...] = quantity(
        "Ratios on offer",
        RATIO,
        between=("1", "8"),
        several=True,
        needed=True,
        can_be_guessed=True,
        what="The ratios that the gear is made in, ahead, as exactly as the maker gives them, with semicolons between.",
        changes="Shaft speed. A deeper ratio turns a larger propeller more slowly, and that saves power if it fits.",
    )
    ratio: Quantity | None = quantity(
        "Ratio chosen",
        RATIO,
        between=("1", "8"),
        what="The one that you mean to order. Leave it empty to take the one that this page recommends.",
        changes="Propeller, shaft torque and shaft diameter.",
    )
    rating: Quantity | None = quantity(
        "Gear rating",
        GEAR_RATING,
        between=("0.1 kW per 100 rpm", "100 kW per 100 rpm"),
        what="Input power that the gear may carry for each 100 rpm of input speed, in the duty class you need.",
        how="On the gear maker's sheet; take the class for displacement boats, not pleasure.",
        changes="Whether the gear lasts.",
    )
    ratings: tuple[Quantity, ...] = quantity(
        "Rating of each ratio",
        GEAR_RATING,
        between=("0.1 kW per 100 rpm", "100 kW per 100 rpm"),
        several=True,
        what="When the maker rates the ratios differently: one rating for each of the ratios on offer, in the same order, "
        "with semicolons between. The deepest ratio of a gear is often rated lower.",
        how="On the gear maker's sheet, one line for each ratio.",
        changes="Which of the ratios carry this engine.",
    )
    output_turns: str | None = choice(
        "Output flange turns, seen from astern",
        OUTPUT_TURNS,
        what="Which way the gear turns the shaft when the boat is driven ahead, looking forward from astern. Of two gears the "
        "starboard one.",
        how="Ask the gear maker for the ratio you want; some gears turn the other way in some ratios.",
        changes="The hand of the propeller: clockwise wants a right-hand wheel.",
    )
    efficiency: Quantity | None = quantity(
        "Gear efficiency",
        PER_CENT,
        between=("80 %", "100 %"),
        default="97 %",
        default_source="one engine maker's ISO 8665 practice; Gerr (2009) takes 96 %",
        what="Share of the power that leaves the gear. Of a motor with 1:1 as the only ratio, or the chosen one, and no gear "
        "rating there is no gear: empty is 100 % then.",
    )
    shaft_efficiency: Quantity | None = quantity(
        "Shaft and bearing efficiency",
        PER_CENT,
        between=("85 %", "100 %"),
        default="98.5 %",
        default_source="from memory, trade practice",
        what="Share of the power that gets from the gear flange to the propeller.",
    )


@dataclass(frozen=True)
class Propeller:
    """The room there is, the kind of wheel wanted, and the size chosen."""

    room: Quantity | None = quantity(
        "Room for the propeller",
        SMALL_LENGTH,
        between=("200 mm", "3 m"),
        needed=True,
        can_be_guessed=True,
        what="Free height through the shaft centre: twice the smaller distance from it to the hull above or the heel below.",
        how="Hauled out, with a tape from the shaft centre; measure where the blade tips will pass.",
        changes="The largest diameter, and with it the ratio and the efficiency.",
    )
    tip_clearance: Quantity | None = quantity(
        "Tip clearance",
        PER_CENT,
        between=("3 %", "30 %"),
        default="10 %",
        default_source="maker's minimum and common trade practice; 15 to 20 % is quieter",
        what="Gap between blade tip and hull, as a share of the diameter, at each side.",
        changes="The largest diameter; a smaller gap means noise and vibration.",
    )
    blades: int | None = count(
        "Blades",
        2,
        5,
        default="3",
        default_source="common practice, no source",
        what="Number of blades.",
        how="Three suits most boats; four when the diameter is short or the aperture wide enough; two for sailing.",
        changes="Efficiency, vibration and the blade area that can be had.",
    )
    area_ratio: Quantity | None = quantity(
        "Blade area ratio",
        PLAIN,
        between=("0.15", "1.2"),
        what="Area of all blades over the area of the disc. Empty: 0.30, 0.55, 0.65 or 0.80 for two to five blades, or the "
        "next in stock with which a size suits.",
        how="From the shop's list. Stock wheels: two blades about 0.30, three 0.50 to 0.55, four 0.62 to 0.70 (from memory).",
        changes="Cavitation and a little efficiency.",
    )
    area_measure: str | None = choice(
        "Blade area is given as",
        AREA_MEASURES,
        default="expanded area ratio",
        default_source="what the propeller series are written in; for flat-faced wheels the disc-area ratio is nearly the same",
        what="Lists give the blade area in three ways. The mean-width ratio is the mean width of one blade over the "
        "diameter.",
        changes="How the number is read; a mean-width ratio of 0.33 is an area ratio of 0.50 with three blades.",
    )
    sections: str | None = choice(
        "Blade sections",
        BLADE_SECTIONS,
        default="as stock wheels usually have",
        default_source="stock wheels of three and four blades have flat faces, so the Gawn series; the others the B-series: ours",
        what="Which family of tested propellers stands in for the wheel. Flat-faced blades take more torque at the same "
        "pitch than airfoil ones.",
        how="Hold a straight edge to the after face of a blade, across it: flat faces touch it from edge to edge.",
        changes="The pitch, by 2 to 5 %, and with it the engine speed at full throttle.",
    )
    shaft_depth: Quantity | None = quantity(
        "Depth of the shaft centre",
        LENGTH,
        between=("0.1 m", "5 m"),
        what="How deep the centre of the propeller lies below the water.",
        how="On the hard, from the waterline mark down to the shaft centre. Empty: taken at the hull draft.",
        changes="The check on cavitation, a little.",
    )
    sizes: str | None = choice(
        "Stock sizes",
        SIZE_STEPS,
        default="whole diameters and half-inch pitches",
        default_source="common practice, no source",
        what="The steps in which the propeller shop stocks or pitches wheels.",
    )
    light_running: Quantity | None = quantity(
        "Light-running margin",
        PER_CENT,
        between=("0 %", "12 %"),
        default="3 %",
        default_source="trade practice for displacement boats: 100 to 103 % of rated speed, clean and loaded",
        what="How much faster than rated the propeller would turn at rated power on the trial: what is kept for "
        "growth and weight to come. 0 to 3 % suits a displacement boat; ships keep 4 to 7 %.",
        changes="The pitch. Too little overloads the engine when she is foul; too much wastes speed.",
    )
    margin_state: str | None = choice(
        "The margin is for the boat",
        MARGIN_STATES,
        default="clean, full load, calm water",
        default_source="trade practice for displacement boats",
        what="In which state she must have this margin at full throttle. Full load is her displacement on the hull page, half "
        "load the one below. A wheel that just suits her new, clean and half loaded is too coarse when she is loaded.",
        changes="The pitch, a little.",
    )
    half_load: Quantity | None = quantity(
        "Displacement at half load",
        Measure(Dimension.MASS, "t", "lb"),
        between=("100 kg", "200 t"),
        what="What she weighs on her trial with half of fuel, water and stores. Empty: 95 % of her displacement on the hull "
        "page, which is at full load (ours: fuel, water, stores and crew are a tenth of many cruising boats).",
        changes="Only the margin for the half-loaded boat.",
    )
    diameter: Quantity | None = quantity(
        "Diameter chosen",
        SMALL_LENGTH,
        between=("150 mm", "3 m"),
        what="Of the wheel that you mean to order, or have already. Leave it empty to take the recommended one.",
    )
    pitch: Quantity | None = quantity(
        "Pitch chosen",
        SMALL_LENGTH,
        between=("80 mm", "3 m"),
        what="Of the wheel that you mean to order, or have already. Leave it empty to take the recommended one.",
    )

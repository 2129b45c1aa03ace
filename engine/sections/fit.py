"""The fit section: engine room, air, exhaust, water, fuel line, bed and weights that the new engine must suit."""

from dataclasses import dataclass

from engine.entries import Measure, choice, count, quantity
from engine.sections.measures import ELECTRIC_POWER, GAS_PRESSURE, LENGTH, SMALL_LENGTH, TEMPERATURE, VOLUME, WEIGHT
from engine.units import Dimension, Quantity

DRY_EXHAUST = "dry"
EXHAUSTS = ("wet", DRY_EXHAUST)
DUCTS = STRAIGHT_DUCTS, BENT_DUCTS = "straight and short", "long or bent"


@dataclass(frozen=True)
class Fit:
    """What is aboard for the engine to live with. Every field is optional; an empty one is not checked."""

    room_length: Quantity | None = quantity(
        "Engine room, clear length",
        LENGTH,
        between=("0.3 m", "8 m"),
        what="From bulkhead to the shaft coupling, where engine and gear stand.",
        how="With a tape, past everything that cannot be moved.",
    )
    room_width: Quantity | None = quantity(
        "Engine room, clear width",
        LENGTH,
        between=("0.3 m", "6 m"),
        what="Between tanks, bearers' knees or frames at the height of the engine's widest part; for both of two engines.",
    )
    room_height: Quantity | None = quantity(
        "Engine room, clear height",
        LENGTH,
        between=("0.3 m", "4 m"),
        what="From the lowest place of the sump to the deck or hatch above.",
    )
    opening_width: Quantity | None = quantity(
        "Narrowest opening on the way in",
        LENGTH,
        between=("0.2 m", "6 m"),
        what="The smaller side of the hatch or door that the engine must pass, gear taken off or not.",
    )
    vent_area: Quantity | None = quantity(
        "Vents, free area",
        Measure(Dimension.AREA, "cm2", "in2"),
        between=("5 cm2", "5 m2"),
        what="Net area through which the engine room draws air. Louvres and grilles leave about half of their face (from memory).",
        how="Add up the openings; take the narrowest place of each duct.",
    )
    ducts: str | None = choice(
        "Air ducts",
        DUCTS,
        default="straight and short",
        default_source="the lesser need",
        what="The way that the air has into the engine room. Long or bent ducts want a fifth more area.",
    )
    outside_air: Quantity | None = quantity(
        "Air outside on a warm day",
        TEMPERATURE,
        between=("-10 C", "50 C"),
        default="25 C",
        default_source="common practice, no source",
        what="How warm it gets where she is used. The air that goes through the engine room must cool it from there.",
    )
    radiated_heat: Quantity | None = quantity(
        "Heat radiated by the engine",
        ELECTRIC_POWER,
        between=("0.1 kW", "100 kW"),
        what="Heat given off to the engine room, from the data sheet. Empty: 5 % of the fuel's energy (from memory).",
    )
    exhaust: str | None = choice(
        "Exhaust",
        EXHAUSTS,
        default="wet",
        default_source="common practice, no source",
        what="Wet: raw water is injected into it. Dry: a lagged pipe up a funnel.",
    )
    exhaust_bore: Quantity | None = quantity(
        "Exhaust hose or pipe, bore",
        SMALL_LENGTH,
        between=("20 mm", "400 mm"),
        what="Inside diameter of the narrowest part that stays.",
        changes="Back pressure; never smaller than the outlet of the engine.",
    )
    exhaust_length: Quantity | None = quantity(
        "Exhaust run, length",
        LENGTH,
        between=("0.3 m", "40 m"),
        what="From the engine to the outlet, all parts.",
    )
    exhaust_bends: int | None = count(
        "Exhaust run, right-angle bends", 0, 20, what="Two bends of 45 degrees count as one, which is on the safe side."
    )
    back_pressure_limit: Quantity | None = quantity(
        "Back pressure allowed by the maker",
        GAS_PRESSURE,
        between=("1 kPa", "40 kPa"),
        what="On the data sheet. Empty: 7.5 kPa (2.2 in Hg) without and 6.8 kPa (2.0 in Hg) with turbocharger (ours, on the "
        "careful side).",
    )
    injection_height: Quantity | None = quantity(
        "Raw-water injection above the waterline",
        SMALL_LENGTH,
        between=("-1 m", "3 m"),
        what="Height of the injection point above the loaded waterline; below it is minus.",
        how="From the engine's drawing and a waterline marked inside the hull.",
        changes="Whether an anti-siphon loop is wanted.",
    )
    loop_height: Quantity | None = quantity(
        "Top of the anti-siphon loop above the waterline",
        SMALL_LENGTH,
        between=("0 mm", "4 m"),
        what="How far it stands above the water at her worst heel.",
    )
    riser_height: Quantity | None = quantity(
        "Lift from muffler to the highest point",
        LENGTH,
        between=("0 m", "5 m"),
        what="How high the exhaust must lift the water out of the water-lift muffler.",
    )
    muffler_volume: Quantity | None = quantity(
        "Water-lift muffler, volume",
        VOLUME,
        between=("1 L", "500 L"),
        what="On its plate or from its measures.",
        changes="Whether the water that falls back when she stops stays out of the engine.",
    )
    inlet_bore: Quantity | None = quantity(
        "Raw-water inlet, bore",
        SMALL_LENGTH,
        between=("8 mm", "200 mm"),
        what="Inside diameter of seacock, strainer and hose, the smallest of them.",
    )
    suction_lift: Quantity | None = quantity(
        "Raw-water pump above the waterline",
        LENGTH,
        between=("0 m", "5 m"),
        what="Height over which the pump must suck; nothing when it stands below.",
    )
    fuel_line_bore: Quantity | None = quantity(
        "Fuel supply line, bore",
        SMALL_LENGTH,
        between=("3 mm", "50 mm"),
        what="Inside diameter of the supply line that stays.",
    )
    fuel_line_length: Quantity | None = quantity(
        "Fuel supply line, length",
        LENGTH,
        between=("0.2 m", "30 m"),
        what="From tank to engine.",
    )
    cranking_current: Quantity | None = quantity(
        "Starting battery, cold-cranking current",
        Measure(Dimension.ELECTRIC_CURRENT, "A", "A"),
        between=("50 A", "5000 A"),
        what="On its label: cold-cranking amperes, CCA, of a 12 V battery.",
    )
    mounts_ahead: Quantity | None = quantity(
        "Fore mounts ahead of the engine's weight",
        SMALL_LENGTH,
        between=("10 mm", "4 m"),
        what="From the centre of gravity of engine and gear forward to the fore pair of mounts.",
        how="On the maker's drawing.",
    )
    mounts_behind: Quantity | None = quantity(
        "After mounts behind the engine's weight",
        SMALL_LENGTH,
        between=("10 mm", "4 m"),
        what="From the centre of gravity aft to the after pair of mounts.",
    )
    mount_track: Quantity | None = quantity(
        "Mounts apart, across",
        SMALL_LENGTH,
        between=("150 mm", "3 m"),
        what="Between the middles of port and starboard mounts.",
        changes="The load that the torque of the propeller adds to one side.",
    )
    bearers_apart: Quantity | None = quantity(
        "Bearers apart, across",
        SMALL_LENGTH,
        between=("150 mm", "3 m"),
        what="Between the middles of the engine bearers that are in her.",
        how="With a tape, at the places where mounts stand now.",
        changes="Whether the new mounts stand on the old bearers.",
    )
    present_place: Quantity | None = quantity(
        "Present engine, ahead of the stern",
        LENGTH,
        between=("0 m", "40 m"),
        what="Middle of the present engine's weight, forward of the after end of the waterline.",
    )
    new_place: Quantity | None = quantity(
        "New engine, ahead of the stern",
        LENGTH,
        between=("0 m", "40 m"),
        what="Middle of the new engine's weight, forward of the after end of the waterline. Empty: as the present one.",
    )
    battery_place: Quantity | None = quantity(
        "Propulsion batteries, ahead of the stern",
        LENGTH,
        between=("0 m", "40 m"),
        what="Middle of the batteries of an electric drive. Empty: with the motor.",
    )
    other_weight: Quantity | None = quantity(
        "Other weight put in",
        WEIGHT,
        between=("-10 t", "10 t"),
        what="Tanks, ballast, batteries; what comes out is minus.",
    )
    other_place: Quantity | None = quantity(
        "Other weight, ahead of the stern",
        LENGTH,
        between=("0 m", "40 m"),
        what="Where that weight goes, forward of the after end of the waterline.",
    )

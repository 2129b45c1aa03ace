"""The shaft section: the propeller shaft and what carries it."""

from dataclasses import dataclass

from engine.data import table
from engine.entries import choice, quantity
from engine.sections.measures import ANGLE, LENGTH, PLAIN, SMALL_LENGTH, WEIGHT
from engine.units import Quantity

SHAFT_MATERIALS: tuple[str, ...] = tuple(table("shaft_materials")["material"])
SHAFT_USES: tuple[str, ...] = tuple(table("shaft_factors")["safety_factor"])
SHAFT_SIZES = ("inch", "metric")
COUPLINGS = SOFT_MOUNTS, RIGID_MOUNTS, FLEXIBLE_COUPLING = (
    "rigid, engine on soft mounts",
    "rigid, engine rigidly mounted",
    "flexible",
)
SEALS = STUFFING_BOX, FLEXIBLE_SEAL = "stuffing box", "flexible seal"


@dataclass(frozen=True)
class Shaft:
    """The propeller shaft and what carries it."""

    material: str | None = choice(
        "Shaft material",
        SHAFT_MATERIALS,
        default="S31600",
        default_source="common and weak: the careful choice while you do not know",
        what="UNS number on the certificate. S31600 is the common stainless; S32205 duplex; S20910 high strength.",
        changes="The diameter: the strong ones need about a third less.",
    )
    use: str | None = choice(
        "Use of the boat",
        SHAFT_USES,
        default="long-range cruising",
        default_source="Gerr (2009) prints 3.5 to 4 for long-range motor cruisers",
        what="What she is used for. It sets the safety factor of the shaft.",
    )
    safety_factor: Quantity | None = quantity(
        "Safety factor of your own",
        PLAIN,
        between=("2", "12"),
        what="When a surveyor or a rule asks for another factor than the use of the boat gives.",
        changes="Shaft diameter, with its cube root.",
    )
    sizes: str | None = choice(
        "Stock diameters",
        SHAFT_SIZES,
        what="Inch or metric bar. Empty: as a diameter of your own is stocked, else as the plan's units.",
    )
    diameter: Quantity | None = quantity(
        "Diameter of your own",
        SMALL_LENGTH,
        between=("10 mm", "200 mm"),
        what="When the shaft that is in her stays, or when another is wanted than the thinnest stock one that is strong "
        "enough. Empty: that one.",
        how="Callipers on the bare shaft, where it is not worn.",
        changes="The bore of the propeller, bearings and coupling, and how far the bearings may stand apart.",
    )
    span: Quantity | None = quantity(
        "Longest distance between bearings",
        LENGTH,
        between=("0.2 m", "8 m"),
        needed=True,
        what="From bearing to bearing; the gear coupling counts only when the engine is rigidly mounted.",
        how="Along the shaft, middle of bearing to middle of bearing. A flexible seal is not a bearing.",
        changes="Whether the shaft whips.",
    )
    overhang: Quantity | None = quantity(
        "Overhang of the propeller",
        SMALL_LENGTH,
        between=("20 mm", "1 m"),
        what="From the aft bearing's support (a third of its length from its after end) to the middle of the hub.",
        changes="Critical speed of the shaft.",
    )
    propeller_weight: Quantity | None = quantity(
        "Weight of the propeller",
        WEIGHT,
        between=("1 kg", "800 kg"),
        what="Dry weight of the wheel, from the shop's list.",
        changes="Critical speed of the shaft; without it only the bare shaft is checked.",
    )
    angle: Quantity | None = quantity(
        "Shaft angle",
        ANGLE,
        between=("0 deg", "20 deg"),
        what="Angle of the shaft to the water.",
        how="A spirit level with a protractor on the shaft, in flat water with usual trim.",
        changes="Thrust, a little; engine sump and gear limits.",
    )
    length: Quantity | None = quantity(
        "Length of the shaft",
        LENGTH,
        between=("0.3 m", "20 m"),
        what="From the gear coupling to the propeller.",
        changes="Whether the makers should be asked for a torsional check.",
    )
    coupling: str | None = choice(
        "Coupling at the gear",
        COUPLINGS,
        what="How shaft and gear are joined. A soft coupling does not hold the shaft, and may not take the thrust: ask its maker.",
        changes="What counts as a bearing, and where the thrust goes.",
    )
    flange: Quantity | None = quantity(
        "Coupling flange, diameter",
        SMALL_LENGTH,
        between=("60 mm", "500 mm"),
        what="Outside diameter of the flange at the gear.",
        how="Callipers or a tape across the faces.",
        changes="The gap allowed when it is aligned.",
    )
    seal: str | None = choice(
        "Shaft seal",
        SEALS,
        what="A stuffing box with packing, or a lip or face seal on a hose.",
        changes="A flexible seal does not hold the shaft as an old rigid stuffing box did.",
    )

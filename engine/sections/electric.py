"""Electric candidates of the engine section: motor, battery and what charges it."""

from dataclasses import dataclass

from engine.data import table
from engine.entries import Measure, choice, quantity, words
from engine.sections.measures import ELECTRIC_POWER, PER_CENT, POWER, ROTATION, SMALL_LENGTH, WEIGHT
from engine.units import Dimension, Quantity

BATTERY_KINDS: tuple[str, ...] = tuple(table("electric")["battery"])
YES_NO = NO, YES = "no", "yes"
FIGURES = DATA_SHEET, INVENTED = "a data sheet", "a generic invented example"


@dataclass(frozen=True)
class DataSheet:
    """What every candidate has."""

    name: str = words(
        "Name",
        needed=True,
        what="What you call it, so that you can tell the candidates apart.",
    )
    figures: str | None = choice(
        "The figures are from",
        FIGURES,
        default="a data sheet",
        default_source="what you should have before you order",
        what="A generic example is invented, to try the plan before you have a data sheet. Replace its figures one by one.",
    )


@dataclass(frozen=True)
class Motor(DataSheet):
    """One electric drive that could go in."""

    rated_power: Quantity | None = quantity(
        "Continuous power at the motor's shaft",
        POWER,
        between=("1 kW", "500 kW"),
        needed=True,
        what="What it may give for hours, at its shaft. Peak power and input power are larger figures: do not take them.",
        changes="Top speed, and what the propeller must absorb.",
    )
    rated_speed: Quantity | None = quantity(
        "Rated motor speed",
        ROTATION,
        between=("300 rpm", "8000 rpm"),
        needed=True,
        what="Motor speed at which the continuous power is given.",
        changes="The reduction and the pitch.",
    )
    battery: Quantity | None = quantity(
        "Battery, rated energy",
        Measure(Dimension.ENERGY, "kWh", "kWh"),
        between=("1 kWh", "2000 kWh"),
        needed=True,
        what="Energy of all propulsion batteries when new: volts times ampere-hours, over 1000. 48 V 400 Ah is understood, "
        "too, and is 19.2 kWh.",
        changes="Range, in proportion.",
    )
    voltage: Quantity | None = quantity(
        "Battery, voltage",
        Measure(Dimension.VOLTAGE, "V", "V"),
        between=("10 V", "1000 V"),
        what="Nominal voltage of the propulsion battery, all of it together. Empty: as the battery is written, where that is "
        "48 V 400 Ah or the like.",
        how="On the battery's label, or on the data sheet of the motor, which is made for one voltage.",
        changes="The current that cables, fuses and switches must carry: half of it at twice the voltage.",
    )
    peak_power: Quantity | None = quantity(
        "Peak power",
        POWER,
        between=("1 kW", "800 kW"),
        what="What it may give for a minute or so.",
        changes="What shaft, coupling and gear must carry for a moment. The propeller is sized for the continuous power.",
    )
    highest_speed: Quantity | None = quantity(
        "Highest motor speed",
        ROTATION,
        between=("300 rpm", "10000 rpm"),
        what="Where the controller holds the motor. Empty: 1.08 of rated speed (ours).",
    )
    battery_kind: str | None = choice(
        "Kind of battery",
        BATTERY_KINDS,
        default="lithium iron phosphate",
        default_source="common practice, no source",
        what="Sets how much of the energy may be used, what is lost in the battery and about what it weighs.",
    )
    usable: Quantity | None = quantity(
        "Usable share of the battery",
        PER_CENT,
        between=("10 %", "100 %"),
        what="Share of the rated energy that may be drawn. Empty: 80 % of lithium, 50 % of lead (from memory).",
        changes="Range, in proportion.",
    )
    aged: Quantity | None = quantity(
        "Capacity to plan on",
        PER_CENT,
        between=("50 %", "100 %"),
        default="80 %",
        default_source="of new, at the end of the battery's life; from memory",
        what="What is left of the rated energy when the battery has aged.",
        changes="Range, in proportion.",
    )
    chain_efficiency: Quantity | None = quantity(
        "Efficiency from battery to motor shaft",
        PER_CENT,
        between=("50 %", "100 %"),
        what="Battery, cables, controller and motor, multiplied. Empty: the product of usual figures, about 85 % (from memory).",
        changes="Range, in proportion. The gear or belt comes on top, on the gear page.",
    )
    house_load: Quantity | None = quantity(
        "Other electric load under way",
        Measure(Dimension.POWER, "W", "W"),
        between=("0 W", "50 kW"),
        default="0 W",
        default_source="fridge, lights and instruments on a battery of their own",
        what="What else draws on the propulsion battery.",
        changes="Range at low speed, and the best speed.",
    )
    charge_power: Quantity | None = quantity(
        "Charging power",
        ELECTRIC_POWER,
        between=("0.1 kW", "300 kW"),
        what="Of the charger, or of the shore plug: 230 V at 16 A give 3.7 kW.",
        changes="Hours on the plug.",
    )
    generator_power: Quantity | None = quantity(
        "Generator aboard, electric power",
        ELECTRIC_POWER,
        between=("0.5 kW", "500 kW"),
        what="Continuous electric power of a diesel generator that drives the motor when the battery is low.",
        changes="Range: with it the fuel tank counts as well.",
    )
    regenerates: str | None = choice(
        "Turns the propeller into a generator under sail",
        YES_NO,
        default="no",
        default_source="the careful choice",
        what="Whether the motor may charge while she sails.",
        changes="A bonus that is shown, and never counted as range.",
    )
    weight: Quantity | None = quantity(
        "Weight of motor, gear and controller",
        WEIGHT,
        between=("5 kg", "3 t"),
        what="Without the batteries.",
        changes="The change of weight against what comes out.",
    )
    battery_weight: Quantity | None = quantity(
        "Weight of the batteries",
        WEIGHT,
        between=("5 kg", "20 t"),
        what="With their boxes. Empty: from the energy and the kind (from memory).",
        changes="The change of weight, and trim.",
    )
    length: Quantity | None = quantity(
        "Length with gear or belt",
        SMALL_LENGTH,
        between=("100 mm", "3 m"),
        what="From the foremost part to the output flange.",
        changes="Whether it goes into the engine room.",
    )
    width: Quantity | None = quantity(
        "Width", SMALL_LENGTH, between=("100 mm", "3 m"), what="Over all, mounts included."
    )
    height: Quantity | None = quantity("Height", SMALL_LENGTH, between=("100 mm", "3 m"), what="Over all.")

    @property
    def cylinders(self) -> None:
        """A motor has none."""
        return None

    @property
    def peak_over_continuous(self) -> float:
        """Peak power over continuous power [-]; 1 where that is no more, or one of them is not known."""
        if self.peak_power is None or self.rated_power is None:
            return 1.0
        return max(self.peak_power.si / self.rated_power.si, 1.0)

"""The costs section: what the repower costs, and what it costs to run her."""

from dataclasses import dataclass
from typing import Any

from engine.entries import Measure, quantity, rows, words
from engine.sections.measures import FLOW, HOURS, KNOTS, PER_CENT, VOLUME
from engine.units import Dimension, Quantity

_MONEY = Measure(Dimension.MONEY, "", "")


def _money(label: str, *, what: str, how: str = "", changes: str = "The sum of the budget.") -> Any:
    """An amount; where nothing else is said, a line of the budget."""
    return quantity(label, _MONEY, between=("0", "100000000"), what=what, how=how, changes=changes)


@dataclass(frozen=True)
class OtherPrice:
    """A line of the budget that has no field of its own."""

    item: str = words("Item", what="What it is: a day tank, sound insulation, a survey, transport.")
    price: Quantity | None = _money("Price", what="In your own currency, tax with it.")


@dataclass(frozen=True)
class HoursAtSpeed:
    """Part of a year under power, at one speed."""

    speed: Quantity | None = quantity(
        "Speed",
        KNOTS,
        between=("0.3 kn", "25 kn"),
        what="Through the water.",
        changes="The fuel of a year: a knot more near hull speed can double the burn.",
    )
    hours: Quantity | None = quantity(
        "Hours in a year",
        HOURS,
        between=("0 h", "8760 h"),
        what="How long she runs at about that speed in a usual year.",
        how="From the ship's log, or a share of the hour meter.",
    )


@dataclass(frozen=True)
class Costs:
    """Prices are plain numbers in the owner's currency; all of it is optional."""

    currency: str = words(
        "Currency",
        what="One word such as EUR. Every amount on this page, and the fuel price, is in it; amounts are plain numbers.",
    )
    engine: Quantity | None = _money(
        "Engine, or motor with battery",
        what="As quoted, tax with it: with panel, loom and mounts, and with the gear if that is one price. All engines.",
        how="The enquiry sheet of the report asks the maker for a quotation.",
    )
    gear: Quantity | None = _money("Gear", what="Of all engines. Write 0 where it is in the price of the engine.")
    propeller: Quantity | None = _money(
        "Propeller",
        what="Of all shafts, with nut and key.",
        how="The order sheet of the report is what the propeller shop asks for.",
    )
    shaft: Quantity | None = _money(
        "Shaft and stern gear", what="Shaft, coupling, bearings and seal. Write 0 when the old ones stay."
    )
    installation: Quantity | None = _money(
        "Exhaust, fuel, electrics",
        what="What the installation needs besides: hoses, muffler, filters, tanks, cables, starting battery.",
        how="The fit page says what has to change.",
        changes="The sum of the budget. It is the part that is most often forgotten.",
    )
    yard: Quantity | None = _money(
        "Yard work",
        what="Hours of the yard: old engine out, bearers, new engine in, alignment afloat, trial. Write 0 for your own work.",
        how="Ask for a fixed price, or for hours and the price of one.",
    )
    haul_out: Quantity | None = _money(
        "Haul-out, crane and launch", what="Lifting her, the crane for the engines, days ashore."
    )
    contingency: Quantity | None = quantity(
        "Put by for surprises",
        PER_CENT,
        between=("0 %", "100 %"),
        default="15 %",
        default_source="common practice, no source",
        what="Contingency: a share of the sum of the budget. Rotten bearers and worn bearings show when the engine is out.",
        changes="The total.",
    )
    hours_per_year: Quantity | None = quantity(
        "Hours under power in a year",
        HOURS,
        between=("1 h", "8760 h"),
        what="In a usual year. Empty: the hours of the engine page; without those 100 h, the middle of the 50 to 200 h that "
        "most private boats run.",
        how="The hour meter at the beginning and end of a season.",
        changes="Fuel in a year, and in how many years the repower pays.",
    )
    upkeep: Quantity | None = _money(
        "Upkeep in a year, new engine or motor",
        what="Oil, filters, impellers, belts, service; of a battery what you put by for the next one.",
        changes="The saving, and what an hour costs.",
    )
    cleaning: Quantity | None = _money(
        "Haul-out and cleaning of the bottom",
        what="One haul-out with cleaning of bottom and propeller, in a usual year.",
        changes="When a cleaning pays, on the page of the trial.",
    )
    present_burn: Quantity | None = quantity(
        "Burn at cruise now, all engines",
        FLOW,
        between=("0.1 L/h", "400 L/h"),
        what="What she burns now at the cruising speed of this plan.",
        how="Fill the tank, run some hours at cruise, fill again and read the pump.",
        changes="The saving against now.",
    )
    present_fuel: Quantity | None = quantity(
        "Fuel in a year, now",
        VOLUME,
        between=("1 L", "1000000 L"),
        what="What she takes in a usual year, with the hours of this page. It comes before the burn above.",
        how="Add up the receipts of a year.",
        changes="The saving against now.",
    )
    upkeep_now: Quantity | None = _money(
        "Upkeep in a year, now",
        what="Parts and service of the present engine, a repair now and then with them.",
        how="Add up the receipts of some years and divide.",
        changes="The saving: an old engine often costs more in repairs than in fuel.",
    )
    overhaul: Quantity | None = _money(
        "Overhaul that the repower avoids",
        what="What it would take to put the present engine in order instead.",
        how="Ask the yard for a price, parts with it: it is the other choice you have.",
        changes="What has to be repaid.",
    )
    resale: Quantity | None = _money(
        "What the old engine brings", what="As it is, or in parts.", changes="What has to be repaid."
    )
    years: Quantity | None = quantity(
        "Years you mean to keep her",
        Measure(Dimension.DURATION, "years", "years"),
        between=("1 year", "60 years"),
        default="10 years",
        default_source="ours",
        what="Over these years the price is spread and the saving added up. At their end the new engine counts for nothing.",
        changes="What an hour costs, and what is left in the end.",
    )
    interest: Quantity | None = quantity(
        "Interest in a year",
        PER_CENT,
        between=("0 %", "50 %"),
        default="0 %",
        default_source="money that is at hand and would lie still; ours",
        what="Of a loan, or what the money would earn elsewhere.",
        changes="What an hour costs, and what is left in the end.",
    )
    other: tuple[OtherPrice, ...] = rows(
        OtherPrice,
        asked="Other lines of the budget",
        told="Other lines of the budget as entered",
        one="line",
        several="Other lines of the budget",
        add="Add a line of your own to the budget",
    )
    hours: tuple[HoursAtSpeed, ...] = rows(
        HoursAtSpeed,
        asked="Hours at each speed, instead of all of them at cruise",
        told="Hours at each speed as entered",
        one="part of the year",
        several="Hours at a speed",
        add="Add hours at a speed",
    )

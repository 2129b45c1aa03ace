"""The costs section: what the repower costs, and what it costs to run her."""

from dataclasses import dataclass

from engine.entries import quantity
from engine.units import Dimension, Quantity


@dataclass(frozen=True)
class Costs:
    """Prices are plain numbers in the owner's currency; all of it is optional."""

    hours_per_year: Quantity | None = quantity(
        "Hours under power in a year",
        Dimension.DURATION,
        "h",
        "h",
        between=("0 h", "8000 h"),
        default="100 h",
        default_source="most private boats run 50 to 200 h a year; from memory",
        what="Hours that the engine runs in a usual year.",
        how="The hour meter at the beginning and end of a season.",
        changes="Fuel in a year, and in how many years the repower pays.",
    )

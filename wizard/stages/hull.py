"""The hull page's plot: the boat's place among the ranges of the methods, and what each method is worth for her."""

from typing import TYPE_CHECKING

from engine.stages.wording import percent
from wizard.rulers import Ruler, Rulers

if TYPE_CHECKING:
    from engine.stages.hull import HullAnswers, RangePlace


def chart(answers: "HullAnswers", units: str) -> Rulers:
    """A ruler for each method, with its weight and doubt, and a mark for each of its ranges."""
    del units  # shares of a range have no unit
    return Rulers(
        "The boat in the ranges of the methods",
        ("Method", "weight", "doubt"),
        tuple(
            Ruler(
                (row.method, percent(row.weight_fraction), percent(row.doubt_fraction)),
                tuple(_share(place) for place in answers.places if place.method == row.method),
                row.standing,
            )
            for row in answers.methods
        ),
    )


def _share(place: "RangePlace") -> float:
    """Where the boat lies, 0 at the low end of the range and 1 at the high end."""
    return (place.value - place.low) / (place.high - place.low) if place.high > place.low else 0.5

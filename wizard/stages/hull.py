"""The hull page's plot: the boat's place among the ranges of the methods."""

from typing import TYPE_CHECKING

from wizard.charts import Chart, Series

if TYPE_CHECKING:
    from engine.stages.hull import HullAnswers


def chart(answers: "HullAnswers", units: str) -> Chart:
    """Every range of every method from 0 to 1, and where the boat lies in it."""
    del units  # shares of a range have no unit
    places = answers.places
    ticks = [float(len(places) - i) for i in range(len(places))]
    shares = [
        (place.value - place.low) / (place.high - place.low) if place.high > place.low else 0.5 for place in places
    ]
    inside = [(share, tick) for share, tick, place in zip(shares, ticks, places, strict=True) if place.inside]
    outside = [(share, tick) for share, tick, place in zip(shares, ticks, places, strict=True) if not place.inside]
    names = [f"{place.parameter}, {place.method.split()[-1]}" for place in places]
    return Chart(
        "The boat in the ranges of the methods",
        "0 is the low end of the range, 1 the high end",
        "",
        (
            Series("inside the range", [x for x, _ in inside], [y for _, y in inside], is_line=False),
            Series("outside the range", [x for x, _ in outside], [y for _, y in outside], is_line=False),
        ),
        verticals=(("low end", 0.0), ("high end", 1.0)),
        y_ticks=tuple(zip(ticks, names, strict=True)),
    )

"""The power page's plot: power against speed, the methods, and the owner's log."""

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from engine.answers import in_owners_units
from wizard.charts import Chart, Series
from wizard.stages.scales import axis, best_and_band, column

if TYPE_CHECKING:
    from engine.stages.power import PowerAnswers, PowerRow

LEAST_WEIGHT = 0.05
"""A method is drawn where it has this share in the consensus. Our own choice."""
DRAWN_SHARES = (0.05, 1.6)
"""The curve is drawn between these shares of the shaft power at top speed. Our own choice."""


def chart(answers: "PowerAnswers", units: str) -> Chart:
    """Shaft power with its band and the log beside it; under them the effective power, together and by each method.

    The methods share one mark: they lie close to each other, and their names and weights are on the hull page.
    """
    curve = _worth_drawing(answers)
    each = tuple(_method_points(curve, units))
    speeds = column(curve, "speed_kn", units)
    return Chart(
        "Power against speed",
        "Speed, kn",
        axis("power", "power_kw", units),
        (
            *best_and_band("shaft power, calm", curve, "speed_kn", "shaft_power_kw", units),
            Series("effective power, methods together", speeds, column(curve, "consensus_kw", units)),
            Series("each method", [x for x, _ in each], [y for _, y in each], is_line=False),
            _logged("your log", answers, "yes", units),
            _logged("log, left out", answers, "no", units),
        ),
    )


def _logged(words: str, answers: "PowerAnswers", counts: str, units: str) -> Series:
    points = [point for point in answers.logged if point.counts == counts]
    return Series(words, column(points, "speed_kn", units), column(points, "shaft_power_kw", units), is_line=False)


def _worth_drawing(answers: "PowerAnswers") -> list["PowerRow"]:
    """The rows about the planned speeds: power climbs so fast that the rest would flatten them."""
    top = answers.top_shaft_power_kw.best
    low, high = (share * top for share in DRAWN_SHARES)
    return [row for row in answers.curve if not math.isfinite(top) or low <= row.shaft_power_kw.best <= high]


def _method_points(curve: list["PowerRow"], units: str) -> Iterator[tuple[float, float]]:
    """(speed, effective power) of each method at each speed where it counts."""
    for row in curve:
        for label, weight in row.by_method_fraction.items():
            power = row.methods.get(label)
            if power is not None and weight >= LEAST_WEIGHT:
                yield row.speed_kn, in_owners_units("power_kw", power, units)

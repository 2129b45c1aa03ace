"""The gear page's plot: efficiency of the propeller against the ratio."""

from typing import TYPE_CHECKING

from engine.showing import show
from engine.units import Dimension
from wizard.charts import Chart, Series

if TYPE_CHECKING:
    from engine.stages.gear_answers import GearAnswers


def chart(answers: "GearAnswers", units: str) -> Chart:
    """Efficiency for every ratio on offer; the points where the room limits the diameter are marked apart."""
    limited = [row for row in answers.options if row.diameter_m < row.free_diameter_m * 0.999]
    free = [row for row in answers.options if row not in limited]
    largest = show(answers.largest_diameter_m, "in" if units == "imperial" else "mm", Dimension.LENGTH, 3)
    return Chart(
        "Propeller efficiency against gear ratio",
        "Ratio: turns of the engine for one of the shaft",
        "efficiency, %",
        (
            Series(
                "the best diameter fits",
                [r.ratio for r in free],
                [r.efficiency_fraction.best * 100 for r in free],
                is_line=False,
            ),
            Series(
                f"diameter held to {largest} by the room",
                [r.ratio for r in limited],
                [r.efficiency_fraction.best * 100 for r in limited],
                is_line=False,
            ),
        ),
        verticals=(("chosen ratio", answers.ratio),),
    )

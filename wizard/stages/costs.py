"""The costs page's plot: what the distance of a year takes at each speed, in money where there is a price."""

from typing import TYPE_CHECKING

from wizard.charts import Chart, Series
from wizard.stages.scales import axis, best_and_band, column

if TYPE_CHECKING:
    from engine.stages.costs_answers import CostsAnswers


def chart(answers: "CostsAnswers", units: str) -> Chart:
    """The same distance in a year, at one speed: cost, else fuel or energy, with its band; hours on the right."""
    words, name = _measure(answers)
    currency = answers.steps[0].cost_money.currency if answers.steps and answers.steps[0].cost_money else ""
    speeds = column(answers.steps, "speed_kn", units)
    return Chart(
        f"{words.capitalize()} of a year, the same distance at one speed",
        "Speed, kn",
        f"{words}, {currency}" if currency else axis(words, name, units),
        (
            *best_and_band(f"{words} (left scale)", answers.steps, "speed_kn", name, units),
            Series("hours (right scale)", speeds, column(answers.steps, "hours_h", units), is_right=True),
        ),
        verticals=(("mean speed of the year, kn", answers.distance_nmi / answers.hours_per_year_h),),
        right_label=axis("hours", "hours_h", units),
    )


def _measure(answers: "CostsAnswers") -> tuple[str, str]:
    """What is plotted, in words, and its column."""
    if answers.spent_money is not None:
        return "cost", "cost_money"
    return ("energy", "energy_kwh") if answers.fuel_l is None else ("fuel", "fuel_l")

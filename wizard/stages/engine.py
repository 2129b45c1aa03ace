"""The engine page's plot: power available and demanded against engine speed."""

from typing import TYPE_CHECKING

from wizard.charts import Chart, Series
from wizard.stages.scales import axis, best_and_band, column

if TYPE_CHECKING:
    from engine.stages.engine import EngineAnswers


def chart(answers: "EngineAnswers", units: str) -> Chart:
    """The full-load curve of the chosen engine over what the hull asks for."""
    speeds = column(answers.curve, "engine_rpm", units)
    return Chart(
        "Available and demanded",
        "Engine speed, rpm",
        axis("power of one engine", "power_kw", units),
        (
            Series("full load", speeds, column(answers.curve, "available_kw", units)),
            *best_and_band("demand, calm", answers.curve, "engine_rpm", "demand_kw", units),
            Series("with margin", speeds, column(answers.curve, "service_demand_kw", units)),
        ),
        verticals=(("rated rpm", answers.rated_rpm),),
    )

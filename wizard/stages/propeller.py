"""The propeller page's plot: the engine curve against the propeller's demand."""

from typing import TYPE_CHECKING

from wizard.charts import Chart, Series
from wizard.stages.scales import axis, column

if TYPE_CHECKING:
    from engine.stages.propeller_answers import PropellerAnswers


def chart(answers: "PropellerAnswers", units: str) -> Chart:
    """Where the demand meets the engine curve is full throttle; it should lie at rated speed or just above."""
    rows = answers.match
    speeds = column(rows, "engine_rpm", units)
    return Chart(
        "Engine against propeller",
        "Engine speed, rpm",
        axis("power at crankshaft", "power_kw", units),
        (
            Series("engine, full load", speeds, column(rows, "available_kw", units)),
            Series("clean and calm", speeds, column(rows, "demand_kw", units)),
            Series("foul", speeds, column(rows, "foul_demand_kw", units)),
            Series("head wind", speeds, column(rows, "head_wind_demand_kw", units)),
        ),
        verticals=(
            ("rated rpm", answers.rated_rpm),
            ("full throttle, low", answers.full_throttle_rpm.low),
            ("high", answers.full_throttle_rpm.high),
        ),
    )

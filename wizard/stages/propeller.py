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
    lines = {
        "engine, full load": "available_kw",
        "clean and calm": "demand_kw",
        "foul": "foul_demand_kw",
        "head wind": "head_wind_demand_kw",
    }
    known = {name for row in rows for name in lines.values() if getattr(row, name) is not None}
    return Chart(
        "Engine against propeller",
        "Engine speed, rpm",
        axis("power at crankshaft", "power_kw", units),
        tuple(Series(words, speeds, column(rows, name, units)) for words, name in lines.items() if name in known),
        verticals=(
            ("rated rpm", answers.rated_rpm),
            ("full throttle, low", answers.full_throttle_rpm.low),
            ("high", answers.full_throttle_rpm.high),
        ),
    )

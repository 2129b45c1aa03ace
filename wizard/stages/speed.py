"""The speed page's plot: what each mile costs against speed, with hull speed marked."""

from typing import TYPE_CHECKING

from wizard.charts import Chart
from wizard.stages.scales import best_and_band

if TYPE_CHECKING:
    from engine.stages.speed import SpeedAnswers


def chart(answers: "SpeedAnswers", units: str) -> Chart:
    """Energy for each nautical mile against speed."""
    return Chart(
        "What a mile costs",
        "Speed, kn",
        "energy per nautical mile, kWh",
        best_and_band("energy per mile", answers.steps, "speed_kn", "energy_per_mile_kwh", units),
        verticals=(
            ("hull speed, kn", answers.hull_speed_kn.best),
            ("cruise, kn", answers.cruise_kn),
            ("top, kn", answers.top_kn),
        ),
    )

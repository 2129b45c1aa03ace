"""The speed page's plot: what each mile costs against speed, with hull speed marked."""

from typing import TYPE_CHECKING

from wizard.charts import Chart, Series
from wizard.stages.scales import column

if TYPE_CHECKING:
    from engine.stages.speed import SpeedAnswers


def chart(answers: "SpeedAnswers", units: str) -> Chart:
    """Energy for each nautical mile against speed."""
    speeds = column(answers.steps, "speed_kn", units)
    energy = [step.energy_per_mile_kwh for step in answers.steps]
    return Chart(
        "What a mile costs",
        "Speed, kn",
        "energy per nautical mile, kWh",
        (Series("energy per mile", speeds, energy),),
        verticals=(
            ("hull speed, kn", answers.hull_speed_kn),
            ("cruise, kn", answers.cruise_kn),
            ("top, kn", answers.top_kn),
        ),
    )

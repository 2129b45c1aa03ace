"""The trial page's plot: boat speed against engine speed, expected with its band and as it was run."""

from typing import TYPE_CHECKING

from wizard.charts import Chart, Series
from wizard.stages.scales import axis, best_and_band, column

if TYPE_CHECKING:
    from engine.stages.trial_answers import TrialAnswers


def chart(answers: "TrialAnswers", units: str) -> Chart:
    """Expected boat speed with its band, and the runs beside it."""
    turns, speeds = (column(answers.runs, name, units) for name in ("engine_rpm", "speed_kn"))
    return Chart(
        "Boat speed against engine speed",
        "Engine speed, rpm",
        axis("speed", "speed_kn", units),
        (
            *best_and_band("expected", answers.predicted, "engine_rpm", "speed_kn", units),
            *((Series("your runs", turns, speeds, is_line=False),) if answers.runs else ()),
        ),
        verticals=(("rated, rpm", answers.rated_rpm),),
    )

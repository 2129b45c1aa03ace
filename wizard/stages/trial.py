"""The trial page's plot: boat speed against engine speed, expected and run; once there is one, the log over the
seasons."""

from typing import TYPE_CHECKING

from wizard.charts import Chart, Series
from wizard.stages.scales import axis, best_and_band, column

if TYPE_CHECKING:
    from engine.stages.trial_answers import TrialAnswers

_LEAST_READINGS = 3
"""Of a log over the seasons that is worth a plot: as many as make a line with something to spare."""


def chart(answers: "TrialAnswers", units: str) -> Chart:
    """The seasons when they have readings enough, which are younger than the trial; else the trial."""
    return _seasons(answers) if len(answers.seasons) >= _LEAST_READINGS else _trial(answers, units)


def _trial(answers: "TrialAnswers", units: str) -> Chart:
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


def _seasons(answers: "TrialAnswers") -> Chart:
    """How much more engine speed she needs than the clean boat, over the months since the first reading."""
    months = [row.since_first_months for row in answers.seasons]
    more = [100.0 * row.rise_fraction for row in answers.seasons]
    return Chart(
        "More engine speed than the clean boat needs",
        "Months since the first reading",
        "more rpm, %",
        (Series("your readings", months, more),),
        horizontals=(("clean", 0.0),),
    )

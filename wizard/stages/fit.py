"""The fit page's plot: how she floats after the change of weight, along the waterline."""

from typing import TYPE_CHECKING

from engine.constants import INCH
from wizard.charts import Chart, Series

if TYPE_CHECKING:
    from engine.stages.fit_answers import FitAnswers

_ENDS = (0.0, 100.0)


def chart(answers: "FitAnswers", units: str) -> Chart:
    """The change of draft from stern to bow, against the old waterline; nothing while the weights are not known."""
    unit = "cm" if units == "metric" else "in"
    changes = (answers.stern_m, answers.bow_m)
    if answers.stern_m is None or answers.bow_m is None:
        changes = (answers.sinkage_m, answers.sinkage_m)
    scale = 0.01 if units == "metric" else INCH
    deeper = [change / scale for change in changes if change is not None]
    return Chart(
        "How she floats after the change of weight",
        "Along the waterline, % ahead of the stern",
        f"deeper by, {unit}",
        (Series("new waterline", _ENDS, deeper), Series("old waterline", _ENDS, (0.0, 0.0))) if deeper else (),
    )

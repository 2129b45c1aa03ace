"""The shaft page's plot: critical speed over the distance between bearings, against the running speed."""

from typing import TYPE_CHECKING

from engine.answers import in_owners_units
from wizard.charts import Chart, Series
from wizard.stages.scales import axis, column

if TYPE_CHECKING:
    from engine.stages.shaft_answers import ShaftAnswers


def chart(answers: "ShaftAnswers", units: str) -> Chart:
    """The shaft must turn well under the curve at its own span."""
    return Chart(
        "Critical speed of the shaft",
        axis("Distance between bearings", "span_m", units),
        "shaft speed, rpm",
        (
            Series(
                "it would whip above this",
                column(answers.spans, "span_m", units),
                column(answers.spans, "critical_rpm", units),
            ),
            Series(
                "by the Dunkerley sum",
                column(answers.spans, "span_m", units),
                column(answers.spans, "dunkerley_rpm", units),
            ),
        ),
        verticals=(("your span", in_owners_units("span_m", answers.span_m, units)),),
        horizontals=(("it turns at, rpm", answers.shaft_rpm),),
    )

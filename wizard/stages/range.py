"""The range page's plot: range and burn against speed, each on its own scale."""

from typing import TYPE_CHECKING

from wizard.charts import Chart, Series
from wizard.stages.scales import axis, best_and_band, column

if TYPE_CHECKING:
    from engine.stages.range import RangeAnswers


def chart(answers: "RangeAnswers", units: str) -> Chart:
    """Range on the left scale, burn on the right one."""
    speeds = column(answers.curve, "speed_kn", units)
    return Chart(
        "Range and burn",
        "Speed, kn",
        "range, nmi",
        (
            *best_and_band("range (left scale)", answers.curve, "speed_kn", "range_nmi", units),
            Series("burn (right scale)", speeds, column(answers.curve, "burn_l_per_h", units), is_right=True),
        ),
        verticals=(("best range at, kn", answers.best_kn),),
        right_label=axis("burn", "burn_l_per_h", units),
    )

"""The range page's plot: range and consumption against speed, each on its own scale, with the other candidates."""

from typing import TYPE_CHECKING

from wizard.charts import Chart, Series
from wizard.stages.scales import axis, best_and_band, column

if TYPE_CHECKING:
    from engine.stages.range_answers import RangeAnswers


def chart(answers: "RangeAnswers", units: str) -> Chart:
    """Range on the left scale, of the chosen candidate with its band and of the others; consumption on the right."""
    is_electric = answers.cruise_l_per_h is None
    taken, words = ("drawn_kw", "drawn") if is_electric else ("burn_l_per_h", "burn")
    taken_units = "metric" if is_electric else units  # what is drawn is in kW for every owner, as in the table
    others = dict.fromkeys(row.candidate for row in answers.beside)
    speeds = column(answers.curve, "speed_kn", units)
    return Chart(
        f"Range and {words}",
        "Speed, kn",
        "range, nmi",
        (
            *best_and_band("range (left scale)", answers.curve, "speed_kn", "range_nmi", units),
            *(_range_of(name, answers) for name in others),
            Series(f"{words} (right scale)", speeds, column(answers.curve, taken, taken_units), is_right=True),
        ),
        verticals=(("best range at, kn", answers.best_kn),),
        right_label=axis(words, taken, taken_units),
    )


def _range_of(name: str, answers: "RangeAnswers") -> Series:
    """Range of another candidate on the same speeds."""
    rows = [row for row in answers.beside if row.candidate == name]
    return Series(name, [row.speed_kn for row in rows], [row.range_nmi for row in rows])

"""The power page's plot: power against speed, all methods, and the owner's log."""

from typing import TYPE_CHECKING

from engine.answers import in_owners_units
from wizard.charts import Chart, Series
from wizard.stages.scales import axis, column

if TYPE_CHECKING:
    from engine.stages.power import PowerAnswers


def chart(answers: "PowerAnswers", units: str) -> Chart:
    """Shaft power calm and with margin, the effective power of every method, and the logged points."""
    curve = answers.curve
    speeds = column(curve, "speed_kn", units)
    series = [
        Series("shaft power, calm", speeds, column(curve, "shaft_power_kw", units)),
        Series("shaft power with margin", speeds, column(curve, "service_shaft_power_kw", units)),
    ]
    if answers.logged:
        logged = answers.logged
        series.append(
            Series(
                "your log", column(logged, "speed_kn", units), column(logged, "shaft_power_kw", units), is_line=False
            )
        )
    for name in dict.fromkeys(method for row in curve for method in row.methods):
        powers = [row.methods.get(name) for row in curve]
        shown = [float("nan") if power is None else in_owners_units("power_kw", power, units) for power in powers]
        series.append(Series(f"effective, {name}", speeds, shown))
    return Chart("Power against speed", "Speed, kn", axis("power", "power_kw", units), tuple(series))

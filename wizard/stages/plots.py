"""The plot of each page, by the name of its stage."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from engine.answers import said_of_motor
from wizard.charts import Chart
from wizard.rulers import Rulers
from wizard.stages import costs, engine, fit, gear, hull, power, propeller, range, shaft, speed, trial

CHARTS: Mapping[str, Callable[[Any, str], Chart | Rulers]] = {
    "hull": hull.chart,
    "speed": speed.chart,
    "power": power.chart,
    "engine": engine.chart,
    "gear": gear.chart,
    "propeller": propeller.chart,
    "shaft": shaft.chart,
    "range": range.chart,
    "fit": fit.chart,
    "costs": costs.chart,
    "trial": trial.chart,
}


def chart_of(stage: str, answers: Any, units: str, *, of_motor: bool = False) -> Chart | Rulers:
    """The chart of a stage's answers in the owner's units.   of_motor: as `Outcome.of_motor`."""
    drawn = CHARTS[stage](answers, units)
    return chart_of_motor(drawn) if of_motor and isinstance(drawn, Chart) else drawn


def chart_of_motor(chart: Chart) -> Chart:
    """A chart whose words on an engine are said of a motor."""
    return replace(
        chart,
        title=said_of_motor(chart.title),
        x_label=said_of_motor(chart.x_label),
        y_label=said_of_motor(chart.y_label),
        series=tuple(replace(series, name=said_of_motor(series.name)) for series in chart.series),
        verticals=tuple((said_of_motor(name), at) for name, at in chart.verticals),
    )

"""The plot of each page, by the name of its stage."""

from collections.abc import Callable, Mapping
from typing import Any

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


def chart_of(stage: str, answers: Any, units: str) -> Chart | Rulers:
    """The chart of a stage's answers in the owner's units."""
    return CHARTS[stage](answers, units)

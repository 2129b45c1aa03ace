"""Stock wheels from which a propeller is taken: their steps, and the market of them searched for a setting."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from engine.constants import INCH
from engine.data import table
from engine.defaults import word
from engine.numeric import Array, Real
from engine.plan import Plan
from engine.propeller import handbook
from engine.propeller.cavitation import TIP_SPEED_LIMITS
from engine.propeller.market import (
    MarketBoat,
    MarketEngine,
    MarketFound,
    PlausibleBoats,
    Stock,
    Told,
    search,
    stock_of,
)
from engine.propeller.ranking import MarketLimits
from engine.showing import round_number
from engine.stages.boats import each_boat
from engine.stages.setting import Setting

USUAL_LINE, LAST_LINE = "merchant", "ten_percent"
"""Of Burrill's chart: where blades may be chosen freely, and where the owner has chosen them or none has that much."""
_SMALLEST = 0.5
"""Diameters are tried from this share of the largest that fits (ours)."""
_SMALLEST_OF_USUAL = 0.7
"""And, where there is room for far more than the shaft wants, from this share of the handbook's diameter (ours)."""

_ROUNDING = 1e-6
"""Of a step: so much short of a whole one is a whole one, written in another unit."""


@dataclass(frozen=True)
class Steps:
    """Steps of diameter and pitch in which wheels are stocked [m], and the unit in which their sizes are written."""

    diameter: float
    pitch: float
    unit: str

    def text(self, length: float) -> str:
        """A diameter or pitch in the unit of the steps: "14.5 in", "390 mm"."""
        return f"{round_number(length / _METRES[self.unit], 4)} {self.unit}"


_METRES = {"in": INCH, "mm": 1e-3}
STEPS: Mapping[str, Steps] = {
    words: Steps(row["diameter"] * _METRES[row["unit"]], row["pitch"] * _METRES[row["unit"]], row["unit"])
    for words, row in table("stock_propellers")["steps"].items()
}
"""By the words of the plan's field."""
_FINEST: Mapping[str, Steps] = {
    unit: min((steps for steps in STEPS.values() if steps.unit == unit), key=lambda steps: steps.pitch)
    for unit in _METRES
}


def stock_steps(plan: Plan) -> Steps:
    """The steps that the plan asks for."""
    return STEPS[word(plan.propeller, "sizes")]


def other_steps(steps: Steps) -> Steps:
    """Centimetres for who orders in inches, inches with half-inch pitches for who orders in centimetres."""
    return _FINEST["mm" if steps.unit == "in" else "in"]


def size_words(size: tuple[float, float], blades: int, steps: Steps) -> str:
    """As the trade writes it, diameter first: "19 x 14 in, 3 blades"."""
    diameter, pitch = (steps.text(length) for length in size)
    number, _, _ = diameter.partition(" ")
    return f"{number} x {pitch}, {blades} blades"


def fitted_words(size: tuple[float, float], blades: int, steps: Steps) -> str:
    """The same of a wheel that is there: in the steps of the plan, or in the others where it reads shorter in those."""
    return min((size_words(size, blades, each) for each in (steps, other_steps(steps))), key=len)


def whole_steps(largest: float, step: float) -> int:
    """How many steps a diameter has [-] that fits in the largest there is room for, both [m]."""
    return int(np.floor(largest / step + _ROUNDING))


def stock_diameters(setting: Setting, ratios: Sequence[float], largest: float, step: float) -> Array:
    """Diameters in whole steps, up to the largest that fits, down to what the fastest of the shafts could want [m]."""
    fastest = setting.drive.engine.rated_speed / min(ratios)
    usual = float(handbook.diameter(setting.drive.power_at_propeller, fastest))
    last = whole_steps(largest, step)
    first = np.ceil(min(_SMALLEST * last, _SMALLEST_OF_USUAL * usual / step))
    sizes: Array = step * np.arange(max(1.0, first), last + 1.0)
    return sizes


def market_for(
    setting: Setting,
    stock: Stock,
    ratios: Sequence[float],
    largest: float,
    rows: int,
    area_line: str = USUAL_LINE,
    told: Told | None = None,
) -> MarketFound:
    """The best of a stock with the ratios, for the engine of a setting on its boats in the state its margin is for.

    Where it is too close to call, the number of blades nearest to that of the setting decides first.

    largest: diameter that fits [m].   area_line: of Burrill's chart, which the blade area must satisfy.
    The ratio of the setting does not matter.   Burn is of all engines, in the state that the margin is for.
    """
    fleet, boats, drive, case = setting.hull.fleet, setting.hull.boats, setting.drive, setting.cases.margin

    def burn(delivered: Real, engine_speed: Real) -> Real:
        return drive.consumption(delivered, engine_speed) * setting.demand.screws

    return search(
        stock,
        np.asarray(ratios, dtype=float),
        MarketBoat(
            case.middle,
            setting.cruise,
            setting.shaft_pressure,
            float(setting.hull.water.kinematic_viscosity),
        ),
        PlausibleBoats(
            case.boats,
            fleet.weights,
            each_boat(boats.propeller_pitch, fleet.rows),
            each_boat(boats.engine_output, fleet.rows),
            each_boat(boats.blade_torque, fleet.rows),
        ),
        MarketEngine(drive.power_at_propeller, drive.engine.rated_speed, burn),
        MarketLimits(largest, setting.wanted_margin, float(TIP_SPEED_LIMITS["erosion_expected"]), area_line=area_line),
        rows,
        told,
        setting.kind.blades,
    )


def stock_for(setting: Setting, largest: float, steps: Steps, diameter: float | None, pitch: float | None) -> Stock:
    """The stock for a setting in its kind of blades; of one diameter or one pitch [m] when the owner has chosen it."""
    kind = setting.kind
    if diameter is None:
        diameters = stock_diameters(setting, (setting.ratio,), largest, steps.diameter)
    else:
        diameters = np.array([diameter])
    if pitch is None:
        return stock_of([kind], diameters, steps.pitch)
    fitting = diameters[kind.series.describes(diameters, pitch)]
    return Stock((kind,), np.zeros(fitting.size, dtype=np.intp), fitting, np.full(fitting.size, pitch))

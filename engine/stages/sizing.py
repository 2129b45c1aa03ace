"""Stock propellers tried on the middle of the fleet, and the size that the propeller stage takes."""

from dataclasses import dataclass, replace

import numpy as np

from engine.numeric import Array
from engine.propeller.at_power import point_at_power
from engine.propeller.equilibrium import OperatingPoint, shaft_speed_at_boat_speed
from engine.propeller.market import MarketFound
from engine.propeller.matching import light_running_margin
from engine.propeller.ranking import Rule
from engine.stages.blades import wider_areas
from engine.stages.setting import Setting
from engine.stages.stock import LAST_LINE, Steps, market_for, stock_for

Size = tuple[float, float]
"""Diameter and pitch [m]."""


@dataclass(frozen=True, eq=False)
class TriedSizes:
    """Propellers tried on the middle of the fleet; every array has the shape of the sizes tried.

    light_running: over rated speed, where the propeller takes rated power, less one.   cruise: at the cruising speed.
    cruise_consumption: of all engines, as Drive.consumption.
    """

    diameter: Array
    pitch: Array
    light_running: Array
    cruise: OperatingPoint
    cruise_consumption: Array


def try_propellers(setting: Setting, diameter: Array, pitch: Array) -> TriedSizes:
    """What propellers of these sizes [m] do on the middle of the fleet, clean and calm."""
    open_water = setting.open_water(diameter, pitch)
    run = point_at_power(open_water, diameter, setting.drive.power_at_propeller, setting.cases.margin.middle)
    point = shaft_speed_at_boat_speed(open_water, diameter, setting.cruise, setting.cases.calm.middle)
    return TriedSizes(
        diameter=diameter,
        pitch=pitch,
        light_running=np.asarray(light_running_margin(run.point.shaft_speed, setting.rated_shaft_speed)),
        cruise=point,
        cruise_consumption=setting.consumption(point),
    )


@dataclass(frozen=True, eq=False)
class SizeTaken:
    """The size taken; None when there is none, and then what ruled the others out.   found: None without a search.

    area_ratio: of its blades, where the usual ones are too narrow for every size; else None.
    """

    size: Size | None
    found: MarketFound | None
    area_ratio: float | None = None

    @property
    def binding_rules(self) -> tuple[Rule, ...]:
        """The rules without which there would be a size, the most rewarding first."""
        ruled_out = {} if self.found is None else self.found.ruled_out
        rules = [rule for rule, count in ruled_out.items() if count.by_this_alone > 0]
        return tuple(sorted(rules, key=lambda rule: -ruled_out[rule].by_this_alone))


def take_size(setting: Setting, largest: float, steps: Steps) -> SizeTaken:
    """The size for the ratio of a setting: the owner's, else the best of the stock.

    largest: diameter that there is room for [m].
    Where none keeps to every rule: with blades of the least area in stock with which one does, unless the owner gives
    the area; and with one of diameter and pitch chosen, the nearest to the margin asked for.
    """
    chosen = setting.plan.propeller
    diameter, pitch = (None if own is None else own.si for own in (chosen.diameter, chosen.pitch))
    if diameter is not None and pitch is not None:
        return SizeTaken((diameter, pitch) if setting.kind.series.describes(diameter, pitch) else None, None)
    if diameter is not None:
        largest = diameter
    stock = stock_for(setting, largest, steps, diameter, pitch)
    found = market_for(setting, stock, (setting.ratio,), largest, rows=1, area_line=LAST_LINE)
    if found.rows:
        return SizeTaken((found.rows[0].diameter, found.rows[0].pitch), found)
    if setting.area_ratio is None and Rule.BLADE_AREA in SizeTaken(None, found).binding_rules:
        for area in wider_areas(setting.plan):
            wider = take_size(replace(setting, area_ratio=area), largest, steps)
            if wider.found is not None and wider.found.rows:
                return replace(wider, area_ratio=area)
    if diameter is None and pitch is None:
        return SizeTaken(None, found)
    tried = try_propellers(setting, stock.diameter, stock.pitch)
    known = np.flatnonzero(np.isfinite(tried.light_running))
    if known.size == 0:
        return SizeTaken(None, found)
    nearest = known[np.argmin(np.abs(tried.light_running[known] - setting.wanted_margin))]
    return SizeTaken((float(stock.diameter[nearest]), float(stock.pitch[nearest])), found)

"""Stage 5: which ratio? Every ratio on offer with the best propeller that fits, on the plausible boats."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from engine.constants import KNOT, RPM
from engine.findings import Outcome
from engine.numeric import Array
from engine.plan import Plan, is_direct
from engine.stages.boats import each_boat
from engine.stages.cases import Cases
from engine.stages.demand import ThrustDemand
from engine.stages.drive import Drive, said_of
from engine.stages.gear_answers import GearAnswers, RatioRow
from engine.stages.gear_findings import gear_findings
from engine.stages.hull import HullAnswers
from engine.stages.ratios import Option, Ratios
from engine.stages.setting import Setting
from engine.stages.speed import SpeedAnswers
from engine.stages.wheel import Wheel, speeds_together


def assess_gear(
    plan: Plan, hull: HullAnswers, speed: SpeedAnswers, demand: ThrustDemand, cases: Cases, drive: Drive, ratios: Ratios
) -> Outcome[GearAnswers]:
    """The ratios on offer side by side, with the bands of what they come to."""
    settings = [Setting(plan, hull, speed, demand, cases, drive, option.row.ratio) for option in ratios.options]
    options = tuple(replace(row, chosen=row.ratio == ratios.ratio) for row in _rows_on_boats(ratios.options, settings))
    chosen = next(option for option in options if option.chosen)
    best_use = next(option for option in options if option.ratio == ratios.best_use_ratio)
    direct = is_direct(plan, ratios.ratio)
    answers = GearAnswers(
        ratio=ratios.ratio,
        recommended_ratio=ratios.recommended_ratio,
        shaft_rpm=chosen.shaft_rpm,
        shaft_torque_nm=chosen.shaft_torque_nm,
        largest_diameter_m=ratios.largest_diameter_m,
        needed_rating_kw_per_100_rpm=None if direct else drive.gear_rating_needed * 100.0 * RPM / 1e3,
        rating_margin_fraction=chosen.rating_margin_fraction,
        options=options,
    )
    return Outcome(answers, said_of(drive, gear_findings(plan, answers, best_use)))


def _rows_on_boats(options: Sequence[Option], settings: Sequence[Setting]) -> Iterator[RatioRow]:
    """The rows of the options, with the bands of their propellers on the plausible boats."""
    wheels = [
        Wheel(setting, option.row.diameter_m, option.row.pitch_m) if option.suits else None
        for option, setting in zip(options, settings, strict=True)
    ]
    reached = iter(speeds_together([wheel for wheel in wheels if wheel]))
    for option, wheel in zip(options, wheels, strict=True):
        yield _with_bands(option, wheel, next(reached)) if wheel else option.row


def _with_bands(option: Option, wheel: Wheel, reached: Array) -> RatioRow:
    """The row of an option.   reached: boat speed of each boat at full throttle [m/s]."""
    row, setting = option.row, wheel.setting
    fleet, calm = setting.hull.fleet, setting.cases.calm
    point = wheel.at(calm, np.array([setting.cruise]))
    consumed = fleet.band(each_boat(setting.consumption(point), fleet.rows))
    return replace(
        row,
        efficiency_fraction=fleet.band(each_boat(point.efficiency, fleet.rows)),
        top_kn=fleet.band(reached).scaled(1.0 / KNOT),
        cruise_l_per_h=setting.drive.if_fuel(consumed),
        cruise_drawn_kw=setting.drive.if_electric(consumed),
        free_saving_fraction=1.0 - option.free / consumed.best if row.is_held_back else None,
    )

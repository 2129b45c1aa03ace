"""The tables of the propeller stage: full throttle state by state, the match over the range, the sizes beside it."""

import math
from collections.abc import Iterator, Sequence

import numpy as np

from engine.bands import Band
from engine.constants import KNOT, RPM
from engine.numeric import Array
from engine.plan import Plan
from engine.stages.cases import Case
from engine.stages.propeller_answers import CaseRow, MatchRow, NeighbourRow
from engine.stages.room import tip_clearance
from engine.stages.setting import Setting
from engine.stages.sizing import TriedSizes, try_propellers
from engine.stages.stock import stock_steps
from engine.stages.wheel import Wheel, try_together

SHAFT_SPEEDS = np.linspace(0.25, 1.25, 41)
"""Shaft speeds over rated speed at which demand and full load are compared (ours)."""
BOATS_BESIDE = 256
"""Plausible boats that say by how much growth and wind move the demand, and that try sizes in the other unit; ours."""


def case_rows(wheel: Wheel) -> Iterator[CaseRow]:
    """Full throttle in each state."""
    setting, fleet = wheel.setting, wheel.setting.hull.fleet
    for case in setting.cases:
        found = wheel.full_throttle(case)
        yield CaseRow(
            state=case.words,
            full_throttle_rpm=fleet.band(found.shaft_speed * setting.ratio / RPM),
            reaches_rated_fraction=fleet.share(found.reaches_rated),
            top_kn=fleet.band(found.boat_speed / KNOT),
        )


def match_rows(wheel: Wheel) -> Iterator[MatchRow]:
    """Demand against full load over the engine's speeds, from idle on where that is known. Fewer of the boats say by
    how much growth and wind move the demand."""
    setting = wheel.setting
    drive, cases, fleet = setting.drive, setting.cases, setting.hull.fleet
    beside = Wheel(setting.with_fewer_boats(BOATS_BESIDE), wheel.diameter, wheel.pitch)
    few = beside.setting
    shaft_speed: Array = setting.rated_shaft_speed * SHAFT_SPEEDS
    engine_speed = shaft_speed * setting.ratio
    turns = (engine_speed >= (drive.engine.idle_speed or 0.0)) & (engine_speed <= drive.engine.no_load_speed)
    if not turns.any():
        return
    shaft_speed, engine_speed = shaft_speed[turns], engine_speed[turns]
    calm = wheel.over(cases.calm, shaft_speed)
    to_crankshaft = float(drive.at_crankshaft(1.0)) / 1e3
    speeds = fleet.each_band(calm.boat_speed)
    powers = fleet.each_band(calm.delivered_power)
    before = few.hull.fleet.each_band(calm.delivered_power[setting.rows_of_fewer(BOATS_BESIDE)])

    def in_case(case: Case) -> list[Band]:
        """The demand in a state that fewer boats are tried in: that in the calm, moved as theirs is moved."""
        after = few.hull.fleet.each_band(beside.over(case, shaft_speed).delivered_power)
        return list(map(_moved, powers, before, after))

    foul = in_case(few.cases.foul)
    head_wind = None if few.cases.head_wind is None else in_case(few.cases.head_wind)
    available = drive.full_load(engine_speed)
    for i in range(len(engine_speed)):
        if powers[i].is_known:
            yield MatchRow(
                engine_rpm=float(engine_speed[i]) / RPM,
                speed_kn=speeds[i].scaled(1.0 / KNOT),
                demand_kw=powers[i].scaled(to_crankshaft),
                foul_demand_kw=foul[i].scaled(to_crankshaft),
                head_wind_demand_kw=None if head_wind is None else head_wind[i].scaled(to_crankshaft),
                available_kw=float(available[i]) / 1e3,
            )


def sizes_around(setting: Setting, diameter: float, pitch: float) -> TriedSizes:
    """The size itself, first, and the stock sizes about it that the series describes, on the middle of the fleet."""
    steps = stock_steps(setting.plan)
    wider, finer = steps.diameter, steps.pitch
    moves = ((0.0, 0.0), (0.0, finer), (0.0, -finer), (wider, 0.0), (-wider, 0.0), (-wider, wider), (wider, -wider))
    diameters = np.array([diameter + move for move, _ in moves])
    pitches = np.array([pitch + move for _, move in moves])
    inside = setting.kind.series.describes(diameters, pitches)
    return try_propellers(setting, diameters[inside], pitches[inside])


def tried_beside(chosen: Wheel, around: TriedSizes) -> tuple[Wheel, ...]:
    """Wheels of the sizes around, in their order; the chosen one is the first."""
    setting = chosen.setting
    others = zip(around.diameter[1:], around.pitch[1:], strict=True)
    tried = (chosen, *(Wheel(setting, float(D), float(P)) for D, P in others))
    states = (setting.cases.calm, setting.cases.margin)
    try_together(((wheel, case) for wheel in tried for case in states), chosen.full_throttle(setting.cases.calm))
    return tried


def neighbour_rows(plan: Plan, tried: Sequence[Wheel], around: TriedSizes) -> Iterator[NeighbourRow]:
    """The chosen size, which is the first of those around it, among the others."""
    setting = tried[0].setting
    fleet, cases = setting.hull.fleet, setting.cases
    for i in np.lexsort((around.pitch, around.diameter)):
        wheel = tried[i]
        calm, margin = wheel.full_throttle(cases.calm), wheel.full_throttle(cases.margin)
        yield NeighbourRow(
            diameter_m=wheel.diameter,
            pitch_m=wheel.pitch,
            tip_clearance_fraction=tip_clearance(plan, wheel.diameter),
            full_throttle_rpm=fleet.band(calm.shaft_speed * setting.ratio / RPM),
            light_running_fraction=fleet.band(margin.light_running),
            reaches_rated_fraction=fleet.share(margin.reaches_rated),
            top_kn=fleet.band(calm.boat_speed).scaled(1.0 / KNOT),
            cruise_rpm=float(np.asarray(around.cruise.shaft_speed)[i]) * setting.ratio / RPM,
            cruise_l_per_h=setting.drive.if_fuel(float(around.cruise_consumption[i])),
            cruise_drawn_kw=setting.drive.if_electric(float(around.cruise_consumption[i])),
            chosen=bool(i == 0),
        )


def _moved(band: Band, before: Band, after: Band) -> Band:
    """A band with each of its ends changed by as much as another band's."""
    ends = ("best", "low", "high")
    return Band(*(getattr(band, end) * getattr(after, end) / (getattr(before, end) or math.nan) for end in ends))

"""The candidates on the same speeds: range, hours and cost of each, diesel or electric."""

from collections.abc import Iterator

import numpy as np

from engine.bands import Money
from engine.constants import HOUR, KNOT, NAUTICAL_MILE
from engine.numeric import Array
from engine.plan import Plan
from engine.stages.candidates import Rival, Rivals
from engine.stages.range_answers import ComparedRow, RangeRow
from engine.stages.running import Running
from engine.stages.speed import SpeedAnswers
from engine.stages.voyage import Voyage, voyage_of

_STEP_KN = 0.5


def at_cruise(plan: Plan, speed: SpeedAnswers, rivals: Rivals, chosen: RangeRow) -> Iterator[ComparedRow]:
    """Every candidate at cruise; the chosen one with its own propeller. Nothing while there is one alone."""
    if len(rivals.every) < 2:
        return
    for rival in rivals.every:
        if rival is rivals.chosen:
            yield _of_row(rival, chosen)
        else:
            voyage = voyage_of(plan, rival.drive)
            if voyage is not None:
                yield from compared(rival, voyage, np.array([speed.cruise_kn * KNOT]))


def beside(plan: Plan, rivals: Rivals, running: Running) -> Iterator[ComparedRow]:
    """The other candidates at half knots over the speeds of the chosen one's curve, as far as each can go."""
    lowest, highest = float(running.speed[0]) / KNOT, float(running.speed[-1]) / KNOT
    for rival in rivals.every:
        voyage = None if rival is rivals.chosen else voyage_of(plan, rival.drive)
        if voyage is None:
            continue
        furthest = float(rival.loading.fleet.median(rival.loading.reachable_service)) / KNOT
        reach = float(np.fmin(highest, furthest))  # nan where it could go beyond the speeds worked out
        knots = np.arange(np.ceil(lowest / _STEP_KN) * _STEP_KN, reach + 1e-9, _STEP_KN)
        yield from compared(rival, voyage, knots * KNOT)


def compared(rival: Rival, voyage: Voyage, speed: Array) -> Iterator[ComparedRow]:
    """One candidate at boat speeds (M,) [m/s], with the margin for wind and sea; a mile costs nothing that can be named
    where she makes no way over the ground."""
    drive, loading = rival.drive, rival.loading
    rate = loading.fleet.median(loading.rate(speed, service=True))
    cost = voyage.cost(voyage.per_distance(speed, rate) * NAUTICAL_MILE)
    taken, distance, time = drive.per_hour(rate + voyage.hotel), voyage.distance(speed, rate), voyage.time(rate)
    for i in range(speed.size):
        yield ComparedRow(
            candidate=rival.name,
            speed_kn=float(speed[i]) / KNOT,
            range_nmi=float(distance[i]) / NAUTICAL_MILE,
            endurance_h=float(time[i]) / HOUR,
            burn_l_per_h=drive.if_fuel(float(taken[i])),
            drawn_kw=drive.if_electric(float(taken[i])),
            cost_per_mile_money=None if cost is None else _money(float(cost[i]), voyage.currency),
        )


def _of_row(rival: Rival, row: RangeRow) -> ComparedRow:
    cost = row.cost_per_mile_money
    return ComparedRow(
        candidate=rival.name,
        speed_kn=row.speed_kn,
        range_nmi=row.range_nmi.best,
        endurance_h=row.endurance_h.best,
        burn_l_per_h=None if row.burn_l_per_h is None else row.burn_l_per_h.best,
        drawn_kw=None if row.drawn_kw is None else row.drawn_kw.best,
        cost_per_mile_money=None if cost is None else _money(cost.best, cost.currency),
    )


def _money(amount: float, currency: str) -> Money | None:
    return Money.of(amount, currency) if np.isfinite(amount) else None

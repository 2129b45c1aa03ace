"""How time grows with the work: stock wheels, and plausible boats, once, four times and sixteen times as many."""

import time
from collections.abc import Callable, Iterator, Sequence
from unittest.mock import patch

import numpy as np

from engine.assessment import assess
from engine.constants import INCH
from engine.planfile import load_plan
from engine.propeller.market import Blades, Stock, search, stock_of
from engine.propeller.series import SERIES
from engine.stages import hull
from tests.bench.bench_market import BOAT, ENGINE, LIMITS, RATIOS, plausible
from tests.bench.lines import Line, alternating, beside
from tests.bench.plans import FULL_PLAN

TIMES = (1, 4, 16)


def lines(quick: bool) -> Iterator[Line]:
    """The ratio is that of the times; one equal to how many more there are is growth in proportion."""
    rounds, sizes = (1, TIMES[:2]) if quick else (3, TIMES)
    boats, plan = plausible(0.08, 0.005, 0.01, 1.0), load_plan(FULL_PLAN)
    stocks = [_stock(times) for times in sizes]
    searches = [
        lambda stock=stock: _seconds(lambda: search(stock, RATIOS, BOAT, boats, ENGINE, LIMITS, rows=40))
        for stock in stocks
    ]
    yield from _grown("market search, stock wheels", sizes, alternating(rounds, *searches))

    def assessed(times: int) -> float:
        with patch.object(hull, "FLEET_SIZE", hull.FLEET_SIZE * times):
            return _seconds(lambda: assess(plan))

    fleets = [lambda times=times: assessed(times) for times in sizes]
    yield from _grown("assessment, plausible boats", sizes, alternating(rounds, *fleets))


def _grown(name: str, sizes: Sequence[int], columns: Sequence[Sequence[float]]) -> Iterator[Line]:
    for times, seconds in zip(sizes[1:], columns[1:], strict=True):
        yield beside(f"{name} x {times}", "s", seconds, columns[0], "x 1")


def _stock(times: int) -> Stock:
    """Some 4,000 wheels, and so many times as many by finer steps of pitch."""
    blades = [Blades(SERIES["gawn"], number, area) for number in (3, 4) for area in (0.5, 0.6)]
    return stock_of(blades, INCH * np.arange(14, 38), INCH / times)


def _seconds(what: Callable[[], object]) -> float:
    began = time.perf_counter()
    what()
    return time.perf_counter() - began

"""The full plan with its 1,024 boats: worked out alone, and after another one in which one field is different.

The baseline is a hundred exponentials of an array of 1,024 boats by 64 speeds.
"""

import time
from collections.abc import Callable, Iterator

import numpy as np

from engine.assessment import assess
from engine.plan import with_text
from engine.planfile import load_plan
from tests.bench.lines import Line, Target, alternating, beside
from tests.bench.plans import FULL_PLAN

TARGET = Target(60.0)
CHANGES = {
    "hull.displacement": "14900 lb",
    "speed.cruise": "6.2 kn",
    "gear.ratio": "2.61:1",
    "propeller.room": "23.5 in",
    "shaft.span": "46 in",
    "range.tank": "43 US gal",
    "fit.room_length": "62 in",
    "costs.hours_per_year": "130 h",
}
BOATS, SPEEDS, PASSES = 1024, 64, 100


def lines(quick: bool) -> Iterator[Line]:
    """Alone first, then after a change on each of some pages."""
    rounds = 2 if quick else 9
    plan = load_plan(FULL_PLAN)
    before = assess(plan)
    alone, passes = alternating(rounds, lambda: _ms(lambda: assess(plan)), lambda: _ms(_array_passes))
    yield beside("assessment, alone", "ms", alone, passes, "100 arrays of exp", TARGET)
    for path, text in CHANGES.items():
        changed = with_text(plan, path, text)
        assert not changed.unread, f"{path} does not understand {text}"
        after, passes = alternating(
            rounds, lambda changed=changed: _ms(lambda: assess(changed, before)), lambda: _ms(_array_passes)
        )
        yield beside(f"assessment, after a change of {path}", "ms", after, passes, "100 arrays of exp", TARGET)


def _array_passes() -> None:
    values = np.full((BOATS, SPEEDS), 0.5)
    for _ in range(PASSES):
        np.exp(values)


def _ms(what: Callable[[], object]) -> float:
    began = time.perf_counter()
    what()
    return 1e3 * (time.perf_counter() - began)

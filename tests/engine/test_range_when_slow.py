"""What is said of range at the slow end, where the engine idles and no fuel map reaches."""

from collections.abc import Callable

import pytest

from engine.plan import Plan
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]


@pytest.mark.parametrize(("idle", "slowest"), [("850 rpm", 850.0), ("", 0.27 * 2800.0)])
def test_the_curve_of_range_begins_where_the_engine_idles_or_usually_does(
    launch: Plan, change: Change, idle: str, slowest: float
) -> None:
    strong = {"engine.candidate.0.rated_power": "50 kW", "propeller.room": "760 mm", "propeller.area_ratio": "0.7"}
    plan = change(launch, {**strong, "engine.candidate.0.idle_speed": idle})
    ship = assess(plan).outcomes["range"].answers
    assert ship is not None
    turns = [row.engine_rpm.best for row in ship.curve]
    assert slowest <= turns[0] < slowest + 50.0

"""What is burnt: at full throttle what the engine takes at its full load, and at cruise in which state."""

from collections.abc import Callable

import pytest

from engine.answers import labels
from engine.constants import RPM
from engine.plan import Plan
from engine.stages.gear_answers import RatioRow
from engine.stages.market import WheelRow
from engine.stages.propeller_answers import NeighbourRow
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]
UNSURE = {
    "hull.displacement": "9 t (6 t to 12 t)",
    "hull.kind": "tug",
    "hull.appendage_area": "8 m2 (3 m2 to 14 m2)",
    "power.method": "Holtrop 1984",
}


@pytest.mark.parametrize("doubt", [{}, UNSURE], ids=["sure", "unsure"])
def test_at_full_throttle_she_takes_what_her_engine_takes_at_full_load(
    launch: Plan, change: Change, doubt: dict[str, str]
) -> None:
    outcomes = assess(change(launch, doubt | {"range.hotel": "1 L/h"})).outcomes
    drive, turning = outcomes["engine"].answers.drive, outcomes["propeller"].answers.service_full_throttle_rpm.best
    at = turning * RPM
    burn = outcomes["range"].answers.full_throttle_l_per_h
    by_its_engine = drive.per_hour(drive.engine_rate(drive.full_load(at), at)) + 1.0
    assert burn.best == pytest.approx(float(by_its_engine), rel=0.02)
    assert burn.low < burn.best < burn.high < 1.15 * burn.best
    (told,) = [f.text for f in outcomes["range"].findings if "times as much as at cruise" in f.text]
    assert f"{burn.best / outcomes['range'].answers.cruise_l_per_h.best:.1f} times as much" in told


def test_what_is_burnt_at_cruise_says_whether_it_is_in_calm_water(launch: Plan) -> None:
    """Five tables called theirs the burn at cruise, and one is a fifth more than the others."""
    found = assess(launch)
    row, spent = found.outcomes["engine"].answers.candidates[0], found.outcomes["range"].answers
    assert spent.cruise_l_per_h.best > 1.1 * row.cruise_l_per_h.best
    for kind, words in (
        (type(row), "calm"),
        (RatioRow, "calm"),
        (NeighbourRow, "calm"),
        (WheelRow, "calm"),
        (type(spent), "with margin"),
    ):
        told = dict(labels(kind))
        assert told["cruise_l_per_h"].text == f"Burn at cruise, {words}"
        assert told["cruise_drawn_kw"].text == f"Drawn at cruise, {words}"

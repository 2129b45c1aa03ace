"""What a diesel burns at full throttle: what it burns at its full load there, however unsure the boat's speed is."""

from collections.abc import Callable

import pytest

from engine.constants import RPM
from engine.plan import Plan
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

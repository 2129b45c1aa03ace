"""What the propeller page says of full throttle, where wheel and engine are far from suiting each other."""

import math
from collections.abc import Callable

from engine.findings import Verdict
from engine.plan import Plan
from engine.readiness import readiness
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]


def test_light_running_that_is_not_known_is_not_called_far_too_light(launch: Plan, change: Change) -> None:
    """With 200 kW most boats pass 1.6 times hull speed, where the curves end, before the wheel takes the power; in 150
    of 1,000 the same wheel overloads the engine."""
    size = {"propeller.diameter": "22 in", "propeller.pitch": "20 in"}
    found = assess(change(launch, size | {"engine.candidate.0.rated_power": "200 kW"}))
    wheel = found.outcomes["propeller"].answers
    assert math.isnan(wheel.light_running_fraction.best)
    assert wheel.overloaded_fraction > 0.1
    first = found.outcomes["propeller"].findings[0]
    assert (first.verdict, "is not known" in first.text) == (Verdict.LOOK, True)
    assert not any("far too light" in finding.text for finding in found.outcomes["propeller"].findings)
    reasons = [reason.text for each in readiness(found) for reason in each.reasons]
    assert any("It is not known whether the propeller takes" in text for text in reasons)
    assert not any("far too light" in text for text in reasons)

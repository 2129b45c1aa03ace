"""What the owner of a motor and a battery is told of them."""

from collections.abc import Callable

import pytest

from engine.assessment import Assessment
from engine.findings import Finding
from engine.machinery.generic_engines import GENERIC_ENGINES
from engine.plan import Plan
from tests.engine.generic_candidates import with_generic
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]


def texts(found: Assessment, stage: str, words: str) -> list[Finding]:
    return [finding for finding in found.outcomes[stage].findings if words in finding.text]


@pytest.fixture(scope="module")
def electric(launch: Plan) -> Plan:
    """The launch with an electric candidate of 12 kW and 40 kWh chosen beside her diesels."""
    return with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"])


def test_a_short_range_is_told_in_parts_of_miles_and_hours(electric: Plan, change: Change) -> None:
    """With a day sailer's battery whole miles and hours came out as "2 nmi in 0 hours"."""
    found = assess(change(electric, {"engine.motor.0.battery": "3 kWh"}))
    answers = found.outcomes["range"].answers
    (finding,) = texts(found, "range", "At cruise she goes")
    assert f"in {answers.cruise_endurance_h.best:.2g} hours" in finding.text
    assert f"goes {answers.cruise_range_nmi.best:.2g} nmi ({answers.cruise_range_nmi.low:.2g} to" in finding.text
    assert answers.cruise_endurance_h.best < 1.0

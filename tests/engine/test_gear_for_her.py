"""What the gear and propeller pages say to who has other blades, other gears, or sails."""

from collections.abc import Callable

import pytest

from engine.assessment import Assessment
from engine.findings import Finding
from engine.plan import Plan
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]


def texts(findings: tuple[Finding, ...], part: str) -> list[str]:
    return [finding.text for finding in findings if part in finding.text]


@pytest.fixture(scope="module")
def assessed(launch: Plan) -> Assessment:
    return assess(launch)


def test_who_has_said_which_way_the_output_turns_is_not_sent_to_ask_again(
    launch: Plan, change: Change, assessed: Assessment
) -> None:
    words = "the same way as the engine or the other way"
    assert len(texts(assessed.outcomes["gear"].findings, words)) == 1
    for told in (
        {"gear.output_turns": "clockwise"},
        {"hull.screws": "2", "hull.propeller_place": "twin screws on struts"},
    ):
        assert not texts(assess(change(launch, told)).outcomes["gear"].findings, words)

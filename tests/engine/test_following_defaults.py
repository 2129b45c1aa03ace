"""Defaults that follow what the plan says elsewhere."""

from collections.abc import Callable

import pytest

from engine.plan import Plan
from engine.plan_defaults import default_in
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]
COOLED = {"engine.candidate.0.kind": "turbocharged and charge-cooled"}


@pytest.mark.parametrize(
    ("sea", "own", "taken"),
    [("", "", 25.0), ("10 C", "", 25.0), ("25 C", "", 25.0), ("29 C", "", 29.0), ("29 C", "26 C", 26.0)],
)
def test_raw_water_is_taken_no_colder_than_the_sea_she_works_in(
    launch: Plan, change: Change, sea: str, own: str, taken: float
) -> None:
    plan = change(launch, COOLED | {"hull.water_temperature": sea, "engine.raw_water": own})
    found, there = (
        assess(each).outcomes["engine"] for each in (plan, change(launch, COOLED | {"engine.raw_water": f"{taken} C"}))
    )
    assert found.answers.aboard_fraction == there.answers.aboard_fraction
    assert f"raw water of {taken:g} C" in " ".join(finding.text for finding in found.findings)
    assert own or default_in(plan, "engine.raw_water") == f"{taken:g} C"

"""Defaults that follow what the plan says elsewhere."""

from collections.abc import Callable

import pytest

from engine.findings import Verdict
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


@pytest.mark.parametrize(
    ("outside", "own", "taken"),
    [("", "", 40.0), ("25 C", "", 40.0), ("34 C", "", 49.0), ("5 C", "", 20.0), ("34 C", "38 C", 38.0)],
)
def test_the_air_at_the_intake_is_taken_as_much_warmer_than_the_air_outside(
    launch: Plan, change: Change, outside: str, own: str, taken: float
) -> None:
    plan = change(launch, {"fit.outside_air": outside, "engine.intake_air": own})
    found, there = assess(plan), assess(change(launch, {"engine.intake_air": f"{taken} C"}))
    assert found.outcomes["engine"].answers.aboard_fraction == there.outcomes["engine"].answers.aboard_fraction
    assert f"With {taken:g} C at the intake" in " ".join(f.text for f in found.outcomes["engine"].findings)
    assert f"Air at the intake: {taken:g} C" in " ".join(f.text for f in found.outcomes["fit"].findings)
    assert own or default_in(plan, "engine.intake_air") == f"{taken:g} C"


@pytest.mark.parametrize(
    ("outside", "says", "verdict"), [("5 C", "none", Verdict.FITS), ("30 C", "10 %", Verdict.LOOK)]
)
def test_where_the_air_takes_no_power_nothing_asks_for_a_second_look(
    launch: Plan, change: Change, outside: str, says: str, verdict: Verdict
) -> None:
    findings = assess(change(launch, {"fit.outside_air": outside})).outcomes["engine"].findings
    assert [f.verdict for f in findings if f"it loses {says} of its rated power" in f.text] == [verdict]

"""A slip of the pen in what the boat is, or a thing left out: what must not pass as merely unusual."""

from collections.abc import Callable

import pytest

from engine.findings import Verdict
from engine.plan import Plan
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]


@pytest.mark.parametrize(
    ("displacement", "verdict"),
    [
        ("0.9 t", Verdict.STOP),  # a digit too few: a tenth of her weight
        ("4 t", Verdict.STOP),  # pounds taken for kilograms are 2.2 times as many
        ("7.1 t", Verdict.LOOK),
        ("19 t", Verdict.STOP),
        ("12 t", Verdict.LOOK),
    ],
)
def test_a_weight_that_no_hull_of_her_kind_has_stops_the_plan(
    launch: Plan, change: Change, displacement: str, verdict: Verdict
) -> None:
    """The launch of 9 t has a block of 0.39, of 0.33 to 0.46 that is usual."""
    findings = assess(change(launch, {"hull.displacement": displacement})).outcomes["hull"].findings
    assert [f.verdict for f in findings if "block coefficient comes out" in f.text] == [verdict]


@pytest.mark.parametrize(
    ("kind", "screws", "told", "not_told"),
    [
        ("fin-keel sailing yacht", "1", "a fin keel", "shafts"),
        ("displacement motor yacht", "2", "two shafts, their struts and two rudders", "fin keel"),
        ("displacement motor yacht", "1", "Take it from a photograph", "fin keel"),
    ],
)
def test_what_hangs_below_is_named_as_her_kind_has_it(
    launch: Plan, change: Change, kind: str, screws: str, told: str, not_told: str
) -> None:
    boat = {
        "hull.kind": kind,
        "hull.screws": screws,
        "hull.propeller_place": "on a shaft and strut in clear water" if screws == "1" else "twin screws on struts",
        "hull.appendage_area": "",
    }
    found = assess(change(launch, boat)).outcomes["hull"].findings
    (text,) = (f.text for f in found if "resistance is left out" in f.text)
    assert told in text
    assert not_told not in text


def test_a_fin_keel_left_out_is_said_to_make_the_power_too_low(launch: Plan, change: Change) -> None:
    """Nothing stands in for it, as for a long keel: no source has its usual surface."""
    yacht = {
        "hull.kind": "fin-keel sailing yacht",
        "hull.propeller_place": "behind a skeg",
        "hull.displacement": "7.5 t",
    }
    given = assess(change(launch, yacht)).outcomes
    left_out = assess(change(launch, {**yacht, "hull.appendage_area": ""})).outcomes
    (told,) = (f for f in left_out["hull"].findings if "resistance is left out" in f.text)
    assert told.verdict is Verdict.LOOK
    assert "the power told is too low" in told.text
    powers = [each["power"].answers.cruise_shaft_power_kw.best for each in (left_out, given)]
    assert powers[0] < powers[1]

"""The area of the blades where the owner leaves it open: as stock wheels usually have, or wider where none does."""

from collections.abc import Callable

import pytest

from engine.findings import Finding, Verdict
from engine.plan import Plan
from engine.stages.blades import wider_areas
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]
NARROW = {"propeller.room": "545 mm", "gear.ratio": "2.5"}
AIRFOIL = {"propeller.room": "520 mm", "gear.ratio": "3", "propeller.sections": "airfoil (Wageningen B)"}


def told(findings: tuple[Finding, ...]) -> list[Finding]:
    return [each for each in findings if each.text.startswith("With the usual blade area ratio")]


def test_where_no_size_with_usual_blades_does_the_least_wider_ones_in_stock_are_taken(
    launch: Plan, change: Change
) -> None:
    """There was no wheel, and the page said to search the stock."""
    found = assess(change(launch, NARROW)).outcomes["propeller"]
    (said,) = told(found.findings)
    assert (said.verdict, said.path) == (Verdict.LOOK, "propeller.area_ratio")
    assert said.text.startswith("With the usual blade area ratio, 0.55, no stock size keeps to every rule; the wheel")
    given = assess(change(launch, NARROW | {"propeller.area_ratio": "0.65"})).outcomes["propeller"]
    assert not told(given.findings)
    for name in ("area_ratio", "size", "other_size", "full_throttle_rpm", "cruise_power_kw", "series_pitch_m"):
        taken, wanted = (getattr(outcome.answers, name) for outcome in (found, given))
        assert taken == wanted, name
    assert found.answers.area_ratio == 0.65


def test_blades_that_the_owner_asks_for_are_not_widened(launch: Plan, change: Change) -> None:
    found = assess(change(launch, NARROW | {"propeller.area_ratio": "0.55"})).outcomes["propeller"]
    assert found.answers is None
    assert any("too little blade area" in finding.text for finding in found.findings)


def test_usual_blades_are_kept_where_a_size_of_them_does(launch: Plan) -> None:
    found = assess(launch).outcomes["propeller"]
    assert found.answers.area_ratio == 0.55
    assert not told(found.findings)


def test_the_next_area_is_taken_only_where_the_one_before_does_not_do(launch: Plan, change: Change) -> None:
    areas = [
        None if wheel is None else wheel.area_ratio
        for area in ("", "0.65", "0.75")
        for wheel in [assess(change(launch, AIRFOIL | {"propeller.area_ratio": area})).outcomes["propeller"].answers]
    ]
    assert areas == [0.75, None, 0.75]


@pytest.mark.parametrize(
    ("asked", "areas"),
    [
        ({}, (0.65,)),
        ({"propeller.blades": "4"}, ()),
        ({"propeller.blades": "2"}, ()),
        ({"propeller.sections": "airfoil (Wageningen B)"}, (0.65, 0.75)),
        ({"propeller.area_ratio": "0.5"}, ()),
    ],
)
def test_wider_areas_are_those_of_stock_wheels_alike(
    launch: Plan, change: Change, asked: dict[str, str], areas: tuple[float, ...]
) -> None:
    assert wider_areas(change(launch, asked)) == areas

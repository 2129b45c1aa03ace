"""Older formats of the plan file are brought up to the newest, step by step, and each that ever was has a fixture."""

from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest

from engine.migrations import FORMAT, MIGRATIONS, Table, migrated
from engine.plan import text_at
from engine.plan_document import FormatError, plan_from_document
from engine.planfile import load_plan

FIXTURES = Path(__file__).parent / "formats"


def to_two(table: Table) -> dict[str, Any]:
    hull = dict(table["hull"])
    return {**table, "hull": {**hull, "displacement": hull.pop("weight")}}


def to_three(table: Table) -> dict[str, Any]:
    return {**table, "name": f"{table['name']}!"}


@pytest.mark.parametrize(("found", "name", "key"), [(1, "A!", "displacement"), (2, "A!", "weight"), (3, "A", "weight")])
def test_a_table_takes_the_steps_from_its_own_format_on(found: int, name: str, key: str) -> None:
    table = {"format": found, "name": "A", "hull": {"weight": "9 t"}}
    before = deepcopy(table)
    after = migrated(table, found, (to_two, to_three))
    assert (after["format"], after["name"]) == (3, name)
    assert key in after["hull"]
    assert table == before


@pytest.mark.parametrize("number", range(1, FORMAT + 1))
def test_a_plan_of_every_format_there_ever_was_still_opens(number: int) -> None:
    path = FIXTURES / f"format_{number}.toml"
    assert path.read_text(encoding="utf-8").startswith(f"format = {number}\n")
    before = path.read_bytes()
    plan = load_plan(path)
    assert path.read_bytes() == before
    assert (plan.name, plan.stage, plan.units, plan.notes) == ("Heron", "gear", "imperial", "On the hard\nuntil May.")
    assert not plan.unread
    assert not plan.extra
    assert plan.not_known == {"hull.prismatic"}
    texts = {
        "hull.displacement": "14800 lb (14000 lb to 16500 lb)",
        "gear.ratios": "2; 2.5; 3.02",
        "engine.candidate.1.rated_power": "41 kW",
        "present.log.0.speed": "5.9 kn",
        "range.tank": "60 US gal",
    }
    assert {path: text_at(plan, path) for path in texts} == texts
    assert [variant.name for variant in plan.variants] == ["Deeper gear"]


def test_there_are_as_many_fixtures_as_formats() -> None:
    assert len(list(FIXTURES.glob("*.toml"))) == FORMAT == len(MIGRATIONS) + 1


@pytest.mark.parametrize("found", [FORMAT + 1, 99])
def test_a_newer_format_is_refused_with_both_numbers(found: int) -> None:
    with pytest.raises(FormatError, match=f"format {found}, and this program knows formats up to {FORMAT}"):
        plan_from_document({"format": found})


@pytest.mark.parametrize("found", [None, True, 0, -1, "1", 1.0])
def test_what_has_no_format_is_no_plan(found: object) -> None:
    with pytest.raises(FormatError, match=f"no line 'format = {FORMAT}'"):
        plan_from_document({"format": found})

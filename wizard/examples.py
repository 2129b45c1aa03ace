"""Invented candidates to start from, as the lists of the engine page offer them."""

from typing import TYPE_CHECKING

from engine.defaults import text_in
from engine.entries import entries
from engine.plan import Plan, with_row
from engine.sections.electric import Motor
from engine.sections.engine import Candidate

if TYPE_CHECKING:
    from engine.machinery.generic_engines import GenericEngine

TABLES = {"engine.candidate": False, "engine.motor": True}
"""Table of candidates -> whether they are electric."""


def examples_for(table: str) -> dict[str, "GenericEngine"]:
    """The examples that belong into a table, by name."""
    from engine.machinery.generic_engines import GENERIC_ENGINES

    return {name: example for name, example in GENERIC_ENGINES.items() if example.is_electric is TABLES[table]}


def summary(example: "GenericEngine", units: str) -> str:
    """Power, speed and weight in one line, in the owner's units."""
    kind = Motor if example.is_electric else Candidate
    power, speed, weight = (
        text_in(entries(kind)[name], example.changes[name], units, 3)
        for name in ("rated_power", "rated_speed", "weight")
    )
    return f"{power} at {speed}, {weight}"


def with_example(plan: Plan, table: str, name: str) -> Plan:
    """The plan with one example more, under a name of its own."""
    taken = {item.name for item in plan.engine.all}
    own, number = name, 2
    while own in taken:
        own, number = f"{name} {number}", number + 1
    return with_row(plan, table, {**examples_for(table)[name].changes, "name": own})

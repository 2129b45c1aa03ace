"""Invented candidates to start from, as the lists of the engine page offer them."""

from typing import TYPE_CHECKING

from engine.plan import Plan, with_row

if TYPE_CHECKING:
    from engine.machinery.generic_engines import GenericEngine

TABLES = {"engine.candidate": False, "engine.motor": True}
"""Table of candidates -> whether they are electric."""


def examples_for(table: str) -> dict[str, "GenericEngine"]:
    """The examples that belong into a table, by name."""
    from engine.machinery.generic_engines import GENERIC_ENGINES

    return {name: example for name, example in GENERIC_ENGINES.items() if example.is_electric is TABLES[table]}


def with_example(plan: Plan, table: str, name: str) -> Plan:
    """The plan with one example more, under a name of its own."""
    taken = {item.name for item in plan.engine.all}
    own, number = name, 2
    while own in taken:
        own, number = f"{name} {number}", number + 1
    return with_row(plan, table, {**examples_for(table)[name].changes, "name": own})

"""Who may import whom, as the table in DEVELOPERS.md has it: every module stands in one row, and looks only down."""

import ast
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

from tests.conftest import ROOT


@dataclass(frozen=True)
class Row:
    """What stands in one row of the house.   may: rows that it may import from besides its own.

    lazily: the same, but only inside functions and for types.   outside: packages that no other row may import.
    """

    members: tuple[str, ...]
    may: tuple[str, ...] = ()
    lazily: tuple[str, ...] = ()
    outside: tuple[str, ...] = ()


ENGINE: Mapping[str, Row] = {
    "constants": Row(("constants",)),
    "verdicts": Row(("findings",)),
    "arrays": Row(("numeric", "validity"), outside=("numpy",)),
    "data": Row(("data",), outside=("pathlib", "tomllib")),
    "memory": Row(("memory",), outside=("ctypes", "sys")),
    "words": Row(("units", "reading", "dates", "showing", "quoting"), ("constants",)),
    "formulas": Row(
        ("hull", "propeller", "machinery", "water"),
        ("constants", "verdicts", "arrays", "data", "words"),
        outside=("numpy",),
    ),
    "statistics": Row(
        ("bands", "quantiles", "quasirandom", "evidence", "fleet", "conditioning", "diagnosis", "doubts"),
        ("constants", "arrays", "data"),
        outside=("numpy",),
    ),
    "told": Row(("glossary", "workings"), ("data",)),
    "fields": Row(
        ("entries", "answers", "defaults", "sections"), ("data", "words", "statistics"), outside=("unicodedata",)
    ),
    "plan": Row(("plan", "plan_defaults", "odd_keys", "variants", "progress"), ("words", "fields")),
    "file": Row(
        ("planfile", "plan_document", "migrations", "toml_lines", "toml_comments", "disk"),
        ("words", "fields", "plan"),
        outside=("contextlib", "errno", "fcntl", "hashlib", "os", "pathlib", "stat", "tomli_w", "tomllib"),
    ),
    "usual": Row(("usual",), ("constants", "data", "words", "fields", "plan")),
    "stages": Row(
        ("stages",),
        (
            *("constants", "verdicts", "arrays", "data", "words", "formulas", "statistics"),
            *("fields", "plan", "usual", "memory"),
        ),
        outside=("numpy",),
    ),
    "face": Row(("assessment",), ("verdicts", "plan"), lazily=("stages", "usual")),
    "of an assessment": Row(
        ("reasons", "readiness", "assumptions"), ("verdicts", "words", "fields", "plan", "usual", "face")
    ),
    "library": Row(("",), lazily=("face", "file"), outside=("importlib",)),
}
"""Rows of the engine, the lowest first. "" is `engine` itself."""

WIZARD: Mapping[str, Row] = {
    "data": Row(
        (
            *("charts", "rulers", "reading", "tables", "echo", "measures", "upsets", "comparison", "wheels"),
            *("review_lines", "working_text", "sheet_choice", "examples", "states", "tour", "history", "locations"),
            *("wrapping", "environment"),
        ),
    ),
    "files": Row(("keeping", "settings"), ("data",), outside=("textual",)),
    "threads": Row(("recalculation", "searching", "comparing", "litter"), ("data",), outside=("textual",)),
    "terminal": Row(("keys", "theme", "terminal", "driver"), ("data",), outside=("textual",)),
    "widgets": Row(("widgets", "stages"), ("data", "terminal"), outside=("textual",)),
    "paper": Row(("handover",), ("data", "files", "widgets")),
    "screens": Row(
        ("screens",),
        ("data", "files", "threads", "terminal", "widgets"),
        lazily=("app", "paper"),
        outside=("textual",),
    ),
    "app": Row(
        ("app", "file_keeping", "working_out"),
        ("data", "files", "threads", "terminal", "widgets", "screens"),
        lazily=("paper",),
        outside=("textual",),
    ),
    "command": Row(("cli", "__main__", ""), ("data", "files"), lazily=("app", "paper", "terminal")),
}
HOUSES: Mapping[str, Mapping[str, Row]] = {"engine": ENGINE, "wizard": WIZARD}
PURE = frozenset(
    (
        *("collections", "dataclasses", "datetime", "difflib", "enum", "fractions", "functools", "itertools", "math"),
        *("re", "statistics", "types", "typing"),
    )
)
"""What every row of the engine may import of Python: nothing that knows of files, clocks or chance."""
FREE = sys.stdlib_module_names | {"platformdirs", "plotext", "rich", "tomli_w"}
"""The same for the wizard."""


@dataclass(frozen=True)
class Import:
    """A name that a module imports.   at_once: when the module is loaded, not in a function or for types alone."""

    name: str
    at_once: bool


def imports(source: str) -> Iterator[Import]:
    """Every import, also of a module out of its package."""

    def within(node: ast.AST, at_once: bool) -> Iterator[Import]:
        for child in ast.iter_child_nodes(node):
            later = isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef) or (
                isinstance(child, ast.If) and "TYPE_CHECKING" in ast.dump(child.test)
            )
            if isinstance(child, ast.Import):
                yield from (Import(each.name, at_once) for each in child.names)
            elif isinstance(child, ast.ImportFrom):
                assert not child.level, "imports are written out"
                yield from (Import(f"{child.module}.{each.name}", at_once) for each in child.names)
            yield from within(child, at_once and not later)

    return within(ast.parse(source), True)


def dotted(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


SOURCES = {
    dotted(path): path.read_text(encoding="utf-8") for house in HOUSES for path in sorted((ROOT / house).rglob("*.py"))
}


def row_of(name: str) -> str:
    """The row that a module, or a name in one, belongs to. Raises: LookupError when there is none."""
    house, _, rest = name.partition(".")
    member = rest.partition(".")[0]
    rows = HOUSES[house]
    return next((row for row, each in rows.items() if member in each.members), "") or next(
        row for row, each in rows.items() if "" in each.members
    )


def breaches(module: str, source: str) -> list[str]:
    """Every import of a module that its row does not allow, or that reaches for what another keeps to itself."""
    house = module.partition(".")[0]
    own = row_of(module)
    row = HOUSES[house][own]
    found = []
    for each in imports(source):
        top = each.name.partition(".")[0]
        if top not in HOUSES:
            allowed = {*row.outside, *(PURE if house == "engine" else FREE)}
            is_fine = top in allowed
        elif top == house:
            at = row_of(each.name)
            is_fine = at in (own, *row.may) or (at in row.lazily and not each.at_once)
        else:
            is_fine = house == "wizard"
        if not is_fine or (top in HOUSES and each.name.rpartition(".")[2].startswith("_")):
            found.append(f"{module}: {each.name}")
    return found


def test_every_module_stands_in_one_row() -> None:
    for house, rows in HOUSES.items():
        members = [member for row in rows.values() for member in row.members]
        there = {name.partition(".")[2].partition(".")[0] for name in SOURCES if name.partition(".")[0] == house}
        assert sorted(members) == sorted(there)


def test_rows_look_only_down() -> None:
    for rows in HOUSES.values():
        TopologicalSorter({name: row.may for name, row in rows.items()}).prepare()


def test_every_module_imports_what_its_row_may() -> None:
    assert [breach for module, source in SOURCES.items() for breach in breaches(module, source)] == []


def test_only_charts_draw_with_plotext() -> None:
    users = {module for module, source in SOURCES.items() for each in imports(source) if "plotext" in each.name}
    assert users == {"wizard.charts"}


def test_no_modules_go_round_in_a_circle() -> None:
    graph = {
        module: {
            name if name in SOURCES else name.rpartition(".")[0]
            for name in (each.name for each in imports(source) if each.at_once)
            if name.partition(".")[0] in HOUSES
        }
        - {module}
        for module, source in SOURCES.items()
    }
    TopologicalSorter(graph).prepare()


@pytest.mark.parametrize(
    ("module", "line"),
    [
        ("engine.units", "from engine.entries import Entry"),
        ("engine.units", "from engine.numeric import plain"),
        ("engine.hull.friction", "from engine.plan import Plan"),
        ("engine.hull.friction", "from engine import plan"),
        ("engine.propeller.series", "from engine.stages.blades import fouled"),
        ("engine.machinery.shaft", "from pathlib import Path"),
        ("engine.water", "from engine.sections.hull import Hull"),
        ("engine.fleet", "from engine.hull.form import HullForm"),
        ("engine.sections.hull", "import numpy as np"),
        ("engine.plan", "from engine.planfile import load_plan"),
        ("engine.stages.hull", "from engine.planfile import load_plan"),
        ("engine.stages.hull", "import os"),
        ("engine.stages.hull", "def f() -> None:\n    import random"),
        ("engine.stages.hull", "def f() -> None:\n    from engine.assessment import assess"),
        ("engine.assessment", "from engine.stages.chain import STEPS"),
        ("engine.readiness", "def f() -> None:\n    from engine.stages.chain import STEPS"),
        ("engine.readiness", "from wizard.states import DONE"),
        ("engine.quoting", "import time"),
        ("engine.reasons", "from engine.readiness import _lowered"),
        ("wizard.charts", "from textual.widget import Widget"),
        ("wizard.handover.sheet", "from textual.app import App"),
        ("wizard.handover.sheet", "from wizard.screens.sheet import SheetScreen"),
        ("wizard.keeping.keeper", "from wizard.screens.planning import PlanningScreen"),
        ("wizard.widgets.rail", "def f() -> None:\n    from wizard.app import run"),
        ("wizard.screens.help", "from wizard.app import ShaftlogApp"),
        ("wizard.cli", "from wizard.handover import report"),
        ("wizard.cli", "import numpy"),
        ("engine.hull.curves", "def f() -> None:\n    import scipy"),
    ],
)
def test_the_rules_catch_what_they_are_there_for(module: str, line: str) -> None:
    assert breaches(module, f"{SOURCES[module]}\n{line}\n")


def test_a_circle_is_caught() -> None:
    with pytest.raises(CycleError):
        TopologicalSorter({"a": {"b"}, "b": {"a"}}).prepare()

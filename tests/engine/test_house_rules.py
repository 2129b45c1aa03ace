"""The house stays in order: who may import whom, sources in the tables, nothing too long."""

import ast
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

FORMULAS = ("engine/hull", "engine/propeller", "engine/machinery")
MOST_LINES = 400


def modules(root: Path, *folders: str) -> list[Path]:
    return [path for folder in folders for path in sorted((root / folder).rglob("*.py"))]


def imported(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module


def offenders(paths: list[Path], *forbidden: str) -> list[str]:
    return [
        f"{path.name}: {name}"
        for path in paths
        for name in imported(path)
        if any(name == word or name.startswith(f"{word}.") for word in forbidden)
    ]


def test_the_engine_knows_nothing_of_screens_and_terminals(root: Path) -> None:
    assert offenders(modules(root, "engine"), "wizard", "textual", "rich", "plotext", "time") == []


def test_the_engine_never_asks_the_clock(root: Path) -> None:
    for path in modules(root, "engine"):
        text = path.read_text(encoding="utf-8")
        assert "import datetime" not in text, path
        assert "today(" not in text, path
        assert ".now(" not in text, path


def test_formulas_know_nothing_of_plans_stages_and_files(root: Path) -> None:
    forbidden = (
        "engine.plan",
        "engine.planfile",
        "engine.stages",
        "engine.defaults",
        "engine.sections",
        "engine.entries",
        "os",
        "pathlib",
    )
    found = offenders([*modules(root, *FORMULAS), root / "engine" / "water.py"], *forbidden, "tomllib")
    assert found == []


def test_only_the_public_face_and_the_chain_call_stages(root: Path) -> None:
    outside = [path for path in modules(root, "engine") if "stages" not in path.parts and path.name != "assessment.py"]
    assert offenders(outside, "engine.stages") == []


def test_only_charts_name_plotext_and_nothing_names_scipy_at_the_top(root: Path) -> None:
    assert offenders([p for p in modules(root, "engine", "wizard") if p.name != "charts.py"], "plotext") == []
    for path in modules(root, "engine", "wizard"):
        tops = ast.parse(path.read_text(encoding="utf-8")).body
        names = [n.module or "" if isinstance(n, ast.ImportFrom) else "" for n in tops]
        assert not any(name.startswith("scipy") for name in names), path


def test_no_module_is_longer_than_one_can_hold_in_mind(root: Path) -> None:
    for path in modules(root, "engine", "wizard", "tests"):
        assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST_LINES, path


def test_every_table_of_numbers_names_its_source(root: Path) -> None:
    tables = sorted((root / "engine" / "data").glob("*.toml"))
    assert tables
    for table in tables:
        text = table.read_text(encoding="utf-8").lower()
        assert any(word in text for word in ("source", "(19", "(20", "from memory", "our own", "own wording")), (
            table.name
        )


def test_every_package_of_the_project_is_installed(root: Path) -> None:
    declared = tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["setuptools"]["packages"]
    there = {
        ".".join(path.parent.relative_to(root).parts)
        for path in modules(root, "engine", "wizard")
        if path.name == "__init__.py"
    }
    assert set(declared) - {"wizard.demonstrations"} == there


def test_choices_offered_are_those_the_formulas_know() -> None:
    from engine.hull.coefficients import KINDS
    from engine.hull.methods import METHODS
    from engine.machinery.diesel import DUTY_CLASSES, ENGINE_KINDS
    from engine.machinery.electric import BATTERY_KINDS
    from engine.machinery.range import RESERVES
    from engine.machinery.shaft import SAFETY_FACTORS
    from engine.machinery.shaft_materials import MATERIALS
    from engine.propeller.interaction import ARRANGEMENTS
    from engine.sections import electric, engine, hull, performance, shaft, voyage

    assert hull.BOAT_KINDS == KINDS
    assert set(hull.PROPELLER_PLACES) == {stern.words for stern in ARRANGEMENTS.values()}
    assert set(performance.METHOD_LABELS) == {method.label for method in METHODS.values()}
    assert engine.ENGINE_KINDS == ENGINE_KINDS
    assert set(engine.DUTIES) == {duty.name for duty in DUTY_CLASSES}
    assert set(shaft.SHAFT_MATERIALS) == set(MATERIALS)
    assert set(shaft.SHAFT_USES) == set(SAFETY_FACTORS)
    assert set(voyage.RESERVES) == set(RESERVES)
    assert set(electric.BATTERY_KINDS) == set(BATTERY_KINDS)


@pytest.mark.parametrize("folder", ["engine", "wizard", "tests"])
def test_no_file_tells_where_it_was_made(root: Path, folder: str) -> None:
    for path in (root / folder).rglob("*"):
        if path.suffix in (".py", ".toml", ".tcss", ".md") and path.name != Path(__file__).name:
            text = path.read_text(encoding="utf-8")
            assert "/home/" not in text, path
            assert "/root/" not in text, path

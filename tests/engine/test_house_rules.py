"""The house stays in order: sources in the tables, nothing too long, choices that the formulas know."""

import re
import tomllib
from pathlib import Path

import pytest

MOST_LINES = 400


def modules(root: Path, *folders: str) -> list[Path]:
    return [path for folder in folders for path in sorted((root / folder).rglob("*.py"))]


def test_the_engine_never_asks_the_clock(root: Path) -> None:
    for path in modules(root, "engine"):
        text = path.read_text(encoding="utf-8")
        assert "import datetime" not in text, path
        assert "today(" not in text, path
        assert ".now(" not in text, path


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


def test_whatever_a_package_holds_besides_modules_is_installed_with_it(root: Path) -> None:
    from wizard.locations import DEMONSTRATIONS

    setuptools = tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["setuptools"]
    data: dict[str, list[str]] = setuptools["package-data"]
    for package in set(setuptools["packages"]) - {"wizard.demonstrations"}:
        folder = root.joinpath(*package.split("."))
        there = {path for path in folder.iterdir() if path.is_file() and path.suffix not in (".py", ".pyc")}
        assert there == {path for pattern in data.get(package, ()) for path in folder.glob(pattern)}, package
    assert setuptools["package-dir"] == {"wizard.demonstrations": "saved_plans"}
    assert data["wizard.demonstrations"] == list(DEMONSTRATIONS)
    assert all((root / "saved_plans" / name).is_file() for name in DEMONSTRATIONS)


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


def test_every_sheet_that_is_offered_can_be_made() -> None:
    from wizard.handover.sheets import ORDER_SHEETS
    from wizard.sheet_choice import SHEETS

    assert set(SHEETS) - {"plan"} == set(ORDER_SHEETS)


@pytest.mark.parametrize("folder", ["engine", "wizard", "tests"])
def test_no_file_tells_where_it_was_made(root: Path, folder: str) -> None:
    for path in (root / folder).rglob("*"):
        if path.suffix in (".py", ".toml", ".tcss", ".md") and path.name != Path(__file__).name:
            text = path.read_text(encoding="utf-8")
            assert "/home/" not in text, path
            assert "/root/" not in text, path


def test_every_file_that_is_named_to_developers_is_there(root: Path) -> None:
    quoted = re.findall(r"`([^`\s]*\.(?:py|toml|md))`", (root / "DEVELOPERS.md").read_text(encoding="utf-8"))
    there = [path.as_posix() for folder in ("engine", "wizard", "tests") for path in (root / folder).rglob("*")]
    named = [name for name in quoted if not re.search(r"[<*]|_N\b", name)]
    assert len(named) > 50
    assert [name for name in named if not any(path.endswith(f"/{name}") for path in there)] == []

"""The curves as CSV: the numbers of the JSON, in a form that a spreadsheet reads."""

import csv
import json
from io import StringIO
from pathlib import Path
from typing import Any

import pytest

from engine.assessment import Assessment, assess
from engine.plan import Plan, with_text
from tests.wizard.fakes import made_up_market
from wizard.cli import main
from wizard.handover import curves, report


@pytest.fixture(scope="module")
def assessment(launch: Plan) -> Assessment:
    return assess(with_text(launch, "engine.candidate.1.name", 'odd, "name"'))


def rows_of(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(text)))


def flattened(row: dict[str, Any]) -> dict[str, Any]:
    """A row of the JSON as the columns of the CSV."""
    flat: dict[str, Any] = {}
    for name, value in row.items():
        key = "methods_kw" if name == "methods" else name  # so that the column says its unit
        if isinstance(value, dict):
            ends = value.keys() == {"best", "low", "high"}
            flat |= {f"{key}_{part}" if ends else f"{key}: {part}": item for part, item in value.items()}
        else:
            flat[key] = value
    return flat


def test_every_table_has_the_numbers_of_the_json(assessment: Assessment) -> None:
    stages = json.loads(report(assessment, "json"))["stages"]
    seen = 0
    for curve in curves(assessment):
        stage, _, table = curve.name.partition("_")
        rows, wanted = rows_of(curve.text), stages[stage]["answers"][table]
        assert len(rows) == len(wanted) > 0
        for row, plain in zip(rows, map(flattened, wanted), strict=True):
            for key, value in plain.items():
                if isinstance(value, float):
                    assert float(row[key]) == value, (curve.name, key)
                elif value is None:
                    assert not row.get(key), (curve.name, key)
                    assert not row.get(f"{key}_best"), (curve.name, key)
                else:
                    assert row[key] == str(value), (curve.name, key)
        seen += 1
    assert seen > 15


def test_a_band_has_three_columns_side_by_side(assessment: Assessment) -> None:
    match = next(curve for curve in curves(assessment) if curve.name == "propeller_match")
    heads = match.text.splitlines()[0].split(",")
    assert heads[:4] == ["engine_rpm", "speed_kn_low", "speed_kn_best", "speed_kn_high"]


def test_the_tables_follow_each_other_under_their_titles_and_the_market_comes_last(assessment: Assessment) -> None:
    text = report(assessment, "csv", market=made_up_market())
    titles = [line for line in text.splitlines() if line.startswith("# ")]
    assert titles[0] == "# hull_methods: Which methods apply"
    assert titles[-2].startswith("# market_rows: ")
    assert '"odd, ""name"""' in text


def test_a_plan_without_answers_has_no_curves() -> None:
    assert report(assess(Plan(name="Empty")), "csv") == ""


def test_the_command_writes_one_file_for_each_curve(
    root: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan, folder = root / "saved_plans" / "mirabel.toml", tmp_path / "new" / "curves"
    for _ in range(2):
        assert main(["report", str(plan), "--format", "csv", "--to", str(folder)]) == 0
    names = sorted(path.name for path in folder.iterdir())
    assert "power_curve.csv" in names
    assert len(rows_of((folder / "power_curve.csv").read_text(encoding="utf-8"))) > 10
    taken = tmp_path / "taken"
    taken.write_text("mine", encoding="utf-8")
    assert main(["report", str(plan), "--format", "csv", "--to", str(taken)]) == 2
    assert taken.read_text(encoding="utf-8") == "mine"
    assert main(["report", str(plan), "--format", "csv", "--sheet", "yard"]) == 2
    refusals = capsys.readouterr().err.splitlines()
    assert len(refusals) == 2
    assert "Name a folder after --to." in refusals[0]
    assert "Leave --sheet out" in refusals[1]


def test_the_command_writes_an_order_sheet(root: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan, page = str(root / "saved_plans" / "mirabel.toml"), tmp_path / "order.html"
    assert main(["report", plan, "--sheet", "propeller", "--format", "html", "--to", str(page)]) == 0
    assert "Do not order from this sheet yet." in page.read_text(encoding="utf-8")
    with pytest.raises(SystemExit) as ended:
        main(["report", plan, "--sheet", "anchor"])
    assert ended.value.code == 2
    assert len(capsys.readouterr().err.splitlines()) == 1


@pytest.mark.parametrize("word", ['=HYPERLINK("x")', "+1", "-1+2", "@SUM(1)"])
def test_no_word_of_the_owner_is_a_formula_to_a_spreadsheet(launch: Plan, word: str) -> None:
    named = assess(with_text(launch, "engine.candidate.1.name", word))
    cells = [cell for curve in curves(named) for row in rows_of(curve.text) for cell in row.values()]
    assert f"'{word}" in cells
    assert word not in cells

"""One of a thing is told in the singular: 1 hour, 1 month, 1 run."""

import ast
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from engine.answers import Label, shown
from engine.bands import Band
from engine.machinery.bearings import judge_shaft_angle
from engine.machinery.generic_engines import GENERIC_ENGINES
from engine.plan import Plan, entry_at, text_at, with_row, with_text
from engine.reading import read_quantity
from engine.showing import numbered, show, with_unit, without_unit
from engine.stages.saving import repaid_words
from engine.units import Dimension
from tests.engine.generic_candidates import with_generic
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]
NOUNS = "hour|day|week|month|year|run|row|reading|boat|degree|pair|wheel|value|point|range|cylinder|engine|motor"
ONE = re.compile(rf"(?<![\d.,-])1 ({NOUNS})s\b")
ONES = {
    "costs.years": "1 year",
    "costs.hours_per_year": "1 h",
    "engine.hours_per_year": "1 h",
    "power.time_since_cleaning": "1 month",
    "present.time_since_cleaning": "1 month",
    "trial.time_since_cleaning": "1 month",
    "shaft.angle": "1 deg",
    "costs.engine": "100",
    "costs.upkeep": "20",
    "costs.upkeep_now": "120",
    "range.price": "2 per L",
    "range.electricity_price": "0.4 per kWh",
    "gear.ratios": "2; 2.5",
    "gear.ratings": "4 kW per 100 rpm",
}
RUN = {"engine_speed": "2000 rpm", "speed": "6 kn", "throttle": "full"}


@pytest.mark.parametrize(
    ("number", "told"), [(1, "1 row"), ("1", "1 row"), ("1.0", "1.0 rows"), (0, "0 rows"), (4, "4 rows")]
)
def test_a_number_of_things(number: int | str, told: str) -> None:
    assert numbered(number, "row") == told


@pytest.mark.parametrize("unit", ["days", "weeks", "months", "years"])
def test_a_unit_that_is_a_word_has_a_singular(unit: str) -> None:
    one = read_quantity("1", Dimension.DURATION, unit)
    assert one.text == show(one.si, unit, Dimension.DURATION) == f"1 {unit[:-1]}"
    assert without_unit(one.text, unit) == "1"
    assert without_unit(f"2 {unit}", unit) == "2"
    assert read_quantity("2", Dimension.DURATION, unit).text == f"2 {unit}"
    assert read_quantity("1 (1 to 2)", Dimension.DURATION, unit).written == f"1 {unit[:-1]} (1 {unit[:-1]} to 2 {unit})"


def test_other_units_have_none() -> None:
    assert with_unit("1", "t") == "1 t"
    assert with_unit("1", "") == "1"
    assert without_unit("1 in", "ins") == "1 in"


def test_a_band_of_years_has_its_unit_once() -> None:
    assert shown("_years", Label("", digits=2), Band(1.5, 1.0, 2.0), "metric") == "1.5 years (1 to 2)"


def test_years_in_which_an_outlay_is_repaid() -> None:
    assert repaid_words(Band(1.0, 1.0, 1.0)) == "1 year"
    assert repaid_words(Band(1.0, 0.9, 2.0)) == "1 year (0.9 to 2)"


def test_a_shaft_that_slopes_one_degree() -> None:
    assert judge_shaft_angle(1.0).text.startswith("The shaft slopes 1 degree;")


@pytest.mark.parametrize("drive", ["diesel", "motor"])
def test_a_plan_of_ones_is_told_in_the_singular(launch: Plan, drive: str) -> None:
    plan = launch if drive == "diesel" else with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"])
    for path, text in ONES.items():
        plan = with_text(plan, path, text)
    plan = with_row(with_row(plan, "trial.run", RUN), "trial.season", {"engine_speed": "1800 rpm"})
    found = assess(plan)
    texts = [finding.text for outcome in found.outcomes.values() for finding in outcome.findings]
    assert any("1 hour a year takes" in text for text in texts)
    assert any("1 hour a year is less" in text for text in texts)
    assert any("1 year" in text for text in texts)
    assert not [text for text in texts if ONE.search(text)]
    assert text_at(with_text(plan, "costs.years", "1"), "costs.years") == "1 year"


def test_the_costs_page_of_a_motor_speaks_of_electricity(launch: Plan) -> None:
    electric = with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"])
    for plan, taken in ((launch, "fuel"), (electric, "electricity")):
        texts = [each.text for each in assess(plan).outcomes["costs"].findings]
        assert f"No prices are entered for the work yet: no budget, but hours and {taken} of a year." in texts


def test_the_present_machinery_is_asked_for_one_shaft_and_told_by_their_number(launch: Plan, change: Change) -> None:
    """Both weights count once for each shaft; "what comes out" of a boat with two engines was all of it."""
    both = change(launch, {"hull.screws": "2", "hull.propeller_place": "twin screws on struts"})
    for plan, words in ((launch, "present engine stands"), (both, "present engines stand")):
        texts = [each.text for each in assess(plan).outcomes["fit"].findings]
        assert f"Say where the {words}, ahead of the after end of the waterline, to see how she trims." in texts
    changes = [assess(plan).outcomes["fit"].answers.weight_change_kg for plan in (launch, both)]
    assert changes[1] == pytest.approx(2.0 * changes[0])
    for name in ("engine_power", "engine_weight"):
        assert "of two, that of one" in entry_at(f"present.{name}").what


FIXED = {"row['hours_per_year']", "duty.hours_per_year", "_SEASON['least_months']", "their"}
"""Numbers of our tables, none of which is one; and a word."""
SPOKEN = re.compile(r" (hour|day|week|month|year|run|row)s\b")


def _bare_plurals(path: Path) -> Iterator[str]:
    """Numbers in front of a plural that nothing turns into the singular."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(node, ast.JoinedStr):
            continue
        for value, words in zip(node.values, node.values[1:], strict=False):
            if isinstance(value, ast.FormattedValue) and isinstance(words, ast.Constant):
                number = ast.unparse(value.value)
                if SPOKEN.match(str(words.value)) and number not in FIXED:
                    yield f"{path.name}:{node.lineno}: {number}{words.value}"


def test_no_sentence_sets_a_plural_behind_a_number_by_itself(root: Path) -> None:
    found = [
        line
        for folder in ("engine", "wizard")
        for path in (root / folder).rglob("*.py")
        for line in _bare_plurals(path)
    ]
    assert not found

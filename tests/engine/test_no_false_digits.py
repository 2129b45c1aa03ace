"""What is printed has as many digits as are known, and as tell one row from the next."""

from pathlib import Path

import pytest

from engine.answers import Label, cell, labels, shown
from engine.assessment import Assessment, assess
from engine.bands import Band
from engine.plan import with_text
from engine.planfile import load_plan


@pytest.fixture(scope="module")
def assessed(root: Path) -> Assessment:
    return assess(with_text(load_plan(root / "saved_plans" / "two-sisters.toml"), "speed.top", "9.6 kn"))


def test_turning_is_told_in_whole_revolutions_but_for_a_few_of_them() -> None:
    four = Label("Shaft speed", digits=4)
    assert shown("shaft_rpm", four, 967.7419, "metric") == "968 rpm"
    assert shown("cruise_rpm", four, Band(838.61, 782.2, 882.04), "metric") == "839 rpm (782 to 882)"
    assert shown("full_throttle_rpm", four, 2415.7, "metric") == "2416 rpm"
    assert shown("inch_of_pitch_rpm", Label(""), -85.5019, "metric") == "-86 rpm"
    assert shown("inch_of_pitch_rpm", Label(""), -4.26, "metric") == "-4.26 rpm"


def test_a_number_is_rounded_once() -> None:
    """A critical speed of 2234.8 was told as 2240 rpm by way of 2235, and a load of 119.48 % as 120 % by way of 119.5;
    the finding on the same page had 119 %."""
    for value, told in ((2234.8, "2230 rpm"), (1605.48, "1610 rpm"), (2945.24, "2950 rpm"), (967.74, "968 rpm")):
        assert shown("critical_rpm", Label(""), value, "metric") == told
    for share, told in ((1.19478, "119 %"), (1.40529, "141 %"), (0.83942, "83.9 %"), (0.06, "6 %"), (-0.0002, "0 %")):
        assert shown("top_load_fraction", Label(""), share, "metric") == told
    assert shown("share_fraction", Label("", digits=2), 0.84459, "metric") == "84 %"
    assert shown("share_fraction", Label("", digits=2), 0.84541, "metric") == "85 %"


def test_what_is_counted_is_told_to_the_last_one() -> None:
    assert shown("feasible", Label("Of them suitable"), 2124, "metric") == "2124"
    assert shown("pitch_ratio", Label("Pitch ratio"), 0.97701, "metric") == "0.977"


@pytest.mark.parametrize(("stage", "table"), [("power", "curve"), ("propeller", "match"), ("engine", "curve")])
def test_each_row_of_a_curve_is_told_by_its_own_number(assessed: Assessment, stage: str, table: str) -> None:
    """10.25 kn is not printed as 10.2 beside 10 and 10.5, nor 2145 rpm as 2150."""
    rows = getattr(assessed.outcomes[stage].answers, table)
    name, _ = next(iter(labels(rows[0])))
    assert max(getattr(row, name) for row in rows) > 10.0
    for row in rows:
        assert float(cell(row, name, "metric")) == pytest.approx(getattr(row, name), abs=0.5 if "rpm" in name else 1e-9)


def test_a_full_throttle_is_the_same_beside_its_neighbours_as_above_them(assessed: Assessment) -> None:
    answers = assessed.outcomes["propeller"].answers
    (chosen,) = (row for row in answers.neighbours if row.chosen)
    assert cell(chosen, "full_throttle_rpm", "metric").split()[0] == f"{answers.full_throttle_rpm.best:.0f}"


def test_how_she_floats_is_not_told_to_a_hundredth_of_a_millimetre(assessed: Assessment) -> None:
    described = dict(labels(assessed.outcomes["fit"].answers))
    for name in ("sinkage_m", "trim_m", "bow_m", "stern_m"):
        assert shown(name, described[name], -0.0021234, "metric") == "-2.1 mm"
        assert shown(name, described[name], 0.01214, "metric") == "12 mm"


def test_the_shaft_of_a_candidate_is_the_thickest_that_a_ratio_on_offer_asks_for(assessed: Assessment) -> None:
    """It need not be that of the shaft page, which has the ratio that was recommended; so it is told as a most."""
    outcomes = assessed.outcomes
    (row,) = (row for row in outcomes["engine"].answers.candidates if row.chosen)
    needed = outcomes["shaft"].answers.needed_diameter_m
    deepest = max(ratio.si for ratio in assessed.plan.gear.ratios)
    assert row.shaft_diameter_m == pytest.approx(needed * (deepest / outcomes["gear"].answers.ratio) ** (1.0 / 3.0))
    assert dict(labels(row))["shaft_diameter_m"].text.endswith("at most")


def test_an_area_that_follows_from_another_by_a_rule_within_six_per_cent_has_two_digits(assessed: Assessment) -> None:
    """Disc-area and mean-width ratio are what an expanded area comes to; a shop does not cast to a thousandth."""
    answers = assessed.outcomes["propeller"].answers
    described = dict(labels(answers))
    for name in ("disc_area_ratio", "mean_width_ratio"):
        value = getattr(answers, name)
        assert float(shown(name, described[name], value, "metric")) == pytest.approx(value, abs=0.005)
        assert len(shown(name, described[name], value, "metric")) <= len("0.61")

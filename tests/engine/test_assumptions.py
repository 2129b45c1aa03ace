"""What the numbers rest on that the owner has not said."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from engine.assumptions import Assumption, assumptions
from engine.plan import STAGES, Plan, entry_at, text_at, with_row
from engine.planfile import load_plan
from engine.usual import typical
from engine.usual.guesses import with_guesses
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]
Of = Callable[[dict[str, str]], dict[str, Assumption]]


@pytest.fixture(scope="module")
def of(launch: Plan, change: Change) -> Of:
    """The assumptions of the launch with some fields changed, by path. Stages take the same, so she is worked out
    once."""
    found = assess(launch)

    def of_changed(changes: dict[str, str]) -> dict[str, Assumption]:
        plan = launch
        for table, _ in sorted({_row_of(path) for path in changes if _row_of(path)[1]}):
            plan = with_row(plan, table)
        return {row.path: row for row in assumptions(replace(found, plan=change(plan, changes)))}

    return of_changed


def _row_of(path: str) -> tuple[str, str]:
    """The table of a field and the number of its row there; "" for any other field."""
    table, _, row = path.rpartition(".")[0].rpartition(".")
    return (table, row) if table in ("present.log", "trial.run") else ("", "")


def test_a_default_is_told_with_its_source_until_the_owner_says_the_value(of: Of) -> None:
    entry = entry_at("gear.efficiency")
    row = of({})["gear.efficiency"]
    assert (row.stage, row.label, row.text) == ("gear", entry.label, entry.default)
    assert row.source == entry.default_source
    assert not row.is_guess
    assert "gear.efficiency" not in of({"gear.efficiency": "96 %"})


def test_what_stands_in_for_an_empty_field_without_a_default_is_told_with_its_source(launch: Plan, of: Of) -> None:
    """Blade area, wake and form coefficients stand in every number, and no field has them as its default."""
    found, answers = of({}), {stage: each.answers for stage, each in assess(launch).outcomes.items()}
    assert float(found["propeller.area_ratio"].text) == answers["propeller"].area_ratio == 0.55
    assert float(found["power.wake"].text) == pytest.approx(answers["power"].wake_fraction.best, abs=5e-4)
    assert found["engine.candidate.0.governed_speed"].text == "3020 rpm", "1.08 times 2800, to three digits"
    assert "row" not in found["engine.candidate.0.governed_speed"].label, "only one candidate counts"
    product = float(found["hull.prismatic"].text) * float(found["hull.midship"].text)
    assert product == pytest.approx(answers["hull"].form.block_coefficient, rel=2e-3)
    for path in ("propeller.area_ratio", "power.wake", "hull.prismatic", "hull.waterplane", "hull.entrance_angle"):
        assert "memory" in found[path].source
        assert not found[path].is_guess
    assert "propeller.area_ratio" not in of({"propeller.area_ratio": "0.6"})


def test_a_coefficient_that_follows_from_the_other_one_is_no_assumption(of: Of) -> None:
    found = of({"hull.midship": "0.7"})
    assert not {"hull.prismatic", "hull.midship"} & found.keys()


def test_what_was_given_is_no_assumption(launch: Plan, of: Of) -> None:
    assert not any(text_at(launch, path) for path in of({}))


def test_a_guess_is_told_as_the_number_that_was_taken(launch: Plan, change: Change, of: Of) -> None:
    row = of({"hull.displacement": "?"})["hull.displacement"]
    assert row.is_guess
    guessed, usual = with_guesses(change(launch, {"hull.displacement": "?"})), typical(launch, "hull.displacement")
    assert row.text == text_at(guessed, "hull.displacement")
    assert usual is not None
    assert row.source == usual.source


def test_not_known_leaves_the_default_standing(of: Of) -> None:
    row = of({"gear.efficiency": "?"})["gear.efficiency"]
    assert (row.text, row.is_guess) == (entry_at("gear.efficiency").default, False)


LOGGED = [{"engine_speed": f"{1400 + 200 * row} rpm", "speed": f"{4.5 + 0.5 * row} kn"} for row in range(5)]


def test_the_air_matters_only_while_the_maker_has_not_said_what_it_takes(of: Of) -> None:
    by_formula = {"engine.humidity", "engine.altitude", "engine.raw_water"}
    assert by_formula <= of({}).keys()
    assert not by_formula & of({"engine.candidate.0.power_lost": "4 %"}).keys()


def test_what_no_stage_has_read_is_left_out(of: Of) -> None:
    assert "propeller.area_measure" not in of({}), "no area is given"
    assert "propeller.sections" in of({})


def test_the_way_a_log_was_taken_matters_only_with_a_log(of: Of) -> None:
    assert not any(path.startswith("present.") for path in of({}))
    found = of({"present.log.0.engine_speed": "1500 rpm", "present.log.0.speed": "5.5 kn"})
    assert "present.tachometer" in found
    assert found["present.log.0.measured"].label.endswith("(row 1)")


def test_rows_in_which_the_same_stands_in_share_a_line(of: Of) -> None:
    rows = {f"present.log.{row}.{name}": text for row in range(5) for name, text in LOGGED[row].items()}
    found = of(rows | {"present.log.3.measured": "mean of two runs"})
    assert found["present.log.0.measured"].label.endswith("(rows 1 to 3, 5)")
    assert not {f"present.log.{row}.measured" for row in range(1, 5)} & found.keys()


def test_how_a_single_speed_was_taken_matters_only_where_the_other_way_is_empty(of: Of) -> None:
    run = {"trial.run.0.engine_speed": "1800 rpm", "trial.run.0.speed": "5 kn"}
    assert "trial.run.0.measured" in of(run)
    assert "trial.run.0.measured" not in of(run | {"trial.run.0.speed_back": "5.4 kn"})


def test_only_the_chosen_candidate_counts(of: Of) -> None:
    first, second = (of({"engine.chosen": name}) for name in ("first", "second"))
    assert "engine.candidate.0.kind" in first
    assert "engine.candidate.1.kind" not in first
    assert "engine.candidate.1.kind" in second


def test_a_stage_that_waits_has_assumed_nothing(launch: Plan) -> None:
    assert assumptions(assess(Plan())) == ()
    found = assess(replace(launch, engine=Plan().engine))
    waiting = {stage for stage, outcome in found.outcomes.items() if outcome.waits_for}
    assert {"engine", "shaft", "range", "fit"} <= waiting
    rested_on = {row.stage for row in assumptions(found)}
    assert {"hull", "power"} <= rested_on
    assert not {"engine", "shaft", "range", "fit"} & rested_on


@pytest.mark.parametrize("name", ["bittern", "mirabel"])
def test_the_rows_of_a_demonstration_stand_in_the_order_of_the_stages_and_have_a_source(root: Path, name: str) -> None:
    rows = assumptions(assess(load_plan(root / "saved_plans" / f"{name}.toml")))
    assert rows
    assert [STAGES.index(row.stage) for row in rows] == sorted(STAGES.index(row.stage) for row in rows)
    assert all(row.text and row.source and row.label for row in rows)
    assert len({row.path for row in rows}) == len(rows)

"""Every change can be taken back and made again, over all stages, also after a restart."""

import itertools
import random
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from engine.disk import Disk
from engine.plan import Plan, text_at, with_row, with_text, without_row
from engine.planfile import load_plan, save_plan
from wizard.history import MOST, History, Step, changes, differences, name_in_row, place_of, step_words
from wizard.keeping.steps_file import load_steps, save_steps, steps_path

PATHS = ("hull.displacement", "speed.cruise", "gear.ratios", "shaft.span", "range.tank", "hull.kind")
TEXTS = ("9 t", "12 parsec", "", "6.5 kn", "2; 2.5", "1.2 m", "300 L", "tug", "9 t (8 t to 10 t)")


def taken_back(plan: Plan, history: History) -> tuple[Plan, History]:
    assert history.last is not None
    return history.undone(plan, history.last)


def made_again(plan: Plan, history: History) -> tuple[Plan, History]:
    assert history.next is not None
    return history.redone(plan, history.next)


def test_three_hundred_changes_of_all_kinds_go_back_and_forth_exactly() -> None:
    draw = random.Random(7)
    plan, history, seen = Plan(name="Teasel"), History(), [Plan(name="Teasel")]
    while len(seen) <= 300:
        other = _changed_somehow(plan, draw)
        if other != plan:
            history = history.recorded(plan, other).sealed()
            plan = other
            seen.append(plan)
    for earlier in reversed(seen[:-1]):
        plan, history = taken_back(plan, history)
        assert plan == earlier
    assert history.last is None
    for later in seen[1:]:
        plan, history = made_again(plan, history)
        assert plan == later
    assert history.next is None


def _changed_somehow(plan: Plan, draw: random.Random) -> Plan:
    rows = len(plan.engine.candidate)
    match draw.randrange(5):
        case 0 if rows < 4:
            return with_row(plan, "engine.candidate")
        case 1 if rows:
            return without_row(plan, "engine.candidate", draw.randrange(rows))
        case 2 if rows:
            return with_text(plan, f"engine.candidate.{draw.randrange(rows)}.rated_power", draw.choice(TEXTS))
        case _:
            return with_text(plan, draw.choice(PATHS), draw.choice(TEXTS))


def test_letters_of_one_number_are_one_step_until_the_field_is_left() -> None:
    plan, history = Plan(), History()
    for text in ("6", "6.", "6.5"):
        other = with_text(plan, "speed.cruise", text)
        plan, history = other, history.recorded(plan, other, "speed.cruise")
    assert len(history.steps) == 1
    other = with_text(plan, "speed.cruise", "6.5 kt")
    history = history.sealed().recorded(plan, other, "speed.cruise")
    assert len(history.steps) == 2
    plan, history = taken_back(other, history)
    assert text_at(plan, "speed.cruise") == "6.5 kn"
    plan, history = taken_back(plan, history)
    assert text_at(plan, "speed.cruise") == ""


def test_typing_and_deleting_in_one_field_leaves_no_step() -> None:
    there = with_text(Plan(), "speed.cruise", "6")
    history = History().recorded(Plan(), there, "speed.cruise").recorded(there, Plan(), "speed.cruise")
    assert history.steps == ()


def test_moving_between_pages_is_no_step() -> None:
    assert History().recorded(Plan(), Plan(stage="range")).steps == ()


def test_a_change_after_taking_back_drops_what_could_be_made_again() -> None:
    first = with_text(Plan(), "speed.cruise", "6")
    history = History().recorded(Plan(), first, "speed.cruise")
    plan, history = taken_back(first, history)
    history = history.recorded(plan, with_text(plan, "speed.top", "7"), "speed.top")
    assert [step.path for step in history.steps] == ["speed.top"]
    assert history.next is None


def test_the_oldest_steps_go_first() -> None:
    plan, history = Plan(), History()
    for i in range(MOST + 5):
        other = with_text(plan, "speed.cruise", f"{5 + i * 0.001:.3f}")
        plan, history = other, history.recorded(plan, other).sealed()
    assert len(history.steps) == MOST == history.at
    assert history.steps[-1].now == {"speed.cruise": f"{5 + (MOST + 4) * 0.001:.3f} kn"}


def test_steps_survive_a_restart(tmp_path: Path) -> None:
    path = tmp_path / "teasel.toml"
    plan, history = Plan(), History()
    for text in ("6", "12 parsec", "6.5"):
        other = with_text(plan, "speed.cruise", text)
        plan, history = other, history.recorded(plan, other).sealed()
    plan, history = taken_back(plan, history)
    save_plan(plan, path)
    save_steps(Disk(), history, plan, path)
    found = load_steps(Disk(), load_plan(path), path)
    assert found == history
    assert steps_path(path).name.startswith("."), "it does not stand among the plans"


def test_a_plan_changed_by_another_program_gets_a_step_for_that(tmp_path: Path) -> None:
    path = tmp_path / "teasel.toml"
    plan = with_text(Plan(), "speed.cruise", "6")
    save_steps(Disk(), History().recorded(Plan(), plan), plan, path)
    other = with_text(with_text(plan, "speed.cruise", "7"), "hull.displacement", "9 t")
    history = load_steps(Disk(), other, path)
    back, history = taken_back(other, history)
    assert back == plan
    back, _ = taken_back(back, history)
    assert back == Plan()


@pytest.mark.parametrize(
    "text",
    [
        "",
        "junk [",
        "format = 9",
        "format = 1\nat = 'x'\nstep = 3",
        "format = 1\nat = 1",
        "format = 1\nat = inf\nstep = []",
    ],
)
def test_an_unreadable_file_of_steps_does_no_harm(text: str, tmp_path: Path) -> None:
    path = tmp_path / "teasel.toml"
    steps_path(path).write_text(text, encoding="utf-8")
    assert load_steps(Disk(), Plan(), path) == History()
    assert load_steps(Disk(), Plan(), tmp_path / "none" / "a.toml") == History()


def test_a_nan_written_by_hand_is_no_change_by_itself(tmp_path: Path) -> None:
    path = tmp_path / "plan.toml"
    path.write_text(
        "format = 1\nodd = nan\n[hull]\ndisplacement = nan\nhull_draft = {best = nan, low = 1, high = 2}\n"
        "[[engine.candidate]]\nweight = nan\n",
        encoding="utf-8",
    )
    plan = load_plan(path)
    assert changes(plan, load_plan(path)).is_empty
    changed = with_text(plan, "engine.candidate.0.name", "A")
    history = History().recorded(plan, changed)
    assert history.last is not None
    assert step_words(history.last, changed, back=True) == "Name: empty (it was A)"
    save_steps(Disk(), history, changed, path)
    save_plan(changed, path)
    assert len(load_steps(Disk(), load_plan(path), path).steps) == len(history.steps)


@pytest.mark.parametrize("key", ["format", "stage", "hull.kind", "hull", "hull.kind.0.x", "", "odd"])
@pytest.mark.parametrize("value", [9, "tug", {}, [{}]])
def test_a_step_that_was_forged_by_hand_goes_back_and_forth(key: str, value: object) -> None:
    """A step on the format of the file ended the program when it was taken back."""
    for step in (Step(key, {key: value}, {}), Step(key, {}, {key: value}), Step("", {"hull": 3}, {"hull.kind": "tug"})):
        plan, history = taken_back(replace(Plan(), stage="gear"), History((step,), 1))
        assert plan.stage == "gear"
        plan, history = made_again(plan, history)
        assert plan.stage == "gear"
        assert history.at == 1


def test_a_failing_disk_is_passed_over(tmp_path: Path) -> None:
    save_steps(Disk(), History(), Plan(), tmp_path / "missing" / "teasel.toml")
    assert list(tmp_path.iterdir()) == []


def test_steps_are_told_in_words() -> None:
    start = with_text(Plan(), "hull.displacement", "9 t")
    step = History().recorded(start, with_text(start, "hull.displacement", "8 t (7 t to 9 t)")).steps[0]
    assert step_words(step, start, back=True) == "Displacement, ready for sea: 9 t (it was 8 t (7 t to 9 t))"
    assert step_words(step, start, back=False) == "Displacement, ready for sea: 8 t (7 t to 9 t) (it was 9 t)"
    row = with_row(start, "engine.candidate")
    assert step_words(History().recorded(start, row).steps[0], row, back=True) == "Candidates: 0 (it was 1)"
    named = with_text(row, "engine.candidate.0.name", "Blue [3]")
    step = History().recorded(row, named, "engine.candidate.0.name").steps[0]
    assert step_words(step, start, back=False) == "Name: Blue [3] (it was empty)"
    assert place_of(step) == "engine.candidate.0.name"
    assert place_of(Step("", {"gear.ratio": "2"}, {})) == "gear.ratio"
    first, second, third = ({"speed": f"{knots} kn"} for knots in (5, 6, 7))
    for rows, others, place in (
        ([first, second, third], [first, third], "present.log.1"),
        ([first], [first, second], "present.log.1"),
        ([first], [second], "present.log"),
    ):
        assert place_of(Step("", {"present.log": rows}, {"present.log": others})) == place
        assert place_of(Step("", {"present.log": others}, {"present.log": rows})) == place
    assert place_of(Step("", {}, {"present.log": [first]})) == "present.log.0"


@pytest.mark.parametrize("odd", ["x", 3, [1], date(2026, 5, 12), {}])
def test_a_table_by_hand_for_which_something_else_stands_is_told_as_it_is(odd: object) -> None:
    """The question which version to keep ended the program."""
    rows = with_text(with_row(Plan(), "engine.candidate"), "engine.candidate.0.name", "Grey 4")
    by_hand = replace(Plan(), extra={"engine": {"candidate": odd}})
    said = str(odd) if odd != [1] else "1"
    assert list(differences(changes(rows, by_hand), rows)) == [("Candidates", "Grey 4", said)]
    assert list(differences(changes(by_hand, rows), rows)) == [("Candidates", said, "Grey 4")]
    assert list(differences(changes(Plan(), by_hand), rows)) == [("Candidates", "empty", said)]


def test_steps_on_what_turns_the_propeller_are_told_of_a_motor_where_it_is_one() -> None:
    run = with_row(Plan(), "trial.run")
    read = with_text(with_text(run, "trial.run.0.engine_speed", "1800 rpm"), "fit.new_place", "3 m")
    step = changes(run, read)
    assert "Engine speed: 1800 rpm (it was empty)" in step_words(step, read, back=False)
    motor = with_row(read, "engine.motor")
    told = step_words(step, motor, back=False)
    assert "Motor speed: 1800 rpm (it was empty)" in told
    assert "New motor, ahead of the stern: 3 m (it was empty)" in told
    assert "ngine" not in told


@pytest.mark.parametrize(
    ("rows", "name"),
    [
        ([["Quiet"], [""]], "Quiet"),
        ([["Quiet"], [""], ["", "New"]], "Quiet"),
        ([["Quiet"], [""], ["Silent"], [""]], "Silent"),
        ([[""], ["Quiet"]], ""),
        ([["Gone", "Quiet"], ["", "Quiet"], ["Quiet"], [""]], "Quiet"),
        ([["Quiet", ""], [""]], ""),
        ([[], [""]], ""),
        ([[""], "by hand"], ""),
    ],
)
def test_what_a_row_without_a_name_was_called_is_in_the_steps(rows: list[Any], name: str) -> None:
    """Rows of names, one list after each step."""
    each = [[{"name": word} for word in words] if isinstance(words, list) else words for words in rows]
    steps = [Step("", {"engine.motor": was}, {"engine.motor": now}) for was, now in itertools.pairwise(each)]
    assert name_in_row(History(tuple(steps), len(steps)), "engine.motor", 0) == name

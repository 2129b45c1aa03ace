"""Changing an early page says what it upset on the later ones."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from engine.assessment import Assessment, assess
from engine.findings import Outcome, fits, look, stop
from engine.plan import STAGES, Plan, text_at, with_text
from tests.wizard.driving import focus, is_open, planning, screen_text, type_text, until
from tests.wizard.fakes import fake_assessment, stage_answers
from wizard.app import ShaftlogApp
from wizard.history import MOST, History, Step
from wizard.upsets import upset_line, upsets


def changed(before: Assessment, stage: str, outcome: Outcome[Any]) -> Assessment:
    return Assessment(before.plan, {**before.outcomes, stage: outcome})


def plan_with_length() -> Plan:
    return with_text(Plan(), "hull.waterline_length", "10 m")


def test_nothing_changed_upsets_nothing() -> None:
    before = fake_assessment(plan_with_length())
    assert upsets(before, before, "hull") == {}
    assert upsets(None, before, "hull") == {}
    assert upset_line({}) == ""


def test_decisions_new_findings_and_gaps_are_told() -> None:
    before = fake_assessment(plan_with_length())
    answers, found = before.outcomes["propeller"].answers, before.outcomes["propeller"].findings
    after = changed(before, "propeller", Outcome(replace(answers, size="17 x 15 in"), found))
    after = changed(
        after, "shaft", Outcome(stage_answers("shaft"), (*found, stop("The shaft whirls at 900 rpm. So.", "x")))
    )
    after = changed(after, "range", Outcome(None, (), "the tank."))
    told = upsets(before, after, "speed")
    assert told["propeller"] == "17 x 15 in (was size [x])"
    assert told["shaft"] == "stop: The shaft whirls at 900 rpm"
    assert told["range"] == "waits now for the tank."
    assert list(told) == ["propeller", "shaft", "range"]
    assert upset_line(told).startswith("Changed later: propeller: 17 x 15 in (was size [x]); shaft: stop:")


def test_what_is_ordered_is_told_with_the_digits_of_its_page() -> None:
    """Two ratios that only the fourth digit tells apart are two gears, and a shaft of 31.75 mm is none of 31.8."""
    before = fake_assessment(plan_with_length())
    gears, shafts = (
        [replace(before.outcomes[stage].answers, **{name: value}) for value in values]
        for stage, name, values in (("gear", "ratio", (2.588, 2.591)), ("shaft", "diameter_m", (0.030, 0.03175)))
    )
    sides = [
        changed(changed(before, "gear", Outcome(gear)), "shaft", Outcome(shaft))
        for gear, shaft in zip(gears, shafts, strict=True)
    ]
    told = upsets(*sides, "hull")
    assert told == {"gear": "ratio 2.591:1 (was 2.588:1)", "shaft": "31.75 mm (was 30 mm)"}


def test_a_long_sentence_is_cut_between_words_and_shown_to_be_cut() -> None:
    text = "The log at 1000 rpm and 5.2 kn reads as 7.3 kW at the shaft, 39 % more than the plan expects of the boat."
    before = fake_assessment(plan_with_length())
    after = changed(before, "power", Outcome(stage_answers("power"), (look(text, "x"),)))
    line = upset_line(upsets(before, after, "hull"))
    assert line.startswith("Changed later: power: look again: The log at 1000 rpm and 5.2 kn reads as 7.3 kW")
    assert line.endswith("39 % more than the plan ...")


def test_other_numbers_in_the_same_sentence_are_no_news_nor_is_what_fits() -> None:
    before = fake_assessment(plan_with_length())
    before = changed(before, "fit", Outcome(stage_answers("fit"), (look("She needs 3.5 m2 of vents, not 2.", "x"),)))
    found = (look("She needs 3.6 m2 of vents, not 2.1.", "x"), fits("All is well.", "x"))
    assert upsets(before, changed(before, "fit", Outcome(stage_answers("fit"), found)), "hull") == {}


def test_the_same_sentence_in_other_units_is_no_news() -> None:
    texts = (
        "She gets 265 kg lighter and floats 1.4 cm higher.",
        "She gets 584 lb lighter and floats 0 ft 6 1/4 in higher.",
    )
    before, after = (
        changed(fake_assessment(plan_with_length()), "fit", Outcome(stage_answers("fit"), (look(text, "x"),)))
        for text in texts
    )
    assert upsets(before, after, "hull") == {}


def test_only_later_pages_count() -> None:
    before = fake_assessment(plan_with_length())
    after = changed(before, "speed", Outcome(None, (), "the speed."))
    assert "speed" in upsets(before, after, "hull")
    assert upsets(before, after, "speed") == {}
    assert upsets(before, after, "range") == {}


def test_a_heavier_boat_upsets_what_depends_on_her_weight(launch: Plan) -> None:
    told = upsets(assess(launch), assess(with_text(launch, "hull.displacement", "13 t")), "hull")
    assert set(told) <= set(STAGES[1:])
    assert "(was " in told["propeller"]


@pytest.mark.parametrize("steps", [0, MOST], ids=["no", "all"])
async def test_the_line_stands_on_the_page_and_in_the_list_of_pages_until_the_next_change(
    plan_path: Path, steps: int
) -> None:
    """Also when so many steps have been made that the oldest goes with each new one."""

    def engine(plan: Plan) -> Assessment:
        found = fake_assessment(plan)
        if plan.speed.cruise is not None and plan.speed.cruise.si > 3.0:
            return found
        answers = replace(found.outcomes["propeller"].answers, size="17 x 15 in")
        return changed(found, "propeller", Outcome(answers, found.outcomes["propeller"].findings))

    app = ShaftlogApp(plan_path, plan_path.parent, assess=engine)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment and not app.is_updating, pilot)
        app.history = History((Step("hull.hull_draft", {}, {"hull.hull_draft": "1 m"}),) * steps, steps)
        await planning(app).go_to("speed")
        focus(app, "speed.cruise")
        await pilot.press("end", "shift+home", "5")
        await until(lambda: "Changed later: propeller: 17 x 15 in" in screen_text(app), pilot)
        await until(lambda: text_at(app.plan, "speed.cruise").startswith("5") and not app.is_updating, pilot)
        await pilot.press("f2")
        await until(lambda: "changed: 17 x 15 in (was size [x])" in screen_text(app), pilot)
        await pilot.press("escape")
        await planning(app).go_to("range")
        assert "Changed later" in screen_text(app), "it stays while one looks around"
        await pilot.resize_terminal(50, 14)
        await until(lambda: "too small" in screen_text(app), pilot)
        assert "Changed later" not in screen_text(app), "F2, which has the rest, does nothing there"
        await pilot.resize_terminal(80, 24)
        await until(lambda: "Changed later" in screen_text(app), pilot)
        focus(app, "range.tank")
        await type_text(pilot, "300 L")
        await until(lambda: "Changed later" not in screen_text(app), pilot)

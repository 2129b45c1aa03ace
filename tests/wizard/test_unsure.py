"""How sure the owner is: low, best and high in a dialog, or not known, and what that does to the answers."""

from dataclasses import replace
from pathlib import Path

import pytest

from engine.assessment import assess
from engine.plan import Plan, page_of, text_at, with_text
from engine.sections.engine import Engine
from tests.wizard.driving import field, focus, is_open, line, planning, screen_text, type_text, until, words
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.echo import echo, hint, usual_text
from wizard.measures import doubt_words
from wizard.screens.unsure import UnsureScreen


async def test_low_best_and_high_go_into_the_field(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.displacement")
        await pilot.press("ctrl+a")
        await until(lambda: isinstance(app.screen, UnsureScreen), pilot)
        await until(lambda: "one time in ten it is below the low" in screen_text(app), pilot)
        await pilot.press("up")
        await type_text(pilot, "14000")
        await pilot.press("enter", "enter", "enter")
        await pilot.press("enter")
        await until(lambda: "Give both low and high, or neither." in screen_text(app), pilot)
        await pilot.press("up")
        await type_text(pilot, "13000")
        await pilot.press("enter", "enter")
        await until(lambda: "must lie between the low and the high" in screen_text(app), pilot)
        await pilot.press("up", *["backspace"] * 5)
        await type_text(pilot, "16500 lb")
        await pilot.press("enter", "enter")
        await until(lambda: not isinstance(app.screen, UnsureScreen), pilot)
        assert text_at(app.plan, "hull.displacement") == "14800 lb (14000 lb to 16500 lb)"
        assert field(app, "hull.displacement").value == "14800 lb (14000 lb to 16500 lb)"
        await pilot.press("ctrl+u")
        await until(lambda: text_at(app.plan, "hull.displacement") == "14800 lb", pilot)


async def test_not_known_is_an_answer_and_shows_what_is_taken(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.displacement")
        await pilot.press("shift+f6")
        await until(lambda: isinstance(app.screen, UnsureScreen), pilot)
        await pilot.press("down", "down", "down", "enter")
        await until(lambda: not isinstance(app.screen, UnsureScreen), pilot)
        assert text_at(app.plan, "hull.displacement") == "not known"
        assert field(app, "hull.displacement").value == "not known"
        assert not line(app, "hull.displacement").has_class("-needed")
        await until(lambda: "taken: 8400 lb to 16100 lb" in screen_text(app), pilot)


@pytest.mark.parametrize("path", ["hull.kind", "trial.day"])
async def test_a_field_of_words_or_a_day_is_not_asked(plan_path: Path, path: str) -> None:
    """Of a day it was said that no guess can stand for it, in a dialog in which there was nothing to do."""
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await until(is_open(app, "hull"), pilot)
        await planning(app).go_to(page_of(path), path)
        await pilot.press("ctrl+a")
        await until(lambda: "Go to a field with a number first" in screen_text(app), pilot)
        assert not isinstance(app.screen, UnsureScreen)


@pytest.mark.parametrize(
    ("path", "asks"),
    [
        ("engine.candidate.0.rated_power", "Give the best value."),
        ("engine.candidate.0.weight", "Give the best value, or say that you do not know it."),
    ],
)
async def test_it_offers_not_to_know_only_where_that_is_an_answer(engine_path: Path, path: str, asks: str) -> None:
    app = ShaftlogApp(engine_path, engine_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 30)) as pilot:
        await until(is_open(app, "engine"), pilot)
        focus(app, path)
        await pilot.press("ctrl+a")
        await until(lambda: app.screen.query("#take"), pilot)
        await pilot.press("end", "shift+home", "delete", "down", "down", "enter")
        await until(lambda: asks in screen_text(app), pilot)


def test_what_is_usual_stands_in_the_owners_units() -> None:
    plan = with_text(with_text(Plan(), "hull.kind", "full-keel launch"), "hull.waterline_length", "31 ft 6 in")
    assert usual_text(plan, "hull.displacement") == "3810 kg to 7300 kg"
    assert "Most boats like yours: 3810 kg to 7300 kg." in hint(plan, "hull.displacement")
    assert usual_text(Plan(), "hull.displacement") == ""
    assert echo(with_text(plan, "hull.displacement", "?"), "hull.displacement") == "taken: 3810 kg to 7300 kg"
    assert echo(with_text(plan, "power.sea_margin", "?"), "power.sea_margin") == "taken: 15 %"


def test_the_rules_of_thumb_for_power_are_not_what_boats_like_hers_need(launch: Plan) -> None:
    """Beside the power to look for they were called what most boats have, which is twice as much."""
    told = hint(launch, "engine.candidate.0.rated_power", rows=9)
    assert (
        f"Rules of thumb, with a large margin in them: {usual_text(launch, 'engine.candidate.0.rated_power')}." in told
    )
    assert "Most boats like yours" not in told
    assert "Most boats like yours" in hint(launch, "present.engine_power", rows=9)


def test_who_has_an_engine_smaller_than_all_gears_known_is_not_sent_for_more_of_the_boat(launch: Plan) -> None:
    tiny = with_text(with_text(launch, "engine.candidate.0.rated_power", "7 kW"), "gear.ratios", "?")
    assert "gear.ratios" in tiny.not_known
    assert echo(tiny, "gear.ratios") == "no guess for such an engine: give it"


def test_who_has_no_engine_yet_is_sent_for_one_where_a_guess_rests_on_it(launch: Plan) -> None:
    """He was sent for more of the boat, of which all was there."""
    plan = replace(with_text(with_text(launch, "gear.ratios", "?"), "propeller.room", "?"), engine=Engine())
    assert {echo(plan, path) for path in ("gear.ratios", "propeller.room")} == {
        "no guess yet: say more of the engine, or give it"
    }
    begun = with_text(Plan(), "hull.hull_draft", "?")
    assert echo(begun, "hull.hull_draft") == "no guess yet: say more of the boat, or give it"


async def test_the_hint_says_what_is_usual_for_the_boat(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(120, 40)) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.displacement")
        await until(
            lambda: "Most boats like yours: 8400 lb to 16100 lb." in words(app, "#hint").replace("\n", " "), pilot
        )


def test_what_not_knowing_costs_is_told_with_its_band(launch: Plan) -> None:
    known = assess(launch)
    guessed = assess(with_text(launch, "hull.displacement", "?"))
    sentence = doubt_words(guessed, "hull.displacement", "metric")
    share = float(sentence.partition(" makes ")[2].partition(" %")[0])
    assert share > 30
    assert "kW" in sentence
    assert doubt_words(known, "hull.water_temperature", "metric") == ""

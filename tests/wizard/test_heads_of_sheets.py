"""What every sheet carries: at its head what the review page holds against ordering by it, at its foot the cautions."""

import pytest

from engine.assessment import assess
from engine.plan import Plan, with_text
from engine.planfile import load_plan
from engine.readiness import ITEMS, readiness
from tests.conftest import ROOT
from wizard.handover.sheets import order_sheet


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({}, "which way the gear's output turns"),
        ({"engine.chosen": ""}, "No candidate is chosen."),
        ({"gear.rating": ""}, "The rating of the gear is not known"),
        ({"shaft.material": ""}, "The material is not chosen; S31600 stands in for it."),
        ({"fit.room_length": "20 in"}, "ength of the engine room"),
        ({"hull.displacement": "not known"}, "Displacement, ready for sea: not known, only guessed."),
        ({"speed.cruise": "not known"}, "Cruising speed: not known, only guessed."),
        ({"power.sea_margin": "much"}, "'much'"),
        ({"propeller.diameter": "15 in", "propeller.pitch": "11 in"}, "The propeller is far too light"),
    ],
)
def test_a_sheet_is_clear_when_the_review_page_says_go_for_all_it_is_about_and_only_then(
    changes: dict[str, str], words: str
) -> None:
    """The yard was to cut a shaft of a material that nobody has chosen, for an engine that nobody has."""
    plan = load_plan(ROOT / "saved_plans" / "bittern.toml")
    for path, text in (changes and {"gear.output_turns": "clockwise", **changes}).items():
        plan = with_text(plan, path, text)
    assessment = assess(plan)
    ready = {item.item: item for item in readiness(assessment)}
    assert any(words in reason.text for item in ready.values() for reason in item.reasons)
    for sheet, about in (("propeller", ("propeller",)), ("engine", ("engine", "gear")), ("yard", ITEMS)):
        made = order_sheet(sheet, assessment)
        assert (made.reasons == ()) is all(ready[item].go for item in about), sheet
        told = any(words in reason.text for item in about for reason in ready[item].reasons)
        assert any(words in reason for reason in made.reasons) is told, sheet


@pytest.mark.parametrize(
    ("path", "text", "words"),
    [
        ("hull.displacement", "not known", "Displacement, ready for sea: not known"),
        ("speed.cruise", "not known", "Cruising speed: not known"),
        ("power.sea_margin", "much", "'much'"),
        ("engine.chosen", "", "No candidate is chosen."),
    ],
)
def test_the_trial_card_says_what_its_figures_are_not_yet_good_for(path: str, text: str, words: str) -> None:
    plan = load_plan(ROOT / "saved_plans" / "bittern.toml")
    assert order_sheet("trial", assess(plan)).reasons == ()
    found = order_sheet("trial", assess(with_text(plan, path, text))).reasons
    assert any(words in reason for reason in found)


@pytest.mark.parametrize("sheet", ["yard", "propeller"])
def test_a_sheet_for_those_who_draw_the_wheel_says_how_it_leaves_its_taper(launch: Plan, sheet: str) -> None:
    cautions = " ".join(order_sheet(sheet, assess(launch)).cautions)
    for words in ("leaves its taper with a bang", "Keep the nut on", "stand clear", "puller", "heat or hammer"):
        assert words in cautions, words

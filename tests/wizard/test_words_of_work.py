"""What the sheets tell people to do: nothing that spoils a boat or hurts anyone, and in the order of the work."""

import re

import pytest

from engine.assessment import Assessment, assess
from engine.plan import entry_at, with_text
from engine.planfile import load_plan
from tests.conftest import ROOT
from wizard.handover import report


@pytest.fixture(scope="module")
def bittern() -> Assessment:
    return assess(load_plan(ROOT / "saved_plans" / "bittern.toml"))


def sheet(assessment: Assessment, name: str) -> str:
    return " ".join(report(assessment, "text", sheet=name).split())


def test_a_wet_exhaust_is_not_asked_to_fall_all_the_way(bittern: Assessment) -> None:
    """Behind a water-lift muffler it rises to its highest point, as the fit page has it (Lift from the muffler)."""
    (line,) = re.findall(r"\[ \] (Exhaust gas-tight.*?)\.", sheet(bittern, "yard"))
    assert "to the muffler" in line
    assert "highest point" in line
    assert "all the way" not in line


def test_the_shaft_is_aligned_before_it_turns_under_power(bittern: Assessment) -> None:
    """Afloat, as the next sentence of the sheet says: a line set up ashore is out when she floats."""
    (afloat,) = re.findall(r"Afloat -+ (.*?) Assumed", sheet(bittern, "yard"))
    steps = [afloat.index(words) for words in ("Watch gland", "align", "run in gear", "trial card")]
    assert steps == sorted(steps)


def test_card_and_help_give_full_throttle_the_same_time(bittern: Assessment) -> None:
    """Coolant and gear oil are read at its end, when they have settled; the maker's limit comes first."""
    (line,) = re.findall(r"- (Full throttle only [^.]*)\.", sheet(bittern, "trial"))
    assert "until temperatures settle, some ten minutes" in line
    assert "less if the maker says so" in line
    assert "ten minutes into the full-throttle run" in entry_at("trial.run.0.coolant").what


def test_who_tries_or_fits_a_battery_is_told_what_it_can_do(bittern: Assessment) -> None:
    """Lead gives off hydrogen; lithium burns with poisonous gas. A diesel's card has no propulsion battery to fear."""
    electric = assess(with_text(bittern.plan, "engine.chosen", "Motor, 15 kW, 40 kWh"))
    for name in ("engine", "yard", "trial"):
        assert "hydrogen" in sheet(electric, name), name
        assert "hot lithium burns" in sheet(electric, name), name
    assert "hot lithium burns" not in sheet(bittern, "trial")


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("present.gear_ratio", "engine stopped and its key out"),
        ("present.tachometer", "clear of the belts"),
        ("engine.intake_air", "read from outside"),
        ("trial.exhaust_hose", "Do not touch"),
    ],
)
def test_help_that_sends_to_what_turns_or_is_hot_says_how_to_stay_whole(path: str, words: str) -> None:
    assert words in entry_at(path).how


def test_card_and_trial_page_name_both_depths_that_a_fair_trial_wants(bittern: Assessment) -> None:
    """The page looks again at water under either: tests/engine/test_trial.py."""
    (page,) = (each.text for each in bittern.outcomes["trial"].findings if "A fair trial" in each.text)
    for words in (sheet(bittern, "trial"), page):
        assert "deeper than five drafts and 0.4 lengths" in words

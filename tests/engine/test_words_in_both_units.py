"""What every owner reads alike, whichever units the plan has, names a number in both."""

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest

from engine.assessment import assess
from engine.assumptions import assumptions
from engine.entries import entries
from engine.plan import SECTIONS, tables, with_text
from engine.planfile import load_plan
from tests.conftest import ROOT

METRIC = re.compile(r"\d (?:C|mm|cm|m|m/s|kPa|K|kg|L|L/min)\b")
IMPERIAL = re.compile(r"\d (?:F|in|inch|ft|ft/s|psi|in Hg|lb|US gal|US gal/min)\b")
TITLE = "greater than or equal to 6 m"
"""Of a standard."""


def texts() -> Iterator[tuple[str, str]]:
    for section, kind in SECTIONS.items():
        for each in (kind, *tables(kind).values()):
            for name, entry in entries(each).items():
                for words in (entry.what, entry.how, entry.changes, entry.default_source):
                    yield f"{section}.{name}", words


def is_metric_alone(words: str) -> bool:
    words = words.replace(TITLE, "")
    return bool(METRIC.search(words)) and not IMPERIAL.search(words)


def test_help_names_both_units() -> None:
    assert sum(bool(METRIC.search(words)) for _, words in texts()) > 5
    assert not [(path, words) for path, words in texts() if is_metric_alone(words)]


def test_air_beyond_the_formula_is_told_in_the_owners_units() -> None:
    """The Dead Sea in the heat: 151 F and 106.3 kPa; and the field that each is from."""
    plan = load_plan(ROOT / "saved_plans" / "bittern.toml")
    for path, text in {"candidate.0.power_lost": "", "intake_air": "66 C", "altitude": "-400 m"}.items():
        plan = with_text(plan, f"engine.{path}", text)
    for units, temperatures, pressures in (
        ("imperial", "-4 F to 140 F", "17.7 in Hg to 31.3 in Hg"),
        ("metric", "-20 C to 60 C", "60 kPa to 106 kPa"),
    ):
        findings = assess(replace(plan, units=units)).outcomes["engine"].findings
        told = {each.path: each.text for each in findings if "not meant for it" in each.text}
        assert told == {
            "engine.intake_air": f"The air at the intake is outside {temperatures}; the formula is not meant for it.",
            "engine.altitude": f"The air pressure is outside {pressures}; the formula is not meant for it.",
        }


@pytest.mark.parametrize("outside", ["", "80 F"])
def test_nothing_that_an_imperial_plan_says_is_metric_alone(outside: str) -> None:
    """Findings, their sources, and what is assumed, which the sheets print."""
    plan = with_text(load_plan(ROOT / "saved_plans" / "bittern.toml"), "engine.intake_air", "")
    plan = replace(with_text(plan, "fit.outside_air", outside), notes="")
    assessment = assess(plan)
    found = [each for outcome in assessment.outcomes.values() for each in outcome.findings]
    told = [words for each in found for words in (each.text, each.source)]
    told += [each.text + each.source for each in assumptions(assessment)]
    assert len(told) > 100
    assert not [words for words in told if is_metric_alone(words)]

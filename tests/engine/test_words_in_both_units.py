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

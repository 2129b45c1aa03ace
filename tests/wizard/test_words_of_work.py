"""What the sheets tell people to do: nothing that spoils a boat or hurts anyone, and in the order of the work."""

import re

import pytest

from engine.assessment import Assessment, assess
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

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

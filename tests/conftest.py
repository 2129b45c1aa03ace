"""What tests share: an invented launch, complete, a way to change her plan, and how thoroughly to look.

With SHAFTLOG_TESTS=nightly the tests that draw at random draw a hundred times as much, and no two nights the same.
"""

import gc
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import settings

from engine.plan import Plan, with_row, with_text
from tests.how_thorough import NIGHTLY

ROOT = Path(__file__).resolve().parent.parent

gc.set_threshold(100_000, 50, 100)
"""The many objects of a screen are looked through less often: a tenth of a test's time."""

settings.register_profile("short", max_examples=100, deadline=None, derandomize=True)
settings.register_profile("nightly", max_examples=10_000, deadline=None)
settings.load_profile("nightly" if NIGHTLY else "short")

LAUNCH = {
    "hull.kind": "full-keel launch",
    "hull.waterline_length": "11.2 m",
    "hull.waterline_beam": "3.1 m",
    "hull.hull_draft": "0.65 m",
    "hull.displacement": "9 t",
    "hull.keel_draft": "1.1 m",
    "hull.appendage_area": "7.5 m2",
    "hull.windage_area": "8 m2",
    "hull.propeller_place": "in an aperture behind a full keel",
    "present.engine_weight": "420 kg",
    "present.shaft_diameter": "30 mm",
    "speed.cruise": "6.5 kn",
    "speed.top": "7.8 kn",
    "engine.candidate.0.name": "first",
    "engine.candidate.0.rated_power": "30 kW",
    "engine.candidate.0.rated_speed": "2800 rpm",
    "engine.candidate.0.duty": "medium",
    "engine.candidate.0.weight": "260 kg",
    "engine.candidate.1.name": "second",
    "engine.candidate.1.rated_power": "22 kW",
    "engine.candidate.1.rated_speed": "3000 rpm",
    "gear.ratios": "2.0; 2.5; 3.0",
    "gear.rating": "2 kW per 100 rpm",
    "propeller.room": "660 mm",
    "shaft.span": "1.2 m",
    "shaft.overhang": "100 mm",
    "shaft.propeller_weight": "14 kg",
    "range.tank": "300 L",
}


def changed(plan: Plan, changes: dict[str, str]) -> Plan:
    """A plan with fields as typed; every text must be understood."""
    for path, text in changes.items():
        plan = with_text(plan, path, text)
    assert not plan.unread, plan.unread
    return plan


@pytest.fixture(scope="session")
def launch() -> Plan:
    """A complete plan for an invented launch of 12 m and 9 t."""
    plan = with_row(with_row(Plan(name="Test launch"), "engine.candidate"), "engine.candidate")
    return changed(plan, LAUNCH)


@pytest.fixture(scope="session")
def change() -> Callable[[Plan, dict[str, str]], Plan]:
    """The function `changed`, for tests that cannot import it."""
    return changed


@pytest.fixture(scope="session")
def nightly() -> bool:
    """Whether there is a night's time."""
    return NIGHTLY


@pytest.fixture(scope="session")
def root() -> Path:
    """The project's folder."""
    return ROOT

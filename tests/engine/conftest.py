"""What tests of the sea trial share: a plan as far as the propeller, and boats that only the test knows."""

from pathlib import Path

import pytest

from engine.planfile import load_plan
from engine.stages.trial_boats import TrialBoats
from tests.engine.one_after_another import assess
from tests.engine.trials import Yard


@pytest.fixture(scope="session")
def yard(root: Path) -> Yard:
    """A demonstration plan that has a log of its present engine."""
    found = assess(load_plan(root / "saved_plans" / "bittern.toml"))
    assert found.outcomes["hull"].answers.logbook.used == len(found.plan.present.log)
    return Yard(found)


@pytest.fixture(scope="session")
def hidden(yard: Yard) -> tuple[TrialBoats, ...]:
    """Ten of the boats that this plan allows for, one by one."""
    return tuple(yard.hidden(10))

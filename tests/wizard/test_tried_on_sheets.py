"""What a sea trial has shown stands on the sheets written after it, and the card says how sure its figures are."""

import json

import numpy as np
import pytest

from engine import assess
from engine.plan import Plan, text_at, with_text
from engine.planfile import load_plan
from tests.conftest import ROOT
from tests.engine.trials import Faults, Yard, with_the_pitch_asked_for
from wizard.handover import report


@pytest.fixture(scope="module")
def too_coarse() -> Plan:
    """A boat whose wheel was made with far too much pitch, tried; the plan has the pitch that the trial asks for."""
    yard = Yard(assess(load_plan(ROOT / "saved_plans" / "bittern.toml")))
    (boat,) = yard.hidden(1)
    plan = yard.with_trial(yard.readings(boat, Faults(pitch=1.13), np.random.default_rng(1)))
    return with_the_pitch_asked_for(plan, assess(plan).outcomes["trial"].answers.new_pitch_m)


def test_the_shop_is_told_how_the_wheel_before_this_one_worked(too_coarse: Plan) -> None:
    """The propeller page calls a wheel too light that the trial asks for: the shop must know why."""
    found = assess(too_coarse)
    trial = found.outcomes["trial"].answers
    assert trial.is_the_wheel
    first, *_ = json.loads(report(found, "json", sheet="propeller"))["second_looks"]
    assert first.startswith(f"At the trial the wheel that was fitted, {trial.size}, was what was wrong: it works like")
    assert trial.causes[0].size in first
    assert first in " ".join(report(found, "text", sheet="propeller").split())
    as_fitted = with_text(too_coarse, "propeller.pitch", text_at(too_coarse, "trial.propeller_pitch"))
    assert "was what was wrong" not in report(assess(as_fitted), "text", sheet="propeller")


def test_the_card_says_how_far_an_engine_may_be_off_in_fuel() -> None:
    """Near idle the boats agree on the fuel within 1 %, while engines of a kind differ by ten."""
    plan = load_plan(ROOT / "saved_plans" / "two-sisters.toml")
    place = [each.name for each in plan.engine.candidate].index(plan.engine.chosen)
    path = f"engine.candidate.{place}"
    own = with_text(with_text(plan, f"{path}.fuel_speeds", "1500; 2500"), f"{path}.fuel_flows", "3 L/h; 9 L/h")
    for each, share in ((plan, "10 %"), (own, "5 %")):
        card = " ".join(report(assess(each), "text", sheet="trial").split())
        assert f"Brackets are those of the boats: fuel may be {share} out besides" in card

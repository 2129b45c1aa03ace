"""The advice of the trial page, followed to its end."""

import numpy as np

from engine.stages.trial_boats import TrialBoats
from tests.engine.one_after_another import assess
from tests.engine.trials import Faults, Yard, with_the_pitch_asked_for


def test_a_wheel_chosen_after_a_trial_that_asks_for_another_is_not_sent_back(
    yard: Yard, hidden: tuple[TrialBoats, ...]
) -> None:
    """The trial asks for less pitch; with that in the plan nobody is told to put the wrong wheel back into it."""
    plan = yard.with_trial(yard.readings(hidden[2], Faults(pitch=1.12), np.random.default_rng(1)))
    answers = assess(plan).outcomes["trial"].answers
    assert answers.new_pitch_m < yard.propeller.pitch_m
    chosen = with_the_pitch_asked_for(plan, answers.new_pitch_m)
    texts = [finding.text for finding in assess(chosen).outcomes["trial"].findings]
    (other,) = [text for text in texts if "is not what the plan has" in text]
    assert "If the plan has what comes next, leave it so" in other
    (cause,) = [text for text in texts if "explains the trial is the propeller" in text]
    assert "give here what they are" in cause
    assert "for the next one trust this trial" in cause

"""The advice of the trial page, followed to its end."""

from dataclasses import replace

import numpy as np

from engine.plan import with_text
from engine.stages.trial_boats import TrialBoats
from tests.engine.one_after_another import assess
from tests.engine.trials import Faults, Yard, with_the_pitch_asked_for

TACHOMETER = "trial.tachometer"


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


def test_a_wheel_is_not_accused_for_a_tachometer_that_nobody_has_checked(
    yard: Yard, hidden: tuple[TrialBoats, ...]
) -> None:
    """Nothing wrong with the boats, 5 % with the tachometer: it had the wheel measured, and did not say why first."""
    rng, accused = np.random.default_rng(5), 0
    for boat in hidden[:5]:
        sound = yard.readings(boat, Faults(), rng)
        plan = yard.with_trial(tuple(replace(each, engine_speed=1.05 * each.engine_speed) for each in sound))
        for checked in (True, False):
            found = assess(plan if checked else with_text(plan, TACHOMETER, ""))
            for finding in found.outcomes["trial"].findings:
                if finding.text.startswith("What explains the trial is the propeller: it works like one of "):
                    asks = "less pitch. A tachometer that reads high in every run looks the same" in finding.text
                    assert asks is not checked
                    accused += asks
    assert accused


def test_what_is_wrong_with_one_run_is_not_said_of_all_of_them(yard: Yard, hidden: tuple[TrialBoats, ...]) -> None:
    """It read "But it may be the readings: the boat outruns her propeller", of a run entered with a wrong speed."""
    plan = with_text(
        yard.with_trial(yard.readings(hidden[3], Faults(hull=1.9), np.random.default_rng(5))), TACHOMETER, ""
    )
    slip = with_text(with_text(plan, "trial.run.0.speed", "11 kn"), "trial.run.0.speed_back", "11 kn")
    texts = [finding.text for finding in assess(slip).outcomes["trial"].findings]
    assert any("No run of the trial counts: the boat outruns her propeller" in text for text in texts)
    (cause,) = [text for text in texts if "explains the trial is" in text]
    assert "But it may be the readings: the tachometer seems to read " in cause

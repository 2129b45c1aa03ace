"""What the sea trial says of the propeller: right, or so much pitch, never diameter first."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from engine.constants import INCH, KNOT, RPM
from engine.diagnosis import Diagnosis, Suspect
from engine.findings import Verdict
from engine.machinery.generic_engines import GENERIC_ENGINES
from engine.machinery.sea_trial import full_throttle_wanted
from engine.plan import Plan
from engine.sections.trial import LIGHT_LOAD, NORMAL_LOAD
from engine.stages.logged_drive import TWO_RUNS, Reading
from engine.stages.propeller_findings import TOO_LIGHT
from engine.stages.trial_boats import TrialBoats
from engine.stages.trial_cause import cause_of
from engine.stages.trial_propeller import judged, may_be_out, propeller_finding
from engine.stages.wording import Wording
from tests.engine.generic_candidates import with_generic
from tests.engine.one_after_another import assess
from tests.engine.trials import Faults, Yard

LIGHT = 0.03
"""Light running that a plan asks for."""


def verdict(yard: Yard, rpm_of_rated: float, load: str = NORMAL_LOAD, light: float = LIGHT) -> Any:
    rated = yard.engine.drive.engine.rated_speed
    reading = Reading(0, rpm_of_rated * rated, 7.0 * KNOT, None, TWO_RUNS, full_throttle=True)
    return judged(yard.expected, (reading,), rated, load, 0.5 * INCH, light)


def test_a_propeller_that_lets_the_engine_reach_its_speed_is_right(yard: Yard) -> None:
    assert verdict(yard, 1.01).is_right
    assert verdict(yard, 1.01).change == 0.0
    assert not verdict(yard, 1.01, "light, tanks nearly empty").is_right
    assert judged(yard.expected, (), 40.0, NORMAL_LOAD, INCH, LIGHT) is None


@pytest.mark.parametrize(
    ("per_cent", "load"),
    [(100, NORMAL_LOAD), (103, NORMAL_LOAD), (102, LIGHT_LOAD), (104, LIGHT_LOAD)],
)
def test_a_propeller_is_right_at_the_very_ends_of_what_is_wanted(yard: Yard, per_cent: int, load: str) -> None:
    for rated in range(1500, 4001, 100):
        reading = Reading(0, per_cent * rated // 100 * RPM, 7.0 * KNOT, None, TWO_RUNS, full_throttle=True)
        found = judged(yard.expected, (reading,), rated * RPM, load, INCH, LIGHT)
        assert found is not None
        assert found.is_right, rated


@pytest.mark.parametrize("light", [0.0, LIGHT, 0.05])
@pytest.mark.parametrize("reached", [0.985, 0.97])
def test_the_change_of_pitch_brings_the_light_running_wanted_and_full_throttle_into_the_band(
    yard: Yard, reached: float, light: float
) -> None:
    found = verdict(yard, reached, light=light)
    assert found.change < 0.0
    matched, pitch, step = yard.expected.reaching(found.reached), yard.fitted.pitch, 0.5 * INCH

    def after(change: float) -> tuple[float, float]:
        tried = matched.tried(pitch=1.0 + change / pitch)
        full, runs = (float(matched.fleet.median(each)) for each in (tried.full_throttle, tried.light_running))
        return full, abs(runs - light)

    assert after(0.0)[0] == pytest.approx(found.reached, rel=2e-3)  # straight lines there, powers here
    for change in (found.change, found.least):
        assert found.low <= after(change)[0] <= found.high
    assert not found.low <= after(found.least + step)[0] <= found.high
    for beside in (found.change - step, found.change + step):
        full, off = after(beside)
        assert off >= after(found.change)[1] or not found.low <= full <= found.high


def test_a_propeller_that_is_too_light_gets_the_least_pitch_that_will_do(yard: Yard) -> None:
    found = verdict(yard, 1.035)
    matched, pitch = yard.expected.reaching(found.reached), yard.fitted.pitch

    def full_throttle(change: float) -> float:
        return float(matched.fleet.median(matched.tried(pitch=1.0 + change / pitch).full_throttle))

    assert found.change == found.least > 0.0
    assert full_throttle(found.change) <= found.high < full_throttle(found.change - 0.5 * INCH)


@pytest.mark.parametrize("made", [1.08, 1.15])
def test_a_wheel_made_too_coarse_is_bent_back_to_what_it_should_be(hidden: tuple[TrialBoats, ...], made: float) -> None:
    """Nothing wrong with hull and engine, and nothing read amiss: what is left of the fault is less than a step.

    A boat that the wheel overloads as ordered is given less pitch than that.
    """
    step, bent = 0.01, 0
    for boat in hidden:
        reached = float(boat.tried(pitch=made).full_throttle[0])
        reading = Reading(0, reached, 7.0 * KNOT, None, TWO_RUNS, full_throttle=True)
        light = float(boat.as_fitted.light_running[0])
        found = judged(boat, (reading,), boat.drive.engine.rated_speed, NORMAL_LOAD, step, light)
        assert found is not None
        if found.change:
            bent += 1
            ordered = boat.fitted.pitch
            still = made * (ordered + found.change)
            assert still == pytest.approx(ordered, abs=step) if light >= 0.0 else still < ordered
    assert bent >= 3


@pytest.mark.parametrize(("size", "words"), [(-0.1, "takes less than it should"), (0.1, "takes more than it should")])
def test_a_propeller_is_not_called_right_where_the_other_runs_speak_against_it(
    yard: Yard, size: float, words: str
) -> None:
    for leader, says in ((("propeller", 0.9, size), words), (("hull", 0.9, size), "the propeller is right")):
        diagnosis = Diagnosis((Suspect(*leader), Suspect("nothing", 0.1, 0.0)))
        said = propeller_finding(Wording("metric"), verdict(yard, 1.01), diagnosis)
        assert says in said.text
        assert said.verdict is Verdict.FITS


def test_what_no_pitch_can_mend_is_not_mended_by_pitch(yard: Yard) -> None:
    assert verdict(yard, 0.70).change is None


@pytest.mark.parametrize(("steps_left", "says"), [(0.5, "is not worked out"), (2.5, "1 in of pitch less do not")])
def test_where_the_series_ends_no_more_is_claimed_than_was_tried(yard: Yard, steps_left: float, says: str) -> None:
    lowest = min(p for p in np.arange(0.3, 1.0, 0.001) if yard.fitted.kind.series.describes(1.0, float(p)))
    fitted = replace(yard.fitted, pitch=lowest * yard.fitted.diameter + steps_left * 0.5 * INCH)
    rated = yard.engine.drive.engine.rated_speed
    reading = Reading(0, 0.8 * rated, 7.0 * KNOT, None, TWO_RUNS, full_throttle=True)
    found = judged(replace(yard.expected, fitted=fitted), (reading,), rated, NORMAL_LOAD, 0.5 * INCH, LIGHT)
    assert found is not None
    told = propeller_finding(Wording("imperial"), found, None)
    assert says in told.text
    assert "describes none like it with less pitch" in told.text
    assert "4 in" not in told.text


def test_a_light_boat_that_only_reaches_rated_speed_is_tried_again_and_no_pitch_is_named(yard: Yard) -> None:
    """On the governor's droop an inch of pitch is worth a few rpm: to reach 2 % over rated would take far too much."""
    for share, is_tried_again in ((1.0, True), (1.015, True), (0.99, False), (1.02, False)):
        found = verdict(yard, share, LIGHT_LOAD)
        said = propeller_finding(Wording("metric"), found, None)
        assert ("try her again at normal load" in said.text) is is_tried_again
        if is_tried_again:
            assert found.change is None
            assert said.verdict is Verdict.LOOK


def test_a_light_boat_that_falls_short_is_given_no_more_than_her_lightness_asks_for(yard: Yard) -> None:
    """Two per cent more light running than at normal load; full throttle 2 % over rated would take far more."""
    light, normal = (verdict(yard, 0.98, load) for load in (LIGHT_LOAD, NORMAL_LOAD))
    matched, pitch = yard.expected.reaching(light.reached), yard.fitted.pitch
    runs = [
        float(matched.fleet.median(matched.tried(pitch=1.0 + found.change / pitch).light_running))
        for found in (light, normal)
    ]
    assert runs == pytest.approx([LIGHT + 0.02, LIGHT], abs=0.014)


def test_diameter_is_never_changed_first(yard: Yard) -> None:
    short, far, fast, lost = (verdict(yard, share) for share in (0.97, 0.93, 1.04, 0.5))
    text, much, more, none = (
        propeller_finding(Wording("imperial"), found, None).text for found in (short, far, fast, lost)
    )
    assert "The propeller wants 1 in less pitch, its diameter as it is, to run about 3 % light as planned" in text
    assert "Pitch comes first" in text
    assert "bronze or a stainless wheel" in text
    assert "a stainless one takes about 1 in at most" in much
    assert "more pitch, its diameter as it is" in more
    assert "do not bring it there" in none
    assert propeller_finding(Wording("metric"), short, None).verdict is Verdict.STOP
    assert propeller_finding(Wording("metric"), fast, None).verdict is Verdict.LOOK


def test_what_explains_the_trial_better_is_looked_at_before_the_propeller(
    yard: Yard, hidden: tuple[TrialBoats, ...]
) -> None:
    readings = yard.readings(hidden[3], Faults(engine=0.8), np.random.default_rng(5))
    diagnosis = cause_of(yard.expected, readings)
    assert diagnosis is not None
    said = propeller_finding(Wording("metric"), verdict(yard, 0.97), diagnosis)
    order = ("Leave the propeller as it is until the engine", "try her again", "If the engine is sound, the propeller")
    assert sorted(order, key=said.text.index) == list(order)


def test_a_run_that_does_not_count_bends_no_wheel_and_makes_none_right(yard: Yard) -> None:
    """A tachometer that reads 40 % high shows rated speed at six tenths of it."""
    doubt = "the tachometer seems to read 40 % high in every row"
    said = propeller_finding(Wording("metric"), verdict(yard, 0.97), None, doubt)
    assert said.text.endswith(f"Change nothing before that run is sound: {doubt}.")
    inside = propeller_finding(Wording("metric"), verdict(yard, 1.01), None, doubt)
    assert inside.verdict is Verdict.LOOK
    assert inside.text.endswith(f"Nothing is settled before that run is sound: {doubt}.")
    assert "is right" not in inside.text


@pytest.mark.parametrize(("share", "where"), [(1.2, "over the speed at which the governor ends it"), (0.2, "idle")])
def test_a_full_throttle_where_the_engine_gives_nothing_says_nothing_of_the_propeller(
    yard: Yard, share: float, where: str
) -> None:
    """No pitch can be worked out from it: full load there is none."""
    found = verdict(yard, share)
    assert (found.change, found.has_power) == (None, False)
    said = propeller_finding(Wording("metric"), found, None)
    assert said.verdict is Verdict.LOOK
    assert where in said.text
    assert "pitch" not in said.text


@pytest.mark.parametrize(
    ("reached", "tachometer", "expected", "is_to_be_checked"),
    [
        (0.98, "not checked", Verdict.LOOK, True),
        (0.96, "not checked", Verdict.STOP, False),
        (0.98, "checked with an optical one", Verdict.STOP, False),
        (0.995, "checked with an optical one", Verdict.LOOK, False),
    ],
)
def test_what_an_unchecked_tachometer_may_be_out_is_no_reason_to_cut_pitch_yet(
    yard: Yard, reached: float, tachometer: str, expected: Verdict, is_to_be_checked: bool
) -> None:
    said = propeller_finding(Wording("metric"), verdict(yard, reached), None, out=may_be_out(tachometer))
    assert said.verdict is expected
    assert ("Have the tachometer checked before anything else" in said.text) is is_to_be_checked


def test_a_motor_that_does_what_the_plan_expects_needs_no_other_pitch(launch: Plan) -> None:
    """No governor holds it just above rated speed: a wheel that runs 3 to 7 % light takes its whole power there, as the
    propeller page has it."""
    yard = Yard(assess(with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"])))
    expected = yard.propeller.full_throttle_rpm.best / yard.propeller.rated_rpm
    assert expected > 1.03
    assert verdict(yard, expected).is_right
    assert full_throttle_wanted(is_electric=True) == pytest.approx((1.0, 1.0 + TOO_LIGHT))
    assert full_throttle_wanted(is_light=True, is_electric=True)[0] == full_throttle_wanted(is_light=True)[0]
    said = propeller_finding(Wording("metric"), verdict(yard, 0.8), None, is_electric=True)
    assert "plus 7 %" in said.source

"""Stage 11: what did she do? What the plan expects at each engine speed, and the sea trial beside it."""

import math
from collections.abc import Iterator

import numpy as np

from engine.bands import Band
from engine.constants import KNOT, RPM
from engine.findings import Outcome
from engine.fleet import Fleet
from engine.machinery.sea_trial import propeller_slip
from engine.numeric import Array
from engine.plan import Plan
from engine.stages.drive import Drive, ElectricDrive, said_of
from engine.stages.full_throttle import BoatsCurves
from engine.stages.hull import HullAnswers
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.seasons import season_rows
from engine.stages.speed import SpeedAnswers
from engine.stages.trial_answers import PredictedRow, RunRow, TrialAnswers
from engine.stages.trial_boats import Tried
from engine.stages.trial_cause import cause_rows, cause_words
from engine.stages.trial_findings import trial_findings
from engine.stages.trial_judged import JudgedTrial

STEP = 200.0 * RPM
"""Engine speeds of a trial lie this far apart: trade practice, from memory."""
_LOWEST = 0.25
"""The slowest of them over rated speed while the idle speed is not known. Ours."""
_NEAR = 0.3
"""A step this near to full throttle, in steps, is left to full throttle. Ours."""


def assess_trial(
    plan: Plan,
    hull: HullAnswers,
    speed: SpeedAnswers,
    drive: Drive,
    ratio: float,
    propeller: PropellerAnswers,
) -> Outcome[TrialAnswers]:
    """The expected speeds and consumption, and the trial beside them."""
    trial = JudgedTrial(plan, hull, speed, drive, ratio, propeller)
    answers = _answers(trial)
    return Outcome(answers, said_of(drive, trial_findings(trial, answers)))


def _answers(trial: JudgedTrial) -> TrialAnswers:
    fleet = trial.before.fleet if trial.before is not None else trial.hull.fleet
    turns, burns = _at_cruise(trial.expected, trial.cruise, fleet)
    turns_after = burns_after = None
    if trial.hull.before_trial is not None and trial.after is not None:
        turns_after, burns_after = _at_cruise(trial.after.as_fitted, trial.cruise, trial.after.fleet)
    size, ratio = trial.size
    verdict, diagnosis, seasons = trial.verdict, trial.diagnosis, trial.seasons
    change, is_electric = None if verdict is None else verdict.change, isinstance(trial.drive, ElectricDrive)
    return TrialAnswers(
        is_of_plan=trial.is_of_plan,
        is_the_wheel=diagnosis is not None and diagnosis.is_clearly("propeller"),
        size=size,
        gear_ratio=ratio,
        rated_rpm=trial.drive.engine.rated_speed / RPM,
        full_throttle_rpm=fleet.band(trial.expected.full_throttle / RPM),
        reached_rpm=None if verdict is None else verdict.reached / RPM,
        pitch_change_m=change,
        new_pitch_m=None if change is None or trial.fitted is None else trial.fitted.pitch + change,
        cause=None if diagnosis is None else cause_words(diagnosis, is_electric),
        cruise_rpm=turns,
        after_cruise_rpm=turns_after,
        cruise_burn_l_per_h=trial.drive.if_fuel(burns),
        cruise_burn_after_l_per_h=None if burns_after is None else trial.drive.if_fuel(burns_after),
        rise_fraction=None if seasons is None else seasons.rise,
        clean_after_months=trial.cleaning.months,
        predicted=tuple(_predicted(trial, fleet)),
        runs=tuple(_runs(trial, fleet)),
        causes=() if diagnosis is None else tuple(cause_rows(diagnosis, is_electric)),
        checks=tuple(check.row for check in trial.checks) if trial.plan.trial.run else (),
        seasons=() if seasons is None else tuple(season_rows(seasons)),
    )


def _at_cruise(tried: Tried, cruise: Array, fleet: Fleet) -> tuple[Band, Band]:
    """Engine speed [rpm] and consumption of one engine at the cruising speed."""
    turns, burns = tried.at(cruise)
    return fleet.band(turns[:, 0] / RPM), fleet.band(burns[:, 0])


def _predicted(trial: JudgedTrial, fleet: Fleet) -> Iterator[PredictedRow]:
    """At even steps of engine speed, and at full throttle, where each boat turns as fast as she can."""
    engine, expected = trial.drive.engine, trial.expected
    lowest = engine.idle_speed or _LOWEST * engine.rated_speed
    full = fleet.band(expected.full_throttle).best
    if not math.isfinite(full):
        return
    steps: Array = STEP * np.arange(math.ceil(lowest / STEP), math.ceil(full / STEP - _NEAR), dtype=np.float64)
    yield from _rows_at(trial, fleet, steps, steps, expected.over(steps))
    yield from _rows_at(trial, fleet, np.array([full]), expected.full_throttle[:, None], expected.at_full_throttle)


def _rows_at(
    trial: JudgedTrial, fleet: Fleet, named: Array, engine_speed: Array, curves: BoatsCurves
) -> Iterator[PredictedRow]:
    """Rows at engine speeds that are named (M,), of boats that turn so fast or each at her own (N, M) [rev/s]."""
    taken = trial.drive.consumption(curves.delivered_power, engine_speed)
    moves, burns, powers = (
        fleet.each_band(values)
        for values in (curves.boat_speed, taken, trial.drive.at_crankshaft(curves.delivered_power))
    )
    for i, at in enumerate(named):
        if moves[i].is_known:
            yield PredictedRow(
                engine_rpm=float(at) / RPM,
                speed_kn=moves[i].scaled(1.0 / KNOT),
                power_kw=powers[i].scaled(1e-3),
                burn_l_per_h=trial.drive.if_fuel(burns[i]),
                drawn_kw=trial.drive.if_electric(burns[i]),
            )


def _runs(trial: JudgedTrial, fleet: Fleet) -> Iterator[RunRow]:
    book, fitted = trial.hull.trial, trial.fitted
    if not book.readings or fitted is None:
        return
    # the owner's runs need not rise, and two may be at one speed
    speeds, places = np.unique([reading.engine_speed for reading in book.readings], return_inverse=True)
    curves = trial.expected.over(speeds)
    taken = trial.drive.consumption(curves.delivered_power, speeds)
    moves, burns = fleet.each_band(curves.boat_speed), fleet.each_band(taken)
    for reading, i in zip(book.readings, places.tolist(), strict=True):
        fuel, drawn = (reading.taken(is_electric=of_motor) for of_motor in (False, True))
        why = book.left_out.get(reading.index)
        yield RunRow(
            engine_rpm=reading.engine_speed / RPM,
            speed_kn=reading.speed_kn,
            expected_speed_kn=moves[i].scaled(1.0 / KNOT),
            off_fraction=reading.speed / moves[i].best - 1.0,
            burn_l_per_h=trial.drive.if_fuel(fuel),
            expected_burn_l_per_h=trial.drive.if_fuel(burns[i]),
            drawn_kw=trial.drive.if_electric(drawn),
            expected_drawn_kw=trial.drive.if_electric(burns[i]),
            slip_fraction=float(propeller_slip(reading.speed, fitted.pitch, reading.engine_speed / fitted.ratio)),
            counts="yes" if why is None else f"no: {why}",
        )

"""Stage 11: what did she do? What the plan expects at each engine speed, and the sea trial beside it."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from engine.bands import Band
from engine.constants import HOUR, INCH, KNOT, LITRE, RPM
from engine.defaults import whole, word
from engine.diagnosis import Diagnosis
from engine.findings import Finding, Outcome, fits, look
from engine.fleet import Fleet, thinned
from engine.hull.consensus import Consensus, consensus
from engine.machinery.sea_trial import TRIAL_CONDITIONS, propeller_slip
from engine.numeric import Array
from engine.plan import Plan
from engine.stages.boats import Boats, boats_of
from engine.stages.drive import DieselDrive, Drive
from engine.stages.engine import EngineAnswers
from engine.stages.fit_answers import Check
from engine.stages.gear_answers import GearAnswers
from engine.stages.hull import HullAnswers
from engine.stages.log_findings import trial_log_findings
from engine.stages.logbook import Logbook
from engine.stages.logged_drive import LoggedDrive, Reading, fitted_blades
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.resistance import methods_in_use
from engine.stages.seasons import Cleaning, Seasons, cleaning_of, season_findings, season_rows, seasons_of
from engine.stages.speed import SpeedAnswers
from engine.stages.stock import size_words, stock_steps
from engine.stages.trial_answers import PredictedRow, RunRow, TrialAnswers
from engine.stages.trial_boats import TrialBoats, Tried
from engine.stages.trial_cause import DIAGNOSED_BOATS, cause_finding, cause_of, cause_rows, cause_words
from engine.stages.trial_checks import fairness_findings, trial_checks, vibration_findings
from engine.stages.trial_propeller import Judged, judged, propeller_findings
from engine.stages.unknowns import scores_of
from engine.stages.wording import Wording

STEP = 200.0 * RPM
"""Engine speeds of a trial lie this far apart: trade practice, from memory."""
_LOWEST = 0.25
"""The slowest of them over rated speed while the idle speed is not known. Ours."""
_METRIC_STEP = 0.01
"""Of pitch that a shop bends, beside half an inch [m]. Ours."""
_NEAR = 0.3
"""A step this near to full throttle, in steps, is left to full throttle. Ours."""
_SAME = 0.002
_COMPARED = "the boats before the trial with the propeller that was fitted, by the series that stands for it"


def assess_trial(
    plan: Plan,
    hull: HullAnswers,
    speed: SpeedAnswers,
    engine: EngineAnswers,
    gear: GearAnswers,
    propeller: PropellerAnswers,
) -> Outcome[TrialAnswers]:
    """The expected speeds and consumption, and the trial beside them."""
    page = _Page(plan, hull, speed, engine.drive, gear, propeller)
    answers = page.answers()
    return Outcome(answers, tuple(page.findings(answers)))


@dataclass(frozen=True, eq=False)
class _Page:
    """A trial with all that it is judged by."""

    plan: Plan
    hull: HullAnswers
    speed: SpeedAnswers
    drive: Drive
    gear: GearAnswers
    propeller: PropellerAnswers

    @cached_property
    def fitted(self) -> LoggedDrive | None:
        """What was fitted, once the trial has a run or a season; None while that is not known."""
        return LoggedDrive.fitted(self.plan, self.hull.water) if self._has_log else None

    @property
    def _has_log(self) -> bool:
        return bool(self.plan.trial.run or self.plan.trial.season)

    @property
    def cruise(self) -> Array:
        return np.array([self.speed.cruise_kn * KNOT])

    @cached_property
    def expected(self) -> Tried:
        """The boats before the trial, with what was fitted, else with what is planned."""
        if self.before is not None:
            return self.before.as_fitted
        wheel = self.propeller.wheel
        calm = wheel.setting.cases.calm
        setting = wheel.setting
        return Tried(wheel.open_water(calm), wheel.diameter, calm.boats, self.drive, setting.ratio, setting.hull.boats)

    @cached_property
    def before(self) -> TrialBoats | None:
        """The boats before the trial with what was fitted."""
        return self._boats(*(self.hull.before_trial or (self.hull.fleet, self.hull.boats)))

    @cached_property
    def after(self) -> TrialBoats | None:
        """The boats after the trial with what was fitted."""
        return self.before if self.hull.before_trial is None else self._boats(self.hull.fleet, self.hull.boats)

    @cached_property
    def clean(self) -> TrialBoats | None:
        """The boats after the trial, without growth."""
        if self.fitted is None:
            return None
        return self._boats(self.hull.fleet, self.hull.boats, replace(self.fitted, months=0.0))

    @cached_property
    def opinion(self) -> Consensus:
        """The methods in use over the speeds of the plan, on the boat as described."""
        return consensus(self.hull.form, self.speed.curve.speed, self.hull.water, methods_in_use(self.plan))

    def _boats(self, fleet: Fleet, boats: Boats, fitted: LoggedDrive | None = None) -> TrialBoats | None:
        fitted = fitted or self.fitted
        if fitted is None:
            return None
        return TrialBoats.of(self.plan, self.hull, self.opinion, fitted, self.drive, fleet, boats)

    def _few(self, every: TrialBoats) -> TrialBoats:
        """Fewer of the boats, where many faults or pitches are tried on them."""
        fleet = thinned(every.fleet, DIAGNOSED_BOATS)
        boats = boats_of(self.plan, self.hull.water, scores_of(fleet.scores))
        return TrialBoats.of(self.plan, self.hull, self.opinion, every.fitted, self.drive, fleet, boats)

    @property
    def sound(self) -> tuple[Reading, ...]:
        """The runs that count by themselves: all, when the whole trial agrees with no boat."""
        book = self.hull.trial
        kept = tuple(reading for reading in book.readings if reading.index not in book.left_out)
        return kept or book.readings

    @cached_property
    def diagnosis(self) -> Diagnosis | None:
        return None if self.before is None else cause_of(self._few(self.before), self.sound)

    @cached_property
    def verdict(self) -> Judged | None:
        if self.after is None:
            return None
        step = 0.5 * INCH if stock_steps(self.plan).unit == "in" else _METRIC_STEP
        load = word(self.plan.trial, "load")
        return judged(self._few(self.after), self.hull.trial.readings, self.drive.engine.rated_speed, load, step)

    @cached_property
    def seasons(self) -> Seasons | None:
        return seasons_of(self.plan, self.clean) if self.plan.trial.season and self.clean is not None else None

    @cached_property
    def cleaning(self) -> Cleaning:
        if self.seasons is None or self.clean is None:
            return Cleaning(None)
        screws = whole(self.plan.hull, "screws")
        return cleaning_of(self.plan, self.seasons, self.clean, self.speed.cruise_kn * KNOT, screws)

    def answers(self) -> TrialAnswers:
        fleet = self.before.fleet if self.before is not None else self.hull.fleet
        turns, burns = _at_cruise(self.expected, self.cruise, fleet)
        turns_after = burns_after = None
        if self.hull.before_trial is not None and self.after is not None:
            turns_after, burns_after = _at_cruise(self.after.as_fitted, self.cruise, self.after.fleet)
        size, ratio = self._size
        verdict, diagnosis, seasons = self.verdict, self.diagnosis, self.seasons
        change = None if verdict is None else verdict.change
        return TrialAnswers(
            size=size,
            gear_ratio=ratio,
            rated_rpm=self.drive.engine.rated_speed / RPM,
            full_throttle_rpm=fleet.band(self.expected.full_throttle / RPM),
            reached_rpm=None if verdict is None else verdict.reached / RPM,
            pitch_change_m=change,
            new_pitch_m=None if change is None or self.fitted is None else self.fitted.pitch + change,
            cause=None if diagnosis is None else cause_words(diagnosis),
            cruise_rpm=turns,
            after_cruise_rpm=turns_after,
            cruise_burn_l_per_h=self.drive.if_fuel(burns),
            cruise_burn_after_l_per_h=None if burns_after is None else self.drive.if_fuel(burns_after),
            rise_fraction=None if seasons is None else seasons.rise,
            clean_after_months=self.cleaning.months,
            predicted=tuple(self._predicted(fleet)),
            runs=tuple(self._runs(fleet)),
            causes=() if diagnosis is None else tuple(cause_rows(diagnosis)),
            checks=tuple(check.row for check in self._checks) if self.plan.trial.run else (),
            seasons=() if seasons is None else tuple(season_rows(seasons)),
        )

    @property
    def _size(self) -> tuple[str, float]:
        """The propeller that is judged, in words, and the ratio."""
        if self.fitted is None:
            return self.propeller.size, self.gear.ratio
        size = self.fitted.diameter, self.fitted.pitch
        return size_words(size, fitted_blades(self.plan).blades, stock_steps(self.plan)), self.fitted.ratio

    @cached_property
    def _checks(self) -> list[Check]:
        return trial_checks(self.plan, self.drive.engine.rated_speed)

    def _predicted(self, fleet: Fleet) -> Iterator[PredictedRow]:
        engine = self.drive.engine
        lowest = engine.idle_speed or _LOWEST * engine.rated_speed
        full = fleet.band(self.expected.full_throttle).best
        if not math.isfinite(full):
            return
        steps: Array = STEP * np.arange(math.ceil(lowest / STEP), math.ceil(full / STEP - _NEAR), dtype=np.float64)
        speeds = np.append(steps, full)
        curves = self.expected.over(speeds)
        taken = self.drive.consumption(curves.delivered_power, speeds)
        moves, burns, powers = (
            fleet.each_band(values)
            for values in (curves.boat_speed, taken, self.drive.at_crankshaft(curves.delivered_power))
        )
        for i, engine_speed in enumerate(speeds):
            if moves[i].is_known:
                yield PredictedRow(
                    engine_rpm=float(engine_speed) / RPM,
                    speed_kn=moves[i].scaled(1.0 / KNOT),
                    power_kw=powers[i].scaled(1e-3),
                    burn_l_per_h=self.drive.if_fuel(burns[i]),
                    drawn_kw=self.drive.if_electric(burns[i]),
                )

    def _runs(self, fleet: Fleet) -> Iterator[RunRow]:
        book, fitted = self.hull.trial, self.fitted
        if not book.readings or fitted is None:
            return
        speeds = np.array([reading.engine_speed for reading in book.readings])
        curves = self.expected.over(speeds)
        taken = self.drive.consumption(curves.delivered_power, speeds)
        moves, burns = fleet.each_band(curves.boat_speed), fleet.each_band(taken)
        for i, reading in enumerate(book.readings):
            flow = reading.fuel_flow
            why = book.left_out.get(reading.index)
            yield RunRow(
                engine_rpm=reading.engine_speed / RPM,
                speed_kn=reading.speed_kn,
                expected_speed_kn=moves[i].scaled(1.0 / KNOT),
                off_fraction=reading.speed / moves[i].best - 1.0,
                burn_l_per_h=None if flow is None else flow * HOUR / LITRE,
                expected_burn_l_per_h=self.drive.if_fuel(burns[i]),
                slip_fraction=float(propeller_slip(reading.speed, fitted.pitch, reading.engine_speed / fitted.ratio)),
                counts="yes" if why is None else f"no: {why}",
            )

    def findings(self, answers: TrialAnswers) -> Iterator[Finding]:
        plan, say, book = self.plan, Wording(self.plan.units), self.hull.trial
        if not plan.trial.run:
            yield fits(
                "No trial is entered yet. Print the trial card, run her by it, and enter the runs here. A fair trial: "
                f"{TRIAL_CONDITIONS}",
                "general practice, from memory",
            )
        if self._has_log and self.fitted is None:
            yield look(
                "What you have read after the repower is not used yet: say which ratio, diameter and pitch were "
                "fitted, with a pitch that the series of tested propellers describes. The plan has "
                f"{self.propeller.size} and a ratio of {self.gear.ratio:g}.",
                _COMPARED,
                "trial.gear_ratio",
            )
        elif plan.trial.run:
            yield from self._trial_findings(say, book, answers)
        if self.seasons is not None:
            yield from season_findings(plan, self.seasons, self.cleaning)

    def _trial_findings(self, say: Wording, book: Logbook, answers: TrialAnswers) -> Iterator[Finding]:
        if self.verdict is not None:
            yield from propeller_findings(say, self.verdict, self.diagnosis)
        if self.diagnosis is not None:
            yield cause_finding(self.diagnosis, not isinstance(self.drive, DieselDrive))
        yield from _change_findings(answers)
        yield from self._other_wheel_findings()
        yield from trial_log_findings(book)
        yield from fairness_findings(self.plan, book.readings)
        yield from (check.finding for check in self._checks if check.finding is not None)
        yield from vibration_findings(self.plan)

    def _other_wheel_findings(self) -> Iterator[Finding]:
        """Whether the other pages reckon with what was fitted."""
        if self.fitted is None:
            return
        planned = (self.propeller.diameter_m, self.propeller.pitch_m, self.gear.ratio)
        fitted = (self.fitted.diameter, self.fitted.pitch, self.fitted.ratio)
        if any(abs(a / b - 1.0) > _SAME for a, b in zip(fitted, planned, strict=True)):
            yield look(
                f"What was fitted ({self._size[0]}, ratio {self.fitted.ratio:g}) is not what the plan has "
                f"({self.propeller.size}, ratio {self.gear.ratio:g}). Choose it on the gear and propeller pages, so "
                "that range and costs are those of the boat as she is.",
                "both as entered",
                "propeller.diameter",
            )


def _at_cruise(tried: Tried, cruise: Array, fleet: Fleet) -> tuple[Band, Band]:
    """Engine speed [rpm] and consumption of one engine at the cruising speed."""
    turns, burns = tried.at(cruise)
    return fleet.band(turns[:, 0] / RPM), fleet.band(burns[:, 0])


def _change_findings(answers: TrialAnswers) -> Iterator[Finding]:
    """What the trial has changed in the plan."""
    before, after = answers.cruise_rpm, answers.after_cruise_rpm
    if after is not None and before.is_known and after.is_known:
        yield fits(
            f"The trial weighs the boats again: engine speed at cruise was {before.best:.0f} rpm "
            f"({before.low:.0f} to {before.high:.0f}), and is {after.best:.0f} rpm ({after.low:.0f} to "
            f"{after.high:.0f}) now. Power, range and cost follow on their pages.",
            "the plausible boats weighed by how well each explains the runs",
        )

"""The sea trial and what it is judged by: the boats before and after it, its causes, its checks, its seasons."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from engine.constants import INCH, KNOT
from engine.defaults import amount, whole, word
from engine.diagnosis import Diagnosis
from engine.fleet import Fleet, thinned
from engine.hull.consensus import Consensus
from engine.numeric import Array
from engine.plan import Plan
from engine.stages.boats import Boats, boats_of
from engine.stages.drive import Drive
from engine.stages.fit_answers import Check
from engine.stages.hull import HullAnswers
from engine.stages.logged_drive import LoggedDrive, Reading, fitted_blades
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.resistance import opinion_of
from engine.stages.seasons import Cleaning, Seasons, cleaning_of, seasons_of
from engine.stages.speed import SpeedAnswers
from engine.stages.stock import fitted_words, stock_steps
from engine.stages.trial_boats import TrialBoats, Tried
from engine.stages.trial_cause import DIAGNOSED_BOATS, cause_of
from engine.stages.trial_checks import trial_checks
from engine.stages.trial_propeller import Judged, judged
from engine.stages.unknowns import scores_of

_METRIC_STEP = 0.01
"""Of pitch that a shop bends, beside half an inch [m]. Ours."""


@dataclass(frozen=True, eq=False)
class JudgedTrial:
    """A trial with all that it is judged by; each is worked out when it is first asked for."""

    plan: Plan
    hull: HullAnswers
    speed: SpeedAnswers
    drive: Drive
    ratio: float
    propeller: PropellerAnswers

    @cached_property
    def fitted(self) -> LoggedDrive | None:
        """What was fitted, once the trial has a run or a season; None while that is not known."""
        return LoggedDrive.fitted(self.plan, self.hull.water) if self.has_log else None

    @property
    def has_log(self) -> bool:
        """Whether anything was read after the repower."""
        return bool(self.plan.trial.run or self.plan.trial.season)

    @property
    def cruise(self) -> Array:
        """The cruising speed, (1,) [m/s]."""
        return np.array([self.speed.cruise_kn * KNOT])

    @cached_property
    def is_of_plan(self) -> bool:
        """Whether what was fitted is the propeller and the ratio that the plan has."""
        wheel = self.propeller
        return self.fitted is None or self.fitted.is_the_same(wheel.diameter_m, wheel.pitch_m, wheel.blades, self.ratio)

    @cached_property
    def expected(self) -> Tried:
        """The boats before the trial, with what was fitted, else with what is planned."""
        if self.before is not None:
            return self.before.as_fitted
        wheel = self.propeller.wheel
        setting, calm = wheel.setting, wheel.setting.cases.calm
        return Tried(
            wheel.open_water(calm),
            wheel.diameter,
            calm.boats,
            self.drive,
            setting.ratio,
            setting.hull.boats,
            wheel.full_throttle(calm),
            wheel.points(calm),
        )

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
        return opinion_of(self.plan, self.hull.form, self.speed.curve.speed, self.hull.water)

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
        """Which of hull, propeller and engine explains the runs."""
        return None if self.before is None else cause_of(self._few(self.before), self.sound)

    @cached_property
    def verdict(self) -> Judged | None:
        """The propeller at full throttle."""
        if self.after is None:
            return None
        step = 0.5 * INCH if stock_steps(self.plan).unit == "in" else _METRIC_STEP
        load = word(self.plan.trial, "load")
        light, rated = amount(self.plan.propeller, "light_running"), self.drive.engine.rated_speed
        return judged(self._few(self.after), self.hull.trial.readings, rated, load, step, light)

    @cached_property
    def seasons(self) -> Seasons | None:
        """What the log over the seasons shows."""
        return seasons_of(self.plan, self.clean) if self.plan.trial.season and self.clean is not None else None

    @cached_property
    def cleaning(self) -> Cleaning:
        """When a cleaning pays."""
        if self.seasons is None or self.clean is None:
            return Cleaning(None)
        screws = whole(self.plan.hull, "screws")
        return cleaning_of(self.plan, self.seasons, self.clean, self.speed.cruise_kn * KNOT, screws)

    @property
    def size(self) -> tuple[str, float]:
        """The propeller that is judged, in words, and the ratio."""
        if self.fitted is None:
            return self.propeller.size, self.ratio
        size = self.fitted.diameter, self.fitted.pitch
        return fitted_words(size, fitted_blades(self.plan).blades, stock_steps(self.plan)), self.fitted.ratio

    @cached_property
    def checks(self) -> list[Check]:
        """The lines that a trial is accepted by."""
        return trial_checks(self.plan, self.drive.engine.rated_speed, self.ratio)

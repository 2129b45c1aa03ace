"""What the trial stage gives: what is expected, what was read beside it, and what that says."""

from dataclasses import dataclass

from engine.answers import answer, detail, maybe, table
from engine.bands import Band
from engine.stages.fit_answers import CheckRow


@dataclass(frozen=True, kw_only=True)
class PredictedRow:
    """One engine speed, before the trial is looked at: of the whole boat the speed, of one engine the rest."""

    engine_rpm: float = answer("Engine speed", digits=4)
    speed_kn: Band = answer("Boat speed", spread=True)
    power_kw: Band = answer("Engine power")
    burn_l_per_h: Band | None = maybe("Fuel of one engine", only_known=True)
    drawn_kw: Band | None = maybe("Drawn by one motor", metric="kW", imperial="kW", only_known=True)


@dataclass(frozen=True, kw_only=True)
class RunRow:
    """One run of the trial beside what was expected at that engine speed."""

    engine_rpm: float = answer("Engine speed", digits=4)
    speed_kn: float = answer("Boat speed")
    expected_speed_kn: Band = answer("Expected", spread=True)
    off_fraction: float = answer("Faster")
    burn_l_per_h: float | None = maybe("Fuel", only_known=True)
    expected_burn_l_per_h: Band | None = maybe("Fuel expected", only_known=True)
    drawn_kw: float | None = maybe("Drawn", metric="kW", imperial="kW", only_known=True)
    expected_drawn_kw: Band | None = maybe("Drawn, expected", metric="kW", imperial="kW", only_known=True)
    slip_fraction: float = answer("Slip")
    counts: str = answer("Counts")


@dataclass(frozen=True, kw_only=True)
class CauseRow:
    """One explanation of the trial."""

    cause: str = answer("What explains the trial")
    share_fraction: float = answer("How likely")
    size: str = answer("How much")


@dataclass(frozen=True, kw_only=True)
class SeasonRow:
    """One reading of the log over the seasons beside the clean boat."""

    day: str = answer("Day")
    months: float | None = maybe("Months since cleaning")
    engine_rpm: float = answer("Engine speed", digits=4)
    speed_kn: float = answer("Boat speed")
    clean_rpm: Band = answer("Clean, she needs", digits=4)
    rise_fraction: float = answer("More rpm")
    since_first_months: float = detail("Months since the first reading")


@dataclass(frozen=True, kw_only=True)
class TrialAnswers:
    """The sea trial. Without one: what to expect of it.

    is_of_plan: whether what is judged is the propeller and the ratio that the plan has.
    is_the_wheel: whether it is clearly the propeller that explains the trial.
    """

    is_of_plan: bool
    is_the_wheel: bool
    size: str = answer("Propeller that is judged")
    gear_ratio: float = answer("with a ratio of", digits=4, to_one=True)
    rated_rpm: float = answer("Rated engine speed", digits=4)
    full_throttle_rpm: Band = answer("Full throttle, expected", digits=4)
    reached_rpm: float | None = maybe("Full throttle, reached", digits=4, only_known=True)
    cause: str | None = maybe("What explains the trial", only_known=True)
    pitch_change_m: float | None = maybe("Change of pitch, all else sound", metric="mm", imperial="in", only_known=True)
    new_pitch_m: float | None = maybe("Pitch after it", metric="mm", imperial="in", only_known=True)
    cruise_rpm: Band = answer("Engine speed at cruise, expected", digits=4)
    after_cruise_rpm: Band | None = maybe("Engine speed at cruise, after the trial", digits=4, only_known=True)
    cruise_burn_l_per_h: Band | None = maybe("Fuel of one engine at cruise, expected", only_known=True)
    cruise_burn_after_l_per_h: Band | None = maybe("Fuel of one engine at cruise, after the trial", only_known=True)
    rise_fraction: Band | None = maybe(
        "More rpm for the same speed, a month uncleaned", only_known=True, over_boats=False
    )
    clean_after_months: float | None = maybe("Months after which cleaning pays", only_known=True)
    predicted: tuple[PredictedRow, ...] = table("Expected before the trial, clean and calm")
    runs: tuple[RunRow, ...] = table("The runs, beside what was expected at that engine speed")
    causes: tuple[CauseRow, ...] = table("What explains the trial")
    checks: tuple[CheckRow, ...] = table("What the trade accepts")
    seasons: tuple[SeasonRow, ...] = table("Over the seasons, beside the clean boat")

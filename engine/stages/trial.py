"""Stage 11: what did she do? What the plan expects at each engine speed, and the sea trial beside it."""

from dataclasses import dataclass

from engine.answers import answer, table
from engine.bands import Band
from engine.findings import Outcome
from engine.plan import Plan
from engine.stages.engine import EngineAnswers
from engine.stages.hull import HullAnswers
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.speed import SpeedAnswers


@dataclass(frozen=True, kw_only=True)
class PredictedRow:
    """One engine speed, clean hull and calm water, before the trial is looked at."""

    engine_rpm: float = answer("Engine speed")
    speed_kn: Band = answer("Boat speed", spread=True)


@dataclass(frozen=True, kw_only=True)
class TrialAnswers:
    """What the plan expects, and what the trial came to."""

    size: str = answer("Propeller that is judged")
    predicted: tuple[PredictedRow, ...] = table("Expected, clean and calm")


def assess_trial(
    plan: Plan, hull: HullAnswers, speed: SpeedAnswers, engine: EngineAnswers, propeller: PropellerAnswers
) -> Outcome[TrialAnswers]:
    """The expected speeds and consumption, and the trial beside them."""
    del hull, speed, engine
    return Outcome(TrialAnswers(size=propeller.size if plan.trial.propeller_diameter is None else "as fitted"))

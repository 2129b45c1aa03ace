"""Stage 10: what will it cost? The budget, fuel in a year, and whether it pays."""

from dataclasses import dataclass

from engine.answers import answer
from engine.constants import HOUR
from engine.defaults import amount
from engine.findings import Outcome
from engine.plan import Plan
from engine.stages.engine import EngineAnswers
from engine.stages.range_answers import RangeAnswers
from engine.stages.speed import SpeedAnswers


@dataclass(frozen=True, kw_only=True)
class CostsAnswers:
    """What she costs."""

    hours_per_year_h: float = answer("Hours under power in a year")


def assess_costs(plan: Plan, speed: SpeedAnswers, engine: EngineAnswers, voyage: RangeAnswers) -> Outcome[CostsAnswers]:
    """The budget of the repower, and what a year under power costs."""
    del speed, engine, voyage
    return Outcome(CostsAnswers(hours_per_year_h=amount(plan.costs, "hours_per_year") / HOUR))

"""Stage 9: does it all fit? Room, air, exhaust, water, fuel line, starting, bed, weight and trim, and the law."""

from collections.abc import Iterator
from typing import Any

from engine.findings import Finding, Outcome
from engine.plan import Plan
from engine.stages.engine import EngineAnswers
from engine.stages.fit_air import air_checks
from engine.stages.fit_answers import Check, FitAnswers
from engine.stages.fit_bed import bed_checks, room_checks
from engine.stages.fit_exhaust import exhaust_checks
from engine.stages.fit_float import float_figures, float_findings
from engine.stages.fit_law import law_findings
from engine.stages.fit_load import full_power_of
from engine.stages.fit_services import service_checks
from engine.stages.hull import HullAnswers
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.speed import SpeedAnswers


def assess_fit(
    plan: Plan, hull: HullAnswers, speed: SpeedAnswers, engine: EngineAnswers, propeller: PropellerAnswers
) -> Outcome[FitAnswers]:
    """What the chosen drive asks of the boat, and whether what the owner has described is enough."""
    figures: dict[str, Any] = {}
    checks: list[Check] = list(room_checks(plan, engine))
    full = full_power_of(engine)
    if full is not None:
        for part in (air_checks, exhaust_checks, service_checks):
            found, numbers = part(plan, full)
            checks += found
            figures |= numbers
    found, numbers = bed_checks(plan, engine, propeller)
    checks += found
    figures |= numbers
    figures |= float_figures(plan, hull, engine)
    answers = FitAnswers(**figures, checks=tuple(check.row for check in checks))
    return Outcome(answers, tuple(_findings(plan, hull, speed, engine, answers, checks)))


def _findings(
    plan: Plan,
    hull: HullAnswers,
    speed: SpeedAnswers,
    engine: EngineAnswers,
    answers: FitAnswers,
    checks: list[Check],
) -> Iterator[Finding]:
    yield from (check.finding for check in checks if check.finding is not None)
    yield from float_findings(plan, hull, engine.chosen.item, answers)
    yield from law_findings(plan, hull, speed, engine)

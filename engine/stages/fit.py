"""Stage 9: does it all fit? Room, air, exhaust, water, fuel line, starting, bed, weight and trim, and the law."""

from collections.abc import Iterator
from typing import Any

from engine.findings import Finding, Outcome, look
from engine.plan import Plan
from engine.sections.electric import Motor
from engine.stages.engine import EngineAnswers
from engine.stages.fit_air import air_checks
from engine.stages.fit_answers import Check, FitAnswers
from engine.stages.fit_bed import bed_checks, room_checks
from engine.stages.fit_exhaust import dry_findings, exhaust_checks
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
    full = full_power_of(engine)
    parts = () if full is None else tuple(part(plan, full) for part in (air_checks, exhaust_checks, service_checks))
    parts = (*parts, bed_checks(plan, engine, propeller))
    checks = [*room_checks(plan, engine), *(check for found, _ in parts for check in found)]
    figures: dict[str, Any] = {name: number for _, numbers in parts for name, number in numbers.items()}
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
    if not isinstance(engine.chosen.item, Motor):
        yield from dry_findings(plan)
    yield from float_findings(plan, hull, engine.chosen.item, answers)
    yield from _generator_findings(plan, engine)
    yield from law_findings(plan, hull, speed, engine)


def _generator_findings(plan: Plan, engine: EngineAnswers) -> Iterator[Finding]:
    """What a generator beside an electric drive wants, none of which this page works out."""
    item = engine.chosen.item
    if not isinstance(item, Motor) or item.generator_power is None:
        return
    yield look(
        "The generator is an engine of its own. Its exhaust, air, raw water, fuel line and mounts are not on this "
        "page: hold them against its maker's manual. Its exhaust gas kills as any other does.",
        "common practice, no source",
        "engine.motor",
    )
    if plan.fit.other_weight is None:
        yield look(
            "The weight of the generator is not in the change of weight: give it as other weight put in, and where it "
            "stands.",
            "weights as entered",
            "fit.other_weight",
        )

"""The stages in their order: each is handed what it needs of those before it, or says which one it waits for."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from engine.findings import Finding, Outcome
from engine.memory import keep_freed_memory
from engine.plan import STAGES, Plan
from engine.sections.electric import Motor
from engine.stages.candidates import assess_rivals
from engine.stages.cases import assess_cases, assess_weathers
from engine.stages.costs import assess_costs
from engine.stages.demand import assess_calm_demand, assess_demand, assess_reference, assess_thrust
from engine.stages.drive import assess_drive
from engine.stages.engine import assess_engine
from engine.stages.fit import assess_fit
from engine.stages.gear import assess_gear
from engine.stages.guessed import guess_findings
from engine.stages.hull import assess_hull
from engine.stages.log_on_power import assess_before_log
from engine.stages.power import assess_power
from engine.stages.propeller import assess_propeller
from engine.stages.propeller_match import assess_match
from engine.stages.propeller_size import assess_size
from engine.stages.range import assess_range, assess_under_way
from engine.stages.ratios import assess_ratios
from engine.stages.reuse import Worked, watched
from engine.stages.setting import in_setting
from engine.stages.shaft import assess_shaft
from engine.stages.sought import sought_findings
from engine.stages.speed import assess_calm_resistance, assess_reach, assess_speed
from engine.stages.trial import assess_trial
from engine.usual.guesses import with_guesses

keep_freed_memory()

_SETTING = ("hull", "speed", "power.thrust", "power.cases", "engine.drive", "gear.ratios.ratio")
"""What a propeller is tried in, in the order of a `Setting`."""
STEPS: Mapping[str, tuple[Callable[..., Outcome[Any]], tuple[str, ...]]] = {
    "hull": (assess_hull, ()),
    "speed.reach": (assess_reach, ("hull.hull_speed_kn",)),
    "speed.calm": (assess_calm_resistance, ("hull", "speed.reach.steps")),
    "speed": (assess_speed, ("hull", "speed.calm")),
    "power.calm": (assess_calm_demand, ("hull", "speed.calm")),
    "power.weathers": (assess_weathers, ("hull", "speed.calm", "power.calm")),
    "power.reference": (assess_reference, ("hull", "speed.top_kn", "power.calm")),
    "power.thrust": (assess_thrust, ("hull", "speed", "power.calm")),
    "power.cases": (assess_cases, ("power.thrust", "power.weathers")),
    "power.demand": (assess_demand, ("power.thrust", "power.reference")),
    "power.before_log": (assess_before_log, ("hull", "speed.cruise_kn", "power.reference.propeller")),
    "power": (assess_power, ("hull", "speed", "power.demand", "power.cases", "power.before_log")),
    "engine.drive": (assess_drive, ()),
    "engine.rivals": (assess_rivals, ("hull", "speed", "power.demand", "power.cases", "engine.drive")),
    "engine": (assess_engine, ("hull", "speed", "power.cases", "engine.rivals")),
    "gear.ratios": (assess_ratios, ("hull", "speed", "power.thrust", "power.cases", "engine.drive")),
    "gear": (assess_gear, ("hull", "speed", "power.thrust", "power.cases", "engine.drive", "gear.ratios")),
    "propeller.size": (in_setting(assess_size), (*_SETTING, "gear.ratios.largest_diameter_m")),
    "propeller.match": (in_setting(assess_match), (*_SETTING, "propeller.size.size", "propeller.size.area_ratio")),
    "propeller": (in_setting(assess_propeller), (*_SETTING, "propeller.size", "propeller.match")),
    "shaft": (assess_shaft, ("engine", "gear", "propeller")),
    "range.under_way": (assess_under_way, ("speed.cruise_kn", "propeller.wheel")),
    "range": (assess_range, ("hull", "speed", "engine.rivals", "range.under_way")),
    "fit": (assess_fit, ("hull", "speed", "engine", "propeller")),
    "costs": (assess_costs, ("speed", "engine.rivals", "propeller", "range")),
    "trial": (assess_trial, ("hull", "speed", "engine.drive", "gear.ratios.ratio", "propeller")),
}
"""Step -> its function, and what it takes of the steps before, in the order of its arguments: the answers of one, or a
part of them ("gear.ratios.ratio"), so that it stands when only the rest has changed.

A step is a stage; or what later stages take of it ("power.demand"), so that they need not wait for all that its page
shows; or what the usual change on its page leaves as it is ("speed.calm"), so that it stands.
"""
MEANWHILE: Mapping[str, tuple[Callable[..., tuple[Finding, ...]], tuple[str, ...]]] = {
    "engine": (sought_findings, ("hull", "speed", "power.demand")),
}
"""Stage -> what it can say while it waits for its own first answers, and what that takes, as in `STEPS`."""
_OF_THE_DRIVE = frozenset({"engine", "gear", "propeller", "shaft", "range", "fit", "trial"})
"""Stages whose labels on an engine are on the chosen one: of a motor, where it is one."""


def step_of(need: str) -> str:
    """The step that something is taken of."""
    return need if need in STEPS else need.rpartition(".")[0]


def stage_of(step: str) -> str:
    """The stage that a step is of."""
    return step.partition(".")[0]


def part_of(answers: Any, need: str) -> Any:
    """What is taken of the answers of a step."""
    return answers if need in STEPS else getattr(answers, need.rpartition(".")[2])


def run_stages(
    plan: Plan, earlier: Mapping[str, Worked], told: Callable[[str, Outcome[Any]], None] | None = None
) -> tuple[dict[str, Outcome[Any]], dict[str, Worked]]:
    """Every stage's outcome. A stage whose input has no answers waits for the stage where the trouble began.

    earlier: how the steps of another plan were worked out; what still stands is taken over.
    told: called with each stage and its outcome as soon as that is there, first with what the stage that the plan is
    left on needs; what it raises passes through.
    Returns: the outcomes, and how those steps were worked out that had their input.
    """
    guessed = with_guesses(plan)
    guesses = guess_findings(plan, guessed)
    outcomes: dict[str, Outcome[Any]] = {}
    worked: dict[str, Worked] = {}
    began: dict[str, str] = {}
    for step in _in_order(plan.stage):
        needs = STEPS[step][1]
        lacking = [began[before] for before in map(step_of, needs) if outcomes[before].answers is None]
        if not lacking:
            handed = {need: part_of(outcomes[step_of(need)].answers, need) for need in needs}
            worked[step] = _worked(step, guessed, handed, earlier.get(step))
            outcomes[step] = worked[step].outcome
            began[step] = step
        else:
            began[step] = min(lacking, key=list(STEPS).index)
            outcomes[step] = _waiting(stage_of(step), stage_of(began[step]), outcomes[began[step]])
            if step in MEANWHILE:
                outcomes[step] = replace(outcomes[step], findings=_meanwhile(step, guessed, outcomes))
        if step in STAGES:
            if guesses[step]:
                outcomes[step] = replace(outcomes[step], findings=(*guesses[step], *outcomes[step].findings))
            if told is not None:
                told(step, outcomes[step])
    return {stage: outcomes[stage] for stage in STAGES}, worked


def _in_order(first: str) -> Iterator[str]:
    """The steps, each behind those it needs: those of one stage, if it is one, before the rest."""
    wanted = {first}
    for step in reversed(list(STEPS)):
        if step in wanted:
            wanted.update(map(step_of, STEPS[step][1]))
    yield from (step for step in STEPS if step in wanted)
    yield from (step for step in STEPS if step not in wanted)


def _worked(step: str, plan: Plan, handed: Mapping[str, Any], before: Worked | None) -> Worked:
    """A step worked out, unless it stands as it was before."""
    if before is not None and before.stands_for(plan, handed):
        return before
    shown, taken = watched(plan)
    outcome = STEPS[step][0](shown, *handed.values())
    if stage_of(step) in _OF_THE_DRIVE and isinstance(plan.engine.selected, Motor):
        outcome = replace(outcome, of_motor=True)
    return Worked(plan, taken, handed, outcome if before is None else before.with_same_answers(outcome))


def _meanwhile(step: str, plan: Plan, outcomes: Mapping[str, Outcome[Any]]) -> tuple[Finding, ...]:
    """What a stage that waits has to say; nothing where that waits, too."""
    says, needs = MEANWHILE[step]
    found = [outcomes[step_of(need)].answers for need in needs]
    return () if any(answers is None for answers in found) else says(plan, *map(part_of, found, needs))


def _waiting(stage: str, began: str, first: Outcome[Any]) -> Outcome[Any]:
    """The outcome of a stage for want of another's answers, or of its own first ones.

    began, first: the stage where the trouble began, and the outcome that says what is missing.
    """
    if stage == began:
        return first
    if first.asked_on == stage:
        return Outcome(None, waits_for=f"{first.lacks}.")
    return Outcome(None, waits_for=f"the {began} page: {first.waits_for}", behind=began)

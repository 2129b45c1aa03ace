"""The stages in their order: each is handed what it needs of those before it, or says which one it waits for."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any

from engine.findings import Outcome
from engine.memory import keep_freed_memory
from engine.plan import STAGES, Plan
from engine.sections.electric import Motor
from engine.stages.costs import assess_costs
from engine.stages.engine import assess_engine
from engine.stages.fit import assess_fit
from engine.stages.gear import assess_gear
from engine.stages.guessed import guess_findings
from engine.stages.hull import assess_hull
from engine.stages.power import assess_power
from engine.stages.propeller import assess_propeller
from engine.stages.range import assess_range
from engine.stages.reuse import Worked, watched
from engine.stages.shaft import assess_shaft
from engine.stages.speed import assess_speed
from engine.stages.trial import assess_trial
from engine.usual.guesses import with_guesses

keep_freed_memory()

CHAIN: Mapping[str, tuple[Callable[..., Outcome[Any]], tuple[str, ...]]] = {
    "hull": (assess_hull, ()),
    "speed": (assess_speed, ("hull",)),
    "power": (assess_power, ("hull", "speed")),
    "engine": (assess_engine, ("hull", "speed", "power")),
    "gear": (assess_gear, ("hull", "speed", "power", "engine.drive")),
    "propeller": (
        assess_propeller,
        ("hull", "speed", "power", "engine.drive", "gear.ratio", "gear.largest_diameter_m"),
    ),
    "shaft": (assess_shaft, ("engine", "gear", "propeller")),
    "range": (assess_range, ("hull", "speed", "engine", "propeller")),
    "fit": (assess_fit, ("hull", "speed", "engine", "propeller")),
    "costs": (assess_costs, ("speed", "engine", "propeller", "range")),
    "trial": (assess_trial, ("hull", "speed", "engine.drive", "gear.ratio", "propeller")),
}
"""Stage -> its function, and what it takes of the stages before, in the order of its arguments: the answers of one, or
a part of them ("engine.drive"), so that it stands when only the rest has changed."""
_OF_THE_DRIVE = frozenset({"engine", "gear", "propeller", "shaft", "range", "fit", "trial"})
"""Stages whose labels on an engine are on the chosen one: of a motor, where it is one."""


def part_of(answers: Mapping[str, Any], need: str) -> Any:
    """What a stage takes of the answers of those before."""
    stage, _, part = need.partition(".")
    return getattr(answers[stage], part) if part else answers[stage]


def _stages_of(needs: Iterable[str]) -> list[str]:
    return [need.partition(".")[0] for need in needs]


def run_stages(
    plan: Plan, earlier: Mapping[str, Worked], told: Callable[[str, Outcome[Any]], None] | None = None
) -> tuple[dict[str, Outcome[Any]], dict[str, Worked]]:
    """Every stage's outcome. A stage whose input has no answers waits for the stage where the trouble began.

    earlier: how the stages of another plan were worked out; what still stands is taken over.
    told: called with each stage and its outcome as soon as that is there; what it raises passes through.
    Returns: the outcomes, and how those stages were worked out that had their input.
    """
    guessed = with_guesses(plan)
    guesses = guess_findings(plan, guessed)
    outcomes: dict[str, Outcome[Any]] = {}
    worked: dict[str, Worked] = {}
    began: dict[str, str] = {}
    has_motor = isinstance(guessed.engine.selected, Motor)
    for stage in STAGES:
        function, needs = CHAIN[stage]
        lacking = next((need for need in _stages_of(needs) if outcomes[need].answers is None), None)
        if lacking is None:
            answers = {need: outcomes[need].answers for need in _stages_of(needs)}
            handed = {need: part_of(answers, need) for need in needs}
            before = earlier.get(stage)
            if before is not None and before.stands_for(guessed, handed):
                worked[stage] = before
            else:
                shown, taken = watched(guessed)
                outcome = function(shown, *handed.values())
                outcome = replace(outcome, of_motor=True) if has_motor and stage in _OF_THE_DRIVE else outcome
                outcome = outcome if before is None else before.with_same_answers(outcome)
                worked[stage] = Worked(guessed, taken, handed, outcome)
            outcomes[stage] = worked[stage].outcome
            began[stage] = stage
        else:
            began[stage] = began[lacking]
            first = outcomes[began[stage]]
            is_ours = first.asked_on == stage
            waits_for = f"{first.lacks}." if is_ours else f"the {began[stage]} page: {first.waits_for}"
            outcomes[stage] = Outcome(None, waits_for=waits_for, behind="" if is_ours else began[stage])
        if guesses[stage]:
            outcomes[stage] = replace(outcomes[stage], findings=(*guesses[stage], *outcomes[stage].findings))
        if told is not None:
            told(stage, outcomes[stage])
    return outcomes, worked

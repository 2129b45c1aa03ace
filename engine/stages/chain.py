"""The stages in their order: each is handed what it needs of those before it, or says which one it waits for."""

from collections.abc import Callable, Mapping
from typing import Any

from engine.findings import Outcome
from engine.plan import STAGES, Plan
from engine.stages.engine import assess_engine
from engine.stages.fit import assess_fit
from engine.stages.gear import assess_gear
from engine.stages.guessed import told, with_guesses
from engine.stages.hull import assess_hull
from engine.stages.power import assess_power
from engine.stages.propeller import assess_propeller
from engine.stages.range import assess_range
from engine.stages.shaft import assess_shaft
from engine.stages.speed import assess_speed

CHAIN: Mapping[str, tuple[Callable[..., Outcome[Any]], tuple[str, ...]]] = {
    "hull": (assess_hull, ()),
    "speed": (assess_speed, ("hull",)),
    "power": (assess_power, ("hull", "speed")),
    "engine": (assess_engine, ("hull", "speed", "power")),
    "gear": (assess_gear, ("hull", "speed", "power", "engine")),
    "propeller": (assess_propeller, ("hull", "speed", "power", "engine", "gear")),
    "shaft": (assess_shaft, ("engine", "gear", "propeller")),
    "range": (assess_range, ("hull", "speed", "engine", "propeller")),
    "fit": (assess_fit, ("hull", "speed", "engine", "propeller")),
}
"""Stage -> its function, and the stages whose answers it takes, in the order of its arguments."""


def run_stages(plan: Plan) -> dict[str, Outcome[Any]]:
    """Every stage's outcome. A stage whose input has no answers waits for the stage where the trouble began."""
    guessed = with_guesses(plan)
    outcomes: dict[str, Outcome[Any]] = {}
    began: dict[str, str] = {}
    for stage in STAGES:
        function, needs = CHAIN[stage]
        lacking = next((need for need in needs if outcomes[need].answers is None), None)
        if lacking is None:
            outcomes[stage] = function(guessed, *(outcomes[need].answers for need in needs))
            began[stage] = stage
        else:
            began[stage] = began[lacking]
            reason = outcomes[began[stage]].waits_for
            outcomes[stage] = Outcome(None, waits_for=f"the {began[stage]} page: {reason}")
    return told(plan, guessed, outcomes)

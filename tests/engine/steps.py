"""Stages by themselves, on the answers of the steps before them, and what they say."""

import dataclasses
from collections.abc import Mapping
from typing import Any

from engine.findings import Outcome
from engine.plan import Plan
from engine.stages.chain import STEPS, part_of, stage_of, step_of


def worked_out(plan: Plan, step: str, answers: Mapping[str, Any]) -> Outcome[Any]:
    """One step.   answers: of the steps that it takes something of."""
    function, needs = STEPS[step]
    outcome: Outcome[Any] = function(plan, *(part_of(answers[step_of(need)], need) for need in needs))
    return outcome


def stage_worked_out(plan: Plan, stage: str, answers: Mapping[str, Any]) -> Outcome[Any]:
    """A stage, all steps of it, or the first of them that has no answers.   answers: as above."""
    found = dict(answers)
    for step in STEPS:
        if stage_of(step) == stage:
            outcome = worked_out(plan, step, found)
            if outcome.answers is None:
                break
            found[step] = outcome.answers
    return outcome


def said(outcome: Outcome[Any]) -> list[Any]:
    """All that an outcome tells the owner."""
    return [outcome.waits_for, outcome.findings, *_told(outcome.answers)]


def _told(answers: Any) -> list[Any]:
    found: list[Any] = []
    for item in dataclasses.fields(answers) if answers is not None else ():
        value = getattr(answers, item.name)
        if "label" in item.metadata:
            found.append((item.name, repr(value)))
        if "table" in item.metadata:
            found += [(item.name, _told(row)) for row in value]
    return found

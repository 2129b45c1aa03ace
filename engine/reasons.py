"""What stands against relying on a page of the plan, one sentence each: for the orders and for every sheet."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from engine.assessment import Assessment
from engine.findings import Finding, Verdict
from engine.plan import Plan, chosen_path, entry_at, page_of

_BLOCKING = ("fit.room_length", "fit.room_width", "fit.room_height")
"""Fields of second looks that stand against an engine all the same: it is larger than its room (ours)."""
_BLOCKING_OF_CANDIDATE = ("duty", "figures")
"""The same for fields of the chosen candidate: sold for lighter work than hers, or invented (ours)."""
_RESTS_ON = {"gear": ("propeller.room",)}
"""Stage -> fields of other pages that it rests on so much that a guess there is one here: the ratio stands on the room
for the propeller."""
_LONGEST = 150
"""Characters of a reason; as much as is read at a glance (ours)."""
_END = re.compile(r"(?<!\.)\. ")
"""Of a sentence; the dots behind a name that was cut end none."""


@dataclass(frozen=True)
class Reason:
    """Why something is not to be relied on yet.

    path: the field that mends it, or the stage to look at.   is_missing: nothing readable is in that field.
    """

    text: str
    path: str
    is_missing: bool = False


def reasons(assessment: Assessment, stage: str) -> Iterator[Reason]:
    """What stands against relying on what a stage says: its stops, what is missing or not understood, what is guessed,
    and second looks that count as much."""
    yield from stops(assessment, stage)
    for problem in assessment.problems(stage):
        yield Reason(problem.text, problem.path, is_missing=True)
    for path in sorted(assessment.plan.not_known - assessment.plan_with_guesses.not_known):
        if page_of(path) == stage or path in _RESTS_ON.get(stage, ()):
            words = f"{entry_at(path).label}: not known, only guessed. Settle this on the {page_of(path)} page."
            yield Reason(words, path)
    blocking = {*_BLOCKING, *_blocking_of_chosen(assessment.plan)}
    for finding in assessment.outcomes[stage].findings:
        if finding.verdict is Verdict.LOOK and finding.path in blocking:
            yield Reason(_brief(finding), finding.path)


def stops(assessment: Assessment, stage: str) -> Iterator[Reason]:
    """What a stage itself calls a stop."""
    for finding in assessment.outcomes[stage].findings:
        if finding.verdict is Verdict.STOP:
            yield Reason(f"The {stage} page says stop: {_brief(finding)}", finding.path or stage)


def _blocking_of_chosen(plan: Plan) -> Iterator[str]:
    if path := chosen_path(plan):
        yield from (f"{path}.{name}" for name in _BLOCKING_OF_CANDIDATE)


def _brief(finding: Finding) -> str:
    """Its first sentence, or as many words of it as are worth a line."""
    sentence = _END.split(finding.text, maxsplit=1)[0].rstrip(".")
    if len(sentence) <= _LONGEST:
        return f"{sentence}."
    words, _, _ = sentence[: _LONGEST - 3].rpartition(" ")
    return f"{words.rstrip(',;:')} ..."

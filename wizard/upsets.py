"""What a change did to the later pages: what is recommended there now, and what wants a look that did not before."""

import re
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from engine.answers import label_of, shown
from engine.findings import Finding, Outcome, Verdict
from engine.plan import STAGES
from wizard.wrapping import A_UNIT

if TYPE_CHECKING:
    from engine.assessment import Assessment

_DECISIONS = (
    ("engine", "name", ""),
    ("gear", "ratio", "ratio "),
    ("propeller", "size", ""),
    ("shaft", "diameter_m", ""),
)
"""What is ordered: stage, answer, and the word for it where the name of the stage does not say it."""
_NUMBER = re.compile(rf"(?:[-+]?\d[\d.,/ ]*(?:{A_UNIT} ?)?)+")
_LONGEST = 90


def upsets(before: "Assessment | None", after: "Assessment | None", page: str) -> dict[str, str]:
    """Stage -> what the change upset there, for the stages after the page it was made on, in their order.

    What can only be read off the numbers (a little more power) is no upset: decisions, verdicts and gaps are.
    """
    if before is None or after is None:
        return {}
    later = STAGES[STAGES.index(page) + 1 :] if page in STAGES else STAGES
    units = after.plan.units
    told = {stage: _told(stage, before.outcomes[stage], after.outcomes[stage], units) for stage in later}
    return {stage: "; ".join(words) for stage, words in told.items() if words}


def _told(stage: str, before: Outcome[Any], after: Outcome[Any], units: str) -> list[str]:
    if after.answers is None:
        return [] if before.answers is None else [f"waits now for {after.waits_for}"]
    words = [] if before.answers is None else _decided(stage, before.answers, after.answers, units)
    known = {_what(finding) for finding in _wanting(before)}
    fresh = [finding for finding in _wanting(after) if _what(finding) not in known]
    if before.answers is not None and fresh:
        first = min(fresh, key=lambda finding: finding.verdict.urgency)
        words.append(f"{first.verdict.value}: {_short(first.text)}")
    return words


def _wanting(outcome: Outcome[Any]) -> list[Finding]:
    """The findings that want a hand."""
    return [finding for finding in outcome.findings if finding.verdict is not Verdict.FITS]


def _decided(stage: str, before: Any, after: Any, units: str) -> list[str]:
    """What is to be ordered now in place of what was."""
    found = []
    for of_stage, name, words in _DECISIONS:
        if of_stage == stage:
            old, new = (
                shown(name, label_of(type(answers), name), getattr(answers, name), units) for answers in (before, after)
            )
            if old != new:
                found.append(f"{words}{new} (was {old})")
    return found


def _what(finding: Finding) -> tuple[Verdict, str]:
    """What makes a finding the same as another one."""
    return finding.verdict, gist(finding.text)


def gist(text: str) -> str:
    """A sentence without its numbers and their units: the same sentence about other numbers is nothing new."""
    return _NUMBER.sub("#", text)


def _short(text: str) -> str:
    """The first sentence, or as much of it as is worth a line."""
    sentence = text.partition(". ")[0]
    if len(sentence) <= _LONGEST:
        return sentence
    return f"{sentence[: _LONGEST - 3].rpartition(' ')[0].rstrip(',;:')} ..."


def upset_line(found: Mapping[str, str]) -> str:
    """All of it in one paragraph; "" when nothing was upset."""
    by_words: dict[str, list[str]] = {}
    for stage, words in found.items():
        by_words.setdefault(words if words.endswith("...") else words.rstrip("."), []).append(stage)
    told = "; ".join(f"{', '.join(stages)}: {words}" for words, stages in by_words.items())
    return f"Changed later: {told}{'' if told.endswith('...') else '.'}" if told else ""

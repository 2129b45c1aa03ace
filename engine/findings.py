"""What a stage has to say: findings in plain words, each with a verdict and the source of its rule."""

from dataclasses import dataclass
from enum import Enum
from typing import Any, Generic, TypeVar

Answers = TypeVar("Answers", covariant=True)


class Verdict(Enum):
    """How a finding stands. The word itself is shown, never colour alone."""

    FITS = "fits"
    LOOK = "look again"
    STOP = "stop"

    @property
    def urgency(self) -> int:
        """0 for what stops the plan, rising as it matters less."""
        return {Verdict.STOP: 0, Verdict.LOOK: 1, Verdict.FITS: 2}[self]


@dataclass(frozen=True)
class Finding:
    """One plain sentence with the numbers in it; `source` says where the rule is from; `path` the field to look at."""

    verdict: Verdict
    text: str
    source: str
    path: str = ""


def fits(text: str, source: str, path: str = "") -> Finding:
    """A finding that needs nothing done."""
    return Finding(Verdict.FITS, text, source, path)


def look(text: str, source: str, path: str = "") -> Finding:
    """A finding that wants a second look before money is spent."""
    return Finding(Verdict.LOOK, text, source, path)


def stop(text: str, source: str, path: str = "") -> Finding:
    """A finding that must be cleared before the plan can be trusted."""
    return Finding(Verdict.STOP, text, source, path)


@dataclass(frozen=True)
class Outcome(Generic[Answers]):
    """What one stage gives: answers when it could be worked out, and findings either way.

    waits_for: plain words for what is missing, while there are no answers.
    lacks, asked_on: what is missing and the page that asks for it, where that is another stage's page.
    behind: the stage that is itself waiting, where this one waits only for its answers.
    of_motor: a motor turns the propeller, so what is said of an engine beside the answers is said of a motor.
    """

    answers: Answers | None
    findings: tuple[Finding, ...] = ()
    waits_for: str = ""
    lacks: str = ""
    asked_on: str = ""
    behind: str = ""
    of_motor: bool = False


def lacking(what: str, page: str) -> Outcome[Any]:
    """No answers, for want of something that another page asks for."""
    return Outcome(None, waits_for=f"{what}, asked on the {page} page.", lacks=what, asked_on=page)

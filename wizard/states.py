"""How each page stands, as a mark and a word; never by colour alone."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from engine.findings import Verdict
from engine.plan import Plan
from engine.progress import progress_of

if TYPE_CHECKING:
    from engine.assessment import Assessment


@dataclass(frozen=True)
class State:
    """One way a page can stand. style: a colour of the theme, as decoration only."""

    mark: str
    word: str
    style: str


DONE = State("+", "done", "$success")
LOOK = State("?", "look", "$warning")
TODO = State("-", "todo", "$quiet")
STOPPED = State("!", "stop", "$error")
WAITING = State(".", "...", "$quiet")

VERDICTS = {
    Verdict.FITS: State("+", "fits", "$success"),
    Verdict.LOOK: State("?", "look again", "$warning"),
    Verdict.STOP: State("!", "stop", "$error"),
}


def states_of(plan: Plan, assessment: "Assessment | None") -> dict[str, State]:
    """How every page stands: also todo while it is not filled in, unless it stops the plan.

    The review goes by what stands against the plan, whether or not somebody has filled in a page that needs nothing.
    """
    progress = progress_of(plan)
    found = {
        stage: _found_on(stage, assessment, is_lacking=bool(problems)) for stage, problems in progress.problems.items()
    }
    states = {
        stage: state if stage in progress.filled_in or state is STOPPED else TODO for stage, state in found.items()
    }
    return states | {"review": _review_state(found, assessment)}


def _found_on(page: str, assessment: "Assessment | None", *, is_lacking: bool) -> State:
    """What stands against a page: a stop outweighs what is missing, and that outweighs a second look.

    is_lacking: whether something that it asks for is missing or not understood.
    """
    outcome = assessment.outcomes.get(page) if assessment else None
    verdicts = {finding.verdict for finding in outcome.findings} if outcome else set()
    if Verdict.STOP in verdicts:
        return STOPPED
    if is_lacking:
        return TODO
    if outcome is None:
        return WAITING
    if outcome.answers is None:
        return TODO
    return LOOK if Verdict.LOOK in verdicts else DONE


def _review_state(found: Mapping[str, State], assessment: "Assessment | None") -> State:
    if assessment is None:
        return WAITING
    return next((state for state in (STOPPED, TODO, LOOK) if state in found.values()), DONE)


def mending_page(page: str, assessment: "Assessment | None") -> str:
    """The other page that asks for what this one waits for; "" when it asks itself, or waits for nothing."""
    outcome = assessment.outcomes.get(page) if assessment else None
    if assessment is None or outcome is None:
        return ""
    first = assessment.outcomes[outcome.behind] if outcome.behind else outcome
    asking = first.asked_on or outcome.behind
    return "" if asking == page else asking

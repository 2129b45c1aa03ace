"""How far a plan has got: which pages are filled in, seen from the plan alone, so that a list of plans can say it.

One rule for that list and for the rail over an open plan; the rail adds what an assessment finds on the pages.
"""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from engine.entries import Kind
from engine.plan import (
    STAGE_SECTIONS,
    STAGES,
    Plan,
    Problem,
    chosen_path,
    entry_at,
    holds_data,
    knows_tank,
    paths,
    stage_problems,
)
from engine.sections.electric import Motor

_FOR_ANY_DRIVE = ("hull", "speed", "engine", "gear", "propeller")
RESTS_ON: Mapping[str, tuple[str, ...]] = {
    "hull": (),
    "speed": ("hull",),
    "power": ("hull", "speed"),
    "engine": ("hull", "speed"),
    **dict.fromkeys(("gear", "propeller", "shaft", "range", "fit", "trial"), _FOR_ANY_DRIVE),
    "costs": (*_FOR_ANY_DRIVE, "range"),
}
"""Page -> the pages that it waits for while they lack what they need; gear and propeller wait for each other."""

ONLY_THE_OWNERS = ("fit", "costs", "trial")
"""Pages that need nothing, and on which only the owner can say how it is: empty, they answer their question for nobody.
The power page needs nothing either, and is answered by the pages before it."""
_ANSWERED_BY: Mapping[str, tuple[str, ...]] = {"trial": ("trial.run", "trial.season")}
"""Of those: page -> the tables that answer its question, where the fields around them do not."""


@dataclass(frozen=True)
class Progress:
    """How far a plan has got.

    problems: stage -> what is missing or not understood on its page, in the order in which it is asked.
    filled_in: the stages on which nothing is missing or not understood, and that rest on no page which waits for
    something; of those that need nothing and only the owner can answer, the ones on which something has been said.
    entered: the same, but for what is not understood: that holds up its own page, and not those that rest on it, for
    the owner has filled them in all the same.
    not_understood: the stages with such a text, in their order.
    """

    problems: Mapping[str, Sequence[Problem]]
    filled_in: frozenset[str]
    entered: frozenset[str]
    not_understood: tuple[str, ...]


def progress_of(plan: Plan) -> Progress:
    """What is missing on each page of a plan, and which pages are filled in."""
    problems = {stage: stage_problems(plan, stage) for stage in STAGES}
    done = [
        stage for stage in STAGES if not problems[stage] and (stage not in ONLY_THE_OWNERS or _is_begun(plan, stage))
    ]
    not_understood = _where(problems, lambda path: path in plan.unread)
    waiting = _where(problems, lambda path: _holds_up(plan, path))
    lacking = _where(problems, lambda path: path not in plan.unread and _holds_up(plan, path))
    return Progress(problems, _resting_on_none(done, waiting), _resting_on_none(done, lacking), not_understood)


def _where(problems: Mapping[str, Sequence[Problem]], is_meant: Callable[[str], bool]) -> tuple[str, ...]:
    """The stages with a problem that is meant, by its path; in their order."""
    return tuple(stage for stage, found in problems.items() if any(is_meant(each.path) for each in found))


def _resting_on_none(stages: Iterable[str], waiting: Collection[str]) -> frozenset[str]:
    """Those of the stages that rest on no stage which waits for something."""
    return frozenset(stage for stage in stages if not set(RESTS_ON[stage]).intersection(waiting))


def _holds_up(plan: Plan, path: str) -> bool:
    """Whether the pages that rest on this one have no answers for want of a field: it is needed, and no name; of the
    candidates that of the chosen one; of the tanks while none is known, where fuel is burnt.

    path: of the field, or of a table that wants a row.
    """
    try:
        entry = entry_at(path)
    except KeyError:
        return True
    if path.startswith("range."):
        return not isinstance(plan.engine.selected, Motor) and not knows_tank(plan)
    is_asked = path.count(".") == 1 or path.startswith(f"{chosen_path(plan)}.")
    return entry.needed and is_asked and entry.kind is not Kind.TEXT


def _is_begun(plan: Plan, stage: str) -> bool:
    """Whether anything has been said on a page that answers its question, understood or not."""
    if stage in _ANSWERED_BY:
        return any(holds_data(plan, table) for table in _ANSWERED_BY[stage])
    return any(holds_data(plan, path) for section in STAGE_SECTIONS[stage] for path in paths(plan, section))

"""What every order sheet carries: why not to use it yet, what is assumed, cautions."""

from collections.abc import Iterator, Sequence

from engine.assumptions import Assumption as Assumed
from engine.assumptions import assumptions
from engine.machinery.cautions import CAUTIONS
from engine.readiness import order_reasons
from engine.reasons import reasons
from wizard.handover.lines import Asked
from wizard.handover.sheet import Assumption
from wizard.working_text import plan_path

CODES = "Local codes, the makers' manuals and licensed practice come before anything on this sheet."
_MOST = 5
"""Reasons that stand on a sheet; the plan's own sheet has them all."""


def reasons_against(asked: Asked, stages: Sequence[str], items: Sequence[str]) -> tuple[str, ...]:
    """Why a sheet must not be used yet, the shortest way to say it; () when it may.

    stages: that it rests on.   items: that it is about, of `engine.readiness.ITEMS`.
    """
    found = [words for stage in stages for words in _reasons(asked, stage)] or asked.not_yet(*stages)
    to_order = (reason.text for item in items for reason in order_reasons(asked.assessment, item))
    return few(list(dict.fromkeys((*found, *to_order))))


def few(found: Sequence[str], most: int = _MOST, called: str = "reasons") -> tuple[str, ...]:
    """As many as there is room for, and how many more there are.   called: what they are."""
    if len(found) <= most:
        return tuple(found)
    rest = len(found) - most + 1
    return (*found[: most - 1], f"{rest} more {called}: see the sheet of the whole plan.")


def _reasons(asked: Asked, stage: str) -> Iterator[str]:
    """What stands against a stage; all that is missing there is one line."""
    against = list(reasons(asked.assessment, stage))
    missing = [reason.text.rstrip(".") for reason in against if reason.is_missing]
    if missing:
        more = f", and {len(missing) - 1} more" if len(missing) > 1 else ""
        yield f"The {stage} page: {missing[0]}{more}."
    yield from (reason.text for reason in against if not reason.is_missing)


def assumed(asked: Asked, paths: Sequence[str]) -> tuple[Assumption, ...]:
    """Of these fields, those that stand on a default or a guess.

    paths: as `plan_path` takes them, "chosen.kind" that of the chosen candidate.
    """
    wanted = {plan_path(asked.guessed, path) for path in paths}
    return tuple(
        Assumption(each.label, each.text, assumed_from(each))
        for each in assumptions(asked.assessment)
        if each.path in wanted
    )


def assumed_from(each: Assumed) -> str:
    """Where it is from, and what to do about a guess."""
    if each.is_guess:
        return f"not known: what is usual for such boats, {each.source}; settle it before you order"
    return f"default: {each.source}"


def cautions(*names: str) -> tuple[str, ...]:
    """The cautions of these names, what this plan is and is not, and who comes first."""
    return (*(CAUTIONS[name].text for name in (*names, "plan-not-certificate")), CODES)

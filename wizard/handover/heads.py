"""What every order sheet carries: why not to use it yet, what is assumed, cautions."""

from collections.abc import Iterator, Sequence

from engine.assumptions import Assumption as Assumed
from engine.assumptions import assumptions
from engine.findings import Verdict
from engine.machinery.cautions import CAUTIONS
from engine.plan import entry_at, page_of
from engine.sections.electric import FIGURES
from wizard.handover.lines import Asked
from wizard.handover.sheet import Assumption

CODES = "Local codes, the makers' manuals and licensed practice come before anything on this sheet."
_MOST = 5
"""Reasons that stand on a sheet; the plan's own sheet has them all."""
_CHOSEN = "chosen."
"""Begins the path of a field of the chosen candidate."""


def reasons_against(asked: Asked, stages: Sequence[str]) -> tuple[str, ...]:
    """Why a sheet that rests on these stages must not be used yet, the shortest way to say it; () when it may."""
    return few(list(dict.fromkeys(_reasons(asked, stages))) or list(asked.not_yet(*stages)))


def few(found: Sequence[str]) -> tuple[str, ...]:
    """As many reasons as there is room for, and how many more there are."""
    if len(found) <= _MOST:
        return tuple(found)
    rest = len(found) - _MOST + 1
    return (*found[: _MOST - 1], f"{rest} more reasons: see the sheet of the whole plan.")


def _reasons(asked: Asked, stages: Sequence[str]) -> Iterator[str]:
    item = asked.item
    for path in sorted(asked.plan.not_known - asked.guessed.not_known):
        if page_of(path) in stages:
            yield f"{entry_at(path).label} is not known and guessed: settle it on the {page_of(path)} page."
    for stage in stages:
        missing = [problem.text.rstrip(".") for problem in asked.assessment.problems(stage)]
        if missing:
            more = f", and {len(missing) - 1} more" if len(missing) > 1 else ""
            yield f"The {stage} page: {missing[0]}{more}."
        for finding in asked.outcome(stage).findings:
            if finding.verdict is Verdict.STOP:
                yield f"The {stage} page says stop: {_first_sentence(finding.text)}"
        if stage == "engine" and item is not None and item.figures == FIGURES[1]:
            yield "The engine's figures are invented: put those of a data sheet in their place."


def _first_sentence(text: str) -> str:
    return f"{text.partition('. ')[0].rstrip('.')}."


def assumed(asked: Asked, paths: Sequence[str]) -> tuple[Assumption, ...]:
    """Of these fields, those that stand on a default or a guess.

    paths: of fields; one that begins with "chosen." is of the chosen candidate.
    """
    place = "" if asked.item is None else f"{asked.item_path}."
    wanted = {f"{place}{path.removeprefix(_CHOSEN)}" if path.startswith(_CHOSEN) else path for path in paths}
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

"""What every order sheet carries: why not to use it yet, what is assumed, cautions."""

from collections.abc import Iterator, Sequence

from engine.entries import is_given
from engine.findings import Verdict
from engine.machinery.cautions import CAUTIONS
from engine.plan import entry_at, page_of, text_at, value_at
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

    paths: of fields; one that begins with "chosen." is of the chosen candidate, and is left out where that has none.
    """
    return tuple(each for path in paths for each in _assumption(asked, path))


def _assumption(asked: Asked, path: str) -> Iterator[Assumption]:
    if path.startswith(_CHOSEN):
        if asked.item is None or not hasattr(asked.item, path.removeprefix(_CHOSEN)):
            return
        path = f"{asked.item_path}.{path.removeprefix(_CHOSEN)}"
    entry = entry_at(path)
    if path in asked.plan.not_known:
        value = text_at(asked.guessed, path) or "nothing"
        yield Assumption(entry.label, value, "not known: what is usual for such boats; settle it before you order")
    elif not is_given(value_at(asked.plan, path)) and entry.default:
        yield Assumption(entry.label, entry.default, f"default: {entry.default_source}")


def cautions(*names: str) -> tuple[str, ...]:
    """The cautions of these names, what this plan is and is not, and who comes first."""
    return (*(CAUTIONS[name].text for name in (*names, "plan-not-certificate")), CODES)

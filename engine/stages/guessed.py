"""What the owner does not know: what is usual for such boats stands in for it, as unsure as that is."""

from collections.abc import Mapping
from dataclasses import replace
from math import sqrt

from engine.entries import Kind, Value
from engine.findings import Finding, look
from engine.plan import STAGES, Plan, entry_at, page_of, value_at, with_value
from engine.showing import show
from engine.stages.unknowns import UNKNOWNS
from engine.units import Quantity
from engine.usual import Typical, typical

_IN_BANDS = frozenset(unknown.path for unknown in UNKNOWNS)


def with_guesses(plan: Plan) -> Plan:
    """The plan with a guess in each field that is needed and not known; one that has none is left empty.

    A guess can rest on another one, of the displacement on that of the length; the order does not matter.
    """
    while True:
        guessed = plan
        for path in sorted(plan.not_known):
            usual = typical(guessed, path) if entry_at(path).can_be_guessed else None
            if usual is not None:
                guessed = with_value(guessed, path, _guess(plan, path, usual))
        if guessed is plan:
            return plan
        plan = guessed


def _guess(plan: Plan, path: str, usual: Typical) -> Value:
    """The middle of what is usual, with its ends as low and high; of a list of values both ends and the middle."""
    entry = entry_at(path)

    def quantity(si: float) -> Quantity:
        return Quantity(si, show(si, entry.unit(plan.units), entry.dimension))

    low, middle, high = (quantity(si) for si in (usual.low, sqrt(usual.low * usual.high), usual.high))
    if entry.kind is Kind.QUANTITIES:
        return (low, middle, high)
    return replace(middle, low=low, high=high)


def guess_findings(plan: Plan, guessed: Plan) -> Mapping[str, list[Finding]]:
    """Stage -> a finding for each guess on its page."""
    found: dict[str, list[Finding]] = {stage: [] for stage in STAGES}
    for path in sorted(plan.not_known - guessed.not_known):
        entry, usual = entry_at(path), typical(guessed, path)
        source = usual.source if usual is not None else "usual for such boats"
        found[page_of(path)].append(
            look(
                f"{entry.label} is not known. Taken instead: {entry.write(_given(guessed, path))}. Settle it before "
                f"anything is ordered{'; the bands allow for it' if path in _IN_BANDS else ''}.",
                source,
                path,
            )
        )
    return found


def _given(plan: Plan, path: str) -> Value:
    value = value_at(plan, path)
    assert value is not None, "a guess has been put there"
    return value

"""What the owner does not know: what is usual for such boats stands in for it, as unsure as that is."""

from collections.abc import Mapping

from engine.entries import Value
from engine.findings import Finding, look
from engine.plan import STAGES, Plan, entry_at, page_of, value_at
from engine.stages.unknowns import UNKNOWNS
from engine.usual import typical

_IN_BANDS = frozenset(unknown.path for unknown in UNKNOWNS)


def guess_findings(plan: Plan, guessed: Plan) -> Mapping[str, list[Finding]]:
    """Stage -> a finding for each guess on its page."""
    found: dict[str, list[Finding]] = {stage: [] for stage in STAGES}
    for path in sorted(plan.not_known - guessed.not_known):
        entry, usual = entry_at(path), typical(guessed, path)
        source = usual.source if usual is not None else "usual for such boats"
        found[page_of(path)].append(
            look(
                f"{entry.label}: not known. Taken instead: {entry.write(_given(guessed, path))}. Settle this before "
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

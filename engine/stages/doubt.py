"""What to measure next: what each thing that is not known adds to the doubt of an answer, and what to do about it."""

from dataclasses import dataclass

from engine.answers import answer, detail
from engine.fleet import Fleet, variance_shares
from engine.numeric import Array
from engine.stages.logbook import Logbook
from engine.stages.unknowns import COLUMN, LOG_IT, UNKNOWNS, Unknown

SOURCE = "variance shares over the fleet, first-order index of Sobol (1993)"
_WORTH_DOING = 0.03
"""Less than this share of the doubt is not worth a measurement (ours)."""
_MORE_LOG = "Log two more speeds of the present engine, well apart from the others."


@dataclass(frozen=True)
class DoubtRow:
    """One thing to do, and the share of the doubt (variance) that it would take away."""

    action: str = answer("Do this")
    share_fraction: float = answer("Doubt it takes away")
    settles: str = answer("It settles")
    path: str = detail("The field that takes what is found")


def what_to_measure(fleet: Fleet, values: Array, logbook: Logbook) -> tuple[DoubtRow, ...]:
    """Actions by the share of the variance of values (N,) that they would take away, largest first."""
    by_action: dict[str, list[Unknown]] = {}
    for unknown in UNKNOWNS:
        by_action.setdefault(_action(unknown, logbook), []).append(unknown)
    columns = [[COLUMN[unknown.name] for unknown in group] for group in by_action.values()]
    shares = variance_shares(fleet, values, columns)
    rows = (
        DoubtRow(action, float(share), ", ".join(unknown.label for unknown in group), group[0].path)
        for (action, group), share in zip(by_action.items(), shares, strict=True)
    )
    worth = [row for row in rows if row.share_fraction >= _WORTH_DOING]
    return tuple(sorted(worth, key=lambda row: -row.share_fraction))


def _action(unknown: Unknown, logbook: Logbook) -> str:
    """What to do; who has logged already is asked for more of it."""
    return _MORE_LOG if unknown.action == LOG_IT and logbook.used else unknown.action

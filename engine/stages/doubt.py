"""What to measure next: what each thing that is not known adds to the doubt of an answer, and what to do about it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from engine.answers import answer, detail, said_of_motor
from engine.findings import Finding, fits
from engine.fleet import Fleet, variance_shares
from engine.numeric import Array
from engine.stages.logbook import EMPTY, Logbook
from engine.stages.unknowns import COLUMN, LOG_IT, UNKNOWNS, Unknown
from engine.stages.wording import percent

SOURCE = "variance shares over the fleet, first-order index of Sobol (1993)"
_WORTH_DOING = 0.03
"""Less than this share of the doubt is not worth a measurement (ours)."""
_MORE_LOG = "Log two more speeds of the present engine, well apart from the others."
_MORE_RUNS = "Run two more speeds of the sea trial, both ways, well apart from the others."


@dataclass(frozen=True)
class DoubtRow:
    """One thing to do, and the share of the doubt (variance) that it would take away."""

    action: str = answer("Do this")
    share_fraction: float = answer("Doubt it takes away")
    settles: str = answer("It settles")
    path: str = detail("The field that takes what is found")


def what_to_measure(
    fleet: Fleet, values: Array, logbook: Logbook, trial: Logbook = EMPTY, *, of_motor: bool = False
) -> tuple[DoubtRow, ...]:
    """Actions by the share of the variance of values (N,) that they would take away, largest first.

    logbook, trial: what there is already of the present engine, and of the new one.   of_motor: which is a motor.
    """
    by_action: dict[str, list[Unknown]] = {}
    for unknown in UNKNOWNS:
        by_action.setdefault(_action(unknown, logbook, trial), []).append(unknown)
    columns = [[COLUMN[unknown.name] for unknown in group] for group in by_action.values()]
    shares = variance_shares(fleet, values, columns)
    said = said_of_motor if of_motor else str
    rows = (
        DoubtRow(said(action), float(share), said(", ".join(each.label for each in group)), _path(action, group))
        for (action, group), share in zip(by_action.items(), shares, strict=True)
    )
    worth = [row for row in rows if row.share_fraction >= _WORTH_DOING]
    return tuple(sorted(worth, key=lambda row: -row.share_fraction))


def first_step(of_what: str, rows: Sequence[DoubtRow]) -> Iterator[Finding]:
    """The sentence about what to measure first; none where nothing is worth it.   of_what: "the power at cruise"."""
    if rows:
        first = rows[0]
        yield fits(
            f"The best way to be surer of {of_what}: {first.action} "
            f"It would take away {percent(first.share_fraction)} of the doubt.",
            SOURCE,
        )


def _action(unknown: Unknown, logbook: Logbook, trial: Logbook) -> str:
    """What to do; who has logged already is asked for more of it, on the engine that is there."""
    if unknown.action != LOG_IT:
        return unknown.action
    return _MORE_RUNS if trial.used else _MORE_LOG if logbook.used else LOG_IT


def _path(action: str, group: Sequence[Unknown]) -> str:
    return "trial.run" if action == _MORE_RUNS else group[0].path

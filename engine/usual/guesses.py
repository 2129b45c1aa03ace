"""What is usual stands in for a field that is needed and not known."""

from dataclasses import replace
from math import sqrt

from engine.entries import Kind, Value
from engine.plan import Plan, entry_at, with_value
from engine.showing import show
from engine.units import Quantity
from engine.usual import Typical, typical

_DIGITS = 3
"""Significant digits of a guess; feet are told in inches."""


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
    """The middle of what is usual, with its ends as low and high; of a list of values both ends and the middle, no
    finer than they are written: one of them that is chosen is then one of them."""
    entry = entry_at(path)

    def quantity(si: float) -> Quantity:
        return Quantity(si, show(si, entry.unit(plan.units), entry.dimension, _DIGITS))

    low, middle, high = (quantity(si) for si in (usual.low, sqrt(usual.low * usual.high), usual.high))
    if entry.kind is Kind.QUANTITIES:
        return entry.read("; ".join(value.text for value in (low, middle, high)), plan.units)
    return replace(middle, low=low, high=high)

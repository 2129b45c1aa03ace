"""How far off a number may be that the owner gives without low and high; ours, engine/data/doubt.toml."""

from dataclasses import dataclass

from engine.data import table


@dataclass(frozen=True)
class UsualDoubt:
    """low, high: how far below and above the number the 10th and the 90th percentile lie; low is negative.

    is_share: whether they are shares of the number, else in the field's own unit.
    """

    low: float
    high: float
    is_share: bool


def usual_doubt(field: str) -> UsualDoubt | None:
    """Of a number in a field of this name; None where the plan takes it as it stands."""
    doubt = table("doubt")
    for kind, is_share in (("given", True), ("given_amount", False)):
        if field in doubt[kind]:
            low, high = doubt[kind][field]
            return UsualDoubt(low, high, is_share)
    return None

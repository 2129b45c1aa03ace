"""Safety cautions: where the work or the plan can hurt someone."""

from collections.abc import Mapping
from dataclasses import dataclass

from engine.data import table


@dataclass(frozen=True)
class Caution:
    """id: short name.   applies: the occasion on which to show it.   text: what to say."""

    id: str
    applies: str
    text: str


CAUTIONS: Mapping[str, Caution] = {row["id"]: Caution(**row) for row in table("cautions")["caution"]}

"""What the usual range of a field is worked out from: the plan, read with care."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, TypeAlias

from engine.defaults import settled
from engine.entries import Entry, entries, is_given
from engine.plan import Plan
from engine.units import Quantity

Ends: TypeAlias = tuple[float, float]


class NotKnownError(LookupError):
    """What a range is worked out from is not in the plan, or is absurd."""


@dataclass(frozen=True)
class Asked:
    """A field whose range is asked for: the plan, the section or row that it stands in, its line of typical.toml."""

    plan: Plan
    row: Any
    data: Mapping[str, Any]
    name: str


Rule: TypeAlias = Callable[[Asked], Ends]
"""How the range of a field is worked out: both ends in SI, or NotKnownError."""


def read(entry: Entry, text: str) -> float:
    """A quantity as people write it [SI], of a field that holds one quantity or several."""
    found = entry.read(text)
    first = found[0] if isinstance(found, tuple) else found
    if not isinstance(first, Quantity):
        raise NotKnownError(text)
    return first.si


def value(section: Any, name: str) -> Any:
    """The owner's value of a field, else its default. Raises: NotKnownError while there is neither."""
    found = settled(section, name) if name in entries(type(section)) else None
    if found is None or not is_given(found):
        raise NotKnownError(name)
    return found


def amount(section: Any, name: str) -> float:
    """A quantity [SI]. Raises: NotKnownError while there is none, or one beyond what the field can hold."""
    found = value(section, name)
    limits = entries(type(section))[name].limits
    if not isinstance(found, Quantity) or limits is None or not limits[0] <= found.si <= limits[1]:
        raise NotKnownError(name)
    return found.si


def engine_of(plan: Plan) -> Any:
    """The candidate that the later pages work with. Raises: NotKnownError while there is none."""
    chosen = plan.engine.selected
    if chosen is None:
        raise NotKnownError("engine")
    return chosen


def screws(plan: Plan) -> int:
    """How many shafts share the power."""
    return 2 if value(plan.hull, "screws") == 2 else 1


def goes_above_hull_speed(plan: Plan) -> bool:
    """Whether hers is a kind of boat that is meant to run faster than hull speed."""
    return plan.hull.kind == "semi-displacement motor yacht"

"""What a stage works with: the owner's value of a field, or the field's default while it is empty."""

from typing import Any

from engine.entries import Entry, Kind, Value, entries, is_given
from engine.showing import show
from engine.units import Quantity


def settled(section: Any, name: str) -> Value | None:
    """The value of a field, else its default, else None."""
    value: Value | None = getattr(section, name)
    return value if is_given(value) else entries(type(section))[name].stand_in


def text_in(entry: Entry, text: str, units: str, digits: int = 0) -> str:
    """What would be typed into a field, a quantity in the owner's units.   digits: significant ones; 0 takes four."""
    value = entry.read(text) if entry.kind is Kind.QUANTITY and text else None
    return number_in(entry, value.si, units, digits) if isinstance(value, Quantity) else text


def number_in(entry: Entry, value: float, units: str, digits: int = 0) -> str:
    """An SI value as it would be typed into a field in the owner's units.   digits: as `text_in`."""
    return show(value, entry.unit(units), entry.dimension, digits)


def amount(section: Any, name: str) -> float:
    """A quantity in SI. Raises: LookupError when the field is empty and has no default."""
    value = settled(section, name)
    if not isinstance(value, Quantity):
        raise LookupError(f"{name} is empty and has no default")
    return value.si


def amount_or_none(section: Any, name: str) -> float | None:
    """A quantity in SI, or None while the field is empty and has no default."""
    value = settled(section, name)
    return value.si if isinstance(value, Quantity) else None


def word(section: Any, name: str) -> str:
    """A choice. Raises: LookupError when the field is empty and has no default."""
    value = settled(section, name)
    if not isinstance(value, str):
        raise LookupError(f"{name} is empty and has no default")
    return value


def whole(section: Any, name: str) -> int:
    """A whole number. Raises: LookupError when the field is empty and has no default."""
    value = settled(section, name)
    if not isinstance(value, int):
        raise LookupError(f"{name} is empty and has no default")
    return value

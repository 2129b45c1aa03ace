"""How one field of a plan is described: once, beside its name, for reading, checking, forms and help alike."""

import re
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, fields
from datetime import date
from enum import Enum
from functools import cache, cached_property
from typing import Any, NamedTuple

from engine.dates import read_day
from engine.quoting import quoted, shortened
from engine.reading import check_visible, read_quantity
from engine.units import Dimension, Quantity


class Kind(Enum):
    """The shape of a field's value: one quantity, several, a choice out of a list, a whole number, a day, or words."""

    QUANTITY = "quantity"
    QUANTITIES = "quantities"
    CHOICE = "choice"
    COUNT = "count"
    DAY = "day"
    TEXT = "text"


Value = Quantity | tuple[Quantity, ...] | str | int | date
"""What a field holds once it has been understood."""


NOT_KNOWN = "not known"
"""How a plan writes that the owner does not know a value."""
_NOT_KNOWN_WORDS = frozenset(
    ("?", "??", NOT_KNOWN, "unknown", "don't know", "do not know", "i don't know", "i do not know", "no idea")
)


MOST_VALUES = 100
"""Values that one field can hold. Our own choice: a full load curve has a dozen points, a boat a handful of tanks."""
_MOST_ALIKE = 20
_ALIKE = re.compile(r"(?P<times>\d+)\s*[x×*]\s*(?P<one>.+)", re.IGNORECASE | re.DOTALL)
_WHOLE = re.compile(r"[-+]?\d+")
_LONGEST_COUNT = 12
_MOST_COUNTED = 10**9
_SEVERAL = "Put semicolons between several values."


def says_not_known(text: str) -> bool:
    """Whether a text says that the owner does not know: "?", "not known", "I don't know"."""
    return " ".join(text.lower().replace("’", "'").split()).rstrip(".") in _NOT_KNOWN_WORDS


def is_given(value: Value | None) -> bool:
    """False for an empty field: None, no text, no quantities."""
    return value is not None and value not in ("", ())


@dataclass(frozen=True)
class Entry:
    """The description of one field.

    what, how, changes: the help the owner sees: what it is, how to measure it aboard, what it changes.
    metric, imperial: the units for a bare number, and for showing.   between: lowest and highest believable value, as
    people write them.
    default: what the stages use when the field is empty, in the owner's words;   default_source: where it is from.
    can_be_guessed: whether a needed field can be left to what is usual for such boats (engine/usual).
    """

    label: str
    kind: Kind
    what: str
    how: str = ""
    changes: str = ""
    dimension: Dimension = Dimension.NUMBER
    metric: str = ""
    imperial: str = ""
    between: tuple[str, str] | None = None
    choices: tuple[str, ...] = ()
    needed: bool = False
    default: str = ""
    default_source: str = ""
    can_be_guessed: bool = False

    @property
    def can_be_unknown(self) -> bool:
        """Whether "not known" is an answer: where it is not needed, or a guess can take its place."""
        is_number = self.kind in (Kind.QUANTITY, Kind.QUANTITIES, Kind.COUNT)
        return is_number and (self.can_be_guessed or not self.needed)

    @property
    def empty(self) -> Value | None:
        """What the field holds while it is empty."""
        match self.kind:
            case Kind.QUANTITIES:
                return ()
            case Kind.TEXT:
                return ""
            case _:
                return None

    @cached_property
    def limits(self) -> tuple[float, float] | None:
        """Lowest and highest believable SI value, read when first asked for: the first screen asks for few. None
        without."""
        if self.between is None:
            return None
        low, high = (read_quantity(text, self.dimension, self.metric).si for text in self.between)
        return low, high

    @cached_property
    def stand_in(self) -> Value | None:
        """What the default says, read once: stages ask for it a hundred times over. None without one."""
        return self.read(self.default) if self.default else None

    def unit(self, units: str) -> str:
        """The symbol of the unit that bare numbers are in, for `units` "metric" or "imperial"."""
        return self.imperial if units == "imperial" else self.metric

    def read(self, text: str, units: str = "metric") -> Value:
        """Understand what was typed. Raises: ValueError with one plain sentence that says what to do."""
        text = text.strip()
        if self.needed and self.kind is not Kind.TEXT and says_not_known(text):
            raise ValueError("This is needed, and no guess can stand for it. The help says how to find it out.")
        match self.kind:
            case Kind.QUANTITY:
                return read_quantity(text, self.dimension, self.unit(units), self.limits)
            case Kind.QUANTITIES:
                return self._quantities(text, units)
            case Kind.CHOICE:
                return self._choice(text)
            case Kind.COUNT:
                return self._count(text)
            case Kind.DAY:
                return read_day(text)
            case Kind.TEXT:
                return _one_line(text)

    def write(self, value: Value) -> str:
        """The value as one line of text that `read` understands as the same value."""
        if isinstance(value, Quantity):
            return value.written
        if isinstance(value, tuple):
            return "; ".join(quantity.written for quantity in value)
        return str(value)

    def _quantities(self, text: str, units: str) -> tuple[Quantity, ...]:
        parts = text.split(";") if ";" in text else text.replace(", ", ";").split(";")
        given = [part.strip() for part in parts if part.strip()]
        if not given:
            raise ValueError(f"{quoted(text)} has no number in it that can be read. {_SEVERAL}")
        if len(given) > MOST_VALUES:
            raise ValueError(f"{len(given)} values are more than fit in here. Write {MOST_VALUES} of them at most.")
        try:
            found = [quantity for part in given for quantity in self._alike(part, units)]
        except ValueError as error:
            raise ValueError(f"{error} {_SEVERAL}") from None
        return tuple(found)

    def _alike(self, part: str, units: str) -> list[Quantity]:
        """One value, or as many as "2 x 120 L" says."""
        several = _ALIKE.fullmatch(part)
        times, one = (several["times"], several["one"]) if several else ("1", part)
        if len(times) > 2 or not 1 <= int(times) <= _MOST_ALIKE:
            raise ValueError(f"{quoted(part)} must say how often, from 1 to {_MOST_ALIKE}: write it like 2 x 120.")
        return [read_quantity(one, self.dimension, self.unit(units), self.limits)] * int(times)

    def _choice(self, text: str) -> str:
        wanted = text.lower()
        for choice in self.choices:
            if choice.lower() == wanted:
                return choice
        starting = [choice for choice in self.choices if choice.lower().startswith(wanted)]
        if len(starting) == 1 and wanted:
            return starting[0]
        raise ValueError(f"{quoted(text)} is not among the choices. Choose one of: {', '.join(self.choices)}.")

    def _count(self, text: str) -> int:
        if not _WHOLE.fullmatch(text):
            raise ValueError(f"{quoted(text)} is not a whole number. Write a number such as 3.")
        low, high = (round(limit) for limit in self.limits or (-_MOST_COUNTED, _MOST_COUNTED))
        if len(text) > _LONGEST_COUNT or not low <= int(text) <= high:
            raise ValueError(f"{shortened(text)} cannot be right here. Write a whole number from {low} to {high}.")
        return int(text)


def _one_line(text: str) -> str:
    """Words as they are, with tabs and line ends as spaces. Raises: ValueError for what would upset a terminal or a
    file: control characters and halves of a pair."""
    line = re.sub(r"[\t\n\v\f\r\x1c-\x1f\x85\u2028\u2029]+", " ", text).strip()
    if any(unicodedata.category(character) in ("Cc", "Cs") for character in line):
        check_visible(line)
    return line


def _entry(entry: Entry) -> Any:
    return field(default=entry.empty, metadata={"entry": entry})


class Measure(NamedTuple):
    """What is measured, and the units for a bare number and for showing."""

    dimension: Dimension
    metric: str
    imperial: str


def quantity(label: str, measure: Measure, *, between: tuple[str, str], several: bool = False, **more: Any) -> Any:
    """A field that holds a quantity (or several of them). `between`: its limits, as people write them."""
    kind = Kind.QUANTITIES if several else Kind.QUANTITY
    return _entry(Entry(label, kind, **measure._asdict(), between=between, **more))


def choice(label: str, choices: tuple[str, ...], **more: Any) -> Any:
    """A field that holds one of a few texts."""
    return _entry(Entry(label, Kind.CHOICE, choices=choices, **more))


def count(label: str, low: int, high: int, **more: Any) -> Any:
    """A field that holds a whole number."""
    return _entry(Entry(label, Kind.COUNT, between=(str(low), str(high)), **more))


def day(label: str, **more: Any) -> Any:
    """A field that holds a day of the calendar."""
    return _entry(Entry(label, Kind.DAY, **more))


def words(label: str, **more: Any) -> Any:
    """A field that holds free text."""
    return _entry(Entry(label, Kind.TEXT, **more))


class TableWords(NamedTuple):
    """What stands over a table, where it is asked and, on a sheet, where it is told; what one of its rows is called and
    what several are; the words on the button for one more."""

    asked: str
    told: str
    one: str
    several: str
    add: str


def rows(section: type[Any], *, asked: str, told: str, one: str, several: str, add: str) -> Any:
    """A field that holds a table: a tuple of `section` objects. The texts are those of its `TableWords`."""
    return field(default=(), metadata={"rows": section, "words": TableWords(asked, told, one, several, add)})


def entries(section: type[Any]) -> Mapping[str, Entry]:
    """The described fields of one section, in the order in which they are asked."""
    return _entries_of(section)


def tables(section: type[Any]) -> Mapping[str, type[Any]]:
    """The tables inside one section: name -> the section type of their rows."""
    return _tables_of(section)


def table_words(section: type[Any]) -> Mapping[str, TableWords]:
    """What the tables inside one section are called, by their names."""
    return {item.name: item.metadata["words"] for item in fields(section) if "words" in item.metadata}


# Every field that is read asks for its description, so the classes are looked through once.

_entries_of: Callable[[Any], Mapping[str, Entry]] = cache(
    lambda section: {item.name: item.metadata["entry"] for item in fields(section) if "entry" in item.metadata}
)
_tables_of: Callable[[Any], Mapping[str, type[Any]]] = cache(
    lambda section: {item.name: item.metadata["rows"] for item in fields(section) if "rows" in item.metadata}
)

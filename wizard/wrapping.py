"""Sentences broken into rows, so that no number stands at the end of one with its unit on the next."""

import re
import textwrap
from collections.abc import Iterable
from functools import lru_cache
from typing import Any

from engine.showing import OF_BOATS
from engine.units import UNITS

_JOINT = "\N{BRAILLE PATTERN BLANK}"
"""Stands for a space at which no row may end: as wide, and no space to whoever breaks the rows."""
REST = " ... F1 has the rest"
"""Ends a text that is cut where the help has all of it."""
_SYMBOLS = sorted({OF_BOATS, *(unit.symbol for unit in UNITS if unit.symbol)}, key=len, reverse=True)


def _any_of(symbols: Iterable[str]) -> str:
    return rf"(?:{'|'.join(map(re.escape, symbols))})(?![\w/])"


A_UNIT = _any_of(_SYMBOLS)
"""A regular expression for the sign of any unit."""
_A_UNIT_OF_WORDS = _any_of(symbol for symbol in _SYMBOLS if " " in symbol and "per " not in symbol)
"""For one in two words, "US gal/h", which stands alone in a heading. One with "per" would make a column too wide."""
_TOGETHER = re.compile(rf"\S*\d(?= )(?: ft \d+)?(?: \d+/\d+)?(?: x \d[\d.,]*)? {A_UNIT}\S*|\b{_A_UNIT_OF_WORDS}")


@lru_cache(maxsize=512)
def longest_piece(text: str) -> int:
    """Columns that the longest part of a text takes in which no row may end."""
    return max(map(len, joined(text, len(text)).split(" ")))


def joined(text: str, width: int) -> str:
    """A text with signs in place of the spaces at which no row of this width may end; as long as before. What is itself
    longer than a row ends at any space."""
    return _TOGETHER.sub(lambda found: found[0].replace(" ", _JOINT) if len(found[0]) <= width else found[0], text)


def parted(text: str, space: str = " ") -> str:
    """The same with its spaces again."""
    return text.replace(_JOINT, space)


def unbroken(text: str) -> str:
    """A text for a page that breaks it by itself, which ends no row at a no-break space."""
    return parted(joined(text, len(text)), "\N{NO-BREAK SPACE}")


def rows_of(text: str, width: int, **options: Any) -> list[str]:
    """The rows of a text.   options: of textwrap."""
    return [parted(row) for row in textwrap.wrap(joined(text, width), width, **options)]


def rows_where_room_is_short(text: str, width: int) -> list[str]:
    """The same, but that a number keeps its unit only where it takes no row more: a row may hold a whole fact."""
    kept, fewest = rows_of(text, width), textwrap.wrap(text, width)
    return kept if len(kept) == len(fewest) else fewest

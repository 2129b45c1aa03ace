"""What terminals need: no orders hidden in a text; plain ones also signs of ASCII only, and no colour at all.
All of it works on what is about to be drawn."""

import re
import sys
import unicodedata
from functools import lru_cache

from rich.cells import get_character_cell_size
from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter

_DRAWN = "•·┊…▼▲│─┤▔▁▊█"


def is_plain(encoding: str | None) -> bool:
    """Whether a terminal of this encoding lacks signs that are drawn here, as ASCII and the old code pages do."""
    try:
        _DRAWN.encode(encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return True
    return False


NEEDS_ASCII = is_plain(sys.stdout.encoding)
"""Whether plain signs are drawn, asked for or not."""

_OWN = {
    "•": "*",
    "·": ".",
    "┊": ":",
    "…": "~",
    "▼": "v",
    "▲": "^",
    "▶": ">",
    "◀": "<",
    "→": ">",
    "←": "<",
    "↑": "^",
    "↓": "v",
    "–": "-",
    "—": "-",
    "−": "-",
    "‘": "'",
    "’": "'",
    "“": '"',
    "”": '"',
    "×": "x",
    "÷": "/",
    "±": "~",
    "≈": "~",
    "≤": "<",
    "≥": ">",
    "°": "o",
    "⏎": "<",
    "✓": "+",
    "✗": "x",
    "\u00a0": " ",
    "\u202f": " ",
    "ß": "s",
    "ø": "o",
    "Ø": "O",
    "đ": "d",
    "ł": "l",
    "Ł": "L",
    "æ": "a",
    "œ": "o",
    "Æ": "A",
    "Œ": "O",
}
_ORDERS = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069]")
_WIDE = {"🔎": "> "}
_EDGES = {"▔": "-", "▀": "-", "▁": "_", "▂": "_", "▃": "_", "▄": "_"}
_SIDES = "▌▍▎▏▐▕▊▉"


class PlainSigns(LineFilter):
    """Every sign beyond ASCII becomes one of ASCII that is as wide."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """Segments with plain signs; background makes no odds."""
        del background
        return [
            segment if segment.control or segment.text.isascii() else Segment(plain(segment.text), segment.style)
            for segment in segments
        ]


class NoOrders(LineFilter):
    """Control characters in a name or a value are not sent: a terminal would obey them. They take no column."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """Segments without control characters; background makes no odds."""
        del background
        return [
            segment
            if segment.control or not _ORDERS.search(segment.text)
            else Segment(_ORDERS.sub("", segment.text), segment.style)
            for segment in segments
        ]


class NoColour(LineFilter):
    """No colour of ink or ground; bold, underline, reverse and italic stay, and tell what colours tell elsewhere."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """Segments without colours; background makes no odds."""
        del background
        return [
            segment if segment.style is None else Segment(segment.text, colourless(segment.style), segment.control)
            for segment in segments
        ]


@lru_cache(1024)
def plain(text: str) -> str:
    """A text in ASCII, in as many columns.

    Frames become + - |, letters lose their accents, and what has no likeness becomes a question mark; two of them for a
    sign that is two columns wide.
    """
    return "".join(sign if sign.isascii() else _plain_sign(sign) for sign in text)


@lru_cache(1024)
def colourless(style: Style) -> Style:
    """A style without its colours."""
    return style.without_color


def _plain_sign(sign: str) -> str:
    width = get_character_cell_size(sign)
    if width != 1:
        return _WIDE.get(sign, "?" * width)
    if sign in _OWN:
        return _OWN[sign]
    if 0x2500 <= ord(sign) <= 0x257F:
        return _frame(unicodedata.name(sign))
    if 0x2580 <= ord(sign) <= 0x259F:
        return _EDGES.get(sign, "|" if sign in _SIDES else "#")
    base = unicodedata.normalize("NFKD", sign)[:1]
    return base if base.isascii() and base.isprintable() else "?"


def _frame(name: str) -> str:
    """The likeness of a sign for drawing boxes, by its Unicode name."""
    if "DIAGONAL" in name:
        return "X" if "CROSS" in name else "/" if "UPPER RIGHT TO LOWER LEFT" in name else "\\"
    upright = any(word in name for word in ("VERTICAL", "UP", "DOWN"))
    level = any(word in name for word in ("HORIZONTAL", "LEFT", "RIGHT"))
    return "+" if upright and level else "|" if upright else "-"

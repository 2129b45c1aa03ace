"""What somebody typed, set into a sentence: short, and nothing in it that a terminal would obey."""

import re

_LONGEST = 40
"""Characters of a text that are quoted; enough to know it again. Our own choice."""
JOINERS = frozenset("\u200c\u200d\u200e\u200f")
"""Signs without a width that belong to what is written: they join or part letters and the parts of an emoji, or say
which way to read."""
_KEPT = JOINERS | frozenset("\n\u00a0\u202f")
UNSEEN = "\N{REPLACEMENT CHARACTER}"
"""What stands for a character that cannot be shown."""
HALVES = re.compile("[\ud800-\udfff]")
"""Halves of a pair, which no file can hold as they are."""


def visible(text: str) -> str:
    """A text with a sign for each character that cannot be shown: control characters, halves of a pair. Line ends stay,
    and so do the joiners and marks of direction without which some scripts cannot be written."""
    if text.isprintable():
        return text
    return "".join(character if character.isprintable() or character in _KEPT else UNSEEN for character in text)


def shortened(text: str) -> str:
    """A text on one line, visible, cut with dots after 40 characters."""
    line = " ".join(visible(text[: 2 * _LONGEST]).split())
    return line if len(line) <= _LONGEST and len(text) <= 2 * _LONGEST else f"{line[:_LONGEST].rstrip()} ..."


def quoted(text: str) -> str:
    """The same in quotation marks: double ones where there is a single one inside."""
    line = shortened(text)
    mark = '"' if "'" in line and '"' not in line else "'"
    return f"{mark}{line}{mark}"

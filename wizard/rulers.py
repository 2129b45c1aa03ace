"""Ranges as text: a ruler for each method, and where the boat lies on it. Drawn without plotext, one line each."""

from dataclasses import dataclass

from wizard.charts import NOTHING
from wizard.wrapping import rows_of

_BESIDE = 0.12
"""Share of the room left free on both sides of a ruler, for marks outside it."""
_LEAST = 20
"""A ruler has at least this many columns; before it gets fewer, the last columns of lead go."""
_RED, _GREEN, _PLAIN = "\x1b[38;5;1m", "\x1b[38;5;2m", "\x1b[0m"


@dataclass(frozen=True)
class Ruler:
    """One method.   places: where the boat lies in each of its ranges, 0 the low end and 1 the high end.

    lead: short texts that stand in columns before the ruler.   note: a sentence, shown where there is room.
    """

    lead: tuple[str, ...]
    places: tuple[float, ...]
    note: str = ""


@dataclass(frozen=True)
class Rulers:
    """What the drawing shows.   heads: one for each column of lead."""

    title: str
    heads: tuple[str, ...]
    rulers: tuple[Ruler, ...]


def draw_rulers(rulers: Rulers, width: int, height: int, ascii: bool = False) -> str:
    """The rulers as text, at most `width` columns by `height` rows.   ascii: no sign beyond plain ASCII."""
    if not rulers.rulers:
        return f"{rulers.title[:width]}\n{NOTHING}"
    columns = list(zip(rulers.heads, *(ruler.lead for ruler in rulers.rulers), strict=True))
    while len(columns) > 1 and sum(max(map(len, column)) + 2 for column in columns) + _LEAST > width:
        columns.pop()
    lead_widths = [max(map(len, column)) for column in columns]
    lead_widths[0] = min(lead_widths[0], max(width - _LEAST, 1))
    room = max(width - sum(lead_widths) - 2 * len(lead_widths), 8)
    inside = "*" if ascii else "•"
    lines = [rulers.title[:width], _lead([column[0] for column in columns], lead_widths) + _ends(room)]
    legend = rows_of(f"{inside} a range the boat is inside   x outside", width)
    notes = [rows_of(ruler.note, width - 4) for ruler in rulers.rulers]
    has_notes = len(lines) + len(legend) + sum(1 + len(note) for note in notes) <= height
    for i, ruler in enumerate(rulers.rulers):
        lines.append(_lead([column[i + 1] for column in columns], lead_widths) + _scale(ruler.places, room, inside))
        lines += [f"    {part}" for part in notes[i]] if has_notes else []
    return "\n".join(_cut([*lines, *legend], height))


def _cut(lines: list[str], height: int) -> list[str]:
    """As many lines as there is room for; the last says how many more there are."""
    return lines if len(lines) <= height else [*lines[: max(height - 1, 1)], "F6 shows the rest."][:height]


def _lead(texts: list[str], widths: list[int]) -> str:
    first, *rest = texts
    parts = [
        first[: widths[0]].ljust(widths[0]),
        *(text.rjust(width) for text, width in zip(rest, widths[1:], strict=True)),
    ]
    return "  ".join(parts) + "  "


def _edges(room: int) -> tuple[int, int]:
    """The columns of the low and the high end of a ruler."""
    beside = max(round(room * _BESIDE), 1)
    return beside, room - 1 - beside


def _ends(room: int) -> str:
    low, high = _edges(room)
    words = "low" + "high".rjust(high - low - 2) if high - low > 8 else ""
    return " " * low + words


def _scale(places: tuple[float, ...], room: int, inside: str) -> str:
    """A ruler with its marks; those far outside stand at the edge of the room."""
    low, high = _edges(room)
    signs = [" "] * room
    signs[low : high + 1] = "." * (high - low + 1)
    signs[low], signs[high] = "[", "]"
    for place in sorted(places, key=lambda place: not 0.0 <= place <= 1.0):
        if 0.0 <= place <= 1.0:
            signs[min(max(low + 1 + round(place * (high - low - 2)), low + 1), high - 1)] = inside
        else:
            beyond = (
                low - 1 + round(place * (high - low)) if place < 0.0 else high + 1 + round((place - 1.0) * (high - low))
            )
            signs[min(max(beyond, 0), room - 1)] = "x"
    coloured = {"x": f"{_RED}x{_PLAIN}", inside: f"{_GREEN}{inside}{_PLAIN}"}
    return "".join(coloured.get(sign, sign) for sign in signs).rstrip()

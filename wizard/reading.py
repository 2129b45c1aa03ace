"""What a drawing says at a cursor, and where the cursor goes: charts point by point, rulers one by one."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from engine.showing import numbered, round_number
from wizard.charts import Chart, Cursor, Series, plain_signs, short_number, sign_codes
from wizard.rulers import Ruler, Rulers
from wizard.wrapping import rows_of

JUMP = 0.1
"""Share of the x axis that a jump goes at least. Our own choice."""
STEPS = {"back": -1, "on": 1}
JUMPS = {"jump_back": -1, "jump_on": 1}
ENDS = {"first": 0, "last": -1}
TURNS = {"lead_before": -1, "lead_after": 1}
"""The ways a cursor can go. A turn gives the lead to another series."""


@dataclass(frozen=True)
class Value:
    """What one series says.

    place: its place among the readable series.   number: with its unit.   band: "(7.3 to 9.1)", or nothing.
    """

    place: int
    name: str
    number: str
    band: str = ""
    is_lead: bool = False

    @property
    def words(self) -> str:
        """Number and band."""
        return f"{self.number} {self.band}".strip()


@dataclass(frozen=True)
class Reading:
    """What a chart says at one place.   head: the place itself ("Speed 6.5 kn").   values: the leading series first."""

    head: str
    values: tuple[Value, ...]


def words_and_unit(label: str) -> tuple[str, str]:
    """The words and the unit of an axis label: "Speed, kn" -> ("Speed", "kn"); an explanation after a colon goes."""
    words, comma, unit = label.rpartition(", ")
    return (words if comma else label).partition(":")[0], unit if comma else ""


def opening_cursor(chart: Chart) -> Cursor | None:
    """The middle of the places where a cursor halts; None for a chart without points."""
    if not chart.readable:
        return None
    stops = chart.stops()
    return Cursor(stops[len(stops) // 2])


def moved(chart: Chart, cursor: Cursor, way: str) -> Cursor:
    """The cursor after it went one of the ways above; at an end it stays."""
    if way in TURNS:
        return _turned(chart, cursor, TURNS[way])
    stops = chart.stops(cursor.lead)
    here = _nearest(stops, cursor.at)
    if way in ENDS:
        return replace(cursor, at=stops[ENDS[way]])
    if way in STEPS:
        return replace(cursor, at=stops[min(max(here + STEPS[way], 0), len(stops) - 1)])
    direction = JUMPS[way]
    everywhere = chart.stops()
    least = JUMP * (everywhere[-1] - everywhere[0]) * (1.0 - 1e-9)
    ahead = stops[here + 1 :] if direction > 0 else stops[:here][::-1]
    return replace(cursor, at=next((at for at in ahead if abs(at - cursor.at) >= least), stops[min(-direction, 0)]))


def _turned(chart: Chart, cursor: Cursor, direction: int) -> Cursor:
    """Another series leads: none, the first, ... the last, and none again."""
    leads: list[int | None] = [None, *range(len(chart.readable))]
    return _halted(chart, cursor.at, leads[(leads.index(cursor.lead) + direction) % len(leads)])


def followed(chart: Chart, cursor: Cursor) -> Cursor | None:
    """The cursor on a newer chart of the same page, as near as may be; None for a chart without points."""
    places = range(len(chart.readable))
    return _halted(chart, cursor.at, cursor.lead if cursor.lead in places else None) if places else None


def _halted(chart: Chart, at: float, lead: int | None) -> Cursor:
    """A cursor at the halt that is nearest to a place."""
    stops = chart.stops(lead)
    return Cursor(stops[_nearest(stops, at)], lead)


def _nearest(stops: Sequence[float], at: float) -> int:
    return min(range(len(stops)), key=lambda i: abs(stops[i] - at))


def read(chart: Chart, cursor: Cursor) -> Reading:
    """What every series says at the cursor; sets of single points are left out where they have none."""
    across, unit = words_and_unit(chart.x_label)
    values = []
    for place, series in enumerate(chart.readable):
        number = _number(chart, series, cursor.at)
        if number or series.is_line:
            band = _band(chart, series, cursor.at) if number else ""
            values.append(Value(place, series.name, number or "none here", band, place == cursor.lead))
    values.sort(key=lambda value: not value.is_lead)
    return Reading(f"{across} {round_number(cursor.at)} {unit}".strip(), tuple(values))


def _number(chart: Chart, series: Series, at: float) -> str:
    """A value with its unit ("8.15 hp"); of several points at one place the lowest and highest; "" without a value."""
    values = series.values_at(at)
    if not values:
        return ""
    labels = [label for tick, label in chart.y_ticks if math.isclose(tick, values[0]) and not series.is_right]
    if labels:
        return labels[0]
    unit = words_and_unit(chart.right_label if series.is_right else chart.y_label)[1]
    low, high = short_number(min(values)), short_number(max(values))
    return f"{low} {unit}".strip() if low == high else f"{low} to {high} {unit}".strip() + f", {len(values)} points"


def _band(chart: Chart, series: Series, at: float) -> str:
    """ "(7.3 to 9.1)", when a band follows a series and reaches to the place."""
    ends = _ends(chart, series, at)
    return f"({short_number(ends[0])} to {short_number(ends[1])})" if ends else ""


def _ends(chart: Chart, series: Series, at: float) -> tuple[float, float] | None:
    """Low and high of the band that follows a series, on the lines between its points."""
    after = chart.series[chart.series.index(series) + 1 :][:1]
    if not after or not after[0].is_band:
        return None
    spread: dict[float, list[float]] = {}
    for x, y in after[0].points():
        spread.setdefault(x, []).append(y)
    whole = {x: ends for x, ends in spread.items() if len(ends) > 1}
    low = Series("", list(whole), [min(ends) for ends in whole.values()]).values_at(at)
    high = Series("", list(whole), [max(ends) for ends in whole.values()]).values_at(at)
    return (low[0], high[0]) if low and high else None


def readout(chart: Chart, cursor: Cursor, width: int, height: int, ascii: bool = False) -> str:
    """A reading as text with colour codes, at most `width` columns by `height` rows; the head says what is cut."""
    reading = read(chart, cursor)
    if height < 2:
        text = _fitted(f"{reading.head}: ", reading.values[0], width)
        return plain_signs(text) if ascii else text
    shown = reading.values[: height - 1]
    more = len(reading.values) - len(shown)
    lines = [cut(f"{reading.head}   ... {more} more" if more else reading.head, width)]
    signs = sign_codes(chart, ascii)
    lines += [
        f"{'>' if value.is_lead else ' '} {signs[value.place]} {_fitted('', value, width - 4)}" for value in shown
    ]
    return plain_signs("\n".join(lines)) if ascii else "\n".join(lines)


def _fitted(before: str, value: Value, width: int) -> str:
    """Name, number and band of a value; in a narrow place first the name gives way, then the band."""
    words = value.words if len(before) + len(value.words) <= width else value.number
    room = width - len(before) - len(words) - 1
    name = f"{cut(value.name, room)} " if value.name and room > len("...") else ""
    return cut(f"{before}{name}{words}", width)


def cut(text: str, width: int) -> str:
    """A text in at most `width` columns; "..." stands for what is missing."""
    return text if len(text) <= width else f"{text[: max(width - 3, 0)].rstrip()}..."[: max(width, 0)]


def readout_rows(drawing: Chart | Rulers) -> int:
    """The rows that a readout needs, wherever the cursor stands; for rulers those of a note of usual length."""
    return 6 if isinstance(drawing, Rulers) else 1 + len(drawing.readable)


def chosen(rulers: Rulers, choice: int, way: str) -> int:
    """The place of the ruler chosen next; at an end it stays."""
    last = len(rulers.rulers) - 1
    if way in ENDS:
        return last if way == "last" else 0
    step = (STEPS | JUMPS | TURNS)[way]
    return min(max(choice + step, 0), last)


def with_choice(rulers: Rulers, choice: int, height: int) -> Rulers:
    """The rulers with a mark at the chosen one, as many about it as a height of rows has room for."""
    room = max(height - 4, 1)  # title, heads and a legend of up to two lines
    first = max(min(choice - room // 2, len(rulers.rulers) - room), 0)
    shown = [
        replace(ruler, lead=(f"{'>' if i == choice else ' '} {ruler.lead[0]}", *ruler.lead[1:]))
        for i, ruler in enumerate(rulers.rulers)
    ]
    heads = (f"  {rulers.heads[0]}", *rulers.heads[1:])
    return replace(rulers, heads=heads, rulers=tuple(shown[first : first + room]))


def rulers_readout(rulers: Rulers, choice: int, width: int, height: int, ascii: bool = False) -> str:
    """What is known of the chosen ruler: columns, places, note; at most `width` columns by `height` rows."""
    ruler = rulers.rulers[choice]
    columns = [f"{head} {text}" for head, text in zip(rulers.heads[1:], ruler.lead[1:], strict=True)]
    lines = [cut(f"{ruler.lead[0]} ({choice + 1} of {len(rulers.rulers)})  {', '.join(columns)}", width)]
    for text in (_places(ruler), ruler.note):
        lines += rows_of(text, width)
    if len(lines) > height:
        lines = [*lines[: height - 1], cut(f"{lines[height - 1]} ...", width) if height > 1 else lines[0]]
    return plain_signs("\n".join(lines)) if ascii else "\n".join(lines)


def _places(ruler: Ruler) -> str:
    """Where the boat lies in the ranges of a method, those outside first."""
    if not ruler.places:
        return ""
    ordered = sorted(ruler.places, key=lambda place: 0.0 <= place <= 1.0)
    said = [f"{round_number(place, 2)}{'' if 0.0 <= place <= 1.0 else ' outside'}" for place in ordered]
    inside = sum(0.0 <= place <= 1.0 for place in ruler.places)
    return f"Inside {inside} of {numbered(len(said), 'range')}; from low (0) to high (1) she lies at {', '.join(said)}."

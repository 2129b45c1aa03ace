"""Plots as text. The only module that names plotext: its one global figure is guarded by a lock and cleared each time.

A chart is plain data; `draw` turns it into lines of text with colour codes of the terminal's own palette, and
`in_theme` puts the colours of one of our themes in their place. What a chart says at the cursor is in `reading.py`.
"""

import bisect
import math
import re
import string
import threading
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from engine.showing import round_number, round_step

_LETTERS = tuple(letter for letter in string.ascii_uppercase if letter not in "OX")
MARKERS = ("•", "x", "+", "o", "*", "#", "@", "%", "&", "$", "=", "~", *_LETTERS)
_ASCII_MARKERS = ("*", "x", "+", "o", "#", "@", "%", "&", "$", "=", "~", "^", *_LETTERS)
_BAND_MARKER, _ASCII_BAND_MARKER = "·", "."
_COLOURS = ("blue", "green", "orange", "red", "cyan", "magenta")
_COLOUR_CODES = {"blue": 4, "red": 1, "green": 2, "magenta": 5, "cyan": 6, "orange": 3}
SERIES_COLOURS: dict[str, dict[int, str]] = {
    "shaftlog-day": {1: "#a4161a", 2: "#1f6632", 3: "#8a4400", 4: "#1c4f9c", 5: "#85208c", 6: "#005f6b"},
    "shaftlog-night": {1: "#ff8f86", 2: "#86d18b", 3: "#eba65a", 4: "#86b4f5", 5: "#dda0f0", 6: "#5fd3d6"},
}
"""Theme -> palette number -> a colour that is easy to read on that theme's paper. Our own choice."""

CURSOR_SIGN = "┊"
"""The line at the cursor; in plain ASCII a colon."""

_EMPTY = " │─┼"
"""Cells of a plot without a point."""
_CELL = re.compile(r"((?:\x1b\[[\d;]*m)*)([^\x1b]|$)")
_CODES = re.compile(r"\x1b\[[\d;]*m")
_PALETTE = re.compile(r"\x1b\[38;5;(\d)m")
_PLAIN_SIGNS = str.maketrans(
    dict(zip("┌┐└┘─│┤├┬┴┼", "++++-|||+++", strict=True)) | {"•": "*", "→": "->", "·": ".", CURSOR_SIGN: ":"}
)
SMALLEST = (30, 8)
"""Columns and rows of a plot; in less there is a table."""
_LOW = 16
"""In a room of fewer rows the plot gets the row of the x label."""
_LOCK = threading.Lock()
_LATEST: dict[str, Any] = {"wanted": None, "text": ""}
"""The plot built last: a cursor moves over it many times, and building takes longer than all the rest."""

NOTHING = "There is nothing to plot yet."


@dataclass(frozen=True)
class Series:
    """One set of points.

    is_right: measured on the right-hand scale.
    is_band: the ends of the band of the series before it, dotted in its colour.
    """

    name: str
    x: Sequence[float]
    y: Sequence[float]
    is_line: bool = True
    is_right: bool = False
    is_band: bool = False

    def points(self) -> list[tuple[float, float]]:
        """The points that can be drawn."""
        pairs = zip(self.x, self.y, strict=True)
        return [(float(x), float(y)) for x, y in pairs if math.isfinite(x) and math.isfinite(y)]

    def values_at(self, at: float) -> tuple[float, ...]:
        """The values at a place on the x axis: of the points there, else on the line between neighbours, else none."""
        points = sorted(self.points(), key=lambda point: point[0])
        here = tuple(y for x, y in points if is_same_place(x, at))
        i = bisect.bisect([x for x, _ in points], at)
        if here or not self.is_line or i in (0, len(points)):
            return here
        (x0, y0), (x1, y1) = points[i - 1 : i + 1]
        return (y0 + (y1 - y0) * (at - x0) / (x1 - x0),)


@dataclass(frozen=True)
class Cursor:
    """A place where a chart is read.

    at: on the x axis.   lead: place among the readable series of the one whose points it follows; None: points of all.
    """

    at: float
    lead: int | None = None


@dataclass(frozen=True)
class Chart:
    """What a plot shows. Labels carry their unit after a comma ("Speed, kn").

    verticals, horizontals: (name, position) of lines across the plot.   y_ticks: (position, label) in place of numbers.
    """

    title: str
    x_label: str
    y_label: str
    series: tuple[Series, ...]
    verticals: tuple[tuple[str, float], ...] = ()
    horizontals: tuple[tuple[str, float], ...] = ()
    y_ticks: tuple[tuple[float, str], ...] = ()
    right_label: str = ""

    @property
    def drawable(self) -> tuple[Series, ...]:
        """The series that have a point to draw."""
        return tuple(series for series in self.series if series.points())

    @property
    def readable(self) -> tuple[Series, ...]:
        """The series that have values of their own: all but the bands."""
        return tuple(series for series in self.drawable if not series.is_band)

    def stops(self, lead: int | None = None) -> list[float]:
        """The places where a cursor halts, from left to right: the points of the leading series, else of all."""
        followed = self.readable if lead is None else (self.readable[lead],)
        places: list[float] = []
        for at in sorted(x for series in followed for x, _ in series.points()):
            if not places or not is_same_place(places[-1], at):
                places.append(at)
        return places


def is_same_place(one: float, other: float) -> bool:
    """Whether two places on the x axis are one but for rounding."""
    return math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-12)


def in_theme(text: str, theme: str) -> str:
    """A drawing in the colours of a theme; unchanged for themes in the terminal's own colours."""
    colours = SERIES_COLOURS.get(theme)
    if colours is None:
        return text

    def code(match: re.Match[str]) -> str:
        number = colours[int(match[1])].removeprefix("#")
        return "\x1b[38;2;{};{};{}m".format(*bytes.fromhex(number))

    return _PALETTE.sub(code, text)


def plain_signs(text: str) -> str:
    """A drawing in plain ASCII."""
    return text.translate(_PLAIN_SIGNS)


def draw(chart: Chart, width: int, height: int, ascii: bool = False, cursor: Cursor | None = None) -> str:
    """The chart as text, at most `width` columns by `height` rows.

    ascii: no sign beyond plain ASCII.   cursor: a line through the plot, or a mark in the table of a small room.
    """
    if not chart.drawable:
        return f"{chart.title}\n{NOTHING}"
    legend = _legend(chart, width, ascii, max(height // 3, 2))
    heading, below = _heading(chart, width, height)
    rows = height - len(legend) - len(heading) - len(below)
    if width < SMALLEST[0] or rows < SMALLEST[1] - 3 or height < SMALLEST[1]:
        text = _table(chart, width, height) if cursor is None else _table_at(chart, cursor, width, height)
    else:
        plot = _plot(chart, width, rows, ascii)
        plot = plot if cursor is None else _with_line(plot, chart, cursor.at)
        text = "\n".join([*heading, plot, *below, *legend])
    return plain_signs(text) if ascii else text


def _heading(chart: Chart, width: int, height: int) -> tuple[list[str], list[str]]:
    """The lines over and under the plot: title and scales, in a low room all on one line if that fits."""
    axes = f"{chart.y_label} (left), {chart.right_label} (right)" if chart.right_label else chart.y_label
    full = f"{chart.title}: {axes}" if axes else chart.title
    across = f"{full}; across: {chart.x_label[:1].lower()}{chart.x_label[1:]}"
    if height < _LOW and len(across) <= width:
        return [across], []
    over = [full] if len(full) <= width else [chart.title[:width], axes[:width]]
    return over, [chart.x_label[:width].center(width).rstrip()]


def sign_codes(chart: Chart, ascii: bool) -> list[str]:
    """The marker of each readable series in its colour."""
    marked = [(sign, colour) for series, sign, colour in markers(chart, ascii) if not series.is_band]
    return [_coloured(sign, _COLOUR_CODES[colour]) for sign, colour in marked]


def _coloured(sign: str, code: int) -> str:
    return f"\x1b[38;5;{code}m{sign}\x1b[0m"


def markers(chart: Chart, ascii: bool) -> list[tuple[Series, str, str]]:
    """Each series with a marker and a colour of its own; a band has dots in the colour of its series."""
    signs = _ASCII_MARKERS if ascii else MARKERS
    marked: list[tuple[Series, str, str]] = []
    count = 0
    for series in chart.drawable:
        if series.is_band and marked:
            marked.append((series, _ASCII_BAND_MARKER if ascii else _BAND_MARKER, marked[-1][2]))
            continue
        marked.append((series, signs[count % len(signs)], _COLOURS[count % len(_COLOURS)]))
        count += 1
    return marked


def _plot(chart: Chart, width: int, rows: int, ascii: bool) -> str:
    wanted = (chart, width, rows, ascii)
    with _LOCK:
        if _LATEST["wanted"] != wanted:
            _LATEST.update(wanted=wanted, text=_built(chart, width, rows, ascii))
        text: str = _LATEST["text"]
    return text


def _built(chart: Chart, width: int, rows: int, ascii: bool) -> str:
    """A plot as plotext builds it; only for who holds the lock."""
    import plotext

    plotext.clear_figure()
    plotext.limit_size(False, False)
    plotext.theme("clear")
    plotext.plot_size(width, rows)
    for series, marker, colour in sorted(markers(chart, ascii), key=lambda marked: not marked[0].is_band):
        x, y = zip(*series.points(), strict=True)
        put = plotext.plot if series.is_line and len(x) > 1 else plotext.scatter
        put(list(x), list(y), marker=marker, color=colour, yside="right" if series.is_right else "left")
    for _, position in chart.verticals:
        plotext.vline(position)
    for _, position in chart.horizontals:
        plotext.hline(position)
    if chart.y_ticks:
        plotext.yticks([tick for tick, _ in chart.y_ticks], [label for _, label in chart.y_ticks])
    _set_round_ticks(plotext, chart, width, rows)
    text: str = plotext.build()
    plotext.clear_figure()
    return text.rstrip("\n")


def _with_line(plot: str, chart: Chart, at: float) -> str:
    """A plot with a line through all its rows at a place on the x axis; points on the line stand out reversed."""
    rows = plot.split("\n")
    frame = _CODES.sub("", rows[0])
    left, right = frame.index("┌"), frame.rindex("┐")
    low, high = _limits(_across(chart))
    column = left + 1 + math.floor(round(0.5 + (right - left - 2) * (at - low) / (high - low), 8))
    last = next(i for i, row in enumerate(rows) if "└" in row)
    for i in range(1, last):
        cells = _CELL.findall(rows[i])
        codes, sign = cells[column]
        cells[column] = (codes, CURSOR_SIGN if sign in _EMPTY else f"\x1b[7m{sign}\x1b[27m")
        rows[i] = "".join(codes + sign for codes, sign in cells)
    return "\n".join(rows)


def _across(chart: Chart) -> list[float]:
    """All places on the x axis where something is drawn."""
    return [x for series in chart.drawable for x, _ in series.points()] + [at for _, at in chart.verticals]


def _limits(values: Sequence[float]) -> tuple[float, float]:
    """The ends of an axis as plotext sets them."""
    low, high = min(values), max(values)
    if low != high:
        return low, high
    return (0.5 * low, 1.5 * low) if low else (-1.0, 1.0)


def _set_round_ticks(plotext: Any, chart: Chart, width: int, rows: int) -> None:
    """Marks at round numbers on every scale that has none of its own."""
    points = [(y, series.is_right) for series in chart.drawable for _, y in series.points()]
    plotext.xticks(*_ticks(_across(chart), max(width // 10, 2)))
    left = [y for y, is_right in points if not is_right] + [at for _, at in chart.horizontals]
    if left and not chart.y_ticks:
        plotext.yticks(*_ticks(left, max(rows // 2, 3)))
    right = [y for y, is_right in points if is_right]
    if right:
        plotext.yticks(*_ticks(right, max(rows // 2, 3)), yside="right")


def _ticks(values: Sequence[float], most: int) -> tuple[list[float], list[str]]:
    """At most about `most` round numbers from the lowest to the highest value, and their labels."""
    low, high = min(values), max(values)
    if high <= low:
        return [low], [round_number(low, 3)]
    step = round_step((high - low) / most)
    first = math.ceil(low / step - 1e-9)
    ticks = [i * step for i in range(first, math.floor(high / step + 1e-9) + 1)] or [low]
    return ticks, [round_number(tick, 6) for tick in ticks]


def _legend(chart: Chart, width: int, ascii: bool, most: int) -> list[str]:
    """At most `most` lines that say what each marker and line stands for; empty for one series without a line."""
    parts = [(f"{marker} {series.name}", _COLOUR_CODES[colour]) for series, marker, colour in markers(chart, ascii)]
    parts += [(f"| {name} {short_number(at)}", -1) for name, at in chart.verticals]
    parts += [(f"- {name} {short_number(at)}", -1) for name, at in chart.horizontals]
    if len(parts) == 1 and not parts[0][0][2:]:
        return []
    lines: list[str] = []
    used = width
    for words, colour in parts:
        words = words[:width]
        coloured = words if colour < 0 else _coloured(words[0], colour) + words[1:]
        if used + len(words) + 3 > width:
            lines.append(coloured)
            used = len(words)
        else:
            lines[-1] += f"   {coloured}"
            used += len(words) + 3
    return lines if len(lines) <= most else [*lines[: most - 1], "..."]


def short_number(value: float) -> str:
    """A number on a plot: three digits, engine speeds in full."""
    return round_number(value, 4 if abs(value) >= 1000.0 else 3)


def _title(chart: Chart, width: int) -> str:
    """The title over rows of numbers, with what they are in where that fits."""
    full = f"{chart.title}: {chart.y_label}"
    return full if chart.y_label and len(full) <= width else chart.title[:width]


def _table(chart: Chart, width: int, height: int) -> str:
    """A few rows of numbers, for a space too small for a plot."""
    lead = chart.drawable[0]
    lines = [_title(chart, width), f"{chart.x_label}: {lead.name or chart.y_label}"[:width]]
    points = lead.points()
    room = max(height - len(lines) - 1, 1)
    step = max(1, math.ceil(len(points) / room))
    labels = dict(chart.y_ticks)
    for x, y in points[::step]:
        lines.append(f"{round_number(x, 3)}: {labels.get(y) or round_number(y, 3)}"[:width])
    return "\n".join(lines[:height])


def _table_at(chart: Chart, cursor: Cursor, width: int, height: int) -> str:
    """Rows of numbers about the cursor, its own marked."""
    lead = chart.readable[cursor.lead or 0]
    lines = [_title(chart, width), f"{chart.x_label}: {lead.name or chart.y_label}"[:width]]
    stops = chart.stops(cursor.lead)
    room = max(height - len(lines), 1)
    here = min(range(len(stops)), key=lambda i: abs(stops[i] - cursor.at))
    first = max(min(here - room // 2, len(stops) - room), 0)
    labels = dict(chart.y_ticks)
    for i in range(first, min(first + room, len(stops))):
        values = [labels.get(y) or round_number(y, 3) for y in lead.values_at(stops[i])] or ["-"]
        lines.append(f"{'>' if i == here else ' '} {round_number(stops[i])}: {', '.join(values)}"[:width])
    return "\n".join(lines if height > 2 else lines[-1:])

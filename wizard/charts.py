"""Plots as text. The only module that names plotext: its one global figure is guarded by a lock and cleared each time.

A chart is plain data; `draw` turns it into lines of text with colour codes of the terminal's own palette.
"""

import math
import threading
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from engine.showing import round_number

MARKERS = ("•", "x", "+", "o", "*", "#")
_ASCII_MARKERS = ("*", "x", "+", "o", "#", "@")
_BAND_MARKER, _ASCII_BAND_MARKER = "·", "."
_COLOURS = ("blue", "green", "orange", "red", "cyan", "magenta")
_COLOUR_CODES = {"blue": 4, "red": 1, "green": 2, "magenta": 5, "cyan": 6, "orange": 3}
_FRAME = str.maketrans("┌┐└┘─│┤├┬┴┼", "++++-|||+++")
_SMALLEST = (30, 8)
_LOW = 16
"""In a room of fewer rows the plot gets the row of the x label."""
_LOCK = threading.Lock()

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


def draw(chart: Chart, width: int, height: int, ascii: bool = False) -> str:
    """The chart as text, at most `width` columns by `height` rows. `ascii`: no sign beyond plain ASCII."""
    if not chart.drawable:
        return f"{chart.title}\n{NOTHING}"
    legend = _legend(chart, width, ascii)
    heading, below = _heading(chart, width, height)
    rows = height - len(legend) - len(heading) - len(below)
    if width < _SMALLEST[0] or rows < _SMALLEST[1] - 3 or height < _SMALLEST[1]:
        text = _table(chart, width, height)
    else:
        text = "\n".join([*heading, _plot(chart, width, rows, ascii), *below, *legend])
    return text.translate(_FRAME).replace("•", "*").replace("→", "->").replace("·", ".") if ascii else text


def _heading(chart: Chart, width: int, height: int) -> tuple[list[str], list[str]]:
    """The lines over and under the plot: title and scales, in a low room all on one line if that fits."""
    axes = f"{chart.y_label} (left), {chart.right_label} (right)" if chart.right_label else chart.y_label
    full = f"{chart.title}: {axes}" if axes else chart.title
    across = f"{full}; across: {chart.x_label[:1].lower()}{chart.x_label[1:]}"
    if height < _LOW and len(across) <= width:
        return [across], []
    over = [full] if len(full) <= width else [chart.title[:width], axes[:width]]
    return over, [chart.x_label[:width].center(width).rstrip()]


def _markers(chart: Chart, ascii: bool) -> list[tuple[Series, str, str]]:
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
    import plotext

    with _LOCK:
        plotext.clear_figure()
        plotext.limit_size(False, False)
        plotext.theme("clear")
        plotext.plot_size(width, rows)
        for series, marker, colour in sorted(_markers(chart, ascii), key=lambda marked: not marked[0].is_band):
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


def _set_round_ticks(plotext: Any, chart: Chart, width: int, rows: int) -> None:
    """Marks at round numbers on every scale that has none of its own."""
    points = [(x, y, series.is_right) for series in chart.drawable for x, y in series.points()]
    across = [x for x, _, _ in points] + [at for _, at in chart.verticals]
    plotext.xticks(*_ticks(across, max(width // 10, 2)))
    left = [y for _, y, is_right in points if not is_right] + [at for _, at in chart.horizontals]
    if left and not chart.y_ticks:
        plotext.yticks(*_ticks(left, max(rows // 2, 3)))
    right = [y for _, y, is_right in points if is_right]
    if right:
        plotext.yticks(*_ticks(right, max(rows // 2, 3)), yside="right")


def _ticks(values: Sequence[float], most: int) -> tuple[list[float], list[str]]:
    """At most about `most` round numbers from the lowest to the highest value, and their labels."""
    low, high = min(values), max(values)
    if high <= low:
        return [low], [round_number(low, 3)]
    rough = (high - low) / most
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(power * factor for factor in (1, 2, 5, 10) if power * factor >= rough * 0.999)
    first = math.ceil(low / step - 1e-9)
    ticks = [i * step for i in range(first, math.floor(high / step + 1e-9) + 1)] or [low]
    return ticks, [round_number(tick, 6) for tick in ticks]


def _legend(chart: Chart, width: int, ascii: bool) -> list[str]:
    """Lines that say what each marker and line stands for; empty when there is one series and no line."""
    parts = [(f"{marker} {series.name}", _COLOUR_CODES[colour]) for series, marker, colour in _markers(chart, ascii)]
    parts += [(f"| {name} {_place(at)}", -1) for name, at in chart.verticals]
    parts += [(f"- {name} {_place(at)}", -1) for name, at in chart.horizontals]
    if len(parts) == 1 and not parts[0][0][2:]:
        return []
    lines: list[str] = []
    used = width
    for words, colour in parts:
        words = words[:width]
        coloured = words if colour < 0 else f"\x1b[38;5;{colour}m{words[0]}\x1b[0m{words[1:]}"
        if used + len(words) + 3 > width:
            lines.append(coloured)
            used = len(words)
        else:
            lines[-1] += f"   {coloured}"
            used += len(words) + 3
    return lines


def _place(at: float) -> str:
    """Where a line stands; engine speeds in full."""
    return round_number(at, 4 if abs(at) >= 1000.0 else 3)


def _table(chart: Chart, width: int, height: int) -> str:
    """A few rows of numbers, for a space too small for a plot."""
    lead = chart.drawable[0]
    lines = [chart.title[:width], f"{chart.x_label}: {lead.name or chart.y_label}"[:width]]
    points = lead.points()
    room = max(height - len(lines) - 1, 1)
    step = max(1, math.ceil(len(points) / room))
    labels = dict(chart.y_ticks)
    for x, y in points[::step]:
        lines.append(f"{round_number(x, 3)}: {labels.get(y) or round_number(y, 3)}"[:width])
    return "\n".join(lines[:height])

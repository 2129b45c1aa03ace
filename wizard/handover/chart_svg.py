"""The charts of the pages as pictures for paper: told apart in black and white, read aloud by their title."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from engine.showing import round_number
from wizard.charts import NOTHING, Chart, Series, short_number
from wizard.handover.svg import (
    FONT,
    Pen,
    Point,
    Scale,
    area,
    dot,
    drawing,
    fitted,
    line,
    nice_ticks,
    polyline,
    room_for,
    words,
)
from wizard.rulers import Rulers

WIDE, NARROW = 640.0, 400.0
"""Widths of a drawing: for a whole page, and for half of one."""
_INK, _GRID = "#1b2733", "#d5dbe0"
_COLOURS = ("#1b2733", "#1c4f9c", "#8a4400", "#1f6632", "#85208c", "#a4161a")
_DASHES = ("", "8 3", "2 3", "9 3 2 3", "14 4", "5 2 1 2 1 2")
_ACROSS = ("6 2 1 2", "1 2", "4 4", "10 2")
"""Dashes of the lines across the plot."""
_TALL = {WIDE: 0.5, NARROW: 0.345}
"""Height of the plot over the width of the drawing."""
_LINE = 1.45 * FONT
_SAMPLE = 26.0
_SIDE = 46.0
"""The least room beside the plot, for marks and the name of an axis."""
_CLEAR = 0.05
"""Share of its value by which a line across keeps clear of the ends of the axis."""


@dataclass(frozen=True)
class _Drawn:
    """A series with its pen; a band belongs to the series before it.   shape: of its points."""

    series: Series
    pen: Pen
    shape: str


def picture_svg(chart: Chart | Rulers, width: float = WIDE) -> str:
    """A chart as one `<svg>` element, well-formed XML.   width: of its drawing units; the height follows."""
    return _rulers(chart, width) if isinstance(chart, Rulers) else chart_svg(chart, width)


def chart_svg(chart: Chart, width: float = WIDE) -> str:
    """Series, lines across, marks on the axes and a legend with the values of the lines across."""
    if not chart.drawable:
        parts = [words(chart.title, (4.0, _LINE), bold=True), words(NOTHING, (4.0, 2.2 * _LINE))]
        return drawing(chart.title, width, 3.0 * _LINE, parts)
    top = 1.9 * _LINE
    height = _TALL[width] * width
    bottom = top + height
    most = int(height / 34.0)
    left_scale, right_scale = (_upright(chart, is_right, bottom, top, most) for is_right in (False, True))
    left = _beside(left_scale, dict(chart.y_ticks))
    right = width - (_beside(right_scale, {}) if chart.right_label else 0.35 * _SIDE)
    across = _scale([x for s in chart.drawable for x, _ in s.points()] + [at for _, at in chart.verticals], left, right)
    parts = [words(fitted(chart.title, width - 8.0), (4.0, _LINE), bold=True)]
    parts += _frame(chart, across, left_scale, right_scale)
    drawn = list(_drawn(chart))
    for each in sorted(drawn, key=lambda each: not each.series.is_band):
        scale = right_scale if each.series.is_right else left_scale
        if scale is not None:
            parts += _marks(each, across[0], scale[0])
    parts += _lines_across(chart, across[0], left_scale)
    legend = _legend(_entries(chart, drawn), width, bottom + 3.6 * _LINE)
    return drawing(_spoken(chart), width, bottom + 3.0 * _LINE + legend[1], [*parts, *legend[0]])


def _spoken(chart: Chart) -> str:
    names = [series.name for series in chart.readable if series.name]
    axes = f"{chart.y_label} against {chart.x_label[:1].lower()}{chart.x_label[1:]}"
    return f"{chart.title}: {axes}{'; ' if names else ''}{', '.join(names)}"


Axis = tuple[Scale, tuple[float, ...]]


def _scale(values: Sequence[float], start: float, end: float) -> Axis:
    ticks = nice_ticks(min(values), max(values), max(int(abs(end - start) / 58.0), 3))
    return Scale(ticks[0], ticks[-1], start, end), ticks


def _beside(axis: Axis | None, labels: Mapping[float, str]) -> float:
    """The room for the marks of an upright axis and its name."""
    marks = () if axis is None else axis[1]
    widest = max((room_for(labels.get(tick) or round_number(tick, 6)) for tick in marks), default=0.0)
    return max(_SIDE, widest + 2.0 * FONT)


def _upright(chart: Chart, is_right: bool, bottom: float, top: float, most: int) -> Axis | None:
    values = [y for series in chart.drawable if series.is_right is is_right for _, y in series.points()]
    if not is_right:
        values += [at * share for _, at in chart.horizontals for share in (1.0 - _CLEAR, 1.0 + _CLEAR)]
    if not values:
        return None
    if chart.y_ticks and not is_right:
        ticks = tuple(at for at, _ in chart.y_ticks)
        low, high = min(*values, *ticks), max(*values, *ticks)
        return Scale(low - 0.5, high + 0.5, bottom, top), ticks
    ticks = nice_ticks(min(values), max(values), max(most, 3))
    return Scale(ticks[0], ticks[-1], bottom, top), ticks


def _frame(chart: Chart, across: Axis, left: Axis | None, right: Axis | None) -> Iterator[str]:
    """Marks, their grid, and the names of the axes."""
    scale, ticks = across
    bottom, top = next((axis[0].start, axis[0].end) for axis in (left, right) if axis is not None)
    grid, ink = Pen(_GRID, width=0.7), Pen(_INK, width=1.0)
    for tick in ticks:
        x = scale.at(tick)
        yield line((x, bottom), (x, top), grid)
        yield words(round_number(tick, 6), (x, bottom + 1.1 * _LINE), "middle")
    labels = dict(chart.y_ticks)
    for axis, x, anchor in ((left, scale.start - 4.0, "end"), (right, scale.end + 4.0, "start")):
        for tick in () if axis is None else axis[1]:
            assert axis is not None
            y = axis[0].at(tick)
            if axis is left or left is None:
                yield line((scale.start, y), (scale.end, y), grid)
            yield words(labels.get(tick) or round_number(tick, 6), (x, y + 0.35 * FONT), anchor)
    middle = 0.5 * (bottom + top)
    yield line((scale.start, bottom), (scale.end, bottom), ink)
    yield line((scale.start, bottom), (scale.start, top), ink)
    yield words(chart.x_label, (0.5 * (scale.start + scale.end), bottom + 2.2 * _LINE), "middle")
    yield words(_capital(chart.y_label), (0.9 * FONT, middle), "middle", upright=True)
    if right is not None and chart.right_label:
        yield line((scale.end, bottom), (scale.end, top), ink)
        yield words(_capital(chart.right_label), (scale.end + _beside(right, {}) - 4.0, middle), "middle", upright=True)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _drawn(chart: Chart) -> Iterator[_Drawn]:
    lines = dots = -1
    colour = _INK
    for series in chart.drawable:
        if series.is_band:
            yield _Drawn(series, Pen(colour), "")
            continue
        if _is_curve(series):
            lines += 1
        else:
            dots += 1
        colour = _COLOURS[(lines + dots + 1) % len(_COLOURS)]
        pen = Pen(colour, _DASHES[max(lines, 0) % len(_DASHES)])
        yield _Drawn(series, pen, ("round", "square")[max(dots, 0) % 2])


def _is_curve(series: Series) -> bool:
    return series.is_line and len(series.points()) > 1


def _marks(each: _Drawn, across: Scale, upright: Scale) -> Iterator[str]:
    def place(point: Point) -> Point:
        return across.at(point[0]), upright.at(point[1])

    series = each.series
    if series.is_band:
        edge = Pen(each.pen.colour, "1 2", 0.8)
        low, high = _ends_of_band(series)
        yield area([*map(place, low), *map(place, reversed(high))], each.pen.colour)
        yield from (polyline(map(place, end), edge) for end in (low, high))
    elif _is_curve(series):
        yield polyline(map(place, series.points()), each.pen)
    else:
        yield from (dot(place(point), each.pen.colour, each.shape) for point in series.points())


def _ends_of_band(series: Series) -> tuple[list[Point], list[Point]]:
    """The lower and the upper end: a band lists all its low points, then all its high ones, from left to right."""
    points = series.points()
    turn = next((i for i in range(1, len(points)) if points[i][0] < points[i - 1][0]), len(points))
    return points[:turn], points[turn:]


def _lines_across(chart: Chart, across: Scale, left: Axis | None) -> Iterator[str]:
    if left is None:
        return
    upright = left[0]
    for i, (_, at) in enumerate(chart.verticals):
        x = across.at(at)
        yield line((x, upright.start), (x, upright.end), _across_pen(i))
    for i, (_, at) in enumerate(chart.horizontals, start=len(chart.verticals)):
        y = upright.at(at)
        yield line((across.start, y), (across.end, y), _across_pen(i))


def _across_pen(i: int) -> Pen:
    return Pen(_INK, _ACROSS[i % len(_ACROSS)], 1.1)


def _entries(chart: Chart, drawn: Sequence[_Drawn]) -> Iterator[tuple[_Drawn | Pen, str]]:
    """What the legend explains, and its words."""
    for each in drawn:
        if each.series.name:
            yield each, each.series.name
    for i, (name, at) in enumerate((*chart.verticals, *chart.horizontals)):
        yield _across_pen(i), f"{name} {short_number(at)}"


def _legend(entries: Iterator[tuple[_Drawn | Pen, str]], width: float, top: float) -> tuple[list[str], float]:
    """The legend from a height on, and how high it is."""
    parts: list[str] = []
    x, y = 4.0, top
    for what, name in entries:
        text = fitted(name, width - _SAMPLE - 12.0)
        taken = _SAMPLE + 5.0 + room_for(text) + 12.0
        if x > 4.0 and x + taken - 12.0 > width:
            x, y = 4.0, y + _LINE
        middle = y - 0.35 * FONT
        parts.append(_sample(what, x, middle))
        parts.append(words(text, (x + _SAMPLE + 5.0, y)))
        x += taken
    return parts, y - top + _LINE


def _sample(what: _Drawn | Pen, x: float, y: float) -> str:
    end = x + _SAMPLE
    if isinstance(what, Pen):
        return line((x, y), (end, y), what)
    if what.series.is_band:
        return area([(x, y - 5.0), (end, y - 5.0), (end, y + 5.0), (x, y + 5.0)], what.pen.colour)
    if _is_curve(what.series):
        return line((x, y), (end, y), what.pen)
    return dot((x + 0.5 * _SAMPLE, y), what.pen.colour, what.shape)


def _rulers(rulers: Rulers, width: float) -> str:
    """A ruler for each line, and on it a dot inside its ends or a square outside them."""
    names = [" ".join(ruler.lead) for ruler in rulers.rulers]
    start = min(max(map(room_for, names), default=0.0) + 30.0, 0.55 * width)
    span = width - start - 8.0
    low, high = start + 0.14 * span, start + 0.86 * span
    heads = words(", ".join(rulers.heads), (4.0, 2.4 * _LINE))
    parts = [words(rulers.title, (4.0, _LINE), bold=True), heads]
    parts += [words("low", (low, 2.4 * _LINE), "middle"), words("high", (high, 2.4 * _LINE), "middle")]
    y = 2.4 * _LINE
    for ruler, name in zip(rulers.rulers, names, strict=True):
        y += 1.25 * _LINE
        parts.append(words(fitted(name, start - 12.0), (4.0, y + 0.35 * FONT)))
        parts.append(line((low, y), (high, y), Pen(_INK, width=1.0)))
        parts += [line((end, y - 5.0), (end, y + 5.0), Pen(_INK, width=1.0)) for end in (low, high)]
        for place in ruler.places:
            x = min(max(low + place * (high - low), start + 4.0), width - 4.0)
            parts.append(dot((x, y), _COLOURS[1] if 0.0 <= place <= 1.0 else _COLOURS[5], _shape(place)))
    y += 1.4 * _LINE
    key = "round: a range the boat is inside; square: outside, those far off at the edge"
    parts.append(words(key, (4.0, y)))
    return drawing(rulers.title, width, y + 0.6 * _LINE, parts)


def _shape(place: float) -> str:
    return "round" if 0.0 <= place <= 1.0 else "square"

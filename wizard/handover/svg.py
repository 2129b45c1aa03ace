"""Parts of a drawing in SVG: round marks for an axis, a scale, lines and words. Plain text in, plain text out."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape

from engine.quoting import visible
from engine.showing import round_step

Point = tuple[float, float]

FONT = 11.0
_LETTER = 0.56
"""Width of a letter over the size of the font, on average: ours, a little more than it takes."""


def nice_ticks(low: float, high: float, most: int) -> tuple[float, ...]:
    """Round numbers at even steps that hold low and high between them, about `most` of them at the most.

    most: 2 and more.   Raises: ValueError when low or high is not finite, or most is under 2.
    """
    if not (math.isfinite(low) and math.isfinite(high)):
        raise ValueError("an axis wants two finite ends")
    if most < 2:
        raise ValueError(f"most must be 2 or more, not {most}")
    low, high = min(low, high), max(low, high)
    if high - low <= 1e-12 * max(abs(low), abs(high), 1e-290):
        half = 0.5 * abs(low) or 1.0
        low, high = low - half, high + half
    step = round_step((high - low) / (most - 1))
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return tuple(i * step for i in range(first, last + 1))


@dataclass(frozen=True)
class Scale:
    """Values from low to high on a line of the drawing from start to end; they may run either way."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """The place of a value on the drawing, beyond its ends for one that is beyond.   Raises: ZeroDivisionError when
        low is high.
        """
        return self.start + (self.end - self.start) * (value - self.low) / (self.high - self.low)


@dataclass(frozen=True)
class Pen:
    """How a line is drawn.   dash: lengths of dashes and gaps, "" for a whole line."""

    colour: str
    dash: str = ""
    width: float = 1.6

    @property
    def marks(self) -> str:
        """Its attributes in the drawing."""
        dash = f' stroke-dasharray="{self.dash}"' if self.dash else ""
        return f'stroke="{self.colour}" stroke-width="{self.width:g}"{dash}'


def line(start: Point, end: Point, pen: Pen) -> str:
    """A straight line from one point of the drawing to another."""
    (x0, y0), (x1, y1) = start, end
    return f'<line x1="{x0:.1f}" y1="{y0:.1f}" x2="{x1:.1f}" y2="{y1:.1f}" {pen.marks}/>'


def polyline(points: Iterable[Point], pen: Pen) -> str:
    """A line through points of the drawing."""
    return f'<polyline points="{_places(points)}" fill="none" stroke-linejoin="round" {pen.marks}/>'


def area(points: Iterable[Point], colour: str) -> str:
    """A filled shape, so pale that lines over it stay clear."""
    return f'<polygon points="{_places(points)}" fill="{colour}" fill-opacity="0.16" stroke="none"/>'


def dot(at: Point, colour: str, shape: str = "round") -> str:
    """A mark on a point, "round" or "square", open so that others show through."""
    x, y = at
    if shape == "square":
        return (
            f'<rect x="{x - 3.0:.1f}" y="{y - 3.0:.1f}" width="6" height="6" fill="none" stroke="{colour}" '
            'stroke-width="1.3"/>'
        )
    return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="2.8" fill="none" stroke="{colour}" stroke-width="1.3"/>'


def words(text: str, at: Point, anchor: str = "start", *, upright: bool = False, bold: bool = False) -> str:
    """A text at a place.   anchor: "start", "middle" or "end".   upright: reads from the bottom up."""
    x, y = at
    turned = f' transform="rotate(-90 {x:.1f} {y:.1f})"' if upright else ""
    weight = ' font-weight="bold"' if bold else ""
    return f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}"{turned}{weight}>{escape(visible(text))}</text>'


def room_for(text: str) -> float:
    """About how wide a text is in the drawing."""
    return _LETTER * FONT * len(text)


def fitted(text: str, room: float) -> str:
    """A text cut with dots to what there is room for."""
    most = max(int(room / (_LETTER * FONT)), 4)
    return text if len(text) <= most else f"{text[: most - 3].rstrip()}..."


def drawing(title: str, width: float, height: float, parts: Sequence[str]) -> str:
    """The whole picture, with its title for those who cannot see it."""
    body = "\n".join(parts)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 {width:.0f} {height:.0f}" '
        f'font-family="Helvetica, Arial, sans-serif" font-size="{FONT:g}" fill="#1b2733">\n'
        f"<title>{escape(visible(title))}</title>\n{body}\n</svg>"
    )


def _places(points: Iterable[Point]) -> str:
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in points)

"""The stock wheels that were found, as lines of text: one line for each, and all about one of them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, zip_longest
from typing import TYPE_CHECKING

from engine.answers import cell, labels, shown, shown_unit
from engine.plan import Plan, with_text
from engine.showing import share_of_boats
from wizard.tables import value_lines

if TYPE_CHECKING:
    from engine.assessment import Assessment
    from engine.stages.market import WheelRow

_GAP = 2
_BAR = 24
_SAME = 0.005
"""Ratios that read alike in two decimals are the same."""


@dataclass(frozen=True)
class _Column:
    """Two lines of heading and the cells. rank: what there is least need of is left out first, the highest rank."""

    heading: tuple[str, str]
    cells: tuple[str, ...]
    is_left: bool = False
    rank: int = 0

    @property
    def width(self) -> int:
        return max(map(len, (*self.heading, *self.cells)))

    def lines(self) -> list[str]:
        """Heading and cells, all of the same width."""
        return [text.ljust(self.width) if self.is_left else text.rjust(self.width) for text in self._texts]

    @property
    def _texts(self) -> tuple[str, ...]:
        return (*self.heading, *self.cells)


def wheel_lines(
    rows: Sequence["WheelRow"], now: "WheelRow | None", units: str, width: int
) -> tuple[list[str], list[str]]:
    """(two lines of heading, one line for each wheel), as many columns as fit.

    now: the row of the wheel that the plan has, marked with that word.
    """
    taken = "cruise_drawn_kw" if rows and rows[0].cruise_l_per_h is None else "cruise_l_per_h"
    every = [
        _Column(("", "Wheel"), tuple(row.size for row in rows), is_left=True),
        _Column(("blade", "area"), tuple(cell(row, "area_ratio", units) for row in rows), rank=1),
        _Column(("gear", "ratio"), tuple(cell(row, "ratio", units) for row in rows)),
        _Column(("reach rated", "speed"), tuple(share_of_boats(row.reaches_rated_fraction) for row in rows)),
        _Column(
            ("burn" if taken.endswith("_h") else "takes", shown_unit(taken, units)),
            tuple(cell(row, taken, units) for row in rows),
        ),
        _Column(("light", "running"), tuple(f"{cell(row, 'light_running_fraction', units)} %" for row in rows), rank=2),
    ]
    if now is not None:
        every.append(_Column(("", ""), tuple("now" if row is now else "" for row in rows)))
    columns, gap = _fitting(every, width)
    lines = [(" " * gap).join(texts).rstrip() for texts in zip(*(column.lines() for column in columns), strict=True)]
    return lines[:2], lines[2:]


def _fitting(every: Sequence[_Column], width: int) -> tuple[list[_Column], int]:
    """The columns that fit, and the gap between them; at last those that cannot be left out, close together."""
    for highest in (2, 1, 0):
        kept = [column for column in every if column.rank <= highest]
        for gap in (_GAP, 1):
            if sum(column.width for column in kept) + gap * (len(kept) - 1) <= width:
                return kept, gap
    return kept, 1


def detail_lines(row: "WheelRow", units: str, width: int) -> list[str]:
    """Every answer about a wheel: texts on lines of their own, numbers in two columns where there is room."""
    answers = [(label.text, name, shown(name, label, getattr(row, name), units)) for name, label in labels(row)]
    groups = [
        (is_text, [(label, value) for label, _, value in group if value])
        for is_text, group in groupby(answers, lambda answer: isinstance(getattr(row, answer[1]), str))
    ]
    longest = max(len(label) for label, _, _ in answers)
    numbers = [pairs for is_text, pairs in groups if not is_text]
    gap = next((gap for gap in (_GAP, 1) if all(_beside(pairs, longest, gap, width) for pairs in numbers)), _GAP)
    lines: list[str] = []
    for is_text, pairs in groups:
        beside = [] if is_text else _beside(pairs, longest, gap, width)
        lines += beside or _beneath(pairs, longest + gap, width)
    return lines


def _beneath(pairs: Sequence[tuple[str, str]], widest: int, width: int) -> Iterator[str]:
    """Each answer on lines of its own."""
    for label, value in pairs:
        first, *rest = value_lines(value, max(width - widest, 10))
        yield f"{label:<{widest}}{first}"
        yield from (" " * widest + part for part in rest)


def _beside(pairs: Sequence[tuple[str, str]], longest: int, gap: int, width: int) -> list[str]:
    """The answers in two columns, with a gap between label and value; nothing where these have no room."""
    left, right = pairs[: (len(pairs) + 1) // 2], pairs[(len(pairs) + 1) // 2 :]
    widest = max((len(label) for label, _ in right), default=0)
    halves = (
        [f"{label:<{longest + gap}}{value}" for label, value in left],
        [f"{label:<{widest + gap}}{value}" for label, value in right],
    )
    room = max(map(len, halves[0])) + _GAP
    if room + max(map(len, halves[1]), default=0) > width:
        return []
    return [f"{one:<{room}}{other}".rstrip() for one, other in zip_longest(*halves, fillvalue="")]


def progress_line(share: float) -> str:
    """How far the search is, as a bar and in words."""
    done = round(_BAR * min(max(share, 0.0), 1.0))
    return f"{'=' * done}{'.' * (_BAR - done)} {100.0 * share:.0f} %"


def row_of_plan(rows: Sequence["WheelRow"], assessment: "Assessment") -> "WheelRow | None":
    """The row of the wheel and ratio that the plan has now; None when they are not among the rows."""
    from engine.stages.blades import wanted_blades

    propeller, gear = (assessment.outcomes[stage].answers for stage in ("propeller", "gear"))
    if propeller is None or gear is None:
        return None
    wanted = wanted_blades(assessment.plan)
    for row in rows:
        offered = wanted_blades(taken(assessment.plan, row))
        is_same_area = abs(offered.area_ratio - wanted.area_ratio) < _SAME
        is_same_kind = offered.series is wanted.series and is_same_area
        if is_same_kind and row.size == propeller.size and abs(row.ratio - gear.ratio) < _SAME:
            return row
    return None


def taken(plan: Plan, row: "WheelRow") -> Plan:
    """The plan with a wheel of the market and its ratio."""
    for path, text in row.changes.items():
        plan = with_text(plan, path, text)
    return plan

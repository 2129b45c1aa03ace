"""What a bench says: a measured value, the baseline of the same run beside it, and whether the target is met."""

import statistics
from collections.abc import Callable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Target:
    """What is aimed at: a value, or a ratio to the baseline, of at most (or at least) so much."""

    limit: float
    is_ratio: bool = False
    is_least: bool = False

    def is_met(self, value: float, ratio: float | None) -> bool:
        """Whether a line keeps to it."""
        found = ratio if self.is_ratio else value
        return found is not None and (found >= self.limit if self.is_least else found <= self.limit)

    def words(self, unit: str) -> str:
        """As it stands in the table: "<= 1.25 x"."""
        return f"{'>=' if self.is_least else '<='} {self.limit:g} {'x' if self.is_ratio else unit}"


@dataclass(frozen=True)
class Line:
    """One line of the table. baseline: in the same unit.   ratio: the middle of the rounds where it is not the plain
    quotient."""

    name: str
    value: float
    unit: str
    baseline: float | None = None
    baseline_name: str = ""
    target: Target | None = None
    own_ratio: float | None = None

    @property
    def ratio(self) -> float | None:
        """The value against the baseline."""
        if self.own_ratio is not None or not self.baseline:
            return self.own_ratio
        return self.value / self.baseline

    def row(self) -> tuple[str, ...]:
        """The cells of the table."""
        ratio, target = self.ratio, self.target
        return (
            self.name,
            f"{_digits(self.value)} {self.unit}",
            "" if self.baseline is None else f"{_digits(self.baseline)} {self.unit} {self.baseline_name}",
            "" if ratio is None else f"{_digits(ratio)} x",
            "" if target is None else target.words(self.unit),
            "" if target is None else "met" if target.is_met(self.value, ratio) else "MISSED",
        )


HEADS = ("measured", "value", "baseline", "ratio", "target", "")
WIDTHS = (56, 14, 28, 9, 11, 6)


def printed(cells: Sequence[str]) -> str:
    """A row of the table, its numbers to the right."""
    cut = [f"{cell:>{width}}" if at in (1, 3) else f"{cell:<{width}}" for at, (cell, width) in _numbered(cells)]
    return "  ".join(cut).rstrip()


def _numbered(cells: Sequence[str]) -> enumerate[tuple[str, int]]:
    return enumerate(zip(cells, WIDTHS, strict=True))


def _digits(value: float) -> str:
    return f"{value:,.0f}" if abs(value) >= 100 else f"{value:.3g}"


def alternating(rounds: int, *measures: Callable[[], float]) -> list[list[float]]:
    """Each measure once a round, in turn, so that what else the machine does falls on all of them alike."""
    rows = [[measure() for measure in measures] for _ in range(rounds)]
    return [list(column) for column in zip(*rows, strict=True)]


def beside(
    name: str, unit: str, values: Sequence[float], baselines: Sequence[float], of: str, target: Target | None = None
) -> Line:
    """A line of middles; the ratio is the middle of the rounds' own."""
    ratio = statistics.median(value / baseline for value, baseline in zip(values, baselines, strict=True))
    return Line(name, statistics.median(values), unit, statistics.median(baselines), of, target, ratio)

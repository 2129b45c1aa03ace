"""The benches: what a line of their table says, and that each of them is there. How fast anything is, no test asks."""

import sys
from importlib import import_module
from pathlib import Path

import pytest

from tests.bench.__main__ import BENCHES
from tests.bench.lines import Line, Target, alternating, beside


@pytest.mark.parametrize(
    ("target", "value", "expected"),
    [
        (Target(50.0), 49.0, True),
        (Target(50.0), 51.0, False),
        (Target(2.0, is_ratio=True), 19.0, True),
        (Target(2.0, is_ratio=True), 21.0, False),
        (Target(2.0, is_ratio=True, is_least=True), 21.0, True),
        (Target(2.0, is_ratio=True, is_least=True), 19.0, False),
    ],
)
def test_a_line_says_whether_its_target_is_met(target: Target, value: float, expected: bool) -> None:
    row = Line("a thing", value, "ms", 10.0, "bare", target).row()
    assert row[-1] == ("met" if expected else "MISSED")


def test_the_ratio_is_the_middle_of_the_rounds() -> None:
    assert beside("a thing", "s", [2.0, 9.0, 30.0], [1.0, 3.0, 15.0], "bare").ratio == 2.0


def test_measures_take_turns() -> None:
    order: list[str] = []

    def measure(name: str) -> float:
        order.append(name)
        return float(len(order))

    assert alternating(2, lambda: measure("a"), lambda: measure("b")) == [[1.0, 3.0], [2.0, 4.0]]
    assert order == ["a", "b", "a", "b"]


@pytest.mark.parametrize("name", BENCHES)
def test_every_bench_has_lines(name: str) -> None:
    assert callable(import_module(f"tests.bench.bench_{name}").lines)


@pytest.mark.skipif(sys.platform != "linux", reason="looks into /proc")
def test_a_terminal_sees_what_is_drawn_and_what_it_takes(tmp_path: Path) -> None:
    from tests.bench.terminal import in_terminal

    with in_terminal(("-c", "print('drawn'); print(input()[::-1]); input()"), tmp_path) as terminal:
        assert terminal.until("drawn") > terminal.began
        terminal.press("sdrow\n")
        terminal.until("words")
        assert 1.0 < terminal.memory_peak() < 100.0
        assert 0.0 <= terminal.cpu_seconds() < 60.0

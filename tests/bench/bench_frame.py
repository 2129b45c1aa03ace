"""From the command to the first painted frame, against a bare form in the same kind of terminal."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from tests.bench.lines import Line, Target, alternating, beside
from tests.bench.plans import own_plan
from tests.bench.terminal import in_terminal

TARGET = Target(1.25, is_ratio=True)
WIZARD = ("-m", "wizard", "--plans")
BARE = ("-m", "tests.bench.bare_form")


def lines(quick: bool) -> Iterator[Line]:
    """The list of plans, and one plan opened at once on a page of 31 fields."""
    with own_plan("hull") as path:
        home, folder = path.parent.parent, str(path.parent)

        def seconds(command: Sequence[str], sign: str) -> float:
            return _seconds(command, sign, home)

        listed, opened, bare = alternating(
            2 if quick else 9,
            lambda: seconds((*WIZARD, folder), "Bittern"),
            lambda: seconds((*WIZARD, folder, str(path)), "Displacement"),
            lambda: seconds(BARE, "Field 1"),
        )
    yield beside("first frame, list of plans", "s", listed, bare, "bare form", TARGET)
    yield beside("first frame, a plan opened at once", "s", opened, bare, "bare form", TARGET)


def _seconds(command: Sequence[str], sign: str, home: Path) -> float:
    with in_terminal(command, home) as terminal:
        return terminal.until(sign) - terminal.began

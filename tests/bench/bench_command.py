"""Commands without the full screen, from start to end, against Python that does nothing."""

from collections.abc import Iterator

from tests.bench.lines import Line, Target, alternating, beside
from tests.bench.plans import FULL_PLAN
from tests.bench.terminal import command_seconds


def lines(quick: bool) -> Iterator[Line]:
    """--help, check and report."""
    helped, nothing = alternating(
        3 if quick else 15,
        lambda: command_seconds(("-m", "wizard", "--help")),
        lambda: command_seconds(("-c", "pass")),
    )
    yield beside("--help", "s", helped, nothing, "python -c pass", Target(3.0, is_ratio=True))
    checked, reported, nothing = alternating(
        1 if quick else 5,
        lambda: command_seconds(("-m", "wizard", "check", str(FULL_PLAN))),
        lambda: command_seconds(("-m", "wizard", "report", str(FULL_PLAN))),
        lambda: command_seconds(("-c", "pass")),
    )
    yield beside("check", "s", checked, nothing, "python -c pass")
    yield beside("report", "s", reported, nothing, "python -c pass")

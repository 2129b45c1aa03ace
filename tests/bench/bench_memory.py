"""The wizard left running in a terminal: the most memory it has held, and what it takes while nothing is pressed."""

import time
from collections.abc import Iterator

from engine.plan import PAGES
from tests.bench.lines import Line, Target
from tests.bench.plans import own_plan
from tests.bench.terminal import in_terminal

NEXT = "\x0e"  # ctrl+n


def lines(quick: bool) -> Iterator[Line]:
    """Idle on the first page, then through all pages."""
    with (
        own_plan("hull") as path,
        in_terminal(("-m", "wizard", "--plans", str(path.parent), str(path)), path) as wizard,
    ):
        wizard.until("Displacement")
        wizard.quiet(3.0)
        seconds = 3.0 if quick else 20.0
        before = wizard.cpu_seconds()
        began = time.monotonic()
        while time.monotonic() < began + seconds:
            wizard.quiet(seconds, seconds)
        idle = (wizard.cpu_seconds() - before) / (time.monotonic() - began)
        yield Line(f"idle, over {seconds:.0f} s", 100 * idle, "% CPU", target=Target(0.5))
        for _ in PAGES[1:]:
            wizard.press(NEXT)
            wizard.quiet(0.5)
        yield Line("peak memory after all pages", wizard.memory_peak(), "MB", target=Target(110.0))

"""From a key to its letter, and to the answers of its page, in the real wizard; and what holds the screen up."""

import json
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from tests.bench.lines import Line, Target
from tests.bench.plans import own_plan
from tests.bench.terminal import in_terminal
from wizard.environment import VARIABLES

FORMS = ("-m", "tests.bench.watched_forms")
ANSWERED, FROZEN = Target(50.0), Target(50.0)


def lines(quick: bool) -> Iterator[Line]:
    """Keys on ten pages; beside them keys in a bare form, and how long that takes to paint them."""
    rounds = "2" if quick else "8"
    with own_plan("hull") as path:
        to, home = path.parent.parent / "times.json", path.parent.parent
        bare = _times((*FORMS, "bare", "{keys}", rounds, str(to)), home, to, {})["to_letter"]
        times = _times((*FORMS, "wizard", "{keys}", rounds, str(to), str(path)), home, to, VARIABLES)
    yield Line("key to its letter, median", *_ms(times["to_letter"], 0.5), *_baseline(bare, 0.5))
    yield Line("key to its letter, p95", *_ms(times["to_letter"], 0.95), *_baseline(bare, 0.95))
    every = [seconds for page in times["to_answers"].values() for seconds in page]
    for page, found in times["to_answers"].items():
        yield Line(f"key to answers, {page} page, median", *_ms(found, 0.5), *_baseline(bare, 0.5))
    yield Line("key to answers, all pages, median", *_ms(every, 0.5), *_baseline(bare, 0.5))
    yield Line("key to answers, all pages, p95", *_ms(every, 0.95), *_baseline(bare, 0.95), ANSWERED)
    yield Line("key to all pages settled, median", *_ms(times["to_all"], 0.5), *_baseline(bare, 0.5))
    yield Line("key to all pages settled, p95", *_ms(times["to_all"], 0.95), *_baseline(bare, 0.95))
    yield Line("screen frozen while typing, at worst", *_ms(times["frozen_typing"], 1.0), target=FROZEN)
    yield Line("screen frozen while turning to a page, at worst", *_ms(times["frozen_turning"], 1.0), target=FROZEN)


def _times(command: Sequence[str], home: Path, to: Path, variables: Mapping[str, str]) -> dict[str, Any]:
    with in_terminal(command, home, variables=variables) as terminal:
        terminal.drain()
        if terminal.process.returncode:
            raise RuntimeError(terminal.last_words)
    found: dict[str, Any] = json.loads(to.read_text(encoding="utf-8"))
    return found


def _ms(seconds: Sequence[float], share: float) -> tuple[float, str]:
    ordered = sorted(seconds)
    return 1e3 * ordered[min(int(share * len(ordered)), len(ordered) - 1)], "ms"


def _baseline(seconds: Sequence[float], share: float) -> tuple[float, str]:
    return _ms(seconds, share)[0], "bare form"

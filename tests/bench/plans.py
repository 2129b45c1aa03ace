"""The plan that is measured: a demonstration, complete, as a plan of one's own in a folder of its own."""

import re
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.bench.terminal import ROOT

FULL_PLAN = ROOT / "saved_plans" / "bittern.toml"


@contextmanager
def own_plan(page: str = "hull") -> Iterator[Path]:
    """A copy of the full plan, left on a page; its folder is gone afterwards."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "plans" / "bench.toml"
        path.parent.mkdir()
        text = FULL_PLAN.read_text(encoding="utf-8")
        path.write_text(re.sub('(?m)^stage = ".*"$', f'stage = "{page}"', text), encoding="utf-8")
        yield path

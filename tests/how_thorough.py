"""How thoroughly to look: by day, or by night, when there is time."""

import os
from collections.abc import Sequence
from typing import Any

NIGHTLY = os.environ.get("SHAFTLOG_TESTS") == "nightly"


def some_by_day(cases: Sequence[Any], number: int = 1) -> Sequence[Any]:
    """All cases by night, the first ones by day."""
    return cases if NIGHTLY else cases[:number]

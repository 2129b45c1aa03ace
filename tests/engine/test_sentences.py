"""Sentences of findings that must stay true, and be followed, in the rarer cases too; on an invented launch."""

from collections.abc import Callable

import pytest

from engine.findings import Finding
from engine.plan import Plan
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]


def told(plan: Plan, stage: str, words: str) -> Finding:
    """The one finding of a stage with these words."""
    (one,) = (finding for finding in assess(plan).outcomes[stage].findings if words in finding.text)
    return one


@pytest.mark.parametrize(
    ("empty", "words"),
    [
        (("shaft.overhang",), "Overhang of the propeller is not given"),
        (("shaft.propeller_weight",), "Weight of the propeller is not given"),
        (("shaft.propeller_weight", "shaft.overhang"), "Weight and overhang of the propeller are not given"),
    ],
)
def test_what_the_critical_speed_lacks_is_what_is_empty(
    launch: Plan, change: Change, empty: tuple[str, ...], words: str
) -> None:
    both = {"shaft.overhang": "100 mm", "shaft.propeller_weight": "20 kg"}
    finding = told(change(launch, {**both, **dict.fromkeys(empty, "")}), "shaft", "bare shaft")
    assert finding.text.startswith(words)
    assert finding.path == empty[0]

"""Who chooses only the diameter, or only the pitch, of a wheel."""

from collections.abc import Callable

import pytest

from engine.findings import Verdict
from engine.plan import Plan
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]


@pytest.mark.parametrize(("chosen", "other"), [({"diameter": "15 in"}, "pitch"), ({"pitch": "10 in"}, "diameter")])
def test_where_no_size_keeps_to_every_rule_the_nearest_to_the_margin_is_taken(
    launch: Plan, change: Change, chosen: dict[str, str], other: str
) -> None:
    """Both leave the propeller lighter than asked for, up to the last pitch that the series was tested for."""
    ((name, text),) = chosen.items()
    outcome = assess(change(launch, {f"propeller.{name}": text, f"propeller.{other}": ""})).outcomes["propeller"]
    wheel = outcome.answers
    beside = [row for row in wheel.neighbours if getattr(row, f"{name}_m") == getattr(wheel, f"{name}_m")]
    lightest_first = sorted(beside, key=lambda row: -row.light_running_fraction.best)
    assert len(beside) > 1
    assert getattr(wheel, f"{name}_m") == pytest.approx(float(text.split()[0]) * 0.0254)
    assert getattr(lightest_first[-1], f"{other}_m") == getattr(wheel, f"{other}_m")
    assert wheel.light_running_fraction.best > 0.05
    assert any(finding.verdict is not Verdict.FITS for finding in outcome.findings)

"""A log beside the power curve, row by row."""

import re
from collections.abc import Callable

from engine.findings import Verdict
from engine.plan import Plan, with_row
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]


def test_what_growth_may_have_taken_in_a_log_is_not_held_against_the_plan(launch: Plan, change: Change) -> None:
    logged = change(
        with_row(launch, "present.log"),
        {
            "present.gear_ratio": "2:1",
            "present.propeller_diameter": "18 in",
            "present.propeller_pitch": "13 in",
            "present.log.0.engine_speed": "1800 rpm",
            "present.log.0.speed": "6 kn",
        },
    )
    found = assess(logged).outcomes["power"]
    assert found.answers.logged[0].grown_shaft_power_kw is None
    (clean,) = [finding for finding in found.findings if "reads as" in finding.text]
    assert clean.verdict is Verdict.LOOK
    assert "as she was" not in clean.text
    found = assess(change(logged, {"present.time_since_cleaning": "6 months"})).outcomes["power"]
    (point,) = found.answers.logged
    assert point.counts == "yes"
    assert point.grown_shaft_power_kw.best > 1.2 * point.expected_shaft_power_kw.best
    (grown,) = [finding for finding in found.findings if "reads as" in finding.text]
    gap = point.shaft_power_kw / point.grown_shaft_power_kw.best - 1.0
    assert abs(gap) < 0.25
    assert grown.verdict is Verdict.FITS
    assert re.search(rf"and {abs(gap):.0%} (more|less) than of her as she was, 6 months".replace("%", " %"), grown.text)

"""Sentences of findings that must stay true, and be followed, in the rarer cases too; on an invented launch."""

import re
from collections.abc import Callable

import pytest

from engine.findings import Finding
from engine.machinery.generic_engines import GENERIC_ENGINES
from engine.plan import Plan, with_row
from tests.engine.generic_candidates import with_generic
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


@pytest.mark.parametrize("capacity", ["2 kWh", "6 kWh"])
def test_a_small_battery_is_not_told_to_last_no_hours(launch: Plan, change: Change, capacity: str) -> None:
    electric = with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"])
    found = assess(change(electric, {"engine.motor.0.battery": capacity, "speed.cruise": "5 kn", "speed.top": "6 kn"}))
    answers = found.outcomes["range"].answers
    (text,) = (each.text for each in found.outcomes["range"].findings if each.text.startswith("At cruise she goes"))
    said = re.search(r"goes ([\d.]+) nmi .* in ([\d.]+) hours", text)
    assert said is not None
    assert float(said[1]) == pytest.approx(answers.cruise_range_nmi.best, rel=0.05)
    assert float(said[2]) == pytest.approx(answers.cruise_endurance_h.best, rel=0.05)


@pytest.mark.parametrize("share", [0.8, 1.0, 1.2])
def test_the_trial_of_a_motor_speaks_of_a_motor(launch: Plan, change: Change, share: float) -> None:
    """Speeds as expected, less and more; an engine that smokes, and its governor, are not aboard."""
    plan = change(
        with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"]),
        {
            "speed.cruise": "5 kn",
            "speed.top": "6 kn",
            "gear.ratio": "2",
            "trial.propeller_diameter": "500 mm",
            "trial.propeller_pitch": "440 mm",
            "trial.tachometer": "checked with an optical one",
        },
    )
    expected = assess(plan).outcomes["trial"].answers.predicted
    for row in expected[2:]:
        speed = f"{row.speed_kn.best:.2f} kn"
        run = {"engine_speed": f"{share * row.engine_rpm:.0f} rpm", "speed": speed, "speed_back": speed}
        plan = with_row(plan, "trial.run", run | ({"throttle": "full"} if row is expected[-1] else {}))
    found = assess(plan).outcomes["trial"]
    assert found.answers.causes
    said = [
        *(each.text for each in found.findings if each.path != "propeller.diameter"),
        *(row.cause for row in found.answers.causes),
        found.answers.cause,
    ]
    spoken = [text for text in said if re.search(r"\bengine(?! (speed|room))|governor|smokes|uel flow", text)]
    assert not spoken

"""The cavitation checks of the propeller page: the water and air the plan names, and where Burrill's chart ends."""

from collections.abc import Callable

import pytest

from engine.assessment import Assessment
from engine.plan import Plan
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]
WHEEL = {"engine.candidate.0.power_lost": "3 %", "gear.ratio": "2.5", "propeller.diameter": "500 mm"} | {
    "propeller.pitch": "340 mm"
}
SURFACE, DEPTH, GRAVITY, KELLER = 101_325.0, 0.65, 9.80665, 0.2
"""Pa at sea; the hull draft, where the shaft is taken to lie; Keller's k for one screw."""


def needed(assessment: Assessment) -> float:
    """What the load on the blades asks for, Keller's allowance left out."""
    return float(assessment.outcomes["propeller"].answers.needed_area_ratio.best) - KELLER


def burrill(assessment: Assessment) -> str:
    (text,) = (each.text for each in assessment.outcomes["propeller"].findings if "Burrill's chart" in each.text)
    return text


@pytest.mark.parametrize(
    ("changes", "surface", "vapour"),
    [
        # ISO 2533 at 2500 m: 74 692 Pa (from memory)
        ({"engine.altitude": "2500 m"}, 74_692.0, 1_706.0),
        # steam tables: 1 706 Pa at 15 C, 3 783 Pa at 28 C
        ({"engine.altitude": "2500 m", "hull.water_temperature": "28 C"}, 74_692.0, 3_783.0),
    ],
)
def test_thin_air_and_warm_water_want_more_blade_area(
    launch: Plan, change: Change, changes: dict[str, str], surface: float, vapour: float
) -> None:
    """The thrust hardly changes, so what it asks for goes with one over the pressure above that of the vapour."""
    at_sea, there = assess(change(launch, WHEEL)), assess(change(launch, WHEEL | changes))
    thrusts = [each.outcomes["propeller"].answers.thrust_n.best for each in (at_sea, there)]
    head = 1026.0 * GRAVITY * DEPTH
    pressures = [SURFACE + head - 1_706.0, surface + head - vapour]
    expected = needed(at_sea) * thrusts[1] / thrusts[0] * pressures[0] / pressures[1]
    assert needed(there) == pytest.approx(expected, rel=2e-3)


def test_a_slow_wheel_outside_the_compared_part_of_burrills_chart_is_told_so(launch: Plan, change: Change) -> None:
    slow = {"gear.ratios": "6", "gear.ratio": "6", "propeller.room": "1.3 m"}
    slow |= {"propeller.diameter": "1000 mm", "propeller.pitch": "800 mm", "propeller.shaft_depth": "1 m"}
    assert "The cavitation number is outside 0.2 to 1.2" in burrill(assess(change(launch, slow)))
    assert "outside" not in burrill(assess(change(launch, WHEEL)))


def test_blades_too_fast_for_burrills_chart_are_told_in_words(launch: Plan, change: Change) -> None:
    """Sigma under 0.04, where his lower line has no value: the page said "nan for his lower line"."""
    ship = {"hull.displacement": "120 t", "hull.waterline_length": "28 m", "hull.waterline_beam": "7 m"}
    ship |= {"hull.hull_draft": "1.9 m", "hull.keel_draft": "2.5 m", "speed.cruise": "6 kn", "speed.top": "8 kn"}
    motor = {"engine.candidate.0.rated_power": "1000 kW", "engine.candidate.0.rated_speed": "5000 rpm"}
    motor |= {"engine.candidate.0.power_lost": "0 %"}
    wheel = {"gear.ratios": "1", "gear.ratio": "1", "propeller.room": "1.5 m"}
    wheel |= {"propeller.diameter": "410 mm", "propeller.pitch": "250 mm", "propeller.shaft_depth": "0.5 m"}
    text = burrill(assess(change(launch, ship | motor | wheel)))
    assert "ends before" in text
    assert "nan" not in text

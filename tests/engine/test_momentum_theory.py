"""No propeller beats the ideal disc of its size: what momentum alone allows (Rankine 1865, Froude 1889).

An open-water polynomial carried past its tests breaks this bound before it breaks any other.
"""

from collections.abc import Callable

import numpy as np
import pytest

from engine.assessment import assess
from engine.plan import Plan
from engine.propeller.series import SERIES, series_with_no_way_on

WATER = 1026.0
EVERY_PITCH = 25
EVERY_AREA = 9


def wheels(name: str, blades: int):  # type: ignore[no-untyped-def]
    """The whole range of pitches and areas of a series, as curves (25, 9, 1)."""
    series = SERIES[name]
    pitch_ratio = np.linspace(*series.pitch_ratio, EVERY_PITCH)[:, None]
    area_ratio = np.linspace(*series.area_ratio[blades], EVERY_AREA)
    return series.cubics(pitch_ratio, area_ratio, blades).with_trailing_axis()


KINDS = [(name, blades) for name, series in SERIES.items() for blades in series.area_ratio]


@pytest.mark.parametrize(("name", "blades"), KINDS)
def test_no_wheel_is_better_than_the_ideal_disc(name: str, blades: int) -> None:
    """eta0 at most 2/(1 + sqrt(1 + CT)), CT = 8 KT/(pi J2), wherever the series was tested and pushes."""
    open_water = wheels(name, blades)
    J = np.linspace(max(SERIES[name].lowest_advance_ratio, 0.02), 1.6, 80)
    thrust = np.asarray(open_water.thrust_coefficient(J))
    pushes = (thrust > 0.0) & (np.asarray(open_water.zero_thrust_advance_ratio) >= J)
    loading = np.where(pushes, 8.0 * thrust / (np.pi * J**2), 0.0)
    ideal = 2.0 / (1.0 + np.sqrt(1.0 + loading))
    assert np.all(np.asarray(open_water.efficiency(J))[pushes] < ideal[pushes])


@pytest.mark.parametrize(("name", "blades"), KINDS)
def test_no_wheel_pulls_more_with_no_way_on_than_the_ideal_disc(name: str, blades: int) -> None:
    """T at most (2 rho A)^(1/3) P^(2/3); the series reach 0.56 to 0.77 of it."""
    open_water = wheels(series_with_no_way_on(SERIES[name]).name, blades)
    thrust, torque = (np.asarray(curve[..., 0]) for curve in (open_water.thrust_cubic, open_water.torque_cubic))
    share = thrust / ((np.pi / 2.0) ** (1.0 / 3.0) * (2.0 * np.pi * torque) ** (2.0 / 3.0))
    assert np.all((share > 0.55) & (share < 0.8))


@pytest.mark.parametrize(
    ("sections", "pitch"),
    [
        ("flat-faced (Gawn)", "420 mm"),
        ("flat-faced (Gawn-Burrill), three blades", "420 mm"),
        ("airfoil (Wageningen B)", "420 mm"),
    ],
)
def test_the_pull_of_a_plan_is_one_that_her_engine_can_give(
    launch: Plan, change: Callable[[Plan, dict[str, str]], Plan], sections: str, pitch: str
) -> None:
    """The Gawn-Burrill polynomial at J = 0 once made it 96 % of the ideal."""
    wheel = {"propeller.sections": sections, "propeller.diameter": "500 mm", "propeller.pitch": pitch}
    outcomes = assess(change(launch, wheel | {"gear.ratio": "2.5"})).outcomes
    power = outcomes["engine"].answers.power_at_propeller_kw.best * 1e3
    ideal = (2.0 * WATER * np.pi * 0.25**2) ** (1.0 / 3.0) * power ** (2.0 / 3.0)
    assert 0.5 * ideal < outcomes["propeller"].answers.static_thrust_n.best < 0.8 * ideal

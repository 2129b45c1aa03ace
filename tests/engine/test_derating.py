"""What hot, thin, wet air and warm water take from a diesel."""

import numpy as np
import pytest

from engine.machinery.derating import (
    SiteConditions,
    check_site,
    judge_intake_temperature,
    pressure_at_altitude,
    site_adjustment,
)
from engine.machinery.diesel import ENGINE_KINDS

REFERENCE = SiteConditions(100e3, 25.0, 0.30, 25.0)


@pytest.mark.parametrize("kind", ENGINE_KINDS)
def test_reference_conditions_leave_everything(kind: str) -> None:
    found = site_adjustment(kind, REFERENCE)
    assert float(found.power_ratio) == pytest.approx(1.0)
    assert float(found.consumption_ratio) == pytest.approx(1.0)


@pytest.mark.parametrize("kind", ENGINE_KINDS)
def test_power_falls_steadily_with_the_intakes_temperature(kind: str) -> None:
    air = np.linspace(0.0, 60.0, 13)
    found = site_adjustment(kind, SiteConditions(100e3, air, 0.5, 25.0))
    assert np.all(np.diff(np.asarray(found.power_ratio)) < 0.0)
    assert np.all(np.asarray(found.claimed_power_ratio) <= 1.0)


def test_three_hundred_metres_take_about_three_per_cent() -> None:
    """Trade rule, from memory: 3 to 3.5 % of a naturally aspirated engine for 300 m."""
    low, high = (
        float(site_adjustment("direct injection", SiteConditions(pressure_at_altitude(h), 25.0, 0.3, 25.0)).power_ratio)
        for h in (0.0, 300.0)
    )
    assert 0.03 < 1.0 - high / low < 0.045


@pytest.mark.parametrize(("height", "pascals"), [(0.0, 101325.0), (1000.0, 89875.0), (5000.0, 54020.0)])
def test_the_standard_atmosphere(height: float, pascals: float) -> None:
    """ISO 2533, values from memory, to five pascals."""
    assert float(pressure_at_altitude(height)) == pytest.approx(pascals, abs=5.0)


def test_a_site_beyond_belief_says_so() -> None:
    assert check_site(REFERENCE) == ()
    assert len(check_site(SiteConditions(50e3, 75.0, 0.3, 25.0))) == 2


def test_air_over_45_degrees_asks_for_a_duct() -> None:
    assert "Lead outside air" not in judge_intake_temperature(45.0).text
    assert "Lead outside air" in judge_intake_temperature(46.0).text


@pytest.mark.parametrize(
    ("kind", "site", "name"),
    [
        ("steam", REFERENCE, "kind"),
        ("turbocharged", SiteConditions(0.0, 25.0, 0.3, 25.0), "air_pressure"),
        ("turbocharged", SiteConditions(1e5, -300.0, 0.3, 25.0), "air_temperature"),
        ("turbocharged", SiteConditions(1e5, 25.0, -0.1, 25.0), "humidity"),
        ("turbocharged and charge-cooled", SiteConditions(1e5, 25.0, 0.3, -300.0), "raw_water_temperature"),
        ("direct injection", SiteConditions(10e3, 60.0, 1.0, 25.0), "dry air pressure"),
        ("turbocharged", SiteConditions(5e3, 60.0, 0.3, 25.0), "power left"),
    ],
)
def test_nonsense_is_refused_by_name(kind: str, site: SiteConditions, name: str) -> None:
    with pytest.raises(ValueError, match=name):
        site_adjustment(kind, site)


def test_only_a_charge_cooler_minds_warm_water() -> None:
    water = np.array([20.0, 32.0, 38.0])
    for kind in ENGINE_KINDS:
        left = np.broadcast_to(site_adjustment(kind, SiteConditions(1e5, 35.0, 0.5, water)).power_ratio, water.shape)
        falls = bool(np.all(np.diff(left) < 0.0))
        assert falls is (kind == "turbocharged and charge-cooled")


def test_what_is_better_than_the_data_sheet_is_seen_but_not_claimed() -> None:
    cold = site_adjustment("turbocharged", SiteConditions(103e3, 0.0, 0.3, 10.0))
    assert float(cold.power_ratio) > 1.05
    assert cold.claimed_power_ratio == 1.0
    assert float(cold.consumption_ratio) < 1.0

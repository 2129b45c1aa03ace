"""What hot, thin, wet air and warm water take from a diesel."""

import numpy as np
import pytest

from engine.machinery.derating import (
    SiteConditions,
    check_site,
    judge_intake_temperature,
    pressure_at_altitude,
    saturation_pressure,
    site_adjustment,
)
from engine.machinery.diesel import ENGINE_KINDS

REFERENCE = SiteConditions(100e3, 25.0, 0.30, 25.0)


@pytest.mark.parametrize(
    ("temperature", "kilopascals"), [(25.0, 3.1685), (35.0, 5.6268), (45.0, 9.5923), (50.0, 12.349)]
)
def test_saturation_pressure_computed_independently(temperature: float, kilopascals: float) -> None:
    assert float(saturation_pressure(temperature)) / 1e3 == pytest.approx(kilopascals, rel=1e-4)


@pytest.mark.parametrize(
    ("row", "site", "efficiency", "k", "alpha", "beta"),
    [
        ("naturally aspirated, limited by excess air", (100e3, 45.0, 0.60, 25.0), 0.80, 0.9062, 0.8898, 1.0184),
        ("naturally aspirated, limited by excess air", (87e3, 45.0, 0.80, 25.0), 0.85, 0.7628, 0.7335, 1.0399),
        ("naturally aspirated, limited by heat", (100e3, 45.0, 0.60, 25.0), 0.80, 0.9371, 0.9261, 1.0119),
        ("turbocharged, no charge cooler", (100e3, 45.0, 0.60, 25.0), 0.80, 0.8782, 0.8568, 1.0249),
        ("turbocharged, charge-cooled", (100e3, 45.0, 0.60, 32.0), 0.80, 0.9038, 0.8869, 1.0190),
        ("turbocharged, charge-cooled", (100e3, 45.0, 0.60, 38.0), 0.80, 0.8863, 0.8665, 1.0230),
    ],
)
def test_adjustments_computed_independently(
    row: str, site: tuple[float, float, float, float], efficiency: float, k: float, alpha: float, beta: float
) -> None:
    """By a second script, four decimals; the standard's own printed example could not be reached."""
    found = site_adjustment(row, SiteConditions(*site), mechanical_efficiency=efficiency)
    given = [float(each) for each in (found.indicated_ratio, found.power_ratio, found.consumption_ratio)]
    assert given == pytest.approx([k, alpha, beta], abs=6e-5)


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
    assert "duct" not in judge_intake_temperature(40.0).text
    assert "Lead outside air" in judge_intake_temperature(46.0).text


@pytest.mark.parametrize(
    ("kind", "site"),
    [
        ("steam", REFERENCE),
        ("turbocharged", SiteConditions(0.0, 25.0, 0.3, 25.0)),
        ("turbocharged", SiteConditions(1e5, -300.0, 0.3, 25.0)),
    ],
)
def test_nonsense_is_refused_by_name(kind: str, site: SiteConditions) -> None:
    with pytest.raises(ValueError):
        site_adjustment(kind, site)

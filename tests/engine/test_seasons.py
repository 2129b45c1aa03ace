"""The log over the seasons: growth and wear that the test put in are found again, and cleaning is worth its price."""

import re
from collections.abc import Callable, Sequence
from datetime import date, timedelta

import numpy as np
import pytest

from engine.constants import DAY, KNOT, MONTH, RPM
from engine.findings import Finding
from engine.machinery.generic_engines import GENERIC_ENGINES
from engine.machinery.upkeep import cleaning_interval, trend
from engine.plan import Plan, with_row, with_text
from engine.stages.hull import HullAnswers
from engine.stages.seasons import Cleaning, Seasons, cleaning_of, season_findings, season_rows, seasons_of
from engine.stages.trial_boats import TrialBoats
from tests.engine.generic_candidates import with_generic
from tests.engine.one_after_another import assess
from tests.engine.trials import Yard

START = date(2026, 5, 1)
SPEED_KN = 6.0
READ = {"engine_speed": "1900 rpm", "speed": "6 kn"}


@pytest.fixture(scope="module")
def yard(launch: Plan) -> Yard:
    return Yard(assess(launch))


@pytest.fixture(scope="module")
def clean(yard: Yard) -> TrialBoats:
    fleet, boats = yard.hull.fleet, yard.hull.boats
    assert isinstance(yard.hull, HullAnswers)
    return TrialBoats.of(yard.plan, yard.hull, yard.opinion, yard.fitted, yard.engine.drive, fleet, boats)


@pytest.fixture(scope="module")
def read(yard: Yard, clean: TrialBoats) -> Callable[..., Seasons]:
    needed = float(clean.fleet.median(clean.as_fitted.at(np.array([SPEED_KN * KNOT]))[0])[0])

    def seasons(months: Sequence[float], rises: Sequence[float], cleanings: Sequence[float] = (0.0,)) -> Seasons:
        """Readings some months after the start that are higher than the clean boat's by a logarithm."""
        plan = yard.plan
        for at in cleanings:
            plan = with_row(plan, "trial.season", {"day": day(at), "what": "bottom cleaned"})
        for at, rise in zip(months, rises, strict=True):
            turning = needed * np.exp(rise) / RPM
            row = {"day": day(at + 0.01), "engine_speed": f"{turning:.1f} rpm", "speed": f"{SPEED_KN} kn"}
            plan = with_row(plan, "trial.season", row)
        found = seasons_of(plan, clean)
        assert found is not None
        return found

    return seasons


def day(months: float) -> str:
    return (START + timedelta(days=round(months * MONTH / DAY))).isoformat()


def said(plan: Plan, seasons: Seasons, clean: TrialBoats) -> list[Finding]:
    cleaning = cleaning_of(plan, seasons, clean, SPEED_KN * KNOT, 1)
    return list(season_findings(plan, seasons, cleaning))


def test_growth_is_found_again(read: Callable[..., Seasons]) -> None:
    months = (0.0, 1.0, 2.0, 3.0, 4.0, 5.0)
    found = read(months, [0.008 * each for each in months])
    assert found.growth is not None
    assert found.growth.slopes[0] == pytest.approx(0.008, rel=0.02)
    assert found.is_growing
    rise = found.rise
    assert rise is not None
    assert rise.low < 0.008 < rise.high
    assert [row.rise_fraction for row in season_rows(found)] == pytest.approx(
        [np.expm1(0.008 * each) for each in months], abs=1e-3
    )


def test_scatter_is_no_growth(read: Callable[..., Seasons]) -> None:
    found = read((0.0, 1.5, 3.0, 4.5), (0.01, -0.01, 0.012, -0.008))
    assert found.growth is not None
    assert not found.is_growing


def test_fewer_revolutions_are_not_told_as_less_than_none_more(
    read: Callable[..., Seasons], yard: Yard, clean: TrialBoats
) -> None:
    falling = read((0.0, 1.5, 3.0, 4.5), (0.03, 0.02, 0.015, 0.0))
    (told,) = (each.text for each in said(yard.plan, falling, clean) if "does not show yet" in each.text)
    assert re.search(r"yet: [\d.]+ % less rpm", told)


def test_wear_is_what_cleaning_does_not_mend(read: Callable[..., Seasons], yard: Yard, clean: TrialBoats) -> None:
    months = np.arange(0.0, 36.0, 2.0)
    since = months % 12.0
    found = read(months, 0.005 * since + 0.02 * months / 12.0, cleanings=(0.0, 12.0, 24.0))
    assert found.with_wear is not None
    assert found.with_wear.slopes == pytest.approx((0.005, 0.02), rel=0.1)
    assert found.is_wearing
    assert found.growth is not None
    assert found.growth.slopes[0] == pytest.approx(0.005, rel=0.1), "wear is not taken for growth"
    assert any("cleaning does not mend" in each.text for each in said(yard.plan, found, clean))
    steady = read(months, 0.005 * since, cleanings=(0.0, 12.0, 24.0))
    assert steady.is_growing
    assert not steady.is_wearing


def test_months_are_counted_from_the_last_cleaning_or_a_clean_trial(
    read: Callable[..., Seasons], yard: Yard, clean: TrialBoats
) -> None:
    found = read((1.0, 4.0, 8.0), (0.0, 0.0, 0.0), cleanings=(0.0, 6.0))
    assert [reading.months for reading in found.readings] == pytest.approx([1.0, 4.0, 2.0], abs=0.05)
    plan = with_row(yard.plan, "trial.season", {"day": day(3.0), "engine_speed": "1900 rpm", "speed": "6 kn"})
    unknown = seasons_of(plan, clean)
    assert unknown is not None
    assert unknown.readings[0].months is None
    (undated,) = (each for each in said(plan, unknown, clean) if "no cleaning before it" in each.text)
    assert undated.path == "trial.day"
    dated = seasons_of(with_text(plan, "trial.day", START.isoformat()), clean)
    assert dated is not None
    assert dated.readings[0].months == pytest.approx(3.0, abs=0.05)


def test_a_trial_with_growth_tells_of_the_cleaning_before_it(yard: Yard, clean: TrialBoats) -> None:
    plan = with_row(yard.plan, "trial.season", {"day": day(3.0), "engine_speed": "1900 rpm", "speed": "6 kn"})
    plan = with_text(with_text(plan, "trial.day", START.isoformat()), "trial.time_since_cleaning", "2 months")
    found = seasons_of(plan, clean)
    assert found is not None
    assert found.readings[0].months == pytest.approx(5.0, abs=0.1)
    early = seasons_of(with_row(plan, "trial.season", {"day": day(-4.0), **READ}), clean)
    assert early is not None
    (told,) = (each for each in said(plan, early, clean) if "no cleaning before it" in each.text)
    assert "day of the trial" not in told.text
    assert told.path == "trial.season"


def test_a_motor_takes_no_fuel_and_no_cleaning_is_due_every_0_months(
    read: Callable[..., Seasons], yard: Yard, clean: TrialBoats
) -> None:
    found = read((0.0, 2.0, 4.0, 6.0), (0.0, 0.02, 0.04, 0.06))
    busy = {"costs.hours_per_year": "4000 h", "range.price": "9 per L", "costs.cleaning": "5"}
    plan = yard.plan
    for path, text in busy.items():
        plan = with_text(plan, path, text)
    months = cleaning_of(plan, found, clean, SPEED_KN * KNOT, 1).months
    assert months is not None
    (told,) = (each.text for each in said(plan, found, clean) if "costs least" in each.text)
    days = re.search(r"every (\d+) days? costs least", told)
    assert days is not None
    assert int(days[1]) == pytest.approx(months * MONTH / DAY, abs=0.51)
    electric = with_generic(plan, GENERIC_ENGINES["invented 12 kW motor"])
    texts = [each.text for each in season_findings(electric, found, Cleaning(8.0))]
    assert any("more electricity" in text for text in texts)
    assert not any("fuel" in text for text in texts)


def test_what_growth_draws_from_the_battery_is_paid_for_at_the_plug(read: Callable[..., Seasons], launch: Plan) -> None:
    """A charger passes 0.92 of what it takes, as on the range and the costs page."""
    found = read((0.0, 2.0, 4.0, 6.0), (0.0, 0.02, 0.04, 0.06))
    plan = with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"])
    asked = {"costs.hours_per_year": "240 h", "range.electricity_price": "0.3 per kWh", "costs.cleaning": "50"}
    for path, text in asked.items():
        plan = with_text(plan, path, text)
    yard = Yard(assess(plan))
    clean = TrialBoats.of(
        yard.plan, yard.hull, yard.opinion, yard.fitted, yard.engine.drive, yard.hull.fleet, yard.hull.boats
    )
    drawn_kw = float(clean.fleet.median(clean.as_fitted.at(np.array([SPEED_KN * KNOT]))[1])[0])
    assert found.growth is not None
    rate = 240.0 / 12.0 * drawn_kw * 0.3 / 0.92 * found.fuel_exponent * found.growth.slopes[0]
    assert cleaning_of(yard.plan, found, clean, SPEED_KN * KNOT, 1).months == pytest.approx(np.sqrt(2.0 * 50.0 / rate))


def test_a_reading_without_its_numbers_is_told_of(yard: Yard, clean: TrialBoats) -> None:
    plan = with_row(yard.plan, "trial.season", {"day": day(3.0), "speed": "6 kn"})
    found = seasons_of(plan, clean)
    assert found is not None
    assert found.readings == ()
    assert any(
        "1 of the readings over the seasons lacks engine speed or boat speed and is" in each.text
        for each in said(plan, found, clean)
    )
    assert seasons_of(yard.plan, clean) is None


def test_cleaning_pays_at_the_interval_of_least_cost(
    read: Callable[..., Seasons], yard: Yard, clean: TrialBoats
) -> None:
    found = read((0.0, 2.0, 4.0, 6.0), (0.0, 0.02, 0.04, 0.06))
    plan = with_text(yard.plan, "costs.hours_per_year", "120 h")
    wanting = said(plan, found, clean)
    assert any("the price of a cleaning" in each.text and "the price of fuel, on" in each.text for each in wanting)
    priced = with_text(with_text(plan, "range.price", "1.80 per L"), "costs.cleaning", "400")
    found_months = cleaning_of(priced, found, clean, SPEED_KN * KNOT, 1).months
    burn = float(clean.fleet.median(clean.as_fitted.at(np.array([SPEED_KN * KNOT]))[1])[0])
    assert found.growth is not None
    rate = 10.0 * burn * 1.80 * found.fuel_exponent * found.growth.slopes[0]

    def monthly(months: float) -> float:
        return 400.0 / months + 0.5 * rate * months

    assert found_months is not None
    assert monthly(found_months) < min(monthly(0.9 * found_months), monthly(1.1 * found_months))
    assert found_months > 6.0
    (told,) = (each.text for each in said(priced, found, clean) if "costs least" in each.text)
    assert "reach to 6 months after a cleaning; beyond that" in told
    (often,) = (
        each.text
        for each in said(with_text(priced, "costs.cleaning", "15"), found, clean)
        if "costs least" in each.text
    )
    assert "only drawn on" not in often


def test_more_drag_burns_more_than_the_cube_of_the_rpm_says(read: Callable[..., Seasons]) -> None:
    """At the same boat speed a heavier-loaded wheel also works at a lower advance ratio, with more torque."""
    assert 3.0 < read((0.0,), (0.0,)).fuel_exponent < 9.0


def test_the_interval_grows_with_the_root_of_the_price() -> None:
    assert cleaning_interval(400.0, 2.0) == pytest.approx(20.0)
    assert cleaning_interval(1600.0, 2.0) == pytest.approx(40.0)
    with pytest.raises(ValueError, match="price"):
        cleaning_interval(0.0, 2.0)


def test_a_line_through_points_that_lie_on_one_is_that_line() -> None:
    months = np.array([[0.0], [1.0], [2.0], [5.0]])
    found = trend(months, 0.3 + 0.02 * months[:, 0], 0.01)
    assert found is not None
    assert (found.start, found.slopes[0]) == pytest.approx((0.3, 0.02))
    # standard error by hand: sum of squares about the mean of 0, 1, 2, 5 is 14
    assert found.errors[0] == pytest.approx(0.01 / np.sqrt(14.0))
    assert trend(months[:1], np.zeros(1), 0.01) is None
    assert trend(np.ones((4, 1)), np.zeros(4), 0.01) is None


def test_a_trend_is_as_unsure_as_its_readings_scatter() -> None:
    months = np.array([[0.0], [1.0], [2.0], [3.0]])
    wild = trend(months, np.array([0.0, 0.1, -0.1, 0.1]), 0.01)
    tame = trend(months, np.array([0.0, 0.01, -0.01, 0.01]), 0.01)
    assert wild is not None
    assert tame is not None
    assert wild.errors[0] > 5.0 * tame.errors[0]

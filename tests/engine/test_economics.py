"""Costs of a year and of an outlay, against examples worked by hand."""

import math

import numpy as np
import pytest

from engine.machinery.diesel import DUTY_CLASSES
from engine.machinery.economics import (
    LIFE_HOURS,
    net_present_value,
    present_worth_factor,
    simple_payback,
    spent_over_profile,
    yearly_share,
    years_of_use,
)


def test_a_profile_is_the_sum_of_rate_times_time() -> None:
    """80 h at 2.5 and 20 h at 6 L/h: 200 + 120 = 320 L; a thirstier boat 3 and 7: 240 + 140 = 380 L."""
    rates = np.array([[2.5, 6.0], [3.0, 7.0]])
    assert spent_over_profile(rates, np.array([80.0, 20.0])) == pytest.approx([320.0, 380.0])
    assert spent_over_profile(np.array([2.5]), np.array([80.0])) == pytest.approx(200.0)


def test_payback_by_hand() -> None:
    """A repower of 18 000 that avoids an overhaul of 6000 and saves 400 a year: 12 000 / 400 = 30 years."""
    assert simple_payback(18_000.0 - 6_000.0, 400.0) == pytest.approx(30.0)
    assert simple_payback(12_000.0, 0.0) == math.inf
    assert simple_payback(12_000.0, -50.0) == math.inf
    assert simple_payback(-500.0, -50.0) == 0.0
    assert math.isnan(float(simple_payback(12_000.0, math.nan)))
    assert simple_payback(100.0, np.array([50.0, 25.0, -1.0])) == pytest.approx([2.0, 4.0, math.inf])


def test_present_worth_by_hand() -> None:
    """1/1.05 + 1/1.05^2 + 1/1.05^3 = 0.95238 + 0.90703 + 0.86384 = 2.72325."""
    assert present_worth_factor(3.0, 0.05) == pytest.approx(2.72325, abs=5e-6)
    assert present_worth_factor(12.0, 0.0) == 12.0
    assert present_worth_factor(12.0, 1e-9) == pytest.approx(12.0, rel=1e-7)


def test_net_present_value_by_hand() -> None:
    """1000 at the end of each of three years at 5 %: 2723.25; less 2500 leaves 223.25. Without interest 500."""
    assert net_present_value(2500.0, 1000.0, 3.0, 0.05) == pytest.approx(223.25, abs=0.005)
    assert net_present_value(2500.0, 1000.0, 3.0, 0.0) == pytest.approx(500.0)


def test_a_price_spread_over_years_by_hand() -> None:
    """20 000 over ten years without interest: 2000 a year. 2723.25 over three years at 5 %: 1000 a year."""
    assert yearly_share(20_000.0, 10.0, 0.0) == pytest.approx(2000.0)
    assert yearly_share(2723.25, 3.0, 0.05) == pytest.approx(1000.0, abs=0.005)


@pytest.mark.parametrize("interest", [0.0, 0.03, 0.12])
def test_an_outlay_that_its_yearly_share_repays_is_worth_nothing_more(interest: float) -> None:
    share = yearly_share(9000.0, 7.0, interest)
    assert net_present_value(9000.0, share, 7.0, interest) == pytest.approx(0.0, abs=1e-9)


def test_years_of_use_end_when_the_engine_is_worn_out() -> None:
    """2000 h at 250 h a year last 8 years; at 100 h a year 20, longer than the 10 that she is kept."""
    assert years_of_use(10.0, 250.0, 2000.0) == pytest.approx(8.0)
    assert years_of_use(10.0, 100.0, 2000.0) == 10.0
    assert years_of_use(10.0, 100.0) == 10.0


def test_what_makes_no_sense_is_refused_by_name() -> None:
    with pytest.raises(ValueError, match="years"):
        present_worth_factor(0.0, 0.05)
    with pytest.raises(ValueError, match="interest"):
        yearly_share(100.0, 5.0, -0.01)
    with pytest.raises(ValueError, match="hours_per_year"):
        years_of_use(10.0, 0.0)
    with pytest.raises(ValueError, match="time"):
        spent_over_profile(np.array([1.0]), np.array([-1.0]))


def test_lives_are_those_of_duty_classes_and_rise_with_them() -> None:
    assert set(LIFE_HOURS) <= {duty.name for duty in DUTY_CLASSES}
    assert all(low < high for low, high in LIFE_HOURS.values())
    assert LIFE_HOURS["pleasure"][1] < LIFE_HOURS["medium"][0] < LIFE_HOURS["medium"][1] < LIFE_HOURS["heavy"][0]

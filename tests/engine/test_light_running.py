"""Light running as several trades practise it, and what it keeps in hand."""

import numpy as np
import pytest

from engine.constants import RPM
from engine.findings import Verdict
from engine.propeller.light_running import POWER_EXPONENTS, PRACTICES, judge_light_running, power_in_hand

RATED = 2600 * RPM


def test_three_per_cent_light_is_eight_to_nine_per_cent_of_power():
    low, high = (power_in_hand(0.03, exponent) for exponent in POWER_EXPONENTS)
    assert low == pytest.approx(0.0831, abs=5e-5)
    assert high == pytest.approx(0.0927, abs=5e-5)
    assert power_in_hand(0.0) == 0.0
    assert np.all(np.diff(power_in_hand(np.linspace(-0.05, 0.1, 9))) > 0.0)


def test_practices_in_rpm_become_shares_of_rated_speed():
    assert PRACTICES["heavy_use"].within(RATED) == pytest.approx((100 / 2600, 200 / 2600))
    assert PRACTICES["gear_trade"].within(RATED) == pytest.approx((0.0, 50 / 2600))
    assert PRACTICES["displacement"].within(RATED) == (0.0, 0.03)


def test_only_overpropping_is_refused_and_every_row_says_how_sure_it_is():
    assert [key for key, practice in PRACTICES.items() if practice.refuse] == ["overpropped"]
    for practice in PRACTICES.values():
        low, high = practice.within(RATED)
        assert low <= high
        assert (practice.fraction is None) != (practice.speed is None)
        assert practice.status


@pytest.mark.parametrize(
    ("light", "verdict", "word"),
    [
        (-0.05, Verdict.STOP, "holds the engine 130 rpm below its rated 2600"),
        (0.0, Verdict.FITS, "displacement boats"),
        (
            0.03,
            Verdict.FITS,
            "The light running to aim at, 3.0 %, is 78 rpm above the rated 2600, 8 to 9 % of power in hand",
        ),
        (0.034, Verdict.FITS, "between the practices"),
        (0.05, Verdict.FITS, "high-output small diesels; ships"),
        (0.07, Verdict.FITS, "ships"),
        (0.08, Verdict.LOOK, "more than the 7 % of ships"),
    ],
)
def test_a_margin_is_judged_against_practice(light, verdict, word):
    finding = judge_light_running(light, RATED)
    assert finding.verdict is verdict
    assert word in finding.text


def test_impossible_arguments_are_refused_by_name():
    with pytest.raises(ValueError, match="light_running"):
        power_in_hand(-1.0)
    with pytest.raises(ValueError, match="rated_speed"):
        PRACTICES["gear_trade"].within(0.0)

"""Handbook rules against facts of common practice, no source: a boat of 36.5 ft on the waterline and 22,500 lb."""

import pytest

from engine.constants import FOOT, HORSEPOWER, KNOT, POUND
from engine.hull.displacement_rules import HONEST_LABEL, hull_speed, shaft_power_gerr, shaft_power_wyman

LENGTH = 36.5 * FOOT
MASS = 22500.0 * POUND


def horsepower(rule: str, speed_kn: float) -> float:
    power = {"wyman": shaft_power_wyman, "gerr": shaft_power_gerr}[rule](MASS, speed_kn * KNOT, LENGTH)
    return float(power / HORSEPOWER)


def test_hull_speed_is_about_8_1_knots() -> None:
    assert hull_speed(LENGTH) / KNOT == pytest.approx(8.1, abs=0.05, rel=0)


def test_at_6_knots_one_rule_gives_about_24_horsepower_and_the_other_about_18() -> None:
    assert horsepower("wyman", 6.0) == pytest.approx(24.0, abs=0.5, rel=0)
    assert horsepower("gerr", 6.0) == pytest.approx(18.0, abs=0.5, rel=0)


@pytest.mark.parametrize("rule", ["wyman", "gerr"])
def test_at_hull_speed_both_give_about_50_horsepower(rule: str) -> None:
    # "About 50, within a few": 49.9 and 44.6 with the constants here, so a tenth of 50 and a little more.
    assert horsepower(rule, hull_speed(LENGTH) / KNOT) == pytest.approx(50.0, abs=5.5, rel=0)


@pytest.mark.parametrize("speed_kn", [6.0, 6.5, 7.0, 7.5, 8.0])
def test_below_hull_speed_they_differ_by_five_or_six_horsepower(speed_kn: float) -> None:
    # 6.0, 6.4, 6.5, 6.2 and 5.4: "five or six" read as whole numbers.
    assert 4.5 < horsepower("wyman", speed_kn) - horsepower("gerr", speed_kn) < 6.55


def test_55_to_60_horsepower_is_enough_for_hull_speed_and_used_up_a_tenth_above_it() -> None:
    hull_speed_kn = hull_speed(LENGTH) / KNOT
    for rule in ("wyman", "gerr"):
        assert horsepower(rule, hull_speed_kn) < 55.0
        assert horsepower(rule, 1.1 * hull_speed_kn) > 55.0


def test_above_hull_speed_the_rules_part_company() -> None:
    hull_speed_kn = hull_speed(LENGTH) / KNOT
    gaps = [horsepower("gerr", f * hull_speed_kn) - horsepower("wyman", f * hull_speed_kn) for f in (1.0, 1.25, 1.5)]
    assert gaps[0] < 0.0 < gaps[1] < gaps[2]
    assert gaps[2] > 20.0


def test_their_label_says_that_a_propeller_may_not_be_sized_from_them() -> None:
    assert "never for sizing a propeller" in HONEST_LABEL

"""Behaviour of fouling by the months, and how near the rule of thumb lies to the classes of growth."""

import numpy as np
import pytest

from engine.constants import KNOT
from engine.hull.fouling import (
    FOULING_RATES,
    class_like,
    fouling_allowance_after,
    fouling_outside,
    nearest_class,
)
from engine.hull.friction import friction_coefficient_ittc57
from engine.hull.roughness import FOULING_CLASSES, fouling_allowance
from engine.water import water

SEA = water("sea", 15.0)
SPEED, LENGTH = 7.0 * KNOT, 10.0
TEMPERATE = FOULING_RATES["temperate water"].share_per_day


def after(months, share_per_day=TEMPERATE):
    return fouling_allowance_after(months, SPEED, LENGTH, SEA, share_per_day=share_per_day)


class TestByTheMonths:
    def test_a_year_in_temperate_water_adds_a_quarter_of_a_percent_of_friction_a_day(self) -> None:
        clean = friction_coefficient_ittc57(SPEED * LENGTH / SEA.kinematic_viscosity)
        assert after(12.0) / clean == pytest.approx(365.25 * 0.0025)

    def test_a_hull_just_cleaned_adds_nothing(self) -> None:
        assert after(0.0) == 0.0

    def test_rates_that_are_ours_are_half_and_twice_the_rule_and_say_so(self) -> None:
        slow, fast = (FOULING_RATES[f"temperate water, {pace} growth"] for pace in ("slow", "fast"))
        assert (slow.share_per_day, fast.share_per_day) == pytest.approx((0.5 * TEMPERATE, 2.0 * TEMPERATE))
        assert slow.status.startswith("ours")
        assert fast.status.startswith("ours")

    def test_the_tropics_have_the_most_that_the_textbooks_rule_names(self) -> None:
        """Half a percent of the friction a day, twice that of temperate water: textbook tradition, from memory."""
        tropical = FOULING_RATES["tropical water"]
        assert tropical.share_per_day == 0.005
        assert "from memory" in tropical.status

    def test_boats_and_speeds_broadcast_and_a_boat_at_rest_has_a_coefficient(self) -> None:
        months, lengths = np.array([[0.0], [3.0], [9.0]]), np.array([[8.0], [10.0], [12.0]])
        rise = fouling_allowance_after(months, np.linspace(0.0, 4.0, 5), lengths, SEA, share_per_day=TEMPERATE)
        assert np.shape(rise) == (3, 5)
        assert np.all(np.isfinite(rise))

    @pytest.mark.parametrize("name", ["months", "speed", "share_per_day"])
    def test_negative_arguments_are_refused_by_name(self, name) -> None:
        arguments = {"months": 6.0, "speed": SPEED, "share_per_day": TEMPERATE, name: -1.0}
        with pytest.raises(ValueError, match=name.replace("_", " ")):
            fouling_allowance_after(waterline_length=LENGTH, water=SEA, **arguments)


class TestClassLike:
    @pytest.mark.parametrize("name", list(FOULING_CLASSES))
    def test_the_allowance_of_a_class_is_like_that_class(self, name) -> None:
        assert class_like(fouling_allowance(name, SPEED, LENGTH, SEA), SPEED, LENGTH, SEA) == name

    def test_a_fleet_gets_one_class_for_each_boat(self) -> None:
        months = np.array([0.0, 3.0, 6.0, 12.0, 18.0])
        places = nearest_class(after(months), SPEED, LENGTH, SEA)
        np.testing.assert_array_equal(places, [0, 1, 2, 3, 4])

    def test_beyond_the_heaviest_class_the_value_stays_and_a_record_says_so(self) -> None:
        months = np.array([6.0, 24.0, 36.0])
        rise = after(months)
        (record,) = fouling_outside(rise, SPEED, LENGTH, SEA)
        np.testing.assert_array_equal(record.where, [False, False, True])
        assert "heavy shell" in record.sentence()
        assert rise[2] == pytest.approx(6.0 * rise[0])
        assert fouling_outside(rise[:2], SPEED, LENGTH, SEA) == ()
        assert fouling_outside(0.0, SPEED, LENGTH, SEA) == ()  # a clean hull

    def test_a_boat_at_rest_cannot_tell_a_class(self) -> None:
        with pytest.raises(ValueError, match="speed"):
            class_like(1e-3, 0.0, LENGTH, SEA)


class TestRuleAgainstClassesComputedIndependently:
    """Two rules of different origin compared with each other for 10 m at 7 kn; neither is measured here."""

    @pytest.mark.parametrize(
        ("months", "name", "ratio"),
        [
            (3.0, "light slime or aged coating", 0.92),
            (6.0, "heavy slime", 0.95),
            (12.0, "small shell or weed", 1.05),
            (18.0, "medium shell", 0.99),
        ],
    )
    def test_months_in_temperate_water_over_the_nearest_class(self, months, name, ratio) -> None:
        # The ratio as computed, to its two decimals.
        assert after(months) / fouling_allowance(name, SPEED, LENGTH, SEA) == pytest.approx(ratio, abs=0.006)

"""Classes of duty and speeds between spells of full power, as makers of engines and gears print them (anonymised)."""

import numpy as np
import pytest

from engine.constants import RPM
from engine.machinery.diesel import DUTY_CLASSES, cruise_speed_limit
from engine.machinery.gearbox import GEAR_DUTIES


def test_hours_and_load_factors_of_the_hard_classes_are_the_printed_ones() -> None:
    """One engine maker's five steps, of which the two lightest stand here from memory and are left out."""
    printed = [("continuous", None, None), ("heavy", 3000.0, 0.65), ("medium", 2000.0, 0.50)]
    assert [(duty.name, duty.hours_per_year, duty.load_factor) for duty in DUTY_CLASSES[:3]] == printed


def test_hours_of_the_classes_of_gears_are_the_printed_ones() -> None:
    """Two gear makers; intermediate is the second one's. Other families print 300 for pleasure, 2000 for light."""
    printed = {"pleasure": 500.0, "light": 2500.0, "medium": 3500.0, "intermediate": 2000.0, "continuous": None}
    assert {duty.name: duty.hours_per_year for duty in GEAR_DUTIES} == printed


@pytest.mark.parametrize(
    ("first", "last", "minus"), [(2000, 2800, 200), (2801, 3500, 300), (3501, 4500, 400), (4501, 5000, 500)]
)
def test_speed_between_spells_of_full_power_is_as_far_under_rated_as_printed(first: int, last: int, minus: int) -> None:
    rated = np.array([first, last], dtype=float)
    assert np.asarray(cruise_speed_limit(rated * RPM)) / RPM == pytest.approx(rated - minus)

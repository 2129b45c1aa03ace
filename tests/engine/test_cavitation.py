"""Cavitation checks behave as a careful owner expects."""

import numpy as np
import pytest

from engine.propeller.cavitation import (
    TIP_SPEED_LIMITS,
    blade_loading,
    blade_loading_allowed,
    burrill_check,
    dynamic_pressure,
    keller_area_ratio,
    pressure_above_vapour,
    tip_speed,
)


def test_pressure_at_a_metre_under_water():
    """About 109.7 kPa with standard atmosphere and 1700 Pa of vapour: 101 325 + 1025 x 9.80665 x 1 - 1700."""
    assert pressure_above_vapour(1.0, 1025.0) == pytest.approx(109_677, abs=1)


def test_area_needed_and_loading_permitted_say_the_same():
    dynamic, pressure = dynamic_pressure(0.6, 15.0, 3.5, 1025.0), pressure_above_vapour(0.9, 1025.0)
    first = burrill_check(6000.0, 0.6, 0.77, 0.55, dynamic, pressure)
    again = burrill_check(6000.0, 0.6, 0.77, first.area_ratio_needed, dynamic, pressure)
    assert again.thrust_loading == pytest.approx(again.permitted_loading, rel=1e-12)


def test_more_thrust_wants_more_blade():
    thrust = np.array([2e3, 4e3, 8e3])
    dynamic, pressure = dynamic_pressure(0.6, 15.0, 3.5, 1025.0), pressure_above_vapour(0.9, 1025.0)
    assert np.all(np.diff(keller_area_ratio(thrust, 0.6, 3, pressure)) > 0)
    assert np.all(np.diff(burrill_check(thrust, 0.6, 0.8, 0.55, dynamic, pressure).area_ratio_needed) > 0)
    assert np.all(np.diff(blade_loading(thrust, 0.6, 0.55)) > 0)


def test_a_deeper_faster_propeller_may_be_loaded_more():
    assert blade_loading_allowed(4.0, 1.0) > blade_loading_allowed(3.0, 1.0)
    assert blade_loading_allowed(4.0, 1.5) > blade_loading_allowed(4.0, 1.0)


def test_dynamic_pressure_of_a_still_propeller_is_the_streams():
    assert dynamic_pressure(0.6, 0.0, 4.0, 1000.0) == pytest.approx(8000.0, rel=1e-12)


def test_tip_speed_limits_are_in_order():
    limits = [TIP_SPEED_LIMITS[name] for name in ("quiet", "ordinary", "erosion_expected")]
    assert limits == sorted(limits)
    assert tip_speed(0.6, 15.0) == pytest.approx(np.pi * 9.0, rel=1e-12)

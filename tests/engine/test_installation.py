"""What a new engine asks of the boat: the second calculation's figures for 60 kW, and how each rule behaves."""

from math import pi

import numpy as np
import pytest

from engine.constants import FOOT, HORSEPOWER, INCH, INCH_OF_MERCURY, INCH_OF_WATER, POUND
from engine.machinery.engine_air import (
    SMALL_ENGINE_POWER,
    blower_share,
    combustion_air,
    cooling_air,
    least_airflow,
    least_vent_area,
    radiated_heat,
)
from engine.machinery.engine_bed import mount_loads
from engine.machinery.engine_law import is_deemed_quiet, noise_limit
from engine.machinery.engine_services import (
    cranking_current,
    fuel_circulation,
    least_fuel_line_bore,
    least_inlet_bore,
    raw_water_flow,
    raw_water_heat,
)
from engine.machinery.exhaust import (
    back_pressure,
    back_pressure_limit,
    check_long_run,
    exhaust_density,
    exhaust_flow,
    least_bore,
    least_muffler_volume,
    usual_wet_hose,
)
from engine.machinery.float_change import float_change, mass_per_immersion, moment_per_trim
from engine.machinery.fuel import DIESEL, G_PER_KWH

FUEL = 60e3 * 235.0 * G_PER_KWH
"""60 kW at 235 g/kWh [kg/s]."""
FUEL_POWER = FUEL * DIESEL.heating_value
_MINUTE = 60.0


class TestSixtyKilowattsComputedIndependently:
    """By a second script; three digits are given."""

    def test_exhaust_gas(self) -> None:
        assert float(exhaust_flow(FUEL)) * _MINUTE == pytest.approx(12.05, rel=1e-3)

    def test_air_burned(self) -> None:
        assert float(combustion_air(FUEL)) * _MINUTE == pytest.approx(4.90, rel=2e-3)

    def test_heat_to_the_raw_water_and_its_flow(self) -> None:
        heat = float(raw_water_heat(FUEL_POWER))
        assert heat / 1e3 == pytest.approx(50.2, abs=0.05)
        assert float(raw_water_flow(heat)) * 6e4 == pytest.approx(49.1, abs=0.05)

    def test_heat_to_the_engine_room_and_the_air_that_carries_it(self) -> None:
        heat = float(radiated_heat(FUEL_POWER))
        assert heat / 1e3 == pytest.approx(8.36, abs=0.005)
        assert float(cooling_air(heat, 15.0)) * _MINUTE == pytest.approx(28.9, abs=0.1)

    def test_back_pressure_of_a_straight_pipe(self) -> None:
        """5 m, 10 m3/min, 80 mm, 450 C: 0.2678 kPa by the metric form, 0.2674 by the imperial one."""
        metric = float(back_pressure(10.0 / _MINUTE, 0.080, 5.0))
        assert metric / 1e3 == pytest.approx(0.2678, abs=5e-5)
        cubic_feet, feet, inches = 10.0 / FOOT**3, 5.0 / FOOT, 80.0 / 25.4
        density = 39.6 / (450.0 * 9.0 / 5.0 + 32.0 + 460.0)
        imperial = feet * density * cubic_feet**2 / (187.0 * inches**5) * INCH_OF_WATER
        assert imperial / 1e3 == pytest.approx(0.2674, abs=1e-4)
        assert metric == pytest.approx(imperial, rel=3e-3)

    def test_limits_in_other_units(self) -> None:
        """80 mm Hg is 10.67 kPa, 15 kPa is 4.43 in Hg and 60.2 in of water."""
        assert pytest.approx(10.67, abs=0.005) == 80.0 / 25.4 * INCH_OF_MERCURY / 1e3
        assert pytest.approx(4.43, abs=0.005) == 15e3 / INCH_OF_MERCURY
        assert pytest.approx(60.2, abs=0.05) == 15e3 / INCH_OF_WATER

    def test_vent_area_of_a_kilowatt(self) -> None:
        assert float(least_vent_area(1e3)) * 1e4 == pytest.approx(2.6217, rel=1e-4)


class TestTrim:
    @pytest.mark.parametrize(
        ("shape", "coefficient", "metric"),
        [("rectangle", 0.4444, 0.000854), ("parabola", 0.4000, 0.000769), ("diamond", 0.4444, 0.000854)],
    )
    def test_theory_brackets_the_rule(self, shape: str, coefficient: float, metric: float) -> None:
        """Moment to change trim rho I_L/L of a waterplane of length 10 and breadth 3, over A^2/B."""
        length, breadth = 10.0, 3.0
        x = np.linspace(-0.5, 0.5, 200001) * length
        across = {
            "rectangle": np.full_like(x, breadth),
            "parabola": breadth * (1.0 - (2.0 * x / length) ** 2),
            "diamond": breadth * (1.0 - np.abs(2.0 * x / length)),
        }[shape]
        area, inertia = np.trapezoid(across, x), np.trapezoid(across * x**2, x)
        per_trim = 1025.0 * inertia / length / (area**2 / breadth)
        in_feet = per_trim / (1025.0) * (64.0 / 12.0)  # pounds a cubic foot, inches
        assert in_feet == pytest.approx(coefficient, rel=2e-3)
        assert per_trim / 1e5 == pytest.approx(metric, rel=2e-3)
        ours = float(moment_per_trim(area, breadth, 1025.0)) / (area**2 / breadth)
        assert 0.8 < ours / per_trim < 1.0

    def test_the_handbooks_coefficient_in_metric(self) -> None:
        """0.35 A^2/B in foot-pounds an inch is 0.00067277 t m a centimetre; ours lies 9 % above."""
        handbook = 0.35 * FOOT * POUND / (INCH / 0.01) / FOOT**3 / 1e3
        assert handbook == pytest.approx(0.00067277, rel=1e-3)
        ours = float(moment_per_trim(1.0, 1.0, 1025.0)) / 1e5
        assert ours / handbook == pytest.approx(1.085, abs=0.005)

    def test_immersion_in_other_units(self) -> None:
        """0.01025 t/cm of a square metre of sea; 5.333 lb an inch of a square foot at 64 lb a cubic foot."""
        assert float(mass_per_immersion(1.0, 1025.0)) / 1e5 == pytest.approx(0.01025)
        assert pytest.approx(5.3333, abs=1e-4) == 64.0 / 12.0

    def test_weight_at_the_flotation_sinks_without_trim(self) -> None:
        moved = float_change(100.0, 100.0 * 4.0, 4.0, 9.0, 1e4, 5e4)
        assert moved.trim == 0.0
        assert moved.bow == moved.stern == moved.sinkage == pytest.approx(0.01)

    def test_weight_shifted_forward_trims_without_sinking(self) -> None:
        moved = float_change(0.0, 100.0, 4.0, 9.0, 1e4, 5e4)
        assert moved.sinkage == 0.0
        assert moved.bow - moved.stern == pytest.approx(moved.trim)
        assert moved.bow > 0.0 > moved.stern


class TestAir:
    def test_small_engines_go_by_the_makers_rule(self) -> None:
        """At 33 hp the handbook's rule gives nothing."""
        assert float(least_airflow(33.0 * HORSEPOWER)) > 0.0
        assert float(least_airflow(0.99 * SMALL_ENGINE_POWER)) < float(least_airflow(1.01 * SMALL_ENGINE_POWER))

    def test_from_360_horsepower_the_handbooks_rule_is_the_greater(self) -> None:
        """2.75 hp - 90 over 2.5 hp."""
        cubic_feet = float(least_airflow(600.0 * HORSEPOWER)) * _MINUTE / FOOT**3
        assert cubic_feet == pytest.approx(2.75 * 600.0 - 90.0)

    @pytest.mark.parametrize(("horsepower", "share"), [(400.0, 0.0), (600.0, 0.33), (800.0, 0.50), (1200.0, 1.0)])
    def test_blowers_by_power(self, horsepower: float, share: float) -> None:
        assert blower_share(horsepower * HORSEPOWER) == share


class TestExhaust:
    def test_the_least_bore_is_where_the_pressure_meets_the_limit(self) -> None:
        limit = back_pressure_limit(False)
        bore = least_bore(0.1, 4.0, 3.0, limit, is_wet=True)
        assert float(back_pressure(0.1, bore, 4.0, 3.0, is_wet=True)) == pytest.approx(limit, rel=1e-6)

    def test_a_wet_line_has_twice_the_pressure(self) -> None:
        dry, wet = (float(back_pressure(0.1, 0.06, 3.0, 2.0, is_wet=each)) for each in (False, True))
        assert wet == 2.0 * dry

    def test_turbocharged_engines_bear_less(self) -> None:
        assert back_pressure_limit(True) < back_pressure_limit(False)

    def test_hot_gas_is_thin(self) -> None:
        assert float(exhaust_density(450.0)) == pytest.approx(0.4876, rel=1e-3)

    def test_the_muffler_holds_three_times_what_falls_back(self) -> None:
        half_full = 0.5 * pi / 4.0 * 0.05**2 * 1.0
        assert float(least_muffler_volume(0.05, 1.0)) == pytest.approx(3.0 * half_full)

    def test_usual_hoses_widen_with_power_and_end_somewhere(self) -> None:
        bores = [usual_wet_hose(kilowatts * 1e3) for kilowatts in (5, 12, 25, 50, 80, 120, 200, 300, 440)]
        assert np.all(np.diff(bores) > 0.0)
        assert np.isnan(usual_wet_hose(451e3))

    def test_a_long_run_says_so(self) -> None:
        assert check_long_run(2.0, 0.05) == ()
        assert check_long_run(4.0, 0.05)


class TestServices:
    def test_inlet_speed(self) -> None:
        """4.61 sqrt(Q/v), litres a minute and metres a second, in millimetres."""
        assert float(least_inlet_bore(49.1 / 6e4)) * 1e3 == pytest.approx(4.61 * (49.1 / 1.8) ** 0.5, rel=1e-3)

    def test_fuel_goes_round_two_to_four_times(self) -> None:
        assert fuel_circulation(5.0) == (10.0, 20.0)

    def test_fuel_lines_by_power(self) -> None:
        assert [least_fuel_line_bore(power) for power in (30e3, 100e3, 300e3)] == [0.006, 0.010, 0.012]
        assert np.isnan(least_fuel_line_bore(500e3))

    def test_cranking_by_displacement(self) -> None:
        assert cranking_current(2e-3) == (240.0, 300.0, 360.0)


def test_mount_loads_balance_weight_and_moment() -> None:
    loads = mount_loads(400.0, 0.3, 0.5, 0.6, 300.0, 2e3)
    assert 2.0 * (loads.fore + loads.aft) == pytest.approx(400.0 * 9.80665)
    assert loads.fore * 0.3 == pytest.approx(loads.aft * 0.5)
    assert 2.0 * loads.torque * 0.6 == pytest.approx(300.0)
    assert loads.heaviest == pytest.approx(loads.fore + loads.torque)


def test_noise_and_the_boats_deemed_quiet() -> None:
    assert [noise_limit(power) for power in (8e3, 30e3, 60e3)] == [67.0, 72.0, 75.0]
    assert noise_limit(60e3, engines=2) == 78.0
    assert is_deemed_quiet(0.4, 30e3, 9e3)
    assert not is_deemed_quiet(1.2, 30e3, 9e3)
    assert not is_deemed_quiet(0.4, 500e3, 9e3)


@pytest.mark.parametrize(
    "call",
    [
        lambda: least_vent_area(-1.0),
        lambda: cooling_air(1.0, 0.0),
        lambda: back_pressure(1.0, 0.0, 1.0),
        lambda: least_bore(0.1, 1.0, 0.0, 0.0),
        lambda: raw_water_flow(-1.0),
        lambda: moment_per_trim(0.0, 1.0, 1025.0),
        lambda: mount_loads(0.0, 1.0, 1.0, 1.0, 1.0, 1.0),
        lambda: cranking_current(0.0),
    ],
)
def test_nonsense_is_refused_by_name(call) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError):
        call()

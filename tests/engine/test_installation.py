"""What a new engine asks of the boat: how each rule behaves, where it ends, and what it refuses."""

from collections.abc import Callable
from math import pi

import numpy as np
import pytest

from engine.constants import FOOT, HORSEPOWER
from engine.machinery.engine_air import (
    blower_share,
    combustion_air,
    cooling_air,
    least_airflow,
    least_vent_area,
)
from engine.machinery.engine_bed import mount_loads
from engine.machinery.engine_law import is_deemed_quiet, noise_limit
from engine.machinery.engine_services import (
    cranking_current,
    fuel_circulation,
    least_fuel_line_bore,
    least_inlet_bore,
    raw_water_flow,
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
from engine.machinery.float_change import added_weights, float_change, mass_per_immersion, moment_per_trim
from engine.machinery.standards import named

_MINUTE = 60.0


class TestTrim:
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
        assert float(least_airflow(59.0 * HORSEPOWER)) < float(least_airflow(61.0 * HORSEPOWER))

    def test_from_360_horsepower_the_handbooks_rule_is_the_greater(self) -> None:
        """2.75 hp - 90 over 2.5 hp."""
        cubic_feet = float(least_airflow(600.0 * HORSEPOWER)) * _MINUTE / FOOT**3
        assert cubic_feet == pytest.approx(2.75 * 600.0 - 90.0)

    @pytest.mark.parametrize(("horsepower", "share"), [(400.0, 0.0), (600.0, 0.33), (800.0, 0.50), (1200.0, 1.0)])
    def test_blowers_by_power(self, horsepower: float, share: float) -> None:
        assert blower_share(horsepower * HORSEPOWER) == share

    def test_no_step_down_where_the_rules_meet(self) -> None:
        power = np.linspace(0.0, 900.0, 901) * HORSEPOWER
        assert np.all(np.diff(np.asarray(least_airflow(power))) > 0.0)

    def test_half_the_rise_wants_twice_the_air(self) -> None:
        assert float(cooling_air(8e3, 7.5)) == pytest.approx(2.0 * float(cooling_air(8e3, 15.0)))


class TestExhaust:
    def test_pressure_rises_with_flow_run_and_bends_and_falls_with_bore(self) -> None:
        plain = float(back_pressure(0.1, 0.06, 3.0, 2.0))
        assert float(back_pressure(0.2, 0.06, 3.0, 2.0)) == pytest.approx(4.0 * plain)
        assert float(back_pressure(0.1, 0.06, 4.0, 2.0)) > plain
        assert float(back_pressure(0.1, 0.06, 3.0, 3.0)) - plain == pytest.approx(
            float(back_pressure(0.1, 0.06, 33.0 * 0.06))
        )
        assert float(back_pressure(0.1, 0.12, 3.0)) == pytest.approx(float(back_pressure(0.1, 0.06, 3.0)) / 32.0)

    def test_the_least_bore_is_where_the_pressure_meets_the_limit(self) -> None:
        limit = back_pressure_limit(False)
        bore = least_bore(0.1, 4.0, 3.0, limit)
        assert float(back_pressure(0.1, bore, 4.0, 3.0)) == pytest.approx(limit, rel=1e-6)

    def test_a_wet_line_has_twice_the_pressure(self) -> None:
        dry, wet = (float(back_pressure(0.1, 0.06, 3.0, 2.0, is_wet=each)) for each in (False, True))
        assert wet == 2.0 * dry

    def test_turbocharged_engines_bear_less(self) -> None:
        assert back_pressure_limit(True) < back_pressure_limit(False)

    def test_hot_gas_is_thin(self) -> None:
        assert float(exhaust_density(450.0)) == pytest.approx(0.4876, rel=1e-3)

    def test_the_muffler_holds_three_times_what_falls_back(self) -> None:
        full = pi / 4.0 * 0.05**2 * 1.0
        assert float(least_muffler_volume(0.05, 1.0)) == pytest.approx(3.0 * full)

    def test_usual_hoses_widen_with_power_and_end_somewhere(self) -> None:
        bores = [usual_wet_hose(kilowatts * 1e3) for kilowatts in (5, 12, 25, 50, 80, 120, 200, 300, 440)]
        assert np.all(np.diff(bores) > 0.0)
        assert np.isnan(usual_wet_hose(451e3))
        ends = [usual_wet_hose(kilowatts * 1e3) for kilowatts in (8, 15, 30, 55, 90, 130, 220, 330, 450)]
        assert ends == [0.040, 0.050, 0.060, 0.076, 0.090, 0.102, 0.127, 0.152, 0.203]

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
        assert [least_fuel_line_bore(power) for power in (40e3, 150e3, 400e3)] == [0.006, 0.010, 0.012]
        assert np.isnan(least_fuel_line_bore(401e3))

    def test_cranking_by_displacement(self) -> None:
        assert cranking_current(2e-3) == (240.0, 300.0, 360.0)


def test_where_nothing_changed_nothing_adds_up() -> None:
    assert added_weights(()) == (0.0, 0.0)


def test_mount_loads_balance_weight_and_moment() -> None:
    loads = mount_loads(400.0, 0.3, 0.5, 0.6, 300.0, 2e3)
    assert 2.0 * (loads.fore + loads.aft) == pytest.approx(400.0 * 9.80665)
    assert loads.fore * 0.3 == pytest.approx(loads.aft * 0.5)
    assert 2.0 * loads.torque * 0.6 == pytest.approx(300.0)
    assert loads.heaviest == pytest.approx(loads.fore + loads.torque)


def test_noise_and_the_boats_deemed_quiet() -> None:
    assert [noise_limit(power) for power in (8e3, 10e3, 30e3, 40e3, 60e3)] == [67.0, 67.0, 72.0, 72.0, 75.0]
    assert noise_limit(60e3, engines=2) == 78.0
    assert is_deemed_quiet(0.4, 30e3, 9e3)
    assert not is_deemed_quiet(1.2, 30e3, 9e3)
    assert not is_deemed_quiet(0.4, 500e3, 9e3)


def test_a_standard_is_named_by_number_and_title_and_says_when_the_title_is_from_memory() -> None:
    assert named("ISO 8665").startswith("ISO 8665 (Small craft")
    assert "from memory" not in named("ISO 8665")
    assert named("ISO 7840").endswith(", title from memory)")
    assert named("ISO 8665", "ISO 7840") == f"{named('ISO 8665')}; {named('ISO 7840')}"
    with pytest.raises(KeyError):
        named("ISO 4567")


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: least_vent_area(-1.0), "power"),
        (lambda: least_airflow(-1.0), "power"),
        (lambda: combustion_air(-1.0), "fuel_rate"),
        (lambda: cooling_air(1.0, 0.0), "rise"),
        (lambda: exhaust_flow(-1.0), "fuel_rate"),
        (lambda: back_pressure(1.0, 0.0, 1.0), "bore"),
        (lambda: back_pressure(1.0, 0.1, 1.0, -1.0), "bends"),
        (lambda: least_bore(0.1, 1.0, 0.0, 0.0), "limit"),
        (lambda: least_bore(0.0, 1.0, 0.0, 7e3), "flow"),
        (lambda: least_bore(0.1, 0.0, 0.0, 7e3), "length and bends"),
        (lambda: least_muffler_volume(0.05, -1.0), "rise"),
        (lambda: raw_water_flow(-1.0), "heat"),
        (lambda: least_inlet_bore(1e-3, 0.0), "speed"),
        (lambda: moment_per_trim(0.0, 1.0, 1025.0), "waterplane_area"),
        (lambda: mass_per_immersion(1.0, 0.0), "density"),
        (lambda: float_change(1.0, 1.0, 1.0, 0.0, 1.0, 1.0), "length"),
        (lambda: mount_loads(0.0, 1.0, 1.0, 1.0, 1.0, 1.0), "mass"),
        (lambda: mount_loads(1.0, 1.0, 1.0, 0.0, 1.0, 1.0), "track"),
        (lambda: cranking_current(0.0), "swept_volume"),
        (lambda: is_deemed_quiet(0.4, 1.0, 0.0), "displacement"),
    ],
)
def test_nonsense_is_refused_by_name(call: Callable[[], object], name: str) -> None:
    with pytest.raises(ValueError, match=name):
        call()

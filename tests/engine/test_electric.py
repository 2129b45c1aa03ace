"""Motors, batteries and what charges them."""

import numpy as np
import pytest

from engine.constants import KNOT
from engine.findings import Verdict
from engine.machinery.electric import (
    BATTERY_KINDS,
    Battery,
    ElectricMotor,
    battery_mass,
    chain_efficiency,
    charge_time,
    check_regeneration,
    judge_continuous_load,
    motor_full_load_power,
    peukert_time,
    regeneration_power,
    usable_energy,
)
from engine.machinery.serial_hybrid import serial_endurance

MOTOR = ElectricMotor(10e3, 25.0)
_KWH = 3.6e6


def test_full_torque_from_standstill_and_full_power_above_rated_speed() -> None:
    power = np.asarray(motor_full_load_power(MOTOR, np.array([0.0, 5.0, 12.5, 25.0, 26.5, 27.1])))
    assert power == pytest.approx([0.0, 2e3, 5e3, 10e3, 10e3, 0.0])
    assert MOTOR.rated_torque == pytest.approx(10e3 / (2.0 * np.pi * 25.0))


def test_the_highest_speed_is_its_makers() -> None:
    fast = ElectricMotor(10e3, 25.0, highest_speed=40.0)
    assert motor_full_load_power(fast, 39.0) == pytest.approx(10e3)


@pytest.mark.parametrize(("reduction", "product"), [(1.0, 0.8483), (0.97, 0.8229)])
def test_the_chain_computed_independently(reduction: float, product: float) -> None:
    """0.97 x 0.98 x 0.97 x 0.92, and a belt of 0.97."""
    kind = BATTERY_KINDS["lithium iron phosphate"]
    found = chain_efficiency(battery=kind.discharge_efficiency, reduction=reduction)
    assert float(found) == pytest.approx(product, abs=5e-5)


def test_peukert_computed_independently() -> None:
    """200 Ah at 20 h, exponent 1.25, 50 A: 2.675 h and 133.7 Ah."""
    hours = float(peukert_time(200.0, 20.0, 50.0, 1.25))
    assert hours == pytest.approx(2.675, abs=5e-4)
    assert 50.0 * hours == pytest.approx(133.7, abs=0.05)


def test_what_may_be_drawn_is_usable_and_aged() -> None:
    assert usable_energy(Battery(20.0 * _KWH, 0.8, 0.8)) == pytest.approx(12.8 * _KWH)


@pytest.mark.parametrize("fields", [(0.0, 0.8), (1.0, 1.2), (1.0, 0.8, 1.1)])
def test_a_battery_that_cannot_be_is_refused(fields: tuple[float, ...]) -> None:
    with pytest.raises(ValueError):
        Battery(*fields)


def test_lead_weighs_three_times_as_much_as_iron_phosphate() -> None:
    lead, iron = (float(battery_mass(10.0 * _KWH, kind)[0]) for kind in ("lead-acid", "lithium iron phosphate"))
    assert lead == pytest.approx(3.0 * iron)
    with pytest.raises(ValueError):
        battery_mass(1.0, "coal")


def test_charging_takes_the_chargers_loss_into_account() -> None:
    assert float(charge_time(9.2 * _KWH, 2e3)) / 3600.0 == pytest.approx(5.0)


def test_charging_under_sail_is_the_given_figures_and_nothing_below_four_knots() -> None:
    low, high = (np.asarray(each) for each in regeneration_power(np.array([3.9, 5.0, 6.0, 8.0]) * KNOT))
    assert low == pytest.approx([0.0, 50.0, 150.0, 300.0])
    assert high == pytest.approx([0.0, 150.0, 400.0, 900.0])
    assert check_regeneration(6.0 * KNOT) == ()
    assert check_regeneration(10.0 * KNOT)


@pytest.mark.parametrize(("load", "verdict"), [(0.2, Verdict.FITS), (0.9, Verdict.LOOK), (1.1, Verdict.STOP)])
def test_a_light_load_is_no_fault_of_a_motor(load: float, verdict: Verdict) -> None:
    assert judge_continuous_load(load).verdict is verdict


class TestSerial:
    """10 kWh, 10 kg of fuel, a generator of 5 kW that burns 0.25 kg a kilowatt-hour: 8 h of running."""

    def hours(self, kilowatts: float) -> float:
        found = serial_endurance(10.0 * _KWH, 10.0, kilowatts * 1e3, 5e3, 0.25 / _KWH)
        return float(found) / 3600.0

    def test_below_its_power_fuel_and_battery_add_up(self) -> None:
        assert self.hours(4.0) == pytest.approx(10.0 / (0.25 * 4.0) + 10.0 / 4.0)

    def test_above_it_the_battery_ends_the_run(self) -> None:
        assert self.hours(10.0) == pytest.approx(10.0 / 5.0)

    def test_a_little_above_it_the_fuel_goes_first(self) -> None:
        assert self.hours(5.5) == pytest.approx(8.0 + (10.0 - 0.5 * 8.0) / 5.5)

    def test_it_falls_steadily_with_power(self) -> None:
        found = [self.hours(kilowatts) for kilowatts in np.linspace(1.0, 15.0, 57)]
        assert np.all(np.diff(found) < 0.0)

"""Motors, batteries and what charges them."""

from collections.abc import Callable

import numpy as np
import pytest

from engine.constants import KNOT
from engine.findings import Verdict
from engine.machinery.electric import (
    Battery,
    ElectricMotor,
    battery_mass,
    chain_efficiency,
    charge_time,
    judge_continuous_load,
    judge_discharge,
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


def test_what_may_be_drawn_is_usable_and_aged() -> None:
    assert usable_energy(Battery(20.0 * _KWH, 0.8, 0.8)) == pytest.approx(12.8 * _KWH)


@pytest.mark.parametrize(
    ("fields", "name"),
    [((0.0, 0.8), "capacity"), ((1.0, 1.2), "usable_fraction"), ((1.0, 0.8, 1.1), "end_of_life_fraction")],
)
def test_a_battery_that_cannot_be_is_refused(fields: tuple[float, ...], name: str) -> None:
    with pytest.raises(ValueError, match=name):
        Battery(*fields)


def test_peukerts_lead_gives_less_the_faster_it_is_drawn_and_its_rating_at_its_rate() -> None:
    current = np.array([5.0, 10.0, 20.0, 50.0])
    given = current * np.asarray(peukert_time(200.0, 20.0, current, 1.2))
    assert np.all(np.diff(given) < 0.0)
    assert given[1] == pytest.approx(200.0)
    assert current * np.asarray(peukert_time(200.0, 20.0, current, 1.0)) == pytest.approx(200.0)


def test_every_loss_makes_the_chain_shorter() -> None:
    whole = float(chain_efficiency())
    assert 0.8 < whole < 0.92
    assert float(chain_efficiency(battery=0.9)) == pytest.approx(0.9 * whole)
    assert float(chain_efficiency(reduction=0.9)) == pytest.approx(0.9 * whole)


def test_lead_weighs_three_times_as_much_as_iron_phosphate() -> None:
    lead, iron = (float(battery_mass(10.0 * _KWH, kind)[0]) for kind in ("lead-acid", "lithium iron phosphate"))
    assert lead == pytest.approx(3.0 * iron)
    with pytest.raises(ValueError, match="kind"):
        battery_mass(1.0, "coal")


def test_charging_takes_the_chargers_loss_into_account() -> None:
    assert float(charge_time(9.2 * _KWH, 2e3)) / 3600.0 == pytest.approx(5.0)


def test_charging_under_sail_is_the_given_figures_and_nothing_below_four_knots() -> None:
    low, high = (np.asarray(each) for each in regeneration_power(np.array([3.9, 5.0, 6.0, 8.0]) * KNOT))
    assert low == pytest.approx([0.0, 50.0, 150.0, 300.0])
    assert high == pytest.approx([0.0, 150.0, 400.0, 900.0])
    fast, faster = (float(regeneration_power(speed * KNOT)[0]) for speed in (8.0, 9.0))
    assert faster > fast


@pytest.mark.parametrize(("load", "verdict"), [(0.2, Verdict.FITS), (0.9, Verdict.LOOK), (1.1, Verdict.STOP)])
def test_a_light_load_is_no_fault_of_a_motor(load: float, verdict: Verdict) -> None:
    assert judge_continuous_load(load).verdict is verdict


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: ElectricMotor(0.0, 25.0), "rated_power"),
        (lambda: ElectricMotor(10e3, 25.0, peak_power=-1.0), "peak_power"),
        (lambda: motor_full_load_power(MOTOR, -1.0), "speed"),
        (lambda: motor_full_load_power(MOTOR, 1.0, derating=0.0), "derating"),
        (lambda: chain_efficiency(battery=0.0), "battery"),
        (lambda: peukert_time(200.0, 20.0, 0.0, 1.2), "current"),
        (lambda: charge_time(1.0, 0.0), "charge_power"),
        (lambda: regeneration_power(-1.0), "speed"),
        (lambda: serial_endurance(1.0, -1.0, 1.0, 1.0, 1.0), "fuel"),
        (lambda: serial_endurance(1.0, 1.0, 0.0, 1.0, 1.0), "drawn"),
    ],
)
def test_nonsense_is_refused_by_name(call: Callable[[], object], name: str) -> None:
    with pytest.raises(ValueError, match=name):
        call()


@pytest.mark.parametrize(("kilowatts", "verdict"), [(15.0, Verdict.FITS), (15.2, Verdict.LOOK)])
def test_a_battery_may_give_its_rated_energy_in_an_hour(kilowatts: float, verdict: Verdict) -> None:
    """1 C: 15 kW from 15 kWh. At 48 V 15 kW are 312.5 A."""
    found = judge_discharge(kilowatts * 1e3, 15.0 * _KWH, 48.0)
    assert found.verdict is verdict
    assert f"At 48 V that is {kilowatts * 1e3 / 48.0:.0f} A" in found.text


class TestSerial:
    """10 kWh, 10 kg of fuel, a generator of 5 kW that burns 0.25 kg a kilowatt-hour: 8 h of running."""

    def hours(self, kilowatts: float) -> float:
        found = serial_endurance(10.0 * _KWH, 10.0, kilowatts * 1e3, 5e3, 0.25 / _KWH)
        return float(found) / 3600.0

    def test_below_its_power_fuel_and_battery_add_up(self) -> None:
        assert self.hours(4.0) == pytest.approx(10.0 / (0.25 * 4.0) + 10.0 / 4.0)

    def test_at_its_power_the_battery_waits_until_the_fuel_is_gone(self) -> None:
        assert self.hours(5.0) == pytest.approx(8.0 + 10.0 / 5.0)

    def test_above_it_the_battery_ends_the_run(self) -> None:
        assert self.hours(10.0) == pytest.approx(10.0 / 5.0)

    def test_a_little_above_it_the_fuel_goes_first(self) -> None:
        assert self.hours(5.5) == pytest.approx(8.0 + (10.0 - 0.5 * 8.0) / 5.5)

    def test_without_fuel_it_is_the_battery_alone(self) -> None:
        found = np.asarray(serial_endurance(10.0 * _KWH, 0.0, np.array([4e3, 10e3]), 5e3, 0.25 / _KWH))
        assert found / 3600.0 == pytest.approx([2.5, 1.0])

    def test_it_falls_steadily_with_power(self) -> None:
        found = [self.hours(kilowatts) for kilowatts in np.linspace(1.0, 15.0, 57)]
        assert np.all(np.diff(found) < 0.0)

"""Test cycles of ISO 8178-4 (2007) and the IMO NOx Technical Code 2008."""

import numpy as np
import pytest

from engine.machinery.duty_cycles import DUTY_CYCLES


@pytest.mark.parametrize("name", ["E3", "E5", "E2", "D2"])
def test_weights_of_a_cycle_add_up_to_one(name: str) -> None:
    assert float(np.sum(DUTY_CYCLES[name].weight)) == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize("name", ["E3", "E5"])
def test_propeller_law_modes_follow_the_cube_of_speed(name: str) -> None:
    cycle = DUTY_CYCLES[name]
    # Speeds are printed to whole percent: half a percent of speed is 1.2 % of rated power at 91 %, plus rounding.
    assert cycle.speed_fraction**3 == pytest.approx(cycle.power_fraction, abs=0.013)


def test_modes_of_e3_are_the_printed_ones() -> None:
    cycle = DUTY_CYCLES["E3"]
    assert list(cycle.speed_fraction) == [1.00, 0.91, 0.80, 0.63]
    assert list(cycle.power_fraction) == [1.00, 0.75, 0.50, 0.25]
    assert list(cycle.weight) == [0.20, 0.50, 0.15, 0.15]


def test_modes_of_e5_are_the_printed_ones() -> None:
    cycle = DUTY_CYCLES["E5"]
    assert list(cycle.power_fraction) == [1.00, 0.75, 0.50, 0.25, 0.0]
    assert list(cycle.weight) == [0.08, 0.13, 0.17, 0.32, 0.30]


def test_e5_turns_as_e3_does_and_ends_at_idle() -> None:
    assert list(DUTY_CYCLES["E5"].speed_fraction) == [1.00, 0.91, 0.80, 0.63, 0.0]


@pytest.mark.parametrize(
    ("name", "power", "weight"),
    [
        ("E2", [1.00, 0.75, 0.50, 0.25], [0.20, 0.50, 0.15, 0.15]),
        ("D2", [1.00, 0.75, 0.50, 0.25, 0.10], [0.05, 0.25, 0.30, 0.30, 0.10]),
    ],
)
def test_modes_at_constant_speed_are_the_printed_ones(name: str, power: list[float], weight: list[float]) -> None:
    cycle = DUTY_CYCLES[name]
    assert list(cycle.speed_fraction) == [1.0] * len(power)
    assert list(cycle.power_fraction) == power
    assert list(cycle.weight) == weight

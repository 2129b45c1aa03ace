"""The rest of the worked example of Holtrop & Mennen (1982), section 5: from thrust to the power in the shaft.

The figures are recalled, not read in a copy, as are those of test_holtrop_interaction.py: propeller of 8 m, four blades
of 0.7393, chord 3.065 m, t/c 0.03524, dCD 0.000956; thrust 2172.75 kN, KTs 0.18802, n 1.6594 1/s, KQo 0.033275,
efficiency 0.6461, eta_R 0.9931, w 0.2584, t 0.1747; effective power 23 063 kW, shaft power 32 621 kW.
"""

import numpy as np
import pytest

from engine.constants import KNOT
from engine.propeller.blade_roughness import blade_drag_coefficient
from engine.propeller.equilibrium import OperatingPoint, shaft_speed_for_thrust
from engine.propeller.hull_curve import hull_curve
from engine.propeller.interaction import Interaction, hull_efficiency
from engine.propeller.open_water import OpenWater
from engine.propeller.wageningen import WAGENINGEN_B

DIAMETER, BLADES, AREA, CHORD, THICKNESS = 8.0, 4, 0.7393, 3.065, 0.03524
WAKE, DEDUCTION, ROTATIVE = 0.2584, 0.1747, 0.9931
THRUST, SHAFT_SPEED, DENSITY = 2172.75e3, 1.6594, 1025.0
KT, KQ, EFFICIENCY, DRAG_SPARED = 0.18802, 0.033275, 0.6461, 0.000956
SPEED, RESISTANCE = 25.0 * KNOT, 1793.26e3  # printed
ADVANCE_SPEED = SPEED * (1.0 - WAKE)
J = ADVANCE_SPEED / (SHAFT_SPEED * DIAMETER)


def test_a_blade_with_a_roughness_of_30_micrometres_has_the_remembered_drag() -> None:
    """The paper takes it from the model's, 2 (1 + 2 t/c) 0.003605, and gives what is left: dCD, half a unit."""
    model = 2.0 * (1.0 + 2.0 * THICKNESS) * 0.003605
    assert model - float(blade_drag_coefficient(CHORD, THICKNESS, 30e-6)) == pytest.approx(DRAG_SPARED, abs=5e-7)


def test_the_remembered_coefficients_give_thrust_and_efficiency() -> None:
    coefficients = OpenWater(np.array([KT, 0.0, 0.0, 0.0]), np.array([KQ, 0.0, 0.0, 0.0]))
    point = OperatingPoint(coefficients, DIAMETER, DENSITY, ROTATIVE, SHAFT_SPEED, J)
    assert point.thrust == pytest.approx(THRUST, rel=5e-4)  # w and n have four and five digits
    assert point.efficiency == pytest.approx(EFFICIENCY, abs=1e-4)


def test_the_printed_resistance_asks_for_the_remembered_thrust_and_advance() -> None:
    """From the hull's side: 1793.26 kN at 25 kn, with the wake and thrust deduction of four digits each. The advance of
    the water is told by the remembered efficiency, J KT/(2 pi KQ)."""
    between = Interaction(WAKE, DEDUCTION, ROTATIVE, np.zeros((), dtype=bool), ())
    hull = hull_curve(np.array([0.0, SPEED]), np.array([0.0, RESISTANCE]), between, DENSITY)
    assert hull.thrust_at(SPEED) == pytest.approx(THRUST, rel=7e-5)
    advance_ratio = SPEED * np.asarray(hull.advance_fraction) / (SHAFT_SPEED * DIAMETER)
    assert advance_ratio * KT / (2.0 * np.pi * KQ) == pytest.approx(EFFICIENCY, abs=1e-4)


def test_a_wheel_of_the_series_that_gives_the_thrust_at_that_speed_is_as_efficient() -> None:
    """The pitch is not remembered: it is the one at which the shaft turns as it should, near 1.04 diameters. 1.2 %: the
    series with the paper's correction for a smooth blade comes 1.0 % above the figure, without it 0.4 % below."""
    pitch_ratio = np.linspace(0.9, 1.2, 61)
    series = WAGENINGEN_B.cubics(pitch_ratio, AREA, BLADES)
    spared = DRAG_SPARED * CHORD * BLADES / DIAMETER
    smooth = OpenWater(series.thrust_cubic.copy(), series.torque_cubic.copy())
    smooth.thrust_cubic[:, 0] += 0.3 * pitch_ratio * spared
    smooth.torque_cubic[:, 0] -= 0.25 * spared
    for open_water in (series, smooth):
        run = shaft_speed_for_thrust(open_water, DIAMETER, THRUST, ADVANCE_SPEED, DENSITY)
        turning, efficiency = np.asarray(run.shaft_speed), np.asarray(run.efficiency)
        assert np.all(np.diff(turning) < 0.0)
        at = np.interp(-SHAFT_SPEED, -turning, np.arange(pitch_ratio.size))
        assert np.interp(at, np.arange(pitch_ratio.size), pitch_ratio) == pytest.approx(1.04, abs=0.01)
        assert np.interp(at, np.arange(pitch_ratio.size), efficiency) == pytest.approx(EFFICIENCY, rel=0.012)


def test_the_chain_from_effective_to_shaft_power_closes() -> None:
    """With the 1 % that the paper leaves for the shaft, from memory too; every factor is rounded to four digits."""
    propulsive = float(hull_efficiency(WAKE, DEDUCTION)) * ROTATIVE * EFFICIENCY * 0.99
    assert 23063.0 / propulsive == pytest.approx(32621.0, rel=3e-4)

"""Values computed independently: a second script, written from the same coefficients, gave these figures.

They guard against slips of programming and are no evidence about the outside world; that is in tests/published.
Tolerance: half a unit of the last digit shown, unless a comment says otherwise.
"""

import numpy as np
import pytest

from engine.constants import HORSEPOWER, INCH, KNOT, PSI, RPM
from engine.propeller import handbook
from engine.propeller.cavitation import (
    blade_loading,
    blade_loading_allowed,
    burrill_check,
    dynamic_pressure,
    keller_area_ratio,
    pressure_above_vapour,
    tip_speed,
)
from engine.propeller.design import (
    optimum_for_power_at_diameter,
    optimum_for_power_at_shaft_speed,
    optimum_for_thrust_at_diameter,
    optimum_for_thrust_at_shaft_speed,
)
from engine.propeller.equilibrium import bollard_point
from engine.propeller.hull_curve import HullCurve
from engine.propeller.matching import pitch_ratio_to_absorb
from engine.propeller.series import SERIES
from engine.propeller.wageningen import WAGENINGEN_B, blade_chord, reynolds_correction, reynolds_number

GAWN = SERIES["gawn"]
SERIES_IDS = ["Wageningen B", "Gawn"]
J_TENTHS = np.arange(10) / 10

# (blades, AE/A0, P/D): KT, 10 KQ, efficiency at J = 0.0, 0.1, 0.2 ...
B_SERIES = {
    (4, 0.70, 1.0): (
        [0.45474, 0.42544, 0.39193, 0.35471, 0.31425, 0.27103, 0.22555, 0.17829, 0.12973, 0.08036],
        [0.67538, 0.63766, 0.59423, 0.54556, 0.49210, 0.43433, 0.37270, 0.30768, 0.23973, 0.16933],
        [0.0000, 0.1062, 0.2099, 0.3104, 0.4065, 0.4966, 0.5779, 0.6456, 0.6890, 0.6798],
    ),
    (3, 0.50, 0.8): (
        [0.32169, 0.29491, 0.26475, 0.23160, 0.19585, 0.15789, 0.11812, 0.07691, 0.03467],
        [0.38785, 0.35936, 0.32766, 0.29291, 0.25524, 0.21481, 0.17177, 0.12628, 0.07849],
        [0.0000, 0.1306, 0.2572, 0.3775, 0.4885, 0.5849, 0.6566, 0.6785, 0.5624],
    ),
    (3, 0.50, 0.7): (
        [0.27769, 0.25087, 0.22068, 0.18751, 0.15176, 0.11381, 0.07407, 0.03292],
        [0.30109, 0.27584, 0.24775, 0.21696, 0.18365, 0.14795, 0.11003, 0.07004],
        [0.0000, 0.1447, 0.2835, 0.4126, 0.5261, 0.6121, 0.6428, 0.5236],
    ),
    (4, 0.55, 0.6): (
        [0.24692, 0.22014, 0.18925, 0.15466, 0.11677, 0.07598, 0.03270],
        [0.23940, 0.21901, 0.19572, 0.16943, 0.14002, 0.10736, 0.07134],
        [0.0000, 0.1600, 0.3078, 0.4358, 0.5309, 0.5632, 0.4378],
    ),
    (3, 0.65, 0.6): (
        [0.23922, 0.20962, 0.17660, 0.14066, 0.10229, 0.06199, 0.02025],
        [0.24125, 0.21672, 0.18880, 0.15826, 0.12590, 0.09249, 0.05882],
        [0.0000, 0.1539, 0.2977, 0.4243, 0.5172, 0.5333, 0.3288],
    ),
    (5, 0.75, 0.8): (
        [0.36714, 0.33804, 0.30417, 0.26601, 0.22405, 0.17879, 0.13072, 0.08032, 0.02808],
        [0.44670, 0.41743, 0.38315, 0.34414, 0.30067, 0.25300, 0.20142, 0.14618, 0.08757],
        [0.0000, 0.1289, 0.2527, 0.3691, 0.4744, 0.5624, 0.6197, 0.6121, 0.4083],
    ),
}


@pytest.mark.parametrize("geometry", B_SERIES)
def test_open_water_tables(geometry):
    blades, area, pitch_ratio = geometry
    KT, ten_KQ, efficiency = B_SERIES[geometry]
    J = J_TENTHS[: len(KT)]
    open_water = WAGENINGEN_B.cubics(pitch_ratio, area, blades)
    np.testing.assert_allclose(open_water.thrust_coefficient(J), KT, atol=5.1e-6)
    np.testing.assert_allclose(10 * open_water.torque_coefficient(J), ten_KQ, atol=5.1e-6)
    np.testing.assert_allclose(open_water.efficiency(J), efficiency, atol=5.1e-5)


def test_the_polynomial_below_no_speed():
    open_water = WAGENINGEN_B.cubics(1.0, 0.70, 4)
    J = -np.arange(1, 6) / 10
    np.testing.assert_allclose(open_water.thrust_coefficient(J), [0.4793, 0.4988, 0.5126, 0.5202, 0.5212], atol=5.1e-5)
    ten_KQ = [0.7069, 0.7318, 0.7496, 0.7599, 0.7621]
    np.testing.assert_allclose(10 * open_water.torque_coefficient(J), ten_KQ, atol=5.1e-5)


@pytest.mark.parametrize(
    ("J", "pitch_ratio", "area", "blades", "Rn", "dKT", "dKQ"),
    [
        (0.5, 1.0, 0.70, 4, 2e6, -0.0000703, -0.00000382),
        (0.5, 1.0, 0.70, 4, 1e7, 0.0002511, -0.00080140),
        (0.5, 1.0, 0.70, 4, 1e8, 0.0007499, -0.00164032),
        (0.4, 0.7, 0.50, 3, 2e6, 0.0001729, -0.00002472),
        (0.4, 0.7, 0.50, 3, 5e6, 0.0002581, -0.00034018),
        (0.6, 0.8, 0.55, 4, 2e6, 0.0001354, -0.00000310),
        (0.6, 0.8, 0.55, 4, 1e7, 0.0004657, -0.00060876),
    ],
)
def test_reynolds_correction(J, pitch_ratio, area, blades, Rn, dKT, dKQ):
    added = reynolds_correction(pitch_ratio, area, blades, Rn).open_water
    assert added.thrust_coefficient(J) == pytest.approx(dKT, abs=5.1e-8)
    assert added.torque_coefficient(J) == pytest.approx(dKQ, abs=5.1e-9)


def test_reynolds_number_of_a_boat_propeller():
    assert blade_chord(0.60, 0.55, 4) == pytest.approx(0.1710, abs=5.1e-5)
    assert reynolds_number(0.60, 0.55, 4, 14.9, 3.5, 1.19e-6) == pytest.approx(3.07e6, rel=2e-3)


class TestDesignRoutes:
    """rho 1025, pitch ratio to 0.0005. The optimum is flat: efficiency to 0.0002, D or n to 0.3 %, P/D to 0.01.

    At the optimum KT and KQ go with P/D and J; thrust or power, which does not, is held to 0.1 %.
    """

    def check(self, best, pitch_ratio, J, efficiency):
        assert best.pitch_ratio == pytest.approx(pitch_ratio, abs=0.01)
        assert best.advance_ratio == pytest.approx(J, rel=3e-3)
        assert best.efficiency == pytest.approx(efficiency, abs=0.0002)
        assert not best.at_series_end

    @pytest.mark.parametrize(
        ("series", "shape", "shaft_speed", "power"),
        [
            (WAGENINGEN_B, (0.7745, 0.3909, 0.4834), 14.923, 43.45e3),
            (GAWN, (0.9340, 0.4528, 0.4953), 12.884, 42.40e3),
        ],
        ids=SERIES_IDS,
    )
    def test_thrust_and_diameter_known(self, series, shape, shaft_speed, power):
        best = optimum_for_thrust_at_diameter(
            series, 4, 0.55, thrust=6000.0, diameter=0.60, advance_speed=3.5, density=1025.0
        )
        self.check(best, *shape)
        assert best.shaft_speed == pytest.approx(shaft_speed, rel=3e-3)
        assert best.delivered_power == pytest.approx(power, rel=1e-3)
        assert best.thrust == pytest.approx(6000.0, rel=1e-9)

    @pytest.mark.parametrize(
        ("series", "shape", "diameter", "thrust"),
        [
            (WAGENINGEN_B, (0.6215, 0.3555, 0.5028), 0.7126, 7939.0),
            (GAWN, (0.7885, 0.3980, 0.4833), 0.6366, 7631.0),
        ],
        ids=SERIES_IDS,
    )
    def test_power_and_shaft_speed_known(self, series, shape, diameter, thrust):
        best = optimum_for_power_at_shaft_speed(
            series, 3, 0.50, power=60e3, shaft_speed=15.0, advance_speed=3.8, density=1025.0
        )
        self.check(best, *shape)
        assert best.diameter == pytest.approx(diameter, rel=3e-3)
        assert best.thrust == pytest.approx(thrust, rel=1e-3)
        assert best.delivered_power == pytest.approx(60e3, rel=1e-9)

    @pytest.mark.parametrize(
        ("series", "shape", "diameter", "power"),
        [
            (WAGENINGEN_B, (0.6255, 0.3498, 0.4887), 0.7352, 58.94e3),
            (GAWN, (0.7680, 0.3848, 0.4699), 0.6683, 61.29e3),
        ],
        ids=SERIES_IDS,
    )
    def test_thrust_and_shaft_speed_known(self, series, shape, diameter, power):
        best = optimum_for_thrust_at_shaft_speed(
            series, 3, 0.55, thrust=8000.0, shaft_speed=14.0, advance_speed=3.6, density=1025.0
        )
        self.check(best, *shape)
        assert best.diameter == pytest.approx(diameter, rel=3e-3)
        assert best.delivered_power == pytest.approx(power, rel=1e-3)

    @pytest.mark.parametrize(
        ("series", "shape", "shaft_speed", "thrust"),
        [
            (WAGENINGEN_B, (0.7320, 0.3792, 0.4926), 15.183, 7778.0),
            (GAWN, (0.9260, 0.4508, 0.4985), 12.772, 7872.0),
        ],
        ids=SERIES_IDS,
    )
    def test_power_and_diameter_known(self, series, shape, shaft_speed, thrust):
        best = optimum_for_power_at_diameter(
            series, 3, 0.50, power=60e3, diameter=0.66, advance_speed=3.8, density=1025.0
        )
        self.check(best, *shape)
        assert best.shaft_speed == pytest.approx(shaft_speed, rel=3e-3)
        assert best.thrust == pytest.approx(thrust, rel=1e-3)


@pytest.mark.parametrize(
    ("series", "diameter", "pitch_ratio", "efficiency", "thrust"),
    [
        (WAGENINGEN_B, 0.653, 0.7640, 0.4898, 7734.0),
        (WAGENINGEN_B, 0.61, 0.8933, 0.4673, 7379.0),
        (GAWN, 0.653, 0.7407, 0.4817, 7607.0),
        (GAWN, 0.61, 0.8743, 0.4795, 7571.0),
    ],
)
def test_pitch_to_absorb_60_kilowatts_at_900_rpm(series, diameter, pitch_ratio, efficiency, thrust):
    """Three blades of 0.50 in water at 3.8 m/s. The thrusts at 0.61 m follow from their efficiency, eta P/Va; the
    others were computed.
    """
    speed = np.linspace(0.0, 5.0, 101)
    hull = HullCurve(speed, thrust * (speed / 3.8) ** 3, 1.0, 1.0, 1025.0)
    match = pitch_ratio_to_absorb(series.family(0.50, 3), series.pitch_ratio_grid(0.01), diameter, 60e3, 15.0, hull)
    assert match.boat_speed == pytest.approx(3.8, abs=0.002)
    assert match.pitch_ratio == pytest.approx(pitch_ratio, abs=5e-4)
    assert match.efficiency == pytest.approx(efficiency, abs=3e-4)


@pytest.mark.parametrize(
    ("series", "blades", "area", "pitch_ratio", "shaft_speed", "thrust"),
    [
        (WAGENINGEN_B, 3, 0.50, 0.70, 13.519, 9870),
        (WAGENINGEN_B, 4, 0.55, 0.65, 13.924, 10181),
        (GAWN, 3, 0.50, 0.70, 13.214, 9801),
    ],
)
def test_bollard_pull_of_60_kilowatts(series, blades, area, pitch_ratio, shaft_speed, thrust):
    point = bollard_point(series.cubics(pitch_ratio, area, blades), 0.66, 60e3, 1025.0)
    assert point.shaft_speed == pytest.approx(shaft_speed, abs=5.1e-4)
    assert point.thrust == pytest.approx(thrust, abs=0.6)
    assert point.delivered_power == pytest.approx(60e3, rel=1e-12)
    assert point.efficiency == 0.0


@pytest.mark.parametrize(
    ("series", "blades", "area", "pitch_ratio", "J", "of_torque", "of_speed"),
    [
        (WAGENINGEN_B, 3, 0.50, 0.7, 0.40, [2.478, -0.752], [-0.661, -0.901, -0.872]),
        (WAGENINGEN_B, 3, 0.50, 0.6, 0.30, [2.183, -0.540], [-0.617, -0.859, -0.948]),
        (WAGENINGEN_B, 4, 0.55, 0.7, 0.40, [2.391, -0.692], [-0.648, -0.888, -0.894]),
        (WAGENINGEN_B, 3, 0.50, 0.9, 0.55, [2.778, -0.970], [-0.700, -0.935, -0.804]),
        (GAWN, 3, 0.50, 0.7, 0.40, [2.277, -0.669], [-0.621, -0.853, -0.925]),
        (GAWN, 4, 0.55, 0.7, 0.40, [2.218, -0.622], [-0.612, -0.846, -0.940]),
    ],
)
def test_sensitivity_of_torque_and_shaft_speed(series, blades, area, pitch_ratio, J, of_torque, of_speed):
    """d ln KQ/d ln(P/D) and d ln KQ/d ln J; then, all at constant speed, d ln n/d ln P at constant power and at
    constant torque, and d ln n/d ln D at constant power.
    """
    step = 1e-4

    def log_torque(pitch_ratio, J):
        return np.log(series.cubics(pitch_ratio, area, blades).torque_coefficient(J))

    a = (log_torque(pitch_ratio * (1 + step), J) - log_torque(pitch_ratio * (1 - step), J)) / (2 * step)
    b = (log_torque(pitch_ratio, J * (1 + step)) - log_torque(pitch_ratio, J * (1 - step))) / (2 * step)
    assert [a, b] == pytest.approx(of_torque, abs=1e-3)
    assert [-a / (3 - b), -a / (2 - b), -(5 - a - b) / (3 - b)] == pytest.approx(of_speed, abs=1e-3)


def test_cavitation_sample():
    """6000 N, 0.60 m, four blades of 0.55, P/D 0.7745, 14.9226 rev/s, 3.5 m/s, shaft 0.9 m deep."""
    pressure = pressure_above_vapour(0.9, 1025.0, 1700.0)
    dynamic = dynamic_pressure(0.60, 14.9226, 3.5, 1025.0)
    assert keller_area_ratio(6000.0, 0.60, 4, pressure) == pytest.approx(0.5834, abs=1e-4)
    assert keller_area_ratio(6000.0, 0.60, 4, pressure, 0.1) == pytest.approx(0.4834, abs=1e-4)
    checks = [
        burrill_check(6000.0, 0.60, 0.7745, 0.55, dynamic, pressure, line) for line in ("lower", "merchant", "naval")
    ]
    assert [check.permitted_loading for check in checks] == pytest.approx([0.1513, 0.1887, 0.2667], abs=1e-4)
    assert checks[0].cavitation_number == pytest.approx(0.5302, abs=1e-4)
    assert checks[0].thrust_loading == pytest.approx(0.2116, abs=1e-4)
    assert tip_speed(0.60, 14.9226) == pytest.approx(28.13, abs=0.006)
    assert blade_loading(6000.0, 0.60, 0.55) / PSI == pytest.approx(5.596, abs=1e-3)
    assert blade_loading_allowed(3.5, 0.9) / PSI == pytest.approx(5.404, abs=1e-3)


@pytest.mark.parametrize(
    ("horsepower", "rpm", "knots", "diameter_in", "slip", "pitch_in"),
    [
        (25, 1500, 6.5, 14.97, 0.482, 10.16),
        (50, 1200, 7.5, 19.66, 0.444, 13.66),
        (80.46, 900, 8.6, 25.69, 0.411, 19.70),
    ],
)
def test_handbook_sizes(horsepower, rpm, knots, diameter_in, slip, pitch_in):
    V, n = knots * KNOT, rpm * RPM
    assert handbook.diameter(horsepower * HORSEPOWER, n) / INCH == pytest.approx(diameter_in, abs=0.006)
    assert handbook.slip(V) == pytest.approx(slip, abs=6e-4)
    assert handbook.pitch_from_slip(V, n, handbook.slip(V)) / INCH == pytest.approx(pitch_in, abs=0.006)


def test_handbook_bollard_thrust_of_60_kilowatts():
    """0.66 m propeller, 60 kW: 8.85 kN, some 10 % under the polynomial's 9.87 kN."""
    assert handbook.bollard_thrust(60e3, 0.66) == pytest.approx(8.85e3, abs=5.1)


@pytest.mark.parametrize(
    ("knots", "low", "middle", "high"), [(8.0, 0.6292, 0.7899, 0.9308), (12.0, 0.6907, 0.8777, 1.0427)]
)
def test_pitch_ratios_of_formula_5_4_worked_out_by_hand(knots, low, middle, high):
    """0.39 V^0.23, 0.46 V^0.26, 0.52 V^0.28; the constants recalled."""
    rule = handbook.pitch_ratio(knots * KNOT)
    assert (rule.low, rule.middle, rule.high) == pytest.approx((low, middle, high), abs=5.1e-5)

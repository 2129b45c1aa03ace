"""Values computed independently: a second script, written from the same coefficients, gave these figures.

They guard against slips of programming and are no evidence about the outside world; that is in tests/published.
Tolerance: half a unit of the last digit shown, unless a comment says otherwise.
"""

import numpy as np
import pytest

from engine.propeller.cavitation import burrill_limit
from engine.propeller.geometry import expanded_area_ratio
from engine.propeller.series import SERIES
from engine.propeller.wageningen import reynolds_correction

GAWN, KCA = SERIES["gawn"], SERIES["kca"]
J_TENTHS = np.arange(10) / 10

# (blades, AE/A0, P/D): KT, 10 KQ, efficiency at J = 0.0, 0.1, 0.2 ...
GAWN_TABLES = {
    (3, 0.50, 0.8): (
        [0.33865, 0.31051, 0.27882, 0.24398, 0.20643, 0.16658, 0.12485, 0.08166, 0.03743],
        [0.40818, 0.37731, 0.34427, 0.30918, 0.27215, 0.23332, 0.19280, 0.15072, 0.10720],
        [0.0000, 0.1310, 0.2578, 0.3768, 0.4829, 0.5681, 0.6184, 0.6036, 0.4445],
    ),
    (3, 0.665, 1.0): (
        [0.47972, 0.44611, 0.40870, 0.36804, 0.32467, 0.27914, 0.23198, 0.18374, 0.13497, 0.08621],
        [0.71400, 0.66930, 0.61955, 0.56549, 0.50787, 0.44742, 0.38489, 0.32102, 0.25655, 0.19223],
        [0.0000, 0.1061, 0.2100, 0.3107, 0.4070, 0.4965, 0.5756, 0.6377, 0.6699, 0.6424],
    ),
    (4, 0.60, 0.7): (
        [0.31395, 0.28499, 0.25164, 0.21438, 0.17368, 0.13002, 0.08387, 0.03573],
        [0.35041, 0.32289, 0.29268, 0.25981, 0.22427, 0.18609, 0.14527, 0.10183],
        [0.0000, 0.1405, 0.2737, 0.3940, 0.4930, 0.5560, 0.5513, 0.3909],
    ),
}


@pytest.mark.parametrize("geometry", GAWN_TABLES)
def test_open_water_tables_of_gawn(geometry):
    blades, area, pitch_ratio = geometry
    KT, ten_KQ, efficiency = GAWN_TABLES[geometry]
    J = J_TENTHS[: len(KT)]
    open_water = GAWN.cubics(pitch_ratio, area, blades)
    np.testing.assert_allclose(open_water.thrust_coefficient(J), KT, rtol=0, atol=5.1e-6)
    np.testing.assert_allclose(10 * open_water.torque_coefficient(J), ten_KQ, rtol=0, atol=5.1e-6)
    np.testing.assert_allclose(open_water.efficiency(J), efficiency, rtol=0, atol=5.1e-5)


def test_open_water_table_of_kca():
    """Three blades, developed area 0.65, P/D 1.0, J 0.3 to 0.9."""
    J = np.arange(3, 10) / 10
    open_water = KCA.cubics(1.0, expanded_area_ratio(0.65, 3), 3)
    KT = [0.39379, 0.33704, 0.28156, 0.22739, 0.17456, 0.12308, 0.07300]
    ten_KQ = [0.55655, 0.49910, 0.43514, 0.36666, 0.29562, 0.22398, 0.15372]
    np.testing.assert_allclose(open_water.thrust_coefficient(J), KT, rtol=0, atol=5.1e-6)
    np.testing.assert_allclose(10 * open_water.torque_coefficient(J), ten_KQ, rtol=0, atol=5.1e-6)


# (P/D, AD/A0): J, KT, 10 KQ.  At P/D 1.0 the power of a term in it does not count.
KCA_CORNERS = {
    (0.8, 0.5): ([0.3, 0.5, 0.7], [0.27000, 0.16971, 0.07257], [0.29831, 0.22682, 0.12250]),
    (0.8, 1.1): ([0.3, 0.5, 0.7], [0.27590, 0.16035, 0.05180], [0.33937, 0.23910, 0.11713]),
    (1.4, 0.5): ([0.4, 0.8, 1.2], [0.55688, 0.33082, 0.13210], [1.10435, 0.69105, 0.32719]),
    (1.4, 0.8): ([0.4, 0.8, 1.2], [0.62735, 0.35553, 0.12235], [1.28793, 0.76975, 0.32628]),
    (1.4, 1.1): ([0.4, 0.8, 1.2], [0.69671, 0.38218, 0.12279], [1.47099, 0.85149, 0.34361]),
    (1.8, 0.65): ([0.4, 0.8, 1.2], [0.84538, 0.56267, 0.32315], [2.22344, 1.47521, 0.89606]),
    (1.8, 1.1): ([0.4, 0.8, 1.2], [1.03051, 0.66236, 0.35595], [2.82040, 1.82709, 1.04372]),
}


@pytest.mark.parametrize("geometry", KCA_CORNERS)
def test_kca_at_the_corners_of_its_range(geometry):
    pitch_ratio, developed = geometry
    J, KT, ten_KQ = (np.array(column) for column in KCA_CORNERS[geometry])
    open_water = KCA.cubics(pitch_ratio, expanded_area_ratio(developed, 3), 3)
    np.testing.assert_allclose(open_water.thrust_coefficient(J), KT, rtol=0, atol=5.1e-6)
    np.testing.assert_allclose(10 * open_water.torque_coefficient(J), ten_KQ, rtol=0, atol=5.1e-6)


@pytest.mark.parametrize(
    ("name", "KT", "ten_KQ", "efficiency"),
    [
        ("gawn", [0.323, 0.231, 0.135], [0.505, 0.383, 0.256], [0.408, 0.577, 0.671]),
        ("kca", [0.337, 0.227, 0.123], [0.499, 0.367, 0.224], [0.430, 0.592, 0.700]),
        ("wageningen_b", [0.296, 0.209, 0.117], [0.473, 0.350, 0.219], [0.399, 0.570, 0.682]),
    ],
)
def test_the_three_series_beside_each_other(name, KT, ten_KQ, efficiency):
    """Three blades, P/D 1.0, developed area 0.65, which is 0.6556 expanded; J 0.4, 0.6, 0.8.

    The B-series' 0.219 is 0.21846 rounded twice: half a unit of 0.001 and half a unit of 0.0001.
    """
    open_water, J = SERIES[name].cubics(1.0, expanded_area_ratio(0.65, 3), 3), np.array([0.4, 0.6, 0.8])
    np.testing.assert_allclose(open_water.thrust_coefficient(J), KT, rtol=0, atol=5.1e-4)
    np.testing.assert_allclose(10 * open_water.torque_coefficient(J), ten_KQ, rtol=0, atol=5.5e-4)
    np.testing.assert_allclose(open_water.efficiency(J), efficiency, rtol=0, atol=5.1e-4)


@pytest.mark.parametrize(
    ("pitch_ratio", "area", "blades", "J", "KT", "KQ"),
    [
        (0.9340, 0.55, 4, 0.4528, 0.27210, 0.039582),
        (0.7885, 0.50, 3, 0.3980, 0.20149, 0.026407),
        (0.7680, 0.55, 3, 0.3848, 0.19962, 0.026017),
        (0.9260, 0.50, 3, 0.4508, 0.24810, 0.035703),
    ],
)
def test_coefficients_at_the_optima_of_gawn(pitch_ratio, area, blades, J, KT, KQ):
    """J is shown to four digits: half a unit of it moves KT by 2e-5 and KQ by 2e-6, on top of the last digit."""
    open_water = GAWN.cubics(pitch_ratio, area, blades)
    assert open_water.thrust_coefficient(J) == pytest.approx(KT, abs=2.5e-5)
    assert open_water.torque_coefficient(J) == pytest.approx(KQ, abs=2.5e-6)


def test_reynolds_correction_below_its_range_is_that_of_its_end():
    """The second script extrapolates to dKQ 0.00026811 at Rn 1e6 for J 0.5, P/D 0.8, area 0.50, Z 3; ours is held."""
    held, at_end = (reynolds_correction(0.8, 0.50, 3, Rn).open_water.torque_coefficient(0.5) for Rn in (1e6, 2e6))
    assert held == at_end
    assert abs(held) < 1e-4


@pytest.mark.parametrize(
    ("line", "limits"),
    [
        ("lower", [0.090, 0.113, 0.131, 0.147, 0.185, 0.206, 0.250]),
        ("merchant", [0.102, 0.133, 0.159, 0.182, 0.241, 0.275, 0.349]),
        ("ten_percent", [0.119, 0.176, 0.217, 0.248, 0.314, 0.346, 0.403]),
        ("segmental_ten_percent", [0.120, 0.171, 0.221, 0.268, 0.406, 0.494, 0.706]),
    ],
)
def test_lines_of_burrills_chart(line, limits):
    sigma = np.array([0.2, 0.3, 0.4, 0.5, 0.8, 1.0, 1.5])
    np.testing.assert_allclose(burrill_limit(sigma, line), limits, rtol=0, atol=5.1e-4)

"""Second calculations of our own, by plain scripts from the equations: guards against change, not validation."""

from dataclasses import replace

import numpy as np
import pytest

from engine.constants import GRAVITY
from engine.hull.delft_1992 import tabulated_shares_1992
from engine.hull.delft_1998 import tabulated_shares_1998
from engine.hull.delft_2008 import tabulated_shares_2008
from engine.hull.delft_keel import keel_residuary_resistance
from engine.hull.form import HullForm

YACHT = HullForm(
    waterline_length=10.0,
    waterline_beam=3.1,
    draft=0.55,
    volume=6.5,
    midship_coefficient=0.72,
    waterplane_coefficient=0.68,
    lcb_percent=-3.2,
    lcf_percent=-5.9,
)
# Permille of the weight, to four decimals.
HALF_A_UNIT = 5.1e-5


def test_delft_1998() -> None:
    expected = [-0.0119, 0.1235, 0.4707, 1.2082, 2.2787, 5.9384, 18.1834, 40.1970, 67.1284, 84.6066, 97.1966]
    np.testing.assert_allclose(1e3 * tabulated_shares_1998(YACHT), expected, atol=HALF_A_UNIT, rtol=0)


def test_delft_2008() -> None:
    expected = [0.1667, 0.4383, 1.1905, 2.7255, 6.1180, 17.5453, 38.8013, 64.9506, 85.2272, 99.5218]
    expected += [107.1539, 113.9180, 110.6508]
    np.testing.assert_allclose(1e3 * tabulated_shares_2008(YACHT), expected, atol=HALF_A_UNIT, rtol=0)


def test_delft_1992() -> None:
    slow = [0.1529, 0.2689, 0.5521, 0.7701, 1.2568, 1.8087, 2.5179, 3.4978, 5.0371, 8.1504, 13.6519, 22.8438]
    slow += [34.0780, 48.9365]
    fast = [58.9799, 72.9435, 84.1121, 93.6638, 100.7856, 107.4764, 108.7751, 111.4433, 115.4213, 119.0595]
    fast += [119.9717, 127.8132]
    np.testing.assert_allclose(1e3 * tabulated_shares_1992(YACHT), slow + fast, atol=HALF_A_UNIT, rtol=0)


def test_delft_1992_and_1998_take_a_fleet_along_the_first_axis() -> None:
    pair = replace(YACHT, lcb_percent=np.array([[-3.2], [-2.0]]))
    assert tabulated_shares_1992(pair).shape == (2, 1, 26)
    assert 1e3 * tabulated_shares_1998(pair)[0, 0, 6] == pytest.approx(18.1834, abs=HALF_A_UNIT)


def test_delft_1998_keel() -> None:
    keel = keel_residuary_resistance(
        np.array([0.20, 0.25, 0.30, 0.35, 0.40, 0.45, 0.50, 0.55, 0.60]),
        keel_volume=0.25,
        total_draft=1.9,
        hull_draft=0.55,
        buoyancy_depth=0.675,
        beam=3.1,
        hull_volume=6.5,
        water_density=1000.0,
        gravity=GRAVITY,
    )
    expected = [0.2093, 3.4028, 4.4111, 14.6302, 41.0462, 74.2032, 137.5661, 180.2182, 171.7840]
    share = np.asarray(keel) / (0.25 * GRAVITY)
    np.testing.assert_allclose(share, expected, atol=HALF_A_UNIT, rtol=0)

"""Reynolds correction of the B-series: Oosterveld & van Oossanen (1975).

The polynomials are given at Rn = 2e6, so the correction must almost vanish there. That closes off two misprints in
circulation: a squared last thrust term, and a linear thrust term in area, blades and J2.
"""

import numpy as np
import pytest

from engine.data import table
from engine.propeller import wageningen
from engine.propeller.wageningen import WAGENINGEN_B, reynolds_correction, reynolds_number

J, PITCH, AREA, BLADES = np.meshgrid(
    np.linspace(0.2, 0.8, 7),
    np.linspace(0.6, 1.2, 7),
    np.linspace(0.4, 0.8, 5),
    np.array([3.0, 4.0, 5.0]),
    indexing="ij",
)


def thrust_residual_at_2e6() -> float:
    added = reynolds_correction(PITCH, AREA, BLADES, 2e6).open_water
    return float(np.abs(added.thrust_coefficient(J)).max())


def test_both_corrections_almost_vanish_at_two_million():
    added = reynolds_correction(PITCH, AREA, BLADES, 2e6).open_water
    assert thrust_residual_at_2e6() < 0.00075
    assert np.abs(added.torque_coefficient(J)).max() < 0.000065


@pytest.mark.parametrize(("row", "wrong_power"), [(8, 2), (6, 1)], ids=["last term squared", "sixth term linear"])
def test_the_known_misprints_do_not_vanish(row, wrong_power, monkeypatch):
    right = thrust_residual_at_2e6()
    rows = [list(entry) for entry in table("wageningen_b")["dkt"]["terms"]]
    rows[row][1] = wrong_power
    monkeypatch.setattr(wageningen, "_DATA", {**table("wageningen_b"), "dkt": {"terms": rows}})
    added = reynolds_correction(1.0, 0.70, 4, 2e6).open_water
    # B4-70, P/D 1.0, J 0.5: -0.00007 as printed, +0.0005 with either misprint
    assert added.thrust_coefficient(0.5) > 0.0004
    assert thrust_residual_at_2e6() > 2 * right


def test_a_larger_reynolds_number_gives_less_torque_and_more_thrust():
    small, large = (reynolds_correction(0.8, 0.55, 4, Rn).open_water for Rn in (2e6, 1e8))
    assert large.torque_coefficient(0.5) < small.torque_coefficient(0.5)
    assert large.thrust_coefficient(0.5) > small.thrust_coefficient(0.5)


def test_outside_its_range_the_correction_is_held_and_says_so():
    held = reynolds_correction(0.8, 0.5, 3, np.array([0.5e6, 1.5e6, 3e6, 5e9]))
    assert held.clamped.tolist() == [True, True, False, True]
    assert held.reynolds.tolist() == [2e6, 2e6, 3e6, 2e9]
    assert [record.where.tolist() for record in held.outside] == [[True, False, False, False]]
    assert "Reynolds number" in held.outside[0].sentence()


def test_the_correction_adds_to_the_series():
    geometry = (0.8, 0.55, 4)
    base, added = WAGENINGEN_B.cubics(*geometry), reynolds_correction(*geometry, 1e7).open_water
    whole = (base + added).torque_coefficient(0.6)
    assert whole == pytest.approx(base.torque_coefficient(0.6) + added.torque_coefficient(0.6), rel=1e-12)


def test_reynolds_number_grows_with_shaft_speed_and_falls_with_viscosity():
    Rn = reynolds_number(0.6, 0.55, 4, np.array([10.0, 15.0]), 3.5, 1.19e-6)
    assert Rn[1] > Rn[0]
    assert reynolds_number(0.6, 0.55, 4, 10.0, 3.5, 1.0e-6) > Rn[0]

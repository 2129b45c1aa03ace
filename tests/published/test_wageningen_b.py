"""Wageningen B-series against printed values. Each set names its source and the reason for its tolerance."""

from dataclasses import replace

import numpy as np
import pytest

from engine.data import table
from engine.propeller.wageningen import WAGENINGEN_B, blade_chord, blade_thickness

# G. Kuiper (1992), "The Wageningen propeller series", MARIN publication 92-001, p. 128, as carried in the tests of an
# open naval-hydrodynamics simulator: blades, area, P/D, J, KT, 10 KQ. Printed to 9 digits.
KUIPER_1992 = [
    (6, 0.65, 1.4, 0.0, 0.603363, 1.209493726),
    (6, 0.65, 1.4, 0.1, 0.588950654, 1.1769086),
    (6, 0.65, 1.4, 0.2, 0.569237985, 1.138594465),
    (6, 0.65, 1.4, 0.3, 0.544592015, 1.094459956),
    (6, 0.65, 1.4, 1.2, 0.161314404, 0.420257329),
    (6, 0.65, 1.4, 1.3, 0.10751365, 0.312894007),
    (6, 0.65, 1.4, 1.4, 0.05281524, 0.198705297),
    (3, 0.40, 0.5, 0.0, 0.188195882, 0.160531235),
    (3, 0.40, 0.5, 0.1, 0.163443634, 0.143676942),
    (3, 0.40, 0.5, 0.2, 0.135394546, 0.125396067),
    (3, 0.40, 0.5, 0.3, 0.104372086, 0.105448718),
]

# Data file of the NTNU (Trondheim) hydrodynamics course propeller project, B4-40, P/D 1.0: J, KT, KQ, efficiency.
NTNU_B4_40 = [
    (0.500000, 0.257902, 0.039758, 0.516202),
    (0.554545, 0.238470, 0.037634, 0.559257),
    (0.603030, 0.220502, 0.035614, 0.594223),
    (0.700000, 0.182738, 0.031174, 0.653061),
    (0.772727, 0.152939, 0.027465, 0.684823),
    (0.851515, 0.119369, 0.023051, 0.701797),
]


@pytest.mark.parametrize(("blades", "area", "pitch_ratio", "J", "KT", "ten_KQ"), KUIPER_1992)
def test_kuiper_1992_values_are_reproduced(blades, area, pitch_ratio, J, KT, ten_KQ):
    open_water = WAGENINGEN_B.cubics(pitch_ratio, area, blades)
    # one part in a million of the printed figures, whose coefficients have six digits
    assert open_water.thrust_coefficient(J) == pytest.approx(KT, abs=1e-6)
    assert 10 * open_water.torque_coefficient(J) == pytest.approx(ten_KQ, abs=1e-6)


def test_the_misprinted_torque_coefficient_would_be_noticed():
    """0.0010903 for 0.00110903 in the term (3, 3, 0, 1) leaves B6-65 at high J 0.005 to 0.009 off in 10 KQ."""
    terms = WAGENINGEN_B.torque_terms
    misprinted = tuple((0.0010903, *row[1:]) if row[1:] == (3, 3, 0, 1) else row for row in terms)
    assert misprinted != terms
    open_water = replace(WAGENINGEN_B, torque_terms=misprinted).cubics(1.4, 0.65, 6)
    misses = [abs(10 * open_water.torque_coefficient(J) - ten_KQ) for *_, J, _, ten_KQ in KUIPER_1992[4:7]]
    assert misses == pytest.approx([0.0053, 0.0068, 0.0085], abs=1e-4)


@pytest.mark.parametrize(("J", "KT", "KQ", "efficiency"), NTNU_B4_40)
def test_course_data_for_b4_40_is_reproduced(J, KT, KQ, efficiency):
    open_water = WAGENINGEN_B.cubics(1.0, 0.40, 4)
    assert open_water.thrust_coefficient(J) == pytest.approx(KT, abs=1.5e-6)  # printed to 1e-6
    # the course's torque runs 0.02-0.05 % from five other copies of the coefficients, its efficiency with it
    assert open_water.torque_coefficient(J) == pytest.approx(KQ, abs=1e-5)
    assert open_water.efficiency(J) == pytest.approx(efficiency, abs=2e-4)


@pytest.mark.parametrize(
    ("blades", "area", "pitch_ratio", "J", "ten_KQ"),
    [(3, 0.65, 1.2, 0.7, 0.51), (3, 0.65, 0.8, 0.3, 0.31), (6, 0.65, 1.2, 0.8, 0.51)],
)
def test_readings_from_printed_charts_are_met(blades, area, pitch_ratio, J, ten_KQ):
    """10 KQ read to two figures from printed B-series charts, from the tests of the same simulator."""
    torque = WAGENINGEN_B.cubics(pitch_ratio, area, blades).torque_coefficient(J)
    assert 10 * torque == pytest.approx(ten_KQ, abs=0.01)  # one unit of the last figure read


class TestThirdPartyComputationFromTheMichiganReport:
    """Computed by others from a scan of Bernitsas, Ray & Kinley (1981), public notes; half a unit of the last digit."""

    def test_b3_50_with_pitch_ratio_1(self):
        open_water = WAGENINGEN_B.cubics(1.0, 0.50, 3)
        assert open_water.thrust_coefficient(0.5) == pytest.approx(0.2451, abs=5.1e-5)
        assert open_water.torque_coefficient(0.5) == pytest.approx(0.03863, abs=5.1e-6)
        assert open_water.efficiency(0.5) == pytest.approx(0.505, abs=5e-4)
        assert open_water.thrust_coefficient(0.0) == pytest.approx(0.4057, abs=5e-5)
        assert open_water.torque_coefficient(0.0) == pytest.approx(0.05964, abs=5e-6)
        assert open_water.zero_thrust_advance_ratio == pytest.approx(1.087, abs=5e-4)

    @pytest.mark.parametrize(
        ("pitch_ratio", "best_efficiency", "at_J", "zero_thrust"),
        [(1.0, 0.723, 0.869, 1.087), (0.8, 0.681, 0.68, 0.881)],
    )
    def test_best_efficiency_of_b3_50(self, pitch_ratio, best_efficiency, at_J, zero_thrust):
        open_water = WAGENINGEN_B.cubics(pitch_ratio, 0.50, 3)
        J = np.linspace(0.3, open_water.zero_thrust_advance_ratio, 4001)
        efficiency = open_water.efficiency(J)
        assert efficiency.max() == pytest.approx(best_efficiency, abs=6e-4)
        assert J[efficiency.argmax()] == pytest.approx(at_J, abs=2e-3)  # flat top
        assert open_water.zero_thrust_advance_ratio == pytest.approx(zero_thrust, abs=5e-4)

    def test_b4_55_with_pitch_ratio_1(self):
        open_water = WAGENINGEN_B.cubics(1.0, 0.55, 4)
        assert open_water.thrust_coefficient(0.5) == pytest.approx(0.2652, abs=5.1e-5)
        assert open_water.torque_coefficient(0.5) == pytest.approx(0.04178, abs=5e-6)


@pytest.mark.parametrize(
    ("J", "pitch_ratio", "printed"),
    [(0.4035, 0.672, 0.519), (0.4347, 0.700, 0.544), (0.4663, 0.728, 0.567), (0.4978, 0.752, 0.588)],
)
def test_a_five_bladed_propeller_of_another_family_is_near(J, pitch_ratio, printed):
    """Sheng Zhenbang & Liu Yingzhong, "Ship Theory" vol. 2, table 8-12 (authors' names from memory), readings of AU5-50
    along its line of best efficiency, at full scale: a sanity check, 4 % between families."""
    assert WAGENINGEN_B.outside(pitch_ratio, 0.50, 5, J) == ()
    assert WAGENINGEN_B.cubics(pitch_ratio, 0.50, 5).efficiency(J) == pytest.approx(printed, rel=0.04)


def test_blade_section_of_the_holtrop_and_mennen_example():
    """Holtrop & Mennen (1982), section 5: D 8 m, 4 blades, AE/A0 0.7393 gives chord 3.065 m, t/c 0.03524."""
    chord = blade_chord(8.0, 0.7393, 4)
    assert chord == pytest.approx(3.065, abs=6e-4)
    assert blade_thickness(8.0, 4) / chord == pytest.approx(0.03524, abs=2e-5)  # printed chord is rounded


def test_the_table_holds_39_thrust_and_47_torque_terms():
    assert len(WAGENINGEN_B.thrust_terms) == 39
    assert len(WAGENINGEN_B.torque_terms) == 47
    assert [len(table("wageningen_b")[key]["terms"]) for key in ("dkt", "dkq")] == [9, 13]

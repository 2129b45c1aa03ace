"""Printed propellers of another family beside the series: a check of sanity, not of digits."""

import numpy as np

from engine.propeller.wageningen import WAGENINGEN_B

# Sheng Zhenbang & Liu Yingzhong, "Ship Theory" vol. 2, table 8-12 (authors' names from memory), readings from the chart
# of AU5-50, five blades of area ratio 0.50, along its line of best efficiency: J, P/D, efficiency.
AU5_50 = np.array(
    [(0.4035, 0.672, 0.519), (0.4347, 0.700, 0.544), (0.4663, 0.728, 0.567), (0.4978, 0.752, 0.588)],
)


def test_five_blades_of_another_family_are_as_efficient():
    """Tolerance 4 %: aerofoil sections of another family, and charts carried over to full scale."""
    J, pitch_ratio, efficiency = AU5_50.T
    np.testing.assert_allclose(WAGENINGEN_B.cubics(pitch_ratio, 0.50, 5).efficiency(J), efficiency, rtol=0.04)
    assert WAGENINGEN_B.outside(pitch_ratio, 0.50, 5, J) == ()

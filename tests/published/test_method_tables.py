"""Tables that stand beside the formulas of the resistance methods: appendages, sterns, and what each method is for.

Appendages and sterns: Holtrop & Mennen (1982), recalled, but for the 1.5 and 3.0 of the worked examples. Ranges: of
the Delft series as quoted with its regressions, one copy and memory; of van Oortmerssen (1971) and of the trawlers,
coasters and tugs of Holtrop & Mennen (1978), which is kept for their method of 1984, from memory.
"""

import numpy as np
import pytest

from engine.data import table
from engine.hull.appendages import APPENDAGE_KINDS
from engine.hull.methods import METHODS

APPENDAGES = {
    "rudder behind skeg": (1.5, 2.0),
    "rudder behind stern": (1.3, 1.5),
    "twin-screw balanced rudders": (2.8, 2.8),
    "shaft brackets": (3.0, 3.0),
    "skeg": (1.5, 2.0),
    "strut bossings": (3.0, 3.0),
    "hull bossings": (2.0, 2.0),
    "shafts": (2.0, 4.0),
    "stabiliser fins": (2.8, 2.8),
    "dome": (2.7, 2.7),
    "bilge keels": (1.4, 1.4),
}
RANGES = {
    "holtrop_1984": {
        "prismatic_coefficient": (0.55, 0.65),
        "length_beam_ratio": (3.9, 6.3),
    },
    "holtrop_1982": {
        "froude_number": (0.0, 0.38),
        "prismatic_coefficient": (0.55, 0.65),
        "length_beam_ratio": (3.9, 6.3),
    },
    "van_oortmerssen_1971": {
        "froude_number": (0.0, 0.50),
        "waterline_length": (8.0, 80.0),
        "volume": (5.0, 3000.0),
        "length_beam_ratio": (3.0, 6.2),
        "beam_draft_ratio": (1.9, 4.0),
        "prismatic_coefficient": (0.50, 0.73),
        "midship_coefficient": (0.70, 0.97),
        "lcb_percent": (-7.0, 2.8),
        "half_entrance_angle_deg": (10.0, 46.0),
    },
    "delft_1992": {
        "length_beam_ratio": (2.76, 5.00),
        "beam_draft_ratio": (2.46, 19.32),
        "slenderness": (4.34, 8.50),
        "lcb_percent": (-6.0, 0.0),
        "prismatic_coefficient": (0.52, 0.60),
        "waterplane_volume_ratio": (3.78, 12.67),
    },
    "delft_1998": {
        "length_beam_ratio": (2.73, 5.00),
        "beam_draft_ratio": (2.46, 19.32),
        "slenderness": (4.34, 8.50),
        "lcb_percent": (-8.2, 0.0),
        "lcf_percent": (-9.5, -1.8),
        "prismatic_coefficient": (0.52, 0.60),
        "waterplane_volume_ratio": (3.78, 12.67),
    },
    "delft_2008": {
        "length_beam_ratio": (2.73, 5.88),
        "beam_draft_ratio": (2.46, 19.38),
        "slenderness": (4.34, 8.50),
        "lcb_percent": (-8.2, 0.0),
        "lcf_percent": (-9.5, -1.8),
        "prismatic_coefficient": (0.52, 0.60),
        "midship_coefficient": (0.65, 0.79),
    },
}
"""Both ends, aft of half length negative. Froude numbers of the Delft series are ours, or those of the tables."""


@pytest.mark.parametrize("kind", APPENDAGES)
def test_form_factors_of_appendages_are_those_of_the_paper(kind: str) -> None:
    known = APPENDAGE_KINDS[kind]
    assert (known.low, known.high) == APPENDAGES[kind]


def test_stern_coefficients_are_those_of_the_paper() -> None:
    assert list(table("holtrop")["stern_coefficient"].values()) == [-25.0, -10.0, 0.0, 10.0]


@pytest.mark.parametrize("name", RANGES)
def test_ranges_are_those_quoted_with_the_method(name: str) -> None:
    found = {limit.parameter: (limit.low, limit.high) for limit in METHODS[name].ranges}
    assert RANGES[name].items() <= found.items()
    assert set(found) - set(RANGES[name]) <= {"froude_number"}


@pytest.mark.parametrize(("name", "key"), [("delft_1998", "coefficients"), ("delft_2008", "coefficients")])
def test_a_delft_table_ends_where_its_method_does(name: str, key: str) -> None:
    last = np.array(table("delft")[name][key])[-1, 0]
    assert METHODS[name].highest_froude_number == last

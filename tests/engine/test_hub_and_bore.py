"""The hub of a stock wheel and the bore in it."""

import numpy as np
import pytest

from engine.constants import INCH
from engine.machinery.shaft_ends import BORE_NOTE, bore_for, standard_diameters, taper_for
from engine.propeller.geometry import hub_diameter_range, typical_hub_diameter


def test_a_stock_hub_is_about_a_fifth_of_the_wheel():
    low, high = hub_diameter_range(np.array([0.5, 1.0]))
    assert low == pytest.approx([0.09, 0.18])
    assert high == pytest.approx([0.10, 0.20])
    assert typical_hub_diameter(0.5) == pytest.approx(0.095)


def test_the_bore_goes_with_the_shafts_own_end():
    bore = bore_for(1.25 * INCH, "inch")
    assert bore.shaft == taper_for(1.25 * INCH, "inch")
    assert bore.small_end_diameter == pytest.approx(1.016 * INCH)


def test_every_bore_ends_a_little_smaller_than_the_shaft():
    """By the same taper, 1/64 in of diameter is a quarter of an inch of hub beyond the taper, 3/128 three eighths."""
    for size in standard_diameters("inch"):
        bore = bore_for(size, "inch")
        overhang = (bore.shaft.small_end_diameter - bore.small_end_diameter) / bore.shaft.taper
        assert 0.23 * INCH < overhang < 0.40 * INCH
    assert "overhangs" in BORE_NOTE


@pytest.mark.parametrize(("size", "system"), [(0.030, "metric"), (0.035, "metric"), (1.3 * INCH, "inch")])
def test_where_no_bore_was_seen_none_is_invented(size, system):
    bore = bore_for(size, system)
    assert bore.small_end_diameter is None
    assert bore.shaft == taper_for(size, system)


def test_an_unknown_system_is_refused():
    with pytest.raises(ValueError, match="system"):
        bore_for(0.03, "cubits")

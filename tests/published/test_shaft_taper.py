"""SAE J755 (reaffirmed 2015), Marine Propeller-Shaft Ends and Hubs; two copies agree within 0.001 in."""

import pytest

from engine.constants import INCH
from engine.machinery.shaft_ends import bore_for, standard_diameters, taper_for

# Large end, small end, length of taper, keyway width, all inches, as printed.
PRINTED = [
    (0.750, 0.625, 2.000, 0.1875), (0.875, 0.727, 2.375, 0.250), (1.000, 0.828, 2.750, 0.250),
    (1.125, 0.930, 3.125, 0.250), (1.250, 1.031, 3.500, 0.3125), (1.375, 1.133, 3.875, 0.3125),
    (1.500, 1.234, 4.250, 0.375), (1.750, 1.438, 5.000, 0.4375), (2.000, 1.641, 5.750, 0.500),
    (2.250, 1.844, 6.500, 0.5625), (2.500, 2.047, 7.250, 0.625), (2.750, 2.258, 7.875, 0.625),
    (3.000, 2.461, 8.625, 0.750), (3.250, 2.664, 9.375, 0.750), (3.500, 2.867, 10.125, 0.875),
]  # fmt: skip


@pytest.mark.parametrize(("large", "small", "length", "keyway"), PRINTED)
def test_every_row_is_the_printed_one_and_one_in_sixteen(
    large: float, small: float, length: float, keyway: float
) -> None:
    end = taper_for(large * INCH, "inch")
    assert end.small_end_diameter == pytest.approx(small * INCH, rel=1e-12)
    assert end.length == pytest.approx((length * INCH, length * INCH), rel=1e-12)
    assert end.keyway_width == pytest.approx(keyway * INCH, rel=1e-12)
    # The small end is printed to 0.001 in: half a unit. The 1 3/4 in row uses all of it (1.4375 printed as 1.438).
    assert small == pytest.approx(large - length / 16.0, abs=0.0005 + 1e-9)


def test_every_inch_stock_size_has_its_row() -> None:
    assert standard_diameters("inch") / INCH == pytest.approx([row[0] for row in PRINTED])


def test_six_inches_are_the_first_of_the_steeper_taper() -> None:
    """3/4 in a foot to 5 1/2 in, 1 in a foot from 6 in on."""
    assert taper_for(5.5 * INCH, "inch").taper == pytest.approx(1 / 16)
    assert taper_for(6.0 * INCH, "inch").taper == pytest.approx(1 / 12)


def test_a_measured_shaft_end_agrees_with_its_row() -> None:
    # A user's measurement "according to the spec": 1.250 in shaft, small end 1.030 in, length 3.500 in.
    end = taper_for(1.25 * INCH, "inch")
    assert end.small_end_diameter is not None
    assert end.small_end_diameter / INCH == pytest.approx(1.030, abs=0.0015)  # measured to about 0.001 in


@pytest.mark.parametrize(("size_mm", "length_mm", "thread"), [(25, (53, 55), "M16 x 1.5"), (30, (70, 75), "M20 x 1.5")])
def test_the_two_iso_4566_rows_seen_are_one_in_ten(size_mm: float, length_mm: tuple[int, int], thread: str) -> None:
    end = taper_for(size_mm / 1e3, "metric")
    assert end.taper == pytest.approx(0.1)
    assert end.length == pytest.approx((length_mm[0] / 1e3, length_mm[1] / 1e3))
    assert end.thread == thread


# Bore of the hub at the nut [in] for the shafts above, in their order; seen in one copy at least.
BORES = (0.609, 0.711, 0.813, 0.914, 1.016, 1.117, 1.219, 1.422, 1.625, 1.828, 2.031, 2.234, 2.438, 2.641, 2.844)


@pytest.mark.parametrize(("row", "bore"), list(zip(PRINTED, BORES, strict=True)))
def test_every_hub_is_bored_as_printed(row: tuple[float, ...], bore: float) -> None:
    found = bore_for(row[0] * INCH, "inch").small_end_diameter
    assert found == pytest.approx(bore * INCH, rel=1e-12)


# Least depth of the keyway at its side [in], in the same order; printed, one copy.
DEPTHS = (0.095, 0.125, 0.125, 0.125, 0.157, 0.157, 0.189, 0.219, 0.251, 0.281, 0.312, 0.313, 0.311, 0.311, 0.310)


@pytest.mark.parametrize(("row", "depth"), list(zip(PRINTED, DEPTHS, strict=True)))
def test_every_keyway_is_as_deep_as_printed(row: tuple[float, ...], depth: float) -> None:
    assert taper_for(row[0] * INCH, "inch").keyway_depth == pytest.approx(depth * INCH, rel=1e-12)

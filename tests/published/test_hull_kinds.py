"""The usual forms of kinds of boats, from memory, against the few figures for them that are printed.

T. Brewer, Understanding Boat Design, fig. 1-3: prismatic coefficients of 0.60 to 0.62 for displacement power boats,
0.66 to 0.70 for semi-displacement ones, 0.54 to 0.55 for sailing yachts. The Delft series of sailing yachts, as quoted
with its regressions: prismatic 0.52 to 0.60, midship 0.65 to 0.79.
"""

import pytest

from engine.hull.coefficients import KINDS, typical


@pytest.mark.parametrize(
    ("kind", "low", "high"),
    [
        ("displacement motor yacht", 0.60, 0.62),
        ("trawler yacht", 0.60, 0.62),
        ("semi-displacement motor yacht", 0.66, 0.70),
        ("fin-keel sailing yacht", 0.54, 0.55),
    ],
)
def test_the_prismatic_coefficient_taken_is_as_brewer_has_it(kind: str, low: float, high: float) -> None:
    assert low <= typical(kind).prismatic.middle <= high


def test_a_long_keel_yacht_may_be_as_full_as_brewers_sailing_yachts() -> None:
    prismatic = typical("long-keel sailing yacht").prismatic
    assert prismatic.contains([0.54, 0.55]).all()


def test_fin_keel_yachts_are_those_of_the_delft_series() -> None:
    yacht = typical("fin-keel sailing yacht")
    assert (yacht.midship.low, yacht.midship.high) == (0.65, 0.79)
    assert 0.52 <= yacht.prismatic.low <= yacht.prismatic.high <= 0.60


@pytest.mark.parametrize("kind", KINDS)
def test_the_ends_of_the_block_coefficient_are_what_the_others_can_make(kind: str) -> None:
    """CB = CP CM, by definition; to the hundredth that the table is rounded to."""
    form = typical(kind)
    least, most = (form.prismatic.low * form.midship.low, form.prismatic.high * form.midship.high)
    assert least - 0.01 <= form.block.low < form.block.high <= most + 0.01

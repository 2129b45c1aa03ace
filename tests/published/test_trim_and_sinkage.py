"""Nicholls, Seamanship and Nautical Knowledge, p. 524: cargo discharged from a ship, her new draughts.

Feet, inches and long tons of the example are kept: the rule is the same in any consistent unit. Distances forward are
positive; the tipping centre is amidships.
"""

import pytest

from engine.machinery.float_change import added_weights, float_change

DISCHARGED = ((-500.0, 150.0), (-67.0, 88.0), (-125.0, 23.0), (-370.0, -100.0), (-150.0, -152.0))
TONS_PER_INCH, TON_FEET_PER_INCH = 53.0, 1423.0


def feet_and_inches(feet: float, inches: float) -> float:
    return 12.0 * feet + inches


def test_the_discharge_adds_up_as_printed() -> None:
    """Printed: 1212 tons; 83 771 forward and 59 800 aft, difference 23 971 foot-tons."""
    mass, moment = added_weights(DISCHARGED)
    forward = sum(-tons * feet for tons, feet in DISCHARGED if feet > 0.0)
    aft = sum(tons * feet for tons, feet in DISCHARGED if feet < 0.0)
    assert (mass, forward, aft, moment) == (-1212.0, 83771.0, 59800.0, -23971.0)


def test_the_new_draughts_are_the_printed_ones() -> None:
    """Printed: mean rise 22.9 in, trim 16.8 in, draughts 19 ft 5.7 in and 23 ft 7.5 in; their 0.1 in items are
    rounded."""
    mass, moment = added_weights(DISCHARGED)
    length = 1.0  # the flotation is amidships, so the length only has to agree with it
    moved = float_change(mass, moment, 0.0, length, TONS_PER_INCH, TON_FEET_PER_INCH)
    assert -moved.sinkage == pytest.approx(22.9, abs=0.05)
    assert -moved.trim == pytest.approx(16.8, abs=0.06)
    amidships = float_change(mass, moment + 0.5 * mass * length, 0.5 * length, length, TONS_PER_INCH, TON_FEET_PER_INCH)
    assert feet_and_inches(22.0, 1.0) + amidships.bow == pytest.approx(feet_and_inches(19.0, 5.7), abs=0.1)
    assert feet_and_inches(24.0, 10.0) + amidships.stern == pytest.approx(feet_and_inches(23.0, 7.5), abs=0.1)

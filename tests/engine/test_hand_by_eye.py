"""How an owner on the hard tells the hand of a wheel, against the helix that its blades follow."""

from math import radians

from engine.plan import entry_at
from engine.propeller.rotation import Hand


def lead_ahead(hand: Hand, angle: float) -> float:
    """How far ahead the surface of a blade that points up lies, beside its middle [pitch].

    angle: from its middle, to the right seen from astern [deg]. Geometry: what turns towards its leading edge screws
    itself ahead, so the edge that leads lies ahead; a right-hand wheel turns clockwise, its upper blade to the right.
    """
    turning_right = 1.0 if hand.turn == "clockwise" else -1.0
    return turning_right * radians(angle) / radians(360.0)


def test_the_right_edge_of_the_upper_blade_lies_ahead_on_a_right_hand_wheel() -> None:
    farther = {hand: lead_ahead(hand, 20.0) > lead_ahead(hand, -20.0) for hand in Hand}
    assert farther == {Hand.RIGHT: True, Hand.LEFT: False}
    assert "of a right-hand wheel its right edge is the farther from you" in entry_at("present.propeller_hand").how

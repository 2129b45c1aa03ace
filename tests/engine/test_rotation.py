"""Hand of rotation, from the gear's flange to the kick of the stern."""

import pytest

from engine.findings import Verdict
from engine.propeller.rotation import (
    Hand,
    hand_for,
    judge_one_hand,
    judge_two_hands,
    outward_turning,
    stern_kick_astern,
)


def test_the_hand_is_the_flanges_turn_seen_from_astern():
    assert hand_for("clockwise") is Hand.RIGHT
    assert hand_for("anti-clockwise") is Hand.LEFT
    assert hand_for(None) is None
    assert Hand.RIGHT.words == "right-hand: turns clockwise seen from astern when driving ahead"


def test_another_word_is_refused():
    with pytest.raises(ValueError, match="flange_turn"):
        hand_for("left")


def test_twin_screws_turn_outward():
    assert outward_turning(is_port=True) is Hand.LEFT
    assert outward_turning(is_port=False) is Hand.RIGHT


def test_a_right_hand_wheel_kicks_the_stern_to_port_going_astern():
    assert stern_kick_astern(Hand.RIGHT) == "port"
    assert stern_kick_astern(Hand.LEFT) == "starboard"


def test_an_unknown_turn_sends_the_owner_to_the_gears_maker():
    (finding,) = judge_one_hand(None, Hand.RIGHT)
    assert finding.verdict is Verdict.LOOK
    assert "ask the gear's maker" in finding.text


@pytest.mark.parametrize("present", [None, Hand.RIGHT])
def test_a_hand_that_stays_fits_and_names_the_kick(present):
    order, kick = judge_one_hand("clockwise", present)
    assert (order.verdict, kick.verdict) == (Verdict.FITS, Verdict.FITS)
    assert "turns clockwise seen from astern: order a right-hand propeller" in order.text
    assert "to port" in kick.text
    assert "no source" in kick.source


def test_a_change_of_hand_reverses_the_kick_and_wants_a_look():
    order, kick = judge_one_hand("anti-clockwise", Hand.RIGHT)
    assert order.verdict is Verdict.FITS
    assert kick.verdict is Verdict.LOOK
    assert "kicks to starboard, no longer to port" in kick.text


def test_two_screws_want_one_of_each_hand_and_gears_that_may_run_so():
    order, kick = judge_two_hands()
    assert order.verdict is Verdict.LOOK
    assert "left-hand wheel to port and a right-hand one to starboard" in order.text
    assert "full rating" in order.text
    assert kick.verdict is Verdict.FITS

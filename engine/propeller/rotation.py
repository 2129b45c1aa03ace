"""Hand of rotation: which propeller the gear asks for, and which way the stern kicks going astern."""

from enum import StrEnum
from typing import Literal, TypeAlias

from engine.data import table
from engine.findings import Finding, fits, look

_HAND = table("manoeuvring")["hand"]
_ONE_SOURCE: str = _HAND["one"]
_TWO_SOURCE: str = _HAND["two"]
_KICK_SOURCE = f"kick of the stern: {_HAND['kick']}"

Turn: TypeAlias = Literal["clockwise", "anti-clockwise"]
"""Which way a flange turns, looking forward from astern."""
Side: TypeAlias = Literal["port", "starboard"]


class Hand(StrEnum):
    """Which way a propeller turns, seen from astern, going ahead."""

    RIGHT = "right-hand"
    LEFT = "left-hand"

    @property
    def turn(self) -> Turn:
        """Its turning seen from astern, going ahead."""
        return "clockwise" if self is Hand.RIGHT else "anti-clockwise"

    @property
    def words(self) -> str:
        """The hand as a propeller shop wants to read it."""
        return f"{self.value}: turns {self.turn} seen from astern when driving ahead"


def outward_turning(is_port: bool) -> Hand:
    """Usual hand of one of two screws: tops turn outward, left-hand to port, right-hand to starboard.

    Source: trade practice; left-hand to port confirmed by a trade page.
    """
    return Hand.LEFT if is_port else Hand.RIGHT


def hand_for(flange_turn: str | None) -> Hand | None:
    """Hand of the propeller on a gear's output.

    flange_turn: of the output flange driving ahead, seen from astern: "clockwise" or "anti-clockwise"; None unknown.
    Returns: the hand; None while the turn is not known.   Raises: ValueError for another word.
    Source: naming of propellers.
    """
    if flange_turn is None:
        return None
    for hand in Hand:
        if flange_turn == hand.turn:
            return hand
    raise ValueError(f"flange_turn must be clockwise or anti-clockwise, not {flange_turn!r}")


def stern_kick_astern(hand: Hand) -> Side:
    """Side to which one propeller of a hand pushes the stern going astern.   Source: common practice, no source."""
    return "port" if hand is Hand.RIGHT else "starboard"


def judge_one_hand(
    flange_turn: str | None, present: Hand | None = None, *, is_direct: bool = False
) -> tuple[Finding, ...]:
    """The hand a single propeller must have, and what it does to the stern.

    flange_turn: as `hand_for`, which raises for it.   present: hand of the propeller she has now; None unknown.
    is_direct: a motor turns the shaft without a gear.
    Source: as `hand_for` and `stern_kick_astern`.
    """
    hand = hand_for(flange_turn)
    if hand is None:
        if is_direct:
            text = (
                "The hand of the propeller is not chosen. A motor without a gear drives ahead either way: choose one, "
                "and have the motor set up for it. Clockwise, seen from astern, wants a right-hand wheel, "
                "anti-clockwise a left-hand one."
            )
            return (look(text, _ONE_SOURCE, "gear.output_turns"),)
        text = (
            "The hand of the propeller is not known: ask the gear's maker which way the output flange turns driving "
            "ahead, seen from astern. Clockwise wants a right-hand wheel, anti-clockwise a left-hand one."
        )
        return (look(text, _ONE_SOURCE),)
    turning = "shaft" if is_direct else "gear's output"
    text = f"Driving ahead, the {turning} turns {hand.turn} seen from astern: order a {hand} propeller."
    order = fits(text, _ONE_SOURCE)
    side = stern_kick_astern(hand)
    if present is None or present is hand:
        return order, fits(f"Going astern a {hand} wheel kicks the stern to {side}.", _KICK_SOURCE)
    text = (
        f"The propeller she has is {present}, the new one must be {hand}: the old one cannot be used again, and going "
        f"astern the stern kicks to {side}, no longer to {stern_kick_astern(present)}."
    )
    return order, look(text, _KICK_SOURCE)


def judge_two_hands(*, is_direct: bool = False) -> tuple[Finding, ...]:
    """The hands of two propellers: one of each, tops outward, and gears that may run so.

    is_direct: as `judge_one_hand`.
    Source: as `outward_turning` and `stern_kick_astern`.
    """
    port, starboard = outward_turning(is_port=True), outward_turning(is_port=False)
    order = (
        f"Two screws usually turn outward at the top: order a {port} wheel to port and a {starboard} one to starboard. "
    )
    if is_direct:
        order += "The two motors drive ahead in opposite ways: have them set up so."
    else:
        order += "The two gears drive ahead in opposite ways: ask the maker whether both may do so at full rating."
    kick = "With one wheel of each hand the two kicks cancel when both go astern together."
    return look(order, _TWO_SOURCE), fits(kick, _KICK_SOURCE)

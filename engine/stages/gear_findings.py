"""What there is to say about the ratios: which makes the best use of the room, what a deeper one buys, the rating."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from engine.constants import HOUR
from engine.defaults import amount, amount_or_none, whole
from engine.findings import Finding, fits, look, stop
from engine.machinery.gearbox import (
    DISPLACEMENT_BOAT_DUTY,
    FREE_WHEELING_RULE,
    OUTPUT_TURN_RULE,
    RARE_BELOW_POWER,
    RARE_NOTE,
    RARE_RATIO,
    gear_duties_for,
    judge_gear_rating,
    rating_margin,
)
from engine.plan import Plan, is_direct
from engine.plan_defaults import gear_efficiency
from engine.propeller.rotation import Hand, judge_one_hand, judge_two_hands
from engine.sections.electric import Motor
from engine.sections.engine import Candidate
from engine.showing import numbered
from engine.stages.boats import is_sailing_yacht
from engine.stages.gear_answers import GearAnswers, RatioRow
from engine.stages.wording import Wording, listed, more_or_less, percent

MATCHED = "the series chosen on the propeller page, in equilibrium with hull and engine"
_NO_LOSS = "no gear, no loss in it"
_RATED = "gear makers' rating by power per speed"
_PEAK_SOURCE = "torque goes with power at a speed; that the peak counts for a gear: common practice, no source"
WORTH = 0.005
"""A deeper ratio must give this share more speed at full power to be preferred: it costs torque and money (ours)."""
_ALIKE = 0.005
"""Burns that differ by less are the same (ours)."""
_AS_FAST_KN = 0.005
"""Gains of speed that would be told as 0.00 kn."""


def gear_findings(plan: Plan, answers: GearAnswers, best_use: RatioRow) -> Iterator[Finding]:
    """Sentences about the ratios on offer and the chosen one.

    best_use: the ratio that would be recommended if the gear carried the engine in every one.
    """
    chosen = answers.chosen
    recommended = next(row for row in answers.options if row.ratio == answers.recommended_ratio)
    if not np.isfinite(chosen.diameter_m):
        text = (
            f"With {chosen.name} no propeller of the blades asked for fits the room and absorbs the power with area "
            "enough"
        )
        if chosen.free_diameter_m > answers.largest_diameter_m:
            say = Wording(plan.units)
            text += (
                f": at {chosen.shaft_rpm:.0f} rpm it would like {say.size(chosen.free_diameter_m)}, and "
                f"{say.size(answers.largest_diameter_m)} is all that fits"
            )
        yield stop(f"{text}. Take {recommended.name}.", MATCHED, "gear.ratio")
        return
    if len(answers.options) > 1:
        yield _choice_finding(Wording(plan.units), answers, recommended, best_use)
    else:
        text = f"{chosen.name} is the only ratio on offer, so there is nothing to compare it with."
        yield fits(f"{text} To see what another would do, add it to the ratios on offer.", MATCHED, "gear.ratios")
    yield from _own_wheel_findings(plan, answers)
    yield from _room_findings(Wording(plan.units), answers)
    yield from _deeper_findings(Wording(plan.units), answers)
    needed = answers.needed_rating_kw_per_100_rpm
    if needed is None:
        yield from _direct_findings(plan)
    else:
        yield from _rating_findings(plan, answers, needed)
        yield from _peak_findings(plan, answers, needed)
        yield from _without_gear_findings(plan, answers)
    yield from _hand_findings(plan, without_gear=needed is None)
    if needed is not None:
        yield from _sailing_findings(plan)


def _own_wheel_findings(plan: Plan, answers: GearAnswers) -> Iterator[Finding]:
    """With a wheel chosen: what the ratios are compared with, and where the wheel is tried."""
    if plan.propeller.diameter is None or plan.propeller.pitch is None or len(answers.options) < 2:
        return
    yield fits(
        "Each ratio is shown with the wheel that would suit it best, not with the one you have chosen: the propeller "
        f"page tries that in {answers.chosen.name}. To see it in another ratio, choose that here, or make a variant.",
        MATCHED,
        "gear.ratio",
    )


def _choice_finding(say: Wording, answers: GearAnswers, recommended: RatioRow, best_use: RatioRow) -> Finding:
    chosen = answers.chosen
    if chosen.ratio == recommended.ratio == best_use.ratio:
        if any(_is_thriftier(row, chosen) for row in answers.options):
            return fits(
                f"{chosen.name} is the least reduction with which she is, within {percent(WORTH, 1)}, as fast at full "
                "power as with any on offer; a deeper one loads the shaft more.",
                MATCHED,
            )
        return fits(f"{chosen.name} makes the best use of the room for the propeller.", MATCHED)
    if chosen.ratio == recommended.ratio:
        return fits(
            f"Of the ratios that the gear carries {chosen.name} makes the best use of the room for the propeller. "
            f"{best_use.name} would be {_speed_words(best_use.top_kn.best - chosen.top_kn.best)} at full power, but "
            "the gear does not carry this engine in it.",
            f"{MATCHED}; {_RATED}",
        )
    if _is_thriftier(chosen, recommended):
        return fits(f"Beside {recommended.name}, {_deeper_words(chosen, recommended)}", MATCHED)
    text = (
        f"{recommended.name} would be {_speed_words(recommended.top_kn.best - chosen.top_kn.best)} at full power and "
        f"take {_consumed(say, recommended)} instead of {_consumed(say, chosen)} at cruise"
    )
    if recommended.is_carried and not chosen.is_carried:
        text += "; the gear carries this engine in it"
    return look(f"{text}.", MATCHED, "gear.ratio")


def _consumed(say: Wording, row: RatioRow) -> str:
    if row.cruise_l_per_h is not None:
        return say.flow(row.cruise_l_per_h.best)
    return say.electric(row.cruise_consumption.best)


def _room_findings(say: Wording, answers: GearAnswers) -> Iterator[Finding]:
    chosen = answers.chosen
    if chosen.is_held_back:
        yield look(
            f"At {chosen.shaft_rpm:.0f} rpm the shaft would like {say.size(chosen.free_diameter_m)}; only "
            f"{say.size(answers.largest_diameter_m)} fits with the tip clearance asked for. "
            f"{_lost(chosen)}",
            MATCHED,
            "propeller.room",
        )


def _lost(row: RatioRow) -> str:
    saved = row.free_saving_fraction
    if saved is None or not saved > _ALIKE:
        return "At cruise that costs next to nothing."
    return f"With the room for it she would take {percent(saved)} less at cruise."


def _deeper_findings(say: Wording, answers: GearAnswers) -> Iterator[Finding]:
    """What each deeper ratio on offer would buy, or why it does not."""
    chosen = answers.chosen
    for row in answers.options:
        if row.ratio <= chosen.ratio or row.ratio == answers.recommended_ratio:
            continue
        if not np.isfinite(row.diameter_m):
            yield fits(
                f"Nothing is lost without {row.name}: at {row.shaft_rpm:.0f} rpm no propeller of the blades asked for "
                f"that has room in {say.size(answers.largest_diameter_m)} absorbs the power with area enough. More "
                "blades, or more area, may do it.",
                MATCHED,
            )
            continue
        if row.is_held_back:
            room = (
                f": it would like {say.size(row.free_diameter_m)}, and {say.size(row.diameter_m)} is all that fits. "
                f"{_lost(row)}"
            )
        else:
            room = f" with {say.size(row.diameter_m)}, which fits."
        yield fits(_deeper_words(row, chosen, room), MATCHED)


def _is_thriftier(deeper: RatioRow, other: RatioRow) -> bool:
    """Whether a deeper ratio that the gear carries takes less at cruise than another, and is as fast at full power."""
    saves = deeper.cruise_consumption.best < other.cruise_consumption.best * (1.0 - _ALIKE)
    as_fast = deeper.top_kn.best >= other.top_kn.best * (1.0 - WORTH)
    return deeper.ratio > other.ratio and deeper.is_carried and saves and as_fast


def _deeper_words(row: RatioRow, other: RatioRow, room: str = ".") -> str:
    """What a deeper ratio buys over another, and its price.   room: ends the sentence."""
    change = row.cruise_consumption.best / other.cruise_consumption.best - 1.0
    torque = row.shaft_torque_nm / other.shaft_torque_nm - 1.0
    buys = f"{row.name} {_buys(change, row.top_kn.best - other.top_kn.best)}{room}"
    return f"{buys} It loads the shaft with {percent(torque)} more torque."


def _buys(change: float, gain: float) -> str:
    """What a deeper ratio does to the burn at cruise (a share) and to the speed at full power [kn]; NaN: not known."""
    if not np.isfinite(change):
        burn = "burns what cannot be told"
    elif abs(change) < _ALIKE:
        burn = "takes as much"
    else:
        burn = f"takes {more_or_less(change, 1)}"
    return f"{burn} at cruise and is {_speed_words(gain)} at full power"


def _speed_words(gain: float) -> str:
    """A gain of speed [kn]: "0.12 kn faster"; NaN: not known."""
    if not np.isfinite(gain):
        return "faster or slower, which cannot be told,"
    return "as fast" if abs(gain) < _AS_FAST_KN else f"{abs(gain):.2f} kn {'faster' if gain > 0 else 'slower'}"


def has_own_rating(plan: Plan, ratio: float) -> bool:
    """Whether the rating in a ratio is its own, which goes before that of the gear: where each one on offer has one."""
    gear = plan.gear
    return len(gear.ratings) == len(gear.ratios) and ratio in (on_offer.si for on_offer in gear.ratios)


def _rating_findings(plan: Plan, answers: GearAnswers, needed: float) -> Iterator[Finding]:
    """Whether the gear carries the engine.   needed: rating [kW per 100 rev/min]."""
    gear = plan.gear
    if gear.ratings and len(gear.ratings) != len(gear.ratios):
        pairs = f"{numbered(len(gear.ratings), 'rating')} for {numbered(len(gear.ratios), 'ratio')}"
        yield look(
            f"There {'is' if len(gear.ratings) == 1 else 'are'} {pairs}, so none of them is used. Give one for each "
            "ratio, in the same order, or the one rating of the gear.",
            "the ratings must stand beside their ratios",
            "gear.ratings",
        )
    if answers.rating_margin_fraction is None:
        yield look(
            f"The rating of the gear is not given; it needs {Wording(plan.units).gear_rating(needed)} "
            f"and a tenth in hand. {DISPLACEMENT_BOAT_DUTY}{_duty_words(plan)}",
            _RATED,
            "gear.rating",
        )
        yield from _rare_ratio_findings(plan, answers.ratio)
        return
    judged = judge_gear_rating(needed, needed * (1.0 + answers.rating_margin_fraction))
    yield replace(judged, path=_rating_path(plan, answers))
    weak = [row for row in answers.options if not row.chosen and not row.is_carried]
    if weak and answers.rating_margin_fraction >= 0.0:
        names = listed([row.name for row in weak])
        yield look(f"The gear does not carry this engine in {names}.", _RATED)


def _peak_findings(plan: Plan, answers: GearAnswers, needed: float) -> Iterator[Finding]:
    """Whether the gear is rated for a motor's peak power, too.   needed: as _rating_findings.

    Nothing is said where it does not carry the continuous power: that stops the plan already.
    """
    motor, margin = plan.engine.selected, answers.rating_margin_fraction
    if not isinstance(motor, Motor) or (times := motor.peak_over_continuous) <= 1.0:
        return
    if margin is not None and margin < 0.0:
        return
    text = (
        f"On its peak power the motor asks the gear for {Wording(plan.units).gear_rating(needed * times)}, "
        f"{times:.1f} times as much as on its continuous power"
    )
    if margin is not None and rating_margin(times, 1.0 + margin) >= 0.0:
        yield fits(f"{text}; the gear is rated for that, too.", _PEAK_SOURCE)
        return
    cure = (
        "Ask the gear's maker whether it bears that for a minute or so; else have the controller hold the motor to less"
    )
    than = "" if margin is None else ", and more than the gear is rated for"
    yield look(f"{text}{than}. {cure}.", _PEAK_SOURCE, _rating_path(plan, answers))


def _rating_path(plan: Plan, answers: GearAnswers) -> str:
    """Where the rating in the chosen ratio is given."""
    return "gear.ratings" if has_own_rating(plan, answers.ratio) else "gear.rating"


def _duty_words(plan: Plan) -> str:
    """Which duty classes of gears allow the hours a year of the engine page; nothing while they are not given."""
    hours = amount_or_none(plan.engine, "hours_per_year")
    if hours is None:
        return ""
    names = [
        duty.name if duty.hours_per_year is None else f"{duty.name} ({duty.hours_per_year:.0f} h)"
        for duty in gear_duties_for(hours / HOUR)
    ]
    if len(names) == 1:
        return f" Her {hours / HOUR:.0f} h a year are allowed only in {names[0]}."
    return f" Of the makers' classes {listed(names)} allow her {hours / HOUR:.0f} h a year."


def _rare_ratio_findings(plan: Plan, ratio: float) -> Iterator[Finding]:
    """A deep ratio for a small diesel, of which no gear is known to be there."""
    engine = plan.engine.selected
    if not isinstance(engine, Candidate) or ratio <= RARE_RATIO:
        return
    if amount(engine, "rated_power") < RARE_BELOW_POWER:
        yield look(RARE_NOTE, "Gerr (2009), Boat Mechanical Systems Handbook, printed", "gear.ratio")


def _without_gear_findings(plan: Plan, answers: GearAnswers) -> Iterator[Finding]:
    """That a ratio at which the motor would turn the shaft itself is compared as if it had a gear, too."""
    item, is_offered = plan.engine.selected, any(is_direct(plan, row.ratio) for row in answers.options)
    if item is not None and is_offered and plan.gear.efficiency is None:
        yield fits(
            "At 1:1 the motor would turn the shaft itself. Beside the other ratios it is shown with the "
            f"{percent(1.0 - gear_efficiency(plan, item))} that a gear takes: without one it takes so much less.",
            _NO_LOSS,
            "gear.ratio",
        )


def _direct_findings(plan: Plan) -> Iterator[Finding]:
    """A motor that turns the shaft itself has no gear to be rated, and none that takes power."""
    text = "At 1:1 the motor turns the shaft itself, and there is no gear to be rated."
    item = plan.engine.selected
    lost = 0.0 if item is None else 1.0 - gear_efficiency(plan, item)
    if plan.gear.efficiency is not None:
        yield fits(text, _NO_LOSS)
    elif lost > 0.0:
        yield look(
            f"{text} {percent(lost)} of the power is still put down to a gear, as other ratios are on offer: choose "
            "1:1, or give the rating of a gear or belt that is there.",
            _NO_LOSS,
            "gear.ratio",
        )
    else:
        yield fits(
            f"{text} No power is put down to one. A belt takes some: where there is one, give its rating or its "
            "efficiency.",
            _NO_LOSS,
        )


def _sailing_findings(plan: Plan) -> Iterator[Finding]:
    """What a gear must bear when she sails and the water turns the propeller."""
    if is_sailing_yacht(plan):
        yield look(FREE_WHEELING_RULE, "gear makers' manuals, from memory")


def _hand_findings(plan: Plan, without_gear: bool) -> Iterator[Finding]:
    if whole(plan.hull, "screws") == 2:
        yield from judge_two_hands(is_direct=without_gear)
    else:
        present = None if plan.present.propeller_hand is None else Hand(plan.present.propeller_hand)
        yield from judge_one_hand(plan.gear.output_turns, present, is_direct=without_gear)
        if plan.gear.output_turns is None and not without_gear:
            yield look(OUTPUT_TURN_RULE, "gear makers' manuals", "gear.output_turns")

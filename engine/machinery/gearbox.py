"""Reduction gear: speeds and losses through it, ratios on the market, its rating, rotation.

A ratio, an efficiency to divide by or a speed of zero and less, and a power below zero, raise ValueError naming the
argument. Where no source is named the formula is a definition.
"""

from dataclasses import dataclass

import numpy as np

from engine.data import table
from engine.findings import Finding, fits, look, stop
from engine.machinery.shaft import shaft_torque
from engine.numeric import Real, plain
from engine.showing import round_number
from engine.validity import not_negative, positive

_GEARBOX = table("gearbox")
GEAR_EFFICIENCY: float = _GEARBOX["efficiency"]["gear"]
SHAFT_EFFICIENCY: float = _GEARBOX["efficiency"]["shaft_and_seal"]
RATING_RESERVE: float = _GEARBOX["check"]["reserve"]
DISPLACEMENT_BOAT_DUTY: str = _GEARBOX["displacement_boat"]["sentence"]
ROTATION_RULES: tuple[str, ...] = tuple(_GEARBOX["rotation"]["rules"])
_, OUTPUT_TURN_RULE, _, _, FREE_WHEELING_RULE, _ = ROTATION_RULES
_ROUNDING = 1e-9
"""Shares that differ by no more are the same."""
_RATING_SOURCE = "gear makers' rating by power per speed (printed); the 10 % reserve is our own choice"


@dataclass(frozen=True)
class GearDuty:
    """One duty class of gears. hours_per_year: most, None when unlimited."""

    name: str
    use: str
    status: str
    hours_per_year: float | None = None


GEAR_DUTIES: tuple[GearDuty, ...] = tuple(GearDuty(**row) for row in _GEARBOX["duty"])
_FOR_PLANING_BOATS = "pleasure"
RARE_RATIO: float = _GEARBOX["rare"]["deeper_than"]
RARE_BELOW_POWER: float = 1e3 * _GEARBOX["rare"]["below_kw"]
RARE_NOTE: str = _GEARBOX["rare"]["sentence"]
"""Ratios deeper than one are hardly made for engines below a power [W]. Source: Gerr (2009), printed."""


def gear_duties_for(hours_per_year: float) -> tuple[GearDuty, ...]:
    """Duty classes that allow a displacement boat so many hours a year [h]; pleasure, for planing boats, is left out.

    Source: two gear makers (anonymised), printed; their classes stand side by side.
    """
    return tuple(
        duty
        for duty in GEAR_DUTIES
        if duty.name != _FOR_PLANING_BOATS and (duty.hours_per_year is None or hours_per_year <= duty.hours_per_year)
    )


def shaft_speed(engine_speed: Real, ratio: Real) -> Real:
    """Speed of the propeller shaft [rev/s], engine speed [rev/s] over the reduction ratio, 2.5 for 2.5:1."""
    return plain(np.asarray(engine_speed) / positive("ratio", ratio))


def engine_speed(shaft_speed: Real, ratio: Real) -> Real:
    """Speed of the engine [rev/s] that turns the propeller shaft at a speed [rev/s]."""
    return plain(np.asarray(shaft_speed) * positive("ratio", ratio))


def power_after_gear(crankshaft_power: Real, efficiency: Real = GEAR_EFFICIENCY) -> Real:
    """Power in the shaft behind the gear [W], which sizes the shaft.

    crankshaft_power: [W], >= 0.   efficiency: 0.97 by one maker's ISO 8665 practice; Gerr (2009) takes 0.96.
    """
    return plain(not_negative("crankshaft_power", crankshaft_power) * np.asarray(efficiency))


def delivered_power(
    crankshaft_power: Real, gear_efficiency: Real = GEAR_EFFICIENCY, shaft_efficiency: Real = SHAFT_EFFICIENCY
) -> Real:
    """Power that reaches the propeller [W], after gear, bearings and seal.

    crankshaft_power: [W], >= 0.   gear_efficiency: as power_after_gear.   shaft_efficiency: 0.985 from memory [-].
    """
    return plain(np.asarray(power_after_gear(crankshaft_power, gear_efficiency)) * np.asarray(shaft_efficiency))


def crankshaft_power(
    delivered: Real, gear_efficiency: Real = GEAR_EFFICIENCY, shaft_efficiency: Real = SHAFT_EFFICIENCY
) -> Real:
    """Power at the flywheel [W] that delivers a power to the propeller: delivered_power turned round.

    delivered: [W], >= 0.   gear_efficiency, shaft_efficiency: as delivered_power, > 0.
    """
    losses = positive("gear_efficiency", gear_efficiency) * positive("shaft_efficiency", shaft_efficiency)
    return plain(not_negative("delivered", delivered) / losses)


def gear_output_torque(power: Real, speed: Real, ratio: Real, efficiency: Real = GEAR_EFFICIENCY) -> Real:
    """Torque behind the gear [N m].

    power: at the crankshaft [W], >= 0.   speed: of the engine [rev/s], > 0.   ratio: [-], > 0.
    Raises: ValueError naming the argument.   Source: torque times ratio times efficiency.
    """
    torque = np.asarray(shaft_torque(power, speed))
    return plain(torque * positive("ratio", ratio) * np.asarray(efficiency))


def gear_rating_required(rated_power: Real, rated_speed: Real) -> Real:
    """What the gear must be rated for: power per speed at the engine's rating [W per rev/s].

    rated_power: at the crankshaft [W], >= 0.   rated_speed: of the engine [rev/s], > 0.
    Raises: ValueError naming the argument.   Source: gear makers' definition, printed.
    """
    return plain(not_negative("rated_power", rated_power) / positive("rated_speed", rated_speed))


def rating_margin(required: float, rating: float) -> float:
    """By what share of the rating that is required another is more than that [-], below 0 less.

    required, rating: in one unit, > 0.   Returns: 0 where they are the same but for rounding.
    """
    margin = rating / required - 1.0
    return margin if abs(margin) > _ROUNDING else 0.0


def judge_gear_rating(required: float, rating: float, *, reserve: float = RATING_RESERVE) -> Finding:
    """Verdict on a gear's rating for the duty class and ratio meant; both [W per rev/s].

    reserve: share of the requirement to keep in hand for acceleration and fouling [-]; own choice 0.10.
    Source: gear makers' rating by power per speed, printed.
    """
    spare = rating_margin(required, rating)
    per_cent = 100.0 * abs(spare)
    said = round_number(per_cent, 2) if per_cent < 10.0 else f"{per_cent:.0f}"
    if spare < 0.0:
        text = f"The gear is rated for {said} % less than the engine gives: it must not be used."
        return stop(text, _RATING_SOURCE)
    words = f"The gear is rated for {f'{said} % more than' if spare else 'just what'} the engine gives"
    if spare < reserve * (1.0 - _ROUNDING):
        return look(f"{words}; keep {100.0 * reserve:.0f} % for acceleration and fouling.", _RATING_SOURCE)
    return fits(f"{words}.", _RATING_SOURCE)

"""Defaults that hang on what else the plan says: a motor that turns the shaft itself loses nothing in a gear, and raw
water is no colder than the sea, nor the engine room than the air outside."""

from typing import NamedTuple

from engine.defaults import amount, text_in
from engine.plan import Plan, entry_at, is_direct
from engine.sections.electric import Motor
from engine.sections.engine import Candidate


class Default(NamedTuple):
    """What stands in for an empty field, in the owner's words; and where it is from."""

    text: str
    source: str


_GEAR_EFFICIENCY, _RAW_WATER, _INTAKE_AIR = "gear.efficiency", "engine.raw_water", "engine.intake_air"
FOLLOWING = frozenset({_GEAR_EFFICIENCY, _RAW_WATER, _INTAKE_AIR})
"""Fields whose default can change with another field."""
_WARMER_INSIDE = 15.0
"""How much warmer than outside the air at the intake is taken [K]: as the default of the field, from memory."""
_WITHOUT_GEAR = Default("100 %", "at 1:1 with no gear rated the motor turns the shaft itself, and no gear takes power")


def default_at(plan: Plan, path: str) -> Default:
    """What stands in for a field of a plan while it is empty; with an empty text where nothing does."""
    if path == _GEAR_EFFICIENCY and is_direct(plan, sure_ratio(plan)):
        return _WITHOUT_GEAR
    sea = plan.hull.water_temperature
    if path == _RAW_WATER and sea is not None and raw_water(plan) == sea.si:
        return Default(sea.text, "as warm as the water of the hull page, warmer than data sheets are declared for")
    if path == _INTAKE_AIR and plan.fit.outside_air is not None:
        return Default(
            f"{intake_air(plan):.4g} C", "15 C (27 F) more than the air outside on the fit page; from memory"
        )
    entry = entry_at(path)
    return Default(entry.default, entry.default_source)


def default_in(plan: Plan, path: str) -> str:
    """The same text in the units of the plan; "" where nothing stands in."""
    return text_in(entry_at(path), default_at(plan, path).text, plan.units)


def sure_ratio(plan: Plan) -> float | None:
    """The ratio that is chosen, or the only one on offer; None while there are several."""
    if plan.gear.ratio is not None:
        return plan.gear.ratio.si
    offered = {ratio.si for ratio in plan.gear.ratios}
    return offered.pop() if len(offered) == 1 else None


def gear_efficiency(plan: Plan, item: Candidate | Motor) -> float:
    """Share of the power of a candidate that leaves its gear, or gets past where a gear would be [-]."""
    if plan.gear.efficiency is None and is_direct(plan, sure_ratio(plan), item):
        return 1.0
    return amount(plan.gear, "efficiency")


def intake_air(plan: Plan) -> float:
    """Temperature of the air that the engine breathes [C]: the owner's, else so much warmer than his air outside."""
    given = plan.engine.intake_air
    return amount(plan.fit, "outside_air") + _WARMER_INSIDE if given is None else given.si


def raw_water(plan: Plan) -> float:
    """Temperature of the raw water to reckon with [C]: the owner's, else the usual one, but no colder than the water
    that he says she works in."""
    usual = amount(plan.engine, "raw_water")
    return usual if plan.engine.raw_water is not None else max(usual, amount(plan.hull, "water_temperature"))

"""Raw water, fuel line and starting battery."""

from collections.abc import Iterator
from typing import Any

import numpy as np

from engine.machinery.engine_services import (
    FILL_FROM_OPENING,
    SECOND_SHUT_OFF,
    STRAINER_PIPE_AREAS,
    SUCTION_LIFT,
    VENT_BORE,
    cranking_current,
    fuel_circulation,
    least_fuel_line_bore,
    least_inlet_bore,
    raw_water_flow,
    raw_water_heat,
)
from engine.machinery.fuel import litres_per_hour
from engine.machinery.standards import named
from engine.plan import Plan
from engine.stages.fit_answers import Check, checked
from engine.stages.fit_load import FullPower
from engine.stages.wording import Wording

_PER_MINUTE = 6e4
_WATER = (
    "30 % of the fuel's heat, a rise of 15 C (27 F) and 1.8 m/s (5.9 ft/s) from memory, defaults; the engine maker's "
    f"manual, {named('ISO 9093')} and {named('ABYC H-27')} decide"
)
_FUEL = (
    "bores and circulation from memory, defaults; the engine maker's manual and "
    f"{named('ISO 10088', 'ABYC H-33', 'ISO 7840', 'ISO 16147')} decide"
)
_SHUT_OFF = f"12 ft, printed; {named('ABYC H-33')} and {named('ISO 10088')} decide"
_START = f"120 to 180 A a litre from memory, a default; {named('ABYC E-10', 'ABYC E-11', 'ISO 13297')} decide"


def service_checks(plan: Plan, full: FullPower) -> tuple[list[Check], dict[str, Any]]:
    """The checks, and the figures of the answers by their names."""
    flow = float(raw_water_flow(raw_water_heat(full.fuel_power)))
    inlet = float(least_inlet_bore(flow))
    line = least_fuel_line_bore(full.power)
    _, most = fuel_circulation(litres_per_hour(full.fuel))
    figures: dict[str, Any] = {
        "raw_water_l_per_min": flow * _PER_MINUTE,
        "inlet_bore_m": inlet,
        "fuel_circulation_l_per_h": float(most),
        "fuel_line_bore_m": line if np.isfinite(line) else None,
    }
    checks = [*_water_checks(plan, inlet), *_fuel_checks(plan, line)]
    if full.item.swept_volume is not None:
        low, usual, high = (float(current) for current in cranking_current(full.item.swept_volume.si))
        figures["cranking_current_a"] = usual
        checks.append(_starting_check(plan, low, high))
    return checks, figures


def _water_checks(plan: Plan, inlet: float) -> Iterator[Check]:
    say = Wording(plan.units)
    yield checked(
        "bore of the raw-water inlet",
        f"at least {say.size(inlet)}, and the pump's own port",
        plan.fit.inlet_bore,
        say.size,
        holds=lambda bore: bore >= inlet,
        why=f"A larger seacock, strainer ({STRAINER_PIPE_AREAS:g} times the pipe's area) and hose, double clips; "
        "one for each engine; no scoop that faces ahead.",
        source=_WATER,
        path="fit.inlet_bore",
    )
    if plan.fit.suction_lift is not None:
        yield checked(
            "raw-water pump above the waterline",
            f"at most {say.length(SUCTION_LIFT)}",
            plan.fit.suction_lift,
            say.length,
            holds=lambda lift: lift <= SUCTION_LIFT,
            why="It will not draw: set the pump lower.",
            source=f"2 m (6 ft 7 in), printed; {_WATER}",
            path="fit.suction_lift",
        )


def _fuel_checks(plan: Plan, line: float) -> Iterator[Check]:
    say = Wording(plan.units)
    wanted = f"at least {say.size(line)}" if np.isfinite(line) else "as the engine's maker says"
    yield checked(
        "bore of the fuel supply line",
        f"{wanted}; a primary filter of 10 to 30 microns with a water trap, for the whole circulation",
        plan.fit.fuel_line_bore,
        say.size,
        holds=lambda bore: not bore < line,
        why="A diesel sends back more than it burns, and starves on a thin line.",
        source=_FUEL,
        path="fit.fuel_line_bore",
    )
    if plan.fit.fuel_line_length is not None:
        yield checked(
            "length of the fuel supply line",
            f"up to {say.length(SECOND_SHUT_OFF)} with one shut-off at the tank",
            plan.fit.fuel_line_length,
            say.length,
            holds=lambda length: length <= SECOND_SHUT_OFF,
            why="Fit a second shut-off near the engine. Fill opening "
            f"{say.size(FILL_FROM_OPENING)} from any other, tank vent of {say.size(VENT_BORE)} bore (from memory).",
            source=_SHUT_OFF,
            path="fit.fuel_line_length",
        )


def _starting_check(plan: Plan, low: float, high: float) -> Check:
    return checked(
        "cold-cranking current of the starting battery",
        f"{low:.0f} to {high:.0f} A at 12 V, in a bank of its own",
        plan.fit.cranking_current,
        lambda current: f"{current:.0f} A",
        holds=lambda current: current >= low,
        why="A larger starting battery.",
        source=_START,
        path="fit.cranking_current",
    )

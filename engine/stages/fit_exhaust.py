"""The exhaust: bore against back pressure, heights that keep the sea out, the water-lift muffler."""

import math
from collections.abc import Iterator
from typing import Any

from engine.constants import LITRE, MINUTE
from engine.defaults import amount_or_none, word
from engine.findings import Finding, look
from engine.machinery.exhaust import (
    FALL_DEG,
    GAS_TEMPERATURE_C,
    INJECTION_HEIGHT,
    LAG_ABOVE_C,
    LIFT_LIMIT,
    LONG_RUN_BORES,
    LONG_RUN_INCREASE,
    LOOP_HEIGHT,
    WET_OVER_DRY_BORE,
    back_pressure,
    back_pressure_limit,
    check_long_run,
    exhaust_flow,
    least_bore,
    least_muffler_volume,
    usual_wet_hose,
)
from engine.machinery.standards import named
from engine.plan import Plan
from engine.sections.fit import DRY_EXHAUST
from engine.stages.fit_answers import Check, checked
from engine.stages.fit_load import FullPower
from engine.stages.wording import Wording

_DEFERS = f"the engine maker's manual, {named('ABYC P-1')} and {named('ISO 13363')} decide"
_BORE = (
    "bore at the limit for a dry line, 1.4 times that for a wet one: Gerr (2009), printed; formula from memory; "
    f"{_DEFERS}"
)
_PRESSURE = f"straight-pipe formula of large makers' handbooks, from memory, a default; {_DEFERS}"
_HEIGHTS = f"one maker and a trade journal, printed; {_DEFERS}"
_MUFFLER = (
    f"three times the water that falls back, printed; a rising hose full of water: ours, on the safe side; {_DEFERS}"
)
_USUAL_LENGTH, _USUAL_BENDS = 3.0, 3
"""Of a run that has not been described: ours, to give a bore at all."""


def exhaust_checks(plan: Plan, full: FullPower) -> tuple[list[Check], dict[str, Any]]:
    """The checks, and the figures of the answers by their names."""
    asked = plan.fit
    is_wet = not has_dry_exhaust(plan)
    flow = float(exhaust_flow(full.fuel))
    limit = amount_or_none(asked, "back_pressure_limit") or back_pressure_limit(full.is_turbocharged)
    length, bends = asked.exhaust_length, asked.exhaust_bends
    run = (_USUAL_LENGTH if length is None else length.si, float(_USUAL_BENDS if bends is None else bends))
    dry = least_bore(flow, *run, limit)
    needed = WET_OVER_DRY_BORE * dry if is_wet else dry
    figures: dict[str, Any] = {
        "exhaust_flow_m3_per_min": flow * MINUTE,
        "back_pressure_limit_kpa": limit / 1e3,
        "exhaust_bore_m": needed,
    }
    usual = usual_wet_hose(full.power) if is_wet else math.nan
    checks = [_bore_check(plan, needed, usual)]
    if asked.exhaust_bore is not None:
        pressure = float(back_pressure(flow, asked.exhaust_bore.si, *run, is_wet=is_wet))
        figures["back_pressure_kpa"] = pressure / 1e3
        checks.append(_pressure_check(plan, pressure, limit))
        if length is not None:
            checks.append(_long_run_check(plan, asked.exhaust_bore.si, needed))
    if is_wet:
        figures["usual_exhaust_bore_m"] = usual if math.isfinite(usual) else None
        checks += _height_checks(plan)
        bore = needed if asked.exhaust_bore is None else asked.exhaust_bore.si
        if asked.riser_height is not None:
            volume = float(least_muffler_volume(bore, asked.riser_height.si)) / LITRE
            figures["muffler_volume_l"] = volume
            checks.append(_muffler_check(plan, volume))
    return checks, figures


def has_dry_exhaust(plan: Plan) -> bool:
    """Whether no water is injected into the exhaust."""
    return word(plan.fit, "exhaust") == DRY_EXHAUST


def dry_findings(plan: Plan) -> Iterator[Finding]:
    """What a dry exhaust wants besides its bore."""
    if not has_dry_exhaust(plan):
        return
    say = Wording(plan.units)
    yield look(
        f"The gas in a dry exhaust reaches some {say.temperature(GAS_TEMPERATURE_C)} at full power: lag whatever "
        f"has a skin of more than {say.temperature(LAG_ABOVE_C)}, keep hoses, wires and wood away from it, "
        "and let it grow as it heats.",
        f"lagging: ABYC P-1, printed in a text; temperature of the gas from memory; {_DEFERS}",
        "fit.exhaust",
    )


def _bore_check(plan: Plan, needed: float, usual: float) -> Check:
    """usual: bore of the wet hose that such engines have [m]; not a number where none is known, or the line is dry."""
    say, described = Wording(plan.units), plan.fit.exhaust_length is not None
    run = "" if described else f" (for a run of {say.length(_USUAL_LENGTH)} with {_USUAL_BENDS} bends: describe yours)"
    words = f"at least {say.size(needed)}{run}"
    if math.isfinite(usual):
        words += f"; such engines have {say.size(usual)} (from memory)"
    return checked(
        "bore of the exhaust",
        words,
        plan.fit.exhaust_bore,
        say.size,
        holds=lambda bore: bore >= needed,
        why="Take a larger one, and never one smaller than the engine's outlet. A wet line wants "
        f"{WET_OVER_DRY_BORE:g} times the bore of a dry one, which leaves room for muffler and lift. Each engine has "
        "an exhaust of its own; lag what gets hotter than a hand can bear.",
        source=_BORE,
        path="fit.exhaust_bore",
    )


def _pressure_check(plan: Plan, pressure: float, limit: float) -> Check:
    say = Wording(plan.units)
    return checked(
        "back pressure of the run, without the muffler",
        f"at most {say.pressure(limit / 1e3)}",
        plan.fit.exhaust_bore,
        lambda _: say.pressure(pressure / 1e3),
        holds=lambda _: pressure <= limit,
        why="A larger bore, fewer bends or a shorter run. Measure it with a manometer when she is first run.",
        source=_PRESSURE,
        path="fit.exhaust_bore",
    )


def _long_run_check(plan: Plan, bore: float, needed: float) -> Check:
    say, more = Wording(plan.units), 1.0 + LONG_RUN_INCREASE
    return checked(
        "length of the exhaust run",
        f"up to {LONG_RUN_BORES:.0f} bores, or a bore of {say.size(more * needed)}",
        plan.fit.exhaust_length,
        lambda length: f"{length / bore:.0f} bores",
        holds=lambda length: not check_long_run(length, bore) or bore >= more * needed,
        why="A run so long wants a bore a fifth larger.",
        source=f"60 bores and a fifth, printed; {_DEFERS}",
        path="fit.exhaust_length",
    )


def _height_checks(plan: Plan) -> Iterator[Check]:
    say, asked = Wording(plan.units), plan.fit
    has_loop = asked.loop_height is not None and asked.loop_height.si >= LOOP_HEIGHT
    yield checked(
        "raw-water injection above the loaded waterline",
        f"{say.size(INJECTION_HEIGHT)}, or an anti-siphon loop of {say.size(LOOP_HEIGHT)} "
        f"and a fall of {FALL_DEG:g} degrees",
        asked.injection_height,
        say.size,
        holds=lambda height: height >= INJECTION_HEIGHT or has_loop,
        why="Water can siphon into the engine when she lies still: fit an anti-siphon loop, its top above the "
        "waterline at worst heel.",
        source=_HEIGHTS,
        path="fit.injection_height",
    )
    if asked.riser_height is not None:
        yield checked(
            "lift from the muffler to the highest point",
            f"at most {say.size(LIFT_LIMIT)}",
            asked.riser_height,
            say.size,
            holds=lambda lift: lift <= LIFT_LIMIT,
            why="The gas cannot lift the water so high: another muffler, or another route.",
            source=f"42 in, Gerr (2009), printed; {_DEFERS}",
            path="fit.riser_height",
        )


def _muffler_check(plan: Plan, needed: float) -> Check:
    """needed: [L]."""
    say = Wording(plan.units)
    return checked(
        "volume of the water-lift muffler",
        f"at least {say.volume(needed)}",
        plan.fit.muffler_volume,
        lambda volume: say.volume(volume / LITRE),
        holds=lambda volume: volume / LITRE >= needed,
        why="Water that falls back when she stops could reach the engine.",
        source=_MUFFLER,
        path="fit.muffler_volume",
    )

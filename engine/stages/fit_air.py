"""Air into the engine room: vents, flow, and the heat that must leave."""

from typing import Any

from engine.constants import MINUTE
from engine.defaults import amount, amount_or_none, word
from engine.findings import look
from engine.machinery.engine_air import (
    INTAKE_LIMIT_C,
    RISE_LIMIT_K,
    blower_share,
    combustion_air,
    cooling_air,
    least_airflow,
    least_vent_area,
    radiated_heat,
)
from engine.machinery.standards import named
from engine.plan import Plan
from engine.plan_defaults import intake_air
from engine.sections.fit import BENT_DUCTS
from engine.stages.fit_answers import Check, CheckRow, checked
from engine.stages.fit_load import FullPower
from engine.stages.wording import Wording, percent
from engine.units import Quantity

_DEFERS = f"the engine maker's manual and {named('ABYC H-32')} decide"
_VENTS = f"Gerr (2009), Boat Mechanical Systems Handbook, Formula 16-1; {_DEFERS}"
_RISE = (
    f"rise of {RISE_LIMIT_K:g} C ({1.8 * RISE_LIMIT_K:.0f} F) from memory, {INTAKE_LIMIT_C:g} C "
    f"({1.8 * INTAKE_LIMIT_C + 32.0:.0f} F) at the intake printed by one maker: defaults; {_DEFERS}"
)


def air_checks(plan: Plan, full: FullPower) -> tuple[list[Check], dict[str, Any]]:
    """The checks, and the figures of the answers by their names."""
    say, asked, engines = Wording(plan.units), plan.fit, full.engines
    area = float(least_vent_area(full.power * engines, is_complex=word(asked, "ducts") == BENT_DUCTS))
    burned = float(combustion_air(full.fuel)) * engines
    heat = amount_or_none(asked, "radiated_heat")
    heat = (float(radiated_heat(full.fuel_power)) if heat is None else heat) * engines
    flow = float(least_airflow(full.power * engines))
    checks = [
        checked(
            "free area of the vents",
            f"at least {say.opening(area)}",
            asked.vent_area,
            say.opening,
            holds=lambda free: free >= area,
            why="Open more, outside the accommodation: the engine must never draw its air from where people sleep.",
            source=_VENTS,
            path="fit.vent_area",
        ),
        _rise_check(plan),
    ]
    share = blower_share(full.power * engines)
    if share > 0.0:
        row = CheckRow(item="blowers", wanted=f"{percent(share)} of the airflow", yours="-", standing="look again")
        text = f"Engines of this size want blowers for {percent(share)} of the airflow."
        checks.append(Check(row, look(text, _VENTS, "fit.vent_area")))
    return checks, {
        "vent_area_m2": area,
        "airflow_m3_per_min": max(flow, burned) * MINUTE,
        "combustion_air_m3_per_min": burned * MINUTE,
        "radiated_heat_kw": heat / 1e3,
        "cooling_air_m3_per_min": float(cooling_air(heat, RISE_LIMIT_K)) * MINUTE,
    }


def _rise_check(plan: Plan) -> Check:
    """Air at the intake against what makers allow and what is outside."""
    say, inside = Wording(plan.units), intake_air(plan)
    most = min(INTAKE_LIMIT_C, amount(plan.fit, "outside_air") + RISE_LIMIT_K)
    return checked(
        "air at the intake",
        f"at most {say.temperature(most)}",
        Quantity(inside, say.temperature(inside)),
        say.temperature,
        holds=lambda air: air <= most,
        why="Lead a duct from outside close to the air filter.",
        source=_RISE,
        path="engine.intake_air",
    )

"""What the fit stage gives: what the new engine asks of the boat, against what is there."""

from collections.abc import Callable
from dataclasses import dataclass

from engine.answers import answer, maybe, table
from engine.findings import Finding, fits, look
from engine.stages.wording import capitalised
from engine.units import Quantity

_NUDGES = (1.0, 1.0 - 1e-9, 1.0 + 1e-9)
"""What is there may miss what is wanted by the last binary digits of a sum, and still be the same."""


@dataclass(frozen=True, kw_only=True)
class CheckRow:
    """One thing that must fit."""

    item: str = answer("Item")
    wanted: str = answer("Wanted")
    yours: str = answer("Yours")
    standing: str = answer("Standing")


@dataclass(frozen=True)
class Check:
    """One check.   finding: None while the owner has not said what is there."""

    row: CheckRow
    finding: Finding | None


def checked(
    item: str,
    wanted: str,
    given: Quantity | None,
    say: Callable[[float], str],
    *,
    holds: Callable[[float], bool],
    why: str,
    source: str,
    path: str,
) -> Check:
    """A check of what is there against what is wanted.

    given: what is there, None while the owner has not said.   say: writes it.   holds: whether it will do; both are
    handed its SI value.   why: a sentence that goes with a "look again".
    """
    if given is None:
        return Check(CheckRow(item=item, wanted=wanted, yours="-", standing="not given"), None)
    is_good, yours = any(holds(given.si * nudge) for nudge in _NUDGES), say(given.si)
    text = f"{capitalised(item)}: {yours}, wanted {wanted}."
    finding = fits(text, source) if is_good else look(f"{text} {why}", source, path)
    return Check(CheckRow(item=item, wanted=wanted, yours=yours, standing=finding.verdict.value), finding)


@dataclass(frozen=True, kw_only=True)
class FitAnswers:
    """Figures for all engines together where air and weight are meant, else for one."""

    vent_area_m2: float | None = maybe("Vents, least free area", metric="cm2", imperial="in2", only_known=True)
    airflow_m3_per_min: float | None = maybe("Air into the engine room, at least", only_known=True)
    combustion_air_m3_per_min: float | None = maybe("of which the engine burns", only_known=True)
    radiated_heat_kw: float | None = maybe(
        "Heat given off to the engine room", metric="kW", imperial="kW", only_known=True
    )
    cooling_air_m3_per_min: float | None = maybe("Air that would carry it away", only_known=True)
    exhaust_flow_m3_per_min: float | None = maybe("Exhaust gas of one engine", only_known=True)
    back_pressure_limit_kpa: float | None = maybe("Back pressure allowed", only_known=True)
    back_pressure_kpa: float | None = maybe("Back pressure of your run, at full power", only_known=True)
    exhaust_bore_m: float | None = maybe("Exhaust bore, at least", metric="mm", imperial="in", only_known=True)
    usual_exhaust_bore_m: float | None = maybe(
        "Wet hose such engines have", metric="mm", imperial="in", only_known=True
    )
    muffler_volume_l: float | None = maybe("Water-lift muffler, at least", only_known=True)
    raw_water_l_per_min: float | None = maybe("Raw water, one engine", only_known=True)
    inlet_bore_m: float | None = maybe("Raw-water inlet, bore at least", metric="mm", imperial="in", only_known=True)
    fuel_circulation_l_per_h: float | None = maybe("Fuel that the line must carry, up to", only_known=True)
    fuel_line_bore_m: float | None = maybe("Fuel line, bore at least", metric="mm", imperial="in", only_known=True)
    cranking_current_a: float | None = maybe("Usual cold-cranking current", only_known=True)
    mount_load_n: float | None = maybe("Heaviest load on one mount", only_known=True)
    weight_change_kg: float | None = maybe("Change of weight, all together", only_known=True)
    sinkage_m: float | None = maybe(
        "She floats deeper (minus: higher) by", metric="mm", imperial="in", digits=2, only_known=True
    )
    trim_m: float | None = maybe(
        "Bow goes down (minus: up) against the stern by", metric="mm", imperial="in", digits=2, only_known=True
    )
    bow_m: float | None = maybe("Bow deeper (minus: higher) by", metric="mm", imperial="in", digits=2, only_known=True)
    stern_m: float | None = maybe(
        "Stern deeper (minus: higher) by", metric="mm", imperial="in", digits=2, only_known=True
    )
    immersion: str = answer("Weight that sinks her")
    checks: tuple[CheckRow, ...] = table("What must fit")

"""The enquiry to those who sell engines or motors: what is asked of one, and what the boat has for it."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import isfinite, pi
from typing import Any

from engine.answers import Label, answer, detail, maybe
from engine.bands import Band
from engine.constants import RPM
from engine.data import table
from engine.stages.engine import EngineAnswers
from engine.stages.fit_answers import FitAnswers
from engine.stages.gear_answers import GearAnswers
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.range_answers import RangeAnswers
from engine.stages.shaft_answers import ShaftAnswers
from engine.stages.sought import TOP_RULE, behind_crankshaft, left_aboard, rated_power_to_ask_for
from engine.stages.speed import SpeedAnswers
from wizard.charts import Chart, Series
from wizard.handover.heads import assumed, cautions, reasons_against
from wizard.handover.lines import Asked, answered, called, engine_name, given
from wizard.handover.sheet import Line, Part, Sheet, Table
from wizard.stages.scales import axis, best_and_band, column

_WORDS = table("sheets")["engine"]
_STAGES = ("hull", "speed", "power", "engine", "gear", "fit")
_ITEMS = ("engine", "gear")
_FIRST_TENTH, _SAME = 4, 1e-6
"""The demand is printed at each tenth of rated speed from this one on."""
_ASSUMED = (
    "hull.displacement",
    "speed.cruise",
    "speed.top",
    "power.sea_margin",
    "engine.intake_air",
    "engine.humidity",
    "engine.altitude",
    "engine.raw_water",
    "chosen.kind",
    "chosen.power_at",
    "gear.efficiency",
    "gear.shaft_efficiency",
)
_STATES = {
    "foul_or_wind_kw": "foul or into wind, at most",
    "foul_kw": "foul, at most",
    "service_kw": "with the margin, at most",
}
"""What the worst of the states is called in the chart, by the column that has it."""
_SITE = "engine."
"""Begins the fields of air and water, which take power from a diesel only."""


@dataclass(frozen=True, kw_only=True)
class DemandRow:
    """What the propeller asks of one engine at an engine speed, and what the engine of the plan has there."""

    engine_rpm: float = answer("Engine speed", digits=4)
    power_kw: Band = answer("Demand", spread=True)
    torque_nm: Band = answer("Torque", spread=True)
    worst_kw: float = detail("In the worst of the states tried, at most")
    foul_or_wind_kw: float | None = maybe("Foul or into wind, at most", only_known=True)
    foul_kw: float | None = maybe("Foul, at most", only_known=True)
    service_kw: float | None = maybe("With the margin, at most", only_known=True)
    full_load_kw: float = answer("Full load, as planned")


def engine_enquiry(asked: Asked) -> Sheet:
    """The sheet for the engine dealer, one engine of however many."""
    dangers = ("lifting", "battery", "stability") if asked.is_electric else ("lifting", "carbon-monoxide")
    return Sheet(
        key="engine",
        name=asked.plan.name,
        units=asked.units,
        parts=tuple(_parts(asked)),
        refusal="Ask with this sheet; do not order from it yet.",
        reasons=reasons_against(asked, _STAGES, _ITEMS),
        assumed=assumed(asked, [path for path in _ASSUMED if not (asked.is_electric and path.startswith(_SITE))]),
        cautions=cautions(*dangers),
    )


def _parts(asked: Asked) -> Iterator[Part]:
    yield Part("The boat and her use", tuple(_use(asked)), sentences=asked.not_yet("speed"))
    yield Part("Power needed, one engine at its crankshaft", tuple(_power(asked)), sentences=asked.not_yet("power"))
    yield Part("The engine that is reckoned with", tuple(_reckoned(asked)))
    yield Part(
        "Shaft, with no gear between" if asked.is_direct else "Gear",
        tuple(_gear(asked)),
        sentences=asked.not_yet("gear"),
    )
    rows = demand_rows(asked)
    yield Part("", chart=_chart(asked))
    note = "Clean and in calm water, with 10th and 90th percentile; last: the plan's engine, losses aboard taken off."
    title = "What the propeller of the plan asks of one engine at each speed"
    yield Part(
        "" if rows else title,
        table=Table("demand", title, rows, note=note),
        sentences=() if rows else _no_demand(asked),
        is_wide=True,
    )
    yield Part("Room and weight", tuple(_room(asked)))
    services = "Electricity" if asked.is_electric else "Exhaust, air, water and electricity"
    yield Part(services, tuple(_services(asked)), sentences=asked.not_yet("fit"))
    own = "ask_motor" if asked.is_electric else "ask_diesel"
    with_gear = "ask_gear_of_motor" if asked.is_electric else "ask_gear"
    between = "ask_direct" if asked.is_direct else with_gear
    yield Part("Please send", to_do=(*_WORDS[own], *_WORDS["ask"], _WORDS[between]))


def _use(asked: Asked) -> Iterator[Line]:
    yield given(asked, "hull.kind", "kind")
    yield given(asked, "hull.waterline_length", "waterline_length_m")
    yield given(asked, "hull.displacement", "displacement_kg")
    yield given(asked, "hull.screws", "engines", "Number of engines")
    yield from answered(SpeedAnswers, asked.outcome("speed"), ("cruise_kn", "top_kn"))
    yield given(asked, "engine.hours_per_year", "hours_per_year_h")
    if asked.item is not None and not asked.is_electric:
        yield given(asked, f"{asked.item_path}.duty", "duty", "Duty class")


def _power(asked: Asked) -> Iterator[Line]:
    """Each from the power page, before any engine is chosen."""
    power, behind = asked.answers("power"), behind_crankshaft(asked.guessed)

    def at_crankshaft(band: Band | None) -> Band | None:
        each = None if power is None else 1.0 / (power.demand.screws * behind)
        return None if band is None or each is None else band.scaled(each)

    cruise, margin, top = (
        at_crankshaft(getattr(power, f"{name}_power_kw", None))
        for name in ("cruise_shaft", "cruise_service", "top_shaft")
    )
    left, status = left_aboard(asked.guessed)
    needed = None if top is None else rated_power_to_ask_for(top, left)
    yield Line("cruise_power_kw", Label("At cruise, calm"), cruise)
    yield Line("cruise_service_power_kw", Label("At cruise, with margin"), margin)
    yield Line("top_power_kw", Label("At top speed, calm"), top)
    if not asked.is_electric:
        yield given(asked, "engine.intake_air", "intake_air_c")
        yield given(asked, "engine.altitude", "altitude_m")
        yield given(asked, "engine.raw_water", "raw_water_c")
        yield Line("aboard_fraction", Label("Left there of the rated power"), left, status)
    yield Line("needed_rated_power_kw", Label("Rated power to ask for"), needed, TOP_RULE)


def _reckoned(asked: Asked) -> Iterator[Line]:
    yield engine_name(asked)
    names = (
        "rated_power_kw",
        "rated_rpm",
        "usable_power_kw",
        "top_load_fraction",
        "cruise_service_load_fraction",
    )
    yield from answered(EngineAnswers, asked.outcome("engine"), names)
    if asked.item is None or not asked.is_electric:
        return
    path = asked.item_path
    yield given(asked, f"{path}.peak_power", "peak_power_kw")
    yield given(asked, f"{path}.battery", "battery_kwh")
    yield given(asked, f"{path}.battery_kind", "battery_kind")
    yield given(asked, f"{path}.charge_power", "charge_power_kw")
    energy = (
        "usable_kwh",
        "cruise_drawn_kw",
        "battery_v",
        "full_throttle_battery_a",
        "cruise_range_nmi",
        "cruise_endurance_h",
    )
    yield from answered(RangeAnswers, asked.outcome("range"), energy)


def demand_rows(asked: Asked) -> tuple[DemandRow, ...]:
    """At tenths of rated speed: through the chosen propeller, else through one that would suit the engine."""
    propeller, engine = asked.answers("propeller"), asked.answers("engine")
    if engine is None:
        return ()
    if propeller is not None:
        rows = [(row, _worst(row.foul_demand_kw, row.head_wind_demand_kw)) for row in propeller.match]
    else:
        rows = [(row, row.service_demand_kw.high) for row in engine.curve]
    state = _state(propeller)
    return tuple(_demand_row(row, worst, state) for row, worst in rows if _is_tenth(row, engine.rated_rpm))


def _state(propeller: Any) -> str:
    """Which column of the rows has the worst of the states that were tried: no wind is without a frontal area."""
    if propeller is None:
        return "service_kw"
    return "foul_kw" if all(row.head_wind_demand_kw is None for row in propeller.match) else "foul_or_wind_kw"


def _worst(foul: Band, head_wind: Band | None) -> float:
    return foul.high if head_wind is None else max(foul.high, head_wind.high)


def _is_tenth(row: Any, rated_rpm: float) -> bool:
    tenths = 10.0 * float(row.engine_rpm) / rated_rpm
    is_round = abs(tenths - round(tenths)) < _SAME and _FIRST_TENTH <= round(tenths) <= 10
    return is_round and bool(row.demand_kw.is_known)


def _demand_row(row: Any, worst: float, state: str) -> DemandRow:
    worst = worst if isfinite(worst) else row.demand_kw.high
    to_torque = 1e3 / (2.0 * pi * row.engine_rpm * RPM)
    return DemandRow(
        engine_rpm=row.engine_rpm,
        power_kw=row.demand_kw,
        torque_nm=row.demand_kw.scaled(to_torque),
        worst_kw=worst,
        full_load_kw=row.available_kw,
        **{state: worst},
    )


def _no_demand(asked: Asked) -> tuple[str, ...]:
    return asked.not_yet("engine") or ("Not yet: the demand leaves the speeds worked out. See the engine page.",)


def _chart(asked: Asked) -> Chart | None:
    rows = demand_rows(asked)
    if len(rows) < 2:
        return None
    across = column(rows, "engine_rpm", asked.units)
    return Chart(
        "Demand against engine speed",
        "Engine speed, rpm",
        axis("power of one engine", "power_kw", asked.units),
        (
            *best_and_band("demand, clean and calm", rows, "engine_rpm", "power_kw", asked.units),
            Series(_STATES[_state(asked.answers("propeller"))], across, column(rows, "worst_kw", asked.units)),
            Series("full load, as planned", across, column(rows, "full_load_kw", asked.units)),
        ),
    )


def _gear(asked: Asked) -> Iterator[Line]:
    names = ("ratio", "shaft_rpm", "shaft_torque_nm", "needed_rating_kw_per_100_rpm")
    yield from called(answered(GearAnswers, asked.outcome("gear"), names), ratio="Gear ratio")
    turns = "Shaft turns" if asked.is_direct else "Output turns"
    turning = given(asked, "gear.output_turns", "output_turns", f"{turns}, ahead, seen from astern")
    if asked.screws == 2 and turning.value is None:
        turning = replace(turning, value="usually one each way")  # the hands of the wheels, below, say which
    yield turning
    hand = answered(PropellerAnswers, asked.outcome("propeller"), ("hand",))
    yield from called(hand, hand="Hand of the propeller")
    yield from answered(ShaftAnswers, asked.outcome("shaft"), ("thrust_n", "static_thrust_n"))


def _room(asked: Asked) -> Iterator[Line]:
    for name in ("length", "width", "height"):
        yield given(asked, f"fit.room_{name}", f"room_{name}_m", f"Engine room, {name}")
    yield given(asked, "fit.opening_width", "opening_width_m")
    yield given(asked, "fit.bearers_apart", "bearers_apart_m")
    yield given(asked, "shaft.angle", "shaft_angle_deg", "Shaft angle")
    yield given(asked, "present.engine_power", "present_engine_power_kw")
    yield given(asked, "present.gear_ratio", "present_gear_ratio")
    yield given(asked, "present.engine_weight", "present_engine_weight_kg")
    if asked.item is None:
        return
    for name in ("length", "width", "height"):
        yield given(asked, f"{asked.item_path}.{name}", f"engine_{name}_m", f"Engine reckoned with, {name}")
    yield given(asked, f"{asked.item_path}.weight", "engine_weight_kg", "Engine reckoned with, weight")


def _services(asked: Asked) -> Iterator[Line]:
    fit = asked.outcome("fit")
    if not asked.is_electric:
        yield given(asked, "fit.exhaust", "exhaust")
        yield given(asked, "fit.exhaust_bore", "present_exhaust_bore_m")
        names = ("back_pressure_limit_kpa", "back_pressure_kpa", "airflow_m3_per_min", "raw_water_l_per_min")
        yield from answered(FitAnswers, fit, (*names, "cranking_current_a"))
        yield given(asked, "fit.vent_area", "vent_area_m2")
        yield given(asked, "fit.inlet_bore", "inlet_bore_m")
        yield from answered(RangeAnswers, asked.outcome("range"), ("usable_l",))
        yield given(asked, "fit.cranking_current", "battery_cranking_current_a", "Starting battery aboard")
    else:
        yield given(asked, f"{asked.item_path}.house_load", "house_load_kw", "Other electric load")
        yield given(asked, f"{asked.item_path}.battery_weight", "battery_weight_kg", "Weight of the batteries")
        yield given(asked, "fit.battery_place", "battery_place_m")

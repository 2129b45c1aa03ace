"""The sheet for the yard: shaft, bearings, exhaust, air, weights, alignment, and what to check before launching."""

from collections.abc import Iterator
from dataclasses import replace

from engine.answers import Label, said_of_motor
from engine.data import table
from engine.defaults import amount_or_none
from engine.findings import Verdict
from engine.plan import needs_fuel
from engine.stages.engine import EngineAnswers
from engine.stages.fit_answers import FitAnswers
from engine.stages.fit_exhaust import has_dry_exhaust
from engine.stages.gear_answers import GearAnswers
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.shaft_answers import ShaftAnswers
from engine.stages.wording import Wording
from wizard.handover.heads import assumed, cautions, reasons_against
from wizard.handover.lines import Asked, answered, called, engine_name, given
from wizard.handover.sheet import NOT_GIVEN, Line, Part, Sheet, Table

_WORDS = table("sheets")["yard"]
_ALIGNMENT = table("bearings")["alignment"]["note"]
_STAGES = ("hull", "speed", "power", "engine", "gear", "propeller", "shaft", "fit")
_ITEMS = ("engine", "gear", "propeller", "shaft")
_ASSUMED = (
    "chosen.kind",
    "shaft.material",
    "shaft.use",
    "fit.exhaust",
    "fit.ducts",
    "fit.outside_air",
    "gear.efficiency",
)
_MOST_CHECKS = 8


def yard_sheet(asked: Asked) -> Sheet:
    """The sheet for those who do the work."""
    hot = ("hot-surfaces",) if has_dry_exhaust(asked.guessed) else ()
    burnt = ("carbon-monoxide", *hot) if needs_fuel(asked.guessed) else ()
    dangers = ("lifting", "fuel-vapour", *burnt, "rotating-shaft", "battery", "hot-work", "haul-out", "wheel-off")
    return Sheet(
        key="yard",
        name=asked.plan.name,
        units=asked.units,
        parts=tuple(_parts(asked)),
        refusal="Do not cut metal by this sheet yet.",
        reasons=reasons_against(asked, _STAGES, _ITEMS),
        assumed=assumed(asked, _ASSUMED),
        cautions=cautions(*dangers, "flooding", "stability"),
    )


def _parts(asked: Asked) -> Iterator[Part]:
    shaft = asked.answers("shaft")
    yield Part("What goes in", tuple(_new(asked)), sentences=asked.not_yet("engine", "gear", "propeller"))
    yield Part("Shaft", tuple(_shaft(asked)), sentences=asked.not_yet("shaft"))
    services = tuple(_services(asked))
    if services or needs_fuel(asked.guessed):
        without = () if services else (_WORDS["generator"],)
        yield Part("Exhaust, air, water and fuel", services, sentences=asked.not_yet("fit") or without)
    yield Part(
        "Weights of each engine, and trim" if asked.screws == 2 else "Weights and trim",
        tuple(_weights(asked)),
        sentences=_open_checks(asked),
    )
    if shaft is not None:
        table = Table("clearances", "Bearings, gland and coupling: what to work to", shaft.fits)
        yield Part("", table=table, is_wide=True)
    exhaust = _WORDS["dry_exhaust" if has_dry_exhaust(asked.guessed) else "wet_exhaust"]
    with_fuel = (exhaust, *_WORDS["before_launch_with_fuel"]) if needs_fuel(asked.guessed) else ()
    checks = _WORDS["before_launch"]
    checks = map(said_of_motor, checks) if asked.is_electric else checks
    yield Part("Before launching", to_do=(*checks, *with_fuel))
    yield Part("Afloat", sentences=(_WORDS["after_launch"], _ALIGNMENT))


def _new(asked: Asked) -> Iterator[Line]:
    yield replace(engine_name(asked), note="two of them" if asked.screws == 2 else "")
    yield from answered(EngineAnswers, asked.outcome("engine"), ("rated_power_kw", "rated_rpm"))
    yield from called(answered(GearAnswers, asked.outcome("gear"), ("ratio",)), ratio="Gear ratio")
    wheel = answered(PropellerAnswers, asked.outcome("propeller"), ("size", "hand"))
    yield from called(wheel, size="Propeller", hand="Hand of the propeller")
    yield Line("engine_size", Label("Engine, length x width x height"), _size(asked), absent=NOT_GIVEN)
    yield given(asked, "fit.opening_width", "opening_width_m")


def _size(asked: Asked) -> str | None:
    """Of the engine with its gear, as one piece: "1290 mm x 720 mm x 860 mm"; None while a side is missing."""
    sides = [amount_or_none(asked.item, name) for name in ("length", "width", "height")] if asked.item else [None]
    known = [side for side in sides if side is not None]
    return " x ".join(Wording(asked.units).size(side) for side in known) if len(known) == len(sides) else None


def _shaft(asked: Asked) -> Iterator[Line]:
    names = (
        "material",
        "diameter_m",
        "needed_diameter_m",
        "actual_safety_factor",
        "taper",
        "bore",
        "torque_nm",
        "shaft_rpm",
    )
    outcome = asked.outcome("shaft")
    yield from answered(ShaftAnswers, outcome, (*names, "thrust_n", "static_thrust_n"))
    yield from answered(ShaftAnswers, outcome, ("span_m", "largest_span_m", "critical_rpm", "whirling_margin_fraction"))
    yield given(asked, "shaft.overhang", "overhang_m")
    yield given(asked, "shaft.propeller_weight", "propeller_weight_kg")
    yield given(asked, "shaft.length", "length_m")
    yield given(asked, "shaft.angle", "angle_deg")
    yield given(asked, "shaft.coupling", "coupling", "Coupling at the motor" if asked.is_direct else "")
    yield given(asked, "shaft.flange", "flange_m")
    yield given(asked, "shaft.seal", "seal")


def _services(asked: Asked) -> Iterator[Line]:
    names = (
        "exhaust_bore_m",
        "back_pressure_limit_kpa",
        "back_pressure_kpa",
        "muffler_volume_l",
        "vent_area_m2",
        "airflow_m3_per_min",
        "radiated_heat_kw",
        "raw_water_l_per_min",
        "inlet_bore_m",
        "fuel_line_bore_m",
        "cranking_current_a",
    )
    yield from answered(FitAnswers, asked.outcome("fit"), names)


def _weights(asked: Asked) -> Iterator[Line]:
    yield given(asked, "present.engine_weight", "present_engine_weight_kg")
    if asked.item is not None:
        label = "" if asked.is_electric else "New engine with gear, dry"
        yield given(asked, f"{asked.item_path}.weight", "engine_weight_kg", label)
        if asked.is_electric:
            yield given(asked, f"{asked.item_path}.battery_weight", "battery_weight_kg")
    names = ("weight_change_kg", "sinkage_m", "trim_m", "bow_m", "stern_m", "mount_load_n")
    yield from answered(FitAnswers, asked.outcome("fit"), names)


def _open_checks(asked: Asked) -> tuple[str, ...]:
    """What the fit page has not found to fit."""
    fit = asked.answers("fit")
    checks = () if fit is None else fit.checks
    found = {"not given": "; not given: find it out.", Verdict.LOOK.value: ", yours {}: look again."}
    still = [
        f"{row.item[:1].upper()}{row.item[1:]}: wanted {row.wanted}{found[row.standing].format(row.yours)}"
        for row in checks
        if row.standing in found
    ]
    if len(still) <= _MOST_CHECKS:
        return tuple(still)
    return (*still[: _MOST_CHECKS - 1], f"{len(still) - _MOST_CHECKS + 1} more: see the sheet of the whole plan.")

"""Usual ranges of engine, gear, propeller and shaft, and of what the engine asks of the boat. In plain floats."""

from collections.abc import Mapping
from dataclasses import replace
from math import sqrt
from typing import Any

from engine import constants as c
from engine.data import table
from engine.entries import entries
from engine.plan import Plan, entry_at
from engine.plan_defaults import gear_efficiency
from engine.sections.drive import Propeller
from engine.sections.electric import Motor
from engine.usual.asked import Asked, Ends, NotKnownError, Rule, amount, engine_of, read, value


def _chosen_kw(plan: Plan) -> float:
    return amount(engine_of(plan), "rated_power") / 1e3


# Engines.


def _weight(field: str) -> Rule:
    """Weight of an engine by the power in a field: generic_mass of engine/machinery/generic_engines.py."""

    def ends(asked: Asked) -> Ends:
        power, (low, high) = amount(asked.row, field), asked.data["share"]
        least, most = (read(entries(type(asked.row))[field], text) for text in asked.data["power"])
        if not least <= power <= most:
            raise NotKnownError("no weights of engines of this power")
        law = table("generic_engines")["mass"]
        mass = law["at_one_kilowatt_kg"] * (power / 1e3) ** law["exponent"]
        return low * mass, high * mass

    return ends


def _fuel(engine: Any) -> float:
    """Specific consumption [kg/J] that is usual for its kind of diesel."""
    usual = table("fuel")["default_consumption"][value(engine, "kind")]["g_per_kwh"]
    return float(usual) * 1e-3 / c.KILOWATT_HOUR


def _consumption(asked: Asked) -> Ends:
    low, high = asked.data["share"]
    return low * _fuel(asked.row), high * _fuel(asked.row)


def _governed(asked: Asked) -> Ends:
    rated, (low, high) = amount(asked.row, "rated_speed"), asked.data["share"]
    return low * rated, high * rated


def _intake_air(asked: Asked) -> Ends:
    outside, (low, high) = amount(asked.plan.fit, "outside_air"), asked.data["rise_k"]
    return outside + low, outside + high


def _usable(asked: Asked) -> Ends:
    low, high = asked.data[value(asked.row, "battery_kind")]
    entry = entries(Motor)["usable"]
    return read(entry, low), read(entry, high)


def _chain(asked: Asked) -> Ends:
    low, high = asked.data[value(asked.row, "battery_kind")]
    for link in ("cable", "controller", "motor"):
        low, high = low * asked.data[link][0], high * asked.data[link][1]
    return low, high


def _battery_weight(asked: Asked) -> Ends:
    battery = table("electric")["battery"][value(asked.row, "battery_kind")]
    low, high = battery["specific_energy_wh_per_kg"]
    watt_hours = amount(asked.row, "battery") / c.HOUR
    return watt_hours / high, watt_hours / low


# Gear and propeller.


def _ladder(power_kw: float) -> Ends:
    """Least and most ratio of gears of a power; the rare deep ones left out."""
    gears = table("gearbox")
    for row in gears["ladder"]:
        if row["from_kw"] <= power_kw < row["to_kw"]:
            rare = gears["rare"]
            deepest = rare["deeper_than"] if power_kw < rare["below_kw"] else max(row["ratios"])
            return min(row["ratios"]), min(deepest, max(row["ratios"]))
    raise NotKnownError("no gears of this power")


def _usual_ratios(plan: Plan) -> Ends:
    """Least and most ratio of gears, or of belts and chains, for the chosen candidate."""
    if isinstance(engine_of(plan), Motor):
        low, high = (read(entry_at("gear.ratio"), text) for text in table("typical")["gear.ratio"]["electric"])
        return low, high
    return _ladder(_chosen_kw(plan))


def _ratios(asked: Asked) -> Ends:
    return _usual_ratios(asked.plan)


def _present_ratio(asked: Asked) -> Ends:
    return _ladder(amount(asked.plan.present, "engine_power") / 1e3)


def _offered(plan: Plan) -> Ends:
    """Least and most of the ratios on offer, else of those that are usual."""
    shallowest, deepest = entry_at("gear.ratios").limits or (1.0, 1.0)
    offered = [ratio.si for ratio in plan.gear.ratios if shallowest <= ratio.si <= deepest]
    if len(set(offered)) > 1:
        return min(offered), max(offered)
    return _usual_ratios(plan)


def _diameter(asked: Asked) -> Ends:
    plan, rules = asked.plan, table("handbook_propeller")
    rule, engine = rules["diameter"], engine_of(plan)
    factor = rules["blade_count"][str(value(plan.propeller, "blades"))]["diameter"]
    delivered = gear_efficiency(plan, engine) * amount(plan.gear, "shaft_efficiency")
    horsepower = amount(engine, "rated_power") * delivered / c.HORSEPOWER
    shallow, deep = (amount(engine, "rated_speed") / c.RPM / ratio for ratio in _offered(plan))
    unit = factor * rule["a"] * horsepower ** rule["b"] * c.INCH
    return unit / shallow ** rule["c"], unit / deep ** rule["c"]


def _room(asked: Asked) -> Ends:
    """What is left for the usual wheel; it is the boat's, whichever wheel is chosen now."""
    usual = replace(asked.plan, propeller=Propeller())
    low, high = _diameter(replace(asked, plan=usual))
    both_sides = 1.0 + 2.0 * amount(usual.propeller, "tip_clearance")
    return low * both_sides, high * both_sides


def _pitch(diameter: str) -> Rule:
    def ends(asked: Asked) -> Ends:
        size, knots = amount(asked.row, diameter), amount(asked.plan.speed, "top") / c.KNOT
        (a, b), (a_high, b_high) = (table("handbook_propeller")["pitch_ratio"][end] for end in ("low", "high"))
        return float(size * a * knots**b), float(size * a_high * knots**b_high)

    return ends


def _area(blades: str) -> Rule:
    def ends(asked: Asked) -> Ends:
        if getattr(asked.row, "area_measure", None) == "mean-width ratio of a blade":
            raise NotKnownError("areas are known as a share of the disc")
        low, high = asked.data[str(value(asked.row, blades))]
        return low, high

    return ends


# Shaft, and what the engine asks of the boat.


def _shaft_diameter(asked: Asked) -> Ends:
    rule, wheel = table("shaft_factors")["propeller_rule"], amount(asked.plan.present, "propeller_diameter")
    blades = str(value(asked.plan.present, "propeller_blades"))
    weak, strong = (rule[metal]["divisors"][blades] for metal in ("weaker metals", "high-strength stainless"))
    return wheel / strong, wheel / weak


def _safety_factor(asked: Asked) -> Ends:
    low, high = asked.data[value(asked.plan.shaft, "use")]
    return low, high


def _span(asked: Asked) -> Ends:
    rule, shaft = table("bearings")["spacing"], amount(asked.plan.present, "shaft_diameter")
    return rule["least_diameters"] * shaft, rule["most_diameters"] * shaft


def _radiated_heat(asked: Asked) -> Ends:
    engine, (low, high) = engine_of(asked.plan), asked.data["share"]
    try:
        consumption = amount(engine, "fuel_at_rated")
    except LookupError:
        consumption = _fuel(engine)
    burned = amount(engine, "rated_power") * consumption * table("fuel")["fuel"]["diesel"]["heating_value_mj_kg"] * 1e6
    return low * burned, high * burned


def _diesel_kw(plan: Plan) -> float:
    if isinstance(engine_of(plan), Motor):
        raise NotKnownError("a motor breathes no air and burns no fuel")
    return _chosen_kw(plan)


def _exhaust_bore(asked: Asked) -> Ends:
    power, data = _diesel_kw(asked.plan), table("installation")
    bores = [bore * 1e-3 for to_kw, bore in data["exhaust"]["wet_hose"] if power <= to_kw]
    share = 1.0 / data["exhaust"]["wet_over_dry_bore"] if value(asked.plan.fit, "exhaust") == "dry" else 1.0
    return bores[0] * share, bores[1] * share


def _back_pressure(asked: Asked) -> Ends:
    kind = value(engine_of(asked.plan), "kind")
    breath = "turbocharged" if kind.startswith("turbocharged") else "natural"
    low, high = (read(entry_at("fit.back_pressure_limit"), text) for text in asked.data[breath])
    return low, high


def _inlet_bore(asked: Asked) -> Ends:
    power, data = _diesel_kw(asked.plan), asked.data
    flows = (flow * power * c.LITRE / 60.0 for flow in data["flow_l_per_min_per_kw"])
    low, high = (
        sqrt(8.0 * flow / (c.TWO_PI * speed)) for flow, speed in zip(flows, data["speed_m_per_s"], strict=True)
    )
    return low, high


def _fuel_line(asked: Asked) -> Ends:
    power = _diesel_kw(asked.plan)
    for row in asked.data["line"]:
        if row.get("from_kw", 0.0) < power <= row["to_kw"]:
            return row["bore_mm"][0] * 1e-3, row["bore_mm"][1] * 1e-3
    raise NotKnownError("one bore alone is named for this power")


def _cranking(asked: Asked) -> Ends:
    litres = amount(engine_of(asked.plan), "swept_volume") / c.LITRE
    least, _, most = table("installation")["starting"]["current_per_litre"]
    return least * litres, most * litres


MACHINERY_RULES: Mapping[str, Rule] = {
    "present.engine_weight": _weight("engine_power"),
    "engine.candidate.weight": _weight("rated_power"),
    "engine.candidate.fuel_at_rated": _consumption,
    "engine.candidate.governed_speed": _governed,
    "engine.intake_air": _intake_air,
    "engine.motor.usable": _usable,
    "engine.motor.chain_efficiency": _chain,
    "engine.motor.battery_weight": _battery_weight,
    "present.gear_ratio": _present_ratio,
    "gear.ratios": _ratios,
    "gear.ratio": _ratios,
    "propeller.room": _room,
    "propeller.diameter": _diameter,
    "propeller.pitch": _pitch("diameter"),
    "present.propeller_pitch": _pitch("propeller_diameter"),
    "propeller.area_ratio": _area("blades"),
    "present.propeller_area_ratio": _area("propeller_blades"),
    "present.shaft_diameter": _shaft_diameter,
    "shaft.safety_factor": _safety_factor,
    "shaft.span": _span,
    "fit.radiated_heat": _radiated_heat,
    "fit.exhaust_bore": _exhaust_bore,
    "fit.back_pressure_limit": _back_pressure,
    "fit.inlet_bore": _inlet_bore,
    "fit.fuel_line_bore": _fuel_line,
    "fit.cranking_current": _cranking,
}

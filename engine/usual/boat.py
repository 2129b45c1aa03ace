"""Usual ranges of boat, speed and power. In plain floats, so that a form can show them before numpy is loaded."""

from collections.abc import Mapping
from math import sqrt
from typing import Any

from engine import constants as c
from engine.data import table
from engine.plan import Plan
from engine.usual.asked import Asked, Ends, NotKnownError, Rule, amount, goes_above_hull_speed, screws, value


def _form(plan: Plan) -> Mapping[str, Any]:
    """The row of hull_kinds.toml for her kind."""
    data = table("hull_kinds")
    row: Mapping[str, Any] = data["rows"][data["kinds"][value(plan.hull, "kind")]]
    return row


def _of_kind(coefficient: str) -> Rule:
    def ends(asked: Asked) -> Ends:
        row = _form(asked.plan)[coefficient]
        return row[0], row[-1]

    return ends


def _displaced_length(plan: Plan, heaviness: float) -> float:
    """Waterline length [m] that has her displacement at a displacement-length ratio."""
    long_tons = amount(plan.hull, "displacement") / c.LONG_TON
    return float(100.0 * c.FOOT * (long_tons / heaviness) ** (1.0 / 3.0))


def _length(asked: Asked) -> Ends:
    form = _form(asked.plan)
    light, heavy = form["displacement_length_ratio"]
    try:
        return _displaced_length(asked.plan, heavy), _displaced_length(asked.plan, light)
    except LookupError:
        beam = amount(asked.plan.hull, "waterline_beam")
        low, high = form["length_beam_ratio"]
        return beam * low, beam * high


def _beam(asked: Asked) -> Ends:
    low, high = _form(asked.plan)["length_beam_ratio"]
    length = amount(asked.plan.hull, "waterline_length")
    return length / high, length / low


def _displacement(asked: Asked) -> Ends:
    light, heavy = _form(asked.plan)["displacement_length_ratio"]
    unit = (0.01 * amount(asked.plan.hull, "waterline_length") / c.FOOT) ** 3 * c.LONG_TON
    return light * unit, heavy * unit


def _volume(plan: Plan) -> float:
    """Displaced volume [m3] in her water at 15 C."""
    columns, kind = table("water"), value(plan.hull, "water")
    parts = ("sea", "fresh") if kind == "brackish" else (kind,)
    at = columns["temperature"].index(15.0)
    return amount(plan.hull, "displacement") * len(parts) / float(sum(columns[part]["density"][at] for part in parts))


def _draft(asked: Asked) -> Ends:
    hull = asked.plan.hull
    block_low, block_high = _form(asked.plan)["block"]
    box = _volume(asked.plan) / (amount(hull, "waterline_length") * amount(hull, "waterline_beam"))
    return box / block_high, box / block_low


def _appendages(asked: Asked) -> Ends:
    hull, share = asked.plan.hull, table("appendages")["long_keel_share"]
    if hull.kind not in asked.data["kinds"] and hull.propeller_place not in asked.data["places"]:
        raise NotKnownError("no long keel")
    length, draft = amount(hull, "waterline_length"), amount(hull, "hull_draft")
    surface = asked.data["bare_hull"] * length * draft + _volume(asked.plan) / draft
    return share["low"] * surface, share["high"] * surface


# Her speed, and the power that goes with it.


def _root(plan: Plan) -> float:
    """Speed [m/s] of one knot per root of a foot of waterline."""
    return sqrt(amount(plan.hull, "waterline_length") / c.FOOT) * c.KNOT


def _cruise(asked: Asked) -> Ends:
    low, high = asked.data["speed_length_ratio"]
    return low * _root(asked.plan), high * _root(asked.plan)


def _top(asked: Asked) -> Ends:
    rules, root = table("handbook_rules"), _root(asked.plan)
    hull_speed = rules["hull_speed"]["constant"]
    if not goes_above_hull_speed(asked.plan):
        return table("typical")["speed.cruise"]["speed_length_ratio"][1] * root, hull_speed * root
    limit = rules["gerr_limit"]
    long_tons = amount(asked.plan.hull, "displacement") / c.LONG_TON
    heaviness = long_tons / (0.01 * amount(asked.plan.hull, "waterline_length") / c.FOOT) ** 3
    return hull_speed * root, limit["constant"] / heaviness ** limit["exponent"] * root


def _engine_power(asked: Asked) -> Ends:
    """Installed power of one engine [W]: the least and the most of two rules of thumb at the two top speeds."""
    if goes_above_hull_speed(asked.plan):
        raise NotKnownError("the rules end at hull speed")
    rules = table("handbook_rules")
    pounds = amount(asked.plan.hull, "displacement") / c.POUND
    ratios = (table("typical")["speed.cruise"]["speed_length_ratio"][1], rules["hull_speed"]["constant"])
    wyman, gerr = rules["wyman"], rules["gerr"]
    horsepower = [pounds * (ratio / gerr["constant"]) ** 3 for ratio in ratios]
    horsepower += [pounds / 1e3 * (ratio / (wyman["constant"] + wyman["slope"] * ratio)) ** 3 for ratio in ratios]
    unit = c.HORSEPOWER / screws(asked.plan)
    return min(horsepower) * unit, max(horsepower) * unit


def _at_the_propeller(asked: Asked) -> Ends:
    """Wake fraction or thrust deduction, by the name of the field."""
    place = value(asked.plan.hull, "propeller_place")
    coefficient = {"wake": "wake_fraction"}.get(asked.name, asked.name)
    for row in table("interaction")["arrangements"].values():
        if isinstance(row, Mapping) and row["words"] == place:
            return row[coefficient][0], row[coefficient][1]
    raise NotKnownError(place)


BOAT_RULES: Mapping[str, Rule] = {
    "hull.waterline_length": _length,
    "hull.waterline_beam": _beam,
    "hull.hull_draft": _draft,
    "hull.displacement": _displacement,
    "hull.prismatic": _of_kind("prismatic"),
    "hull.midship": _of_kind("midship"),
    "hull.waterplane": _of_kind("waterplane"),
    "hull.buoyancy_centre": _of_kind("lcb_percent"),
    "hull.entrance_angle": _of_kind("half_entrance_angle_deg"),
    "hull.appendage_area": _appendages,
    "speed.cruise": _cruise,
    "speed.top": _top,
    "power.wake": _at_the_propeller,
    "power.thrust_deduction": _at_the_propeller,
    "present.engine_power": _engine_power,
    "engine.candidate.rated_power": _engine_power,
}

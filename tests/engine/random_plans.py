"""Plans drawn at random: every field in every shape in which an owner can leave it, and boats that hang together."""

from collections.abc import Iterator, Mapping
from datetime import date

import numpy as np
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn, SearchStrategy

from engine.constants import RPM
from engine.entries import Entry, Kind, entries, tables
from engine.plan import SECTIONS, Plan, entry_at, paths, with_row, with_text
from engine.propeller import handbook
from engine.units import UNITS, convert

TABLES: tuple[str, ...] = tuple(f"{section}.{table}" for section, kind in SECTIONS.items() for table in tables(kind))
MOST_ROWS = 4


def path_patterns() -> Iterator[str]:
    """The path of every field of a plan; of a field of a table that in its first row."""
    for section, kind in SECTIONS.items():
        yield from (f"{section}.{name}" for name in entries(kind))
        for table, row in tables(kind).items():
            yield from (f"{section}.{table}.0.{name}" for name in entries(row))


# one field


def numbers_in_limits(entry: Entry) -> SearchStrategy[float]:
    """SI values that can be believed: even between the limits, even in the logarithm, at a limit and close to it."""
    assert entry.limits is not None
    low, high = entry.limits
    span = high - low
    near = [low, high, low + 1e-9 * span, high - 1e-9 * span, low + 1e-3 * span, high - 1e-3 * span]
    even = st.floats(low, high)
    drawn = [even, st.sampled_from(near)]
    if high > 0.0:
        least = low if low > 0.0 else 1e-4 * high
        drawn.append(st.floats(0.0, 1.0).map(lambda share: least * (high / least) ** share))
    return st.one_of(drawn).map(lambda value: min(max(value, low), high))


def numbers_out_of_limits(entry: Entry) -> SearchStrategy[float]:
    """SI values that nobody can believe, as a slip of the pen, or a wrong unit, makes them."""
    assert entry.limits is not None
    low, high = entry.limits
    span = high - low
    beyond = [low - 1e-3 * span, low - span, -1.0, -high, 0.0, 1e-12, 1.001 * high, 10.0 * high, 1e9 * high, 1e30]
    return st.sampled_from(beyond)


def unit_symbols(entry: Entry) -> tuple[str, ...]:
    """The units that a text for a field can have; the field's own come twice, as they are what people write."""
    every = tuple(unit.symbol for unit in UNITS if unit.dimension is entry.dimension)
    return (*every, entry.metric, entry.imperial)


def written(value: float, unit: str, entry: Entry) -> str:
    """An SI value as an owner would write it in a unit, to nine digits and without an exponent."""
    number = float(f"{convert(value, unit, entry.dimension):.9g}")
    return f"{np.format_float_positional(number, trim='-')} {unit}".strip()


@st.composite
def _quantity_texts(draw: DrawFn, entry: Entry, *, believable: bool = False) -> str:
    unit = draw(st.sampled_from(unit_symbols(entry)))
    shape = draw(st.integers(0, 9))
    if believable or shape < 6:
        return written(draw(numbers_in_limits(entry)), unit, entry)
    if shape < 8:
        low, best, high = sorted(draw(st.lists(numbers_in_limits(entry), min_size=3, max_size=3)))
        return f"{written(best, unit, entry)} ({written(low, unit, entry)} to {written(high, unit, entry)})"
    if shape == 8:
        return written(draw(numbers_out_of_limits(entry)), unit, entry)
    return draw(st.sampled_from(["", "?", "not known", "twelve", "3", "0", "-1", "1,500", "1e30", "12 m", "7 t"]))


def texts(entry: Entry) -> SearchStrategy[str]:
    """Whatever an owner can write in a field, most of it to be understood."""
    match entry.kind:
        case Kind.QUANTITY:
            return _quantity_texts(entry)
        case Kind.QUANTITIES:
            one = _quantity_texts(entry, believable=True)
            several = st.lists(one, max_size=5).map("; ".join)
            return st.one_of(several, several, _quantity_texts(entry))
        case Kind.CHOICE:
            return st.one_of(*[st.sampled_from(entry.choices)] * 8, st.sampled_from(["", "?", "of another kind"]))
        case Kind.COUNT:
            assert entry.limits is not None
            low, high = (round(limit) for limit in entry.limits)
            believable = st.integers(low, high).map(str)
            return st.one_of(believable, believable, st.sampled_from(["", "?", str(low - 1), str(high + 1), "2.5"]))
        case Kind.DAY:
            days = st.dates(date(1990, 1, 1), date(2060, 12, 31)).map(str)
            return st.one_of(days, days, st.sampled_from(["", "3 May 2026", "5/3/2026", "soon"]))
        case Kind.TEXT:
            return st.sampled_from(["", "one", "two", "[/x] [kW]", "a name that is a good deal longer than a line"])


# a plan that hangs together

_DECISIVE = frozenset(
    ("gear.ratio", "propeller.diameter", "propeller.pitch", "propeller.area_ratio", "power.method", "power.wave_height")
)
"""Drawn by themselves these stop most plans, and nothing is asked of the pages behind; they are drawn less often."""
_RATIOS = st.sampled_from([(0.8, 1.0, 1.25), (0.7, 0.85, 1.0, 1.2), (1.0,), (0.5, 2.0)])
"""Ratios on offer, as shares of one that suits."""


def _row_texts(table: str, index: int, row: Mapping[str, str]) -> dict[str, str]:
    return {f"{table}.{index}.{name}": text for name, text in row.items()}


@st.composite
def plausible_texts(draw: DrawFn) -> dict[str, str]:
    """Path -> text for a boat of 5 to 24 m whose numbers go together, with all that a complete plan needs.

    Proportions and powers are rough and ours, the shaft speed for a diameter is the handbook's rule turned round: most
    of these plans get through the whole chain.
    """

    def between(low: float, high: float) -> float:
        return draw(st.floats(low, high))

    def one_of(*choices: str) -> str:
        return draw(st.sampled_from(choices))

    length = between(5.0, 24.0)
    beam = length / between(2.4, 4.8)
    draft = max(beam / between(2.5, 5.5), 0.25)
    mass = between(0.3, 0.55) * 1025.0 * length * beam * draft
    hull_speed_kn = 2.43 * length**0.5
    top_kn = hull_speed_kn * between(0.75, 1.05)
    place = draw(st.sampled_from(entry_at("hull.propeller_place").choices))
    screws = 2 if place.startswith("twin") else 1
    power_kw = min(max(mass / 1000.0 * between(1.0, 3.5) / screws, 3.0), 900.0)
    rated_rpm = between(1500.0, 3600.0)
    room = min(max(between(0.75, 1.25) * draft, 0.3), 2.8)
    shaft_speed = (float(handbook.diameter(1e3 * power_kw, 1.0)) / (0.8 * room)) ** (1.0 / 0.6)
    ratio = min(max(rated_rpm * RPM / shaft_speed, 1.0), 8.0)
    plan = {
        "hull.kind": draw(st.sampled_from(entry_at("hull.kind").choices)),
        "hull.waterline_length": f"{length:.3f} m",
        "hull.waterline_beam": f"{beam:.3f} m",
        "hull.hull_draft": f"{draft:.3f} m",
        "hull.displacement": f"{mass:.0f} kg",
        "hull.keel_draft": f"{draft * between(1.1, 2.0):.3f} m",
        "hull.windage_area": f"{min(beam * beam * between(0.6, 1.4), 75.0):.2f} m2",
        "hull.propeller_place": place,
        "hull.screws": str(screws),
        "present.engine_weight": f"{max(20.0, 0.04 * mass):.0f} kg",
        "present.gear_ratio": one_of("2", "2.5:1"),
        "present.propeller_diameter": f"{min(0.85 * room, 1.9):.3f} m",
        "present.propeller_pitch": f"{min(0.6 * room, 2.4):.3f} m",
        "present.propeller_blades": one_of("2", "3", "4"),
        "present.shaft_diameter": f"{1000.0 * min(max(room / 18.0, 0.015), 0.19):.0f} mm",
        "speed.cruise": f"{top_kn * between(0.7, 0.95):.2f} kn",
        "speed.top": f"{top_kn:.2f} kn",
        "power.sea_margin": one_of("0 %", "15 %", "30 %"),
        "gear.ratios": "; ".join(f"{min(max(share * ratio, 1.0), 8.0):.3f}" for share in draw(_RATIOS)),
        "gear.rating": f"{power_kw / rated_rpm * 100.0 * between(0.8, 3.0):.3f} kW per 100 rpm",
        "propeller.room": f"{room:.3f} m",
        "shaft.span": f"{between(0.4, 2.5):.2f} m",
        "shaft.overhang": f"{between(50.0, 250.0):.0f} mm",
        "shaft.propeller_weight": f"{max(1.0, 40.0 * room**3):.1f} kg",
        "range.tank": f"{min(max(mass / 25.0, 20.0), 15000.0):.0f} L",
        "range.leg": f"{between(5.0, 800.0):.0f} nmi",
        "fit.exhaust_bore": f"{between(40.0, 150.0):.0f} mm",
        "fit.exhaust_length": f"{between(1.0, 10.0):.1f} m",
        "fit.present_place": f"{0.4 * length:.2f} m",
        "fit.new_place": f"{0.45 * length:.2f} m",
    }
    candidate = {
        "name": "one",
        "rated_power": f"{power_kw:.2f} kW",
        "rated_speed": f"{rated_rpm:.0f} rpm",
        "weight": f"{min(max(20.0, 9.0 * power_kw), 5500.0):.0f} kg",
        "duty": draw(st.sampled_from(entry_at("engine.candidate.0.duty").choices)),
    }
    motor = {
        "name": "two",
        "rated_power": f"{min(0.8 * power_kw, 450.0):.2f} kW",
        "rated_speed": f"{rated_rpm * between(0.8, 1.25):.0f} rpm",
        "battery": f"{min(max(2.0 * power_kw, 2.0), 1800.0):.1f} kWh",
    }
    if draw(st.booleans()):
        motor["generator_power"] = f"{min(max(0.5 * power_kw, 1.0), 450.0):.2f} kW"
    kinds = draw(st.sampled_from([("candidate",), ("candidate", "motor"), ("motor",)]))
    for kind in kinds:
        plan |= _row_texts(f"engine.{kind}", 0, candidate if kind == "candidate" else motor)
    plan["engine.chosen"] = {"candidate": "one", "motor": "two"}[draw(st.sampled_from(kinds))]
    for index in range(draw(st.integers(0, 3))):
        share = 0.6 + 0.15 * index
        row = {"engine_speed": f"{share * 2600.0:.0f} rpm", "speed": f"{min(share * top_kn, 19.0):.2f} kn"}
        plan |= _row_texts("present.log", index, row)
    return plan


def plan_of(written_texts: Mapping[str, str], units: str = "metric") -> Plan:
    """A plan with texts by path, in their order; tables have as many rows as the paths ask for."""
    return with_texts(Plan(name="Drawn", units=units), written_texts)


def with_texts(plan: Plan, written_texts: Mapping[str, str]) -> Plan:
    """A plan with these texts too."""
    for path, text in written_texts.items():
        section, *rest = path.split(".")
        if len(rest) == 3:
            while len(getattr(getattr(plan, section), rest[0])) <= int(rest[1]):
                plan = with_row(plan, f"{section}.{rest[0]}")
        plan = with_text(plan, path, text)
    return plan


@st.composite
def plausible_plans(draw: DrawFn) -> Plan:
    """A plan that hangs together, in either units."""
    return plan_of(draw(plausible_texts()), draw(st.sampled_from(["metric", "imperial"])))


@st.composite
def contradictory_plans(draw: DrawFn) -> Plan:
    """A plan that hangs together but for one to five fields, and a row more here and there."""
    plan = draw(plausible_plans())
    for table in draw(st.lists(st.sampled_from(TABLES), max_size=2)):
        if len(getattr(getattr(plan, table.split(".")[0]), table.split(".")[1])) < MOST_ROWS:
            plan = with_row(plan, table)
    fields = [path for section in SECTIONS for path in paths(plan, section)]
    for path in draw(st.lists(st.sampled_from(fields), min_size=1, max_size=5)):
        plan = with_text(plan, path, draw(texts(entry_at(path))))
    return plan


@st.composite
def fuller_plans(draw: DrawFn) -> Plan:
    """A plan that hangs together in what is needed, with values that can be believed in most of its other fields."""
    needed = draw(plausible_texts())
    plan = plan_of(needed, draw(st.sampled_from(["metric", "imperial"])))
    for table in draw(st.lists(st.sampled_from(TABLES), max_size=4)):
        if len(getattr(getattr(plan, table.split(".")[0]), table.split(".")[1])) < MOST_ROWS:
            plan = with_row(plan, table)
    often = draw(st.integers(1, 3))
    for section in SECTIONS:
        for path in paths(plan, section):
            is_held = path in needed or path in _DECISIVE
            if draw(st.integers(0, 19)) == 0 if is_held else draw(st.integers(0, 3)) < often:
                plan = with_text(plan, path, draw(_believable(entry_at(path))))
    return plan


def _believable(entry: Entry) -> SearchStrategy[str]:
    return _quantity_texts(entry, believable=True) if entry.kind is Kind.QUANTITY else texts(entry)


@st.composite
def wild_plans(draw: DrawFn) -> Plan:
    """A plan in which every field is drawn by itself, whatever the others say, and tables have none to four rows."""
    plan = Plan(name="Drawn", units=draw(st.sampled_from(["metric", "imperial"])))
    for table in TABLES:
        for _ in range(draw(st.integers(0, MOST_ROWS))):
            plan = with_row(plan, table)
    for section in SECTIONS:
        for path in paths(plan, section):
            entry = entry_at(path)
            if entry.needed or draw(st.booleans()):
                plan = with_text(plan, path, draw(_believable(entry)))
    return plan


def any_plans() -> SearchStrategy[Plan]:
    """Plans of all sorts; most of them get through the whole chain."""
    return st.one_of(
        contradictory_plans(),
        contradictory_plans(),
        contradictory_plans(),
        fuller_plans(),
        fuller_plans(),
        wild_plans(),
    )

"""The usual range of a field: right by hand, following what the plan says, silent where it says nothing."""

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from engine.data import table
from engine.entries import Kind, entries
from engine.machinery.electric import BATTERY_KINDS
from engine.plan import SECTIONS, Plan, entry_at, paths, with_row, with_text, with_value
from engine.planfile import load_plan
from engine.sections.electric import Motor
from engine.sections.engine import Candidate
from engine.sections.hull import BOAT_KINDS
from engine.units import Quantity, convert
from engine.usual import RULES, Typical, typical

Change = Callable[[Plan, dict[str, str]], Plan]
FIELDS = tuple(name for name, entry in table("typical").items() if isinstance(entry, Mapping))
DEMONSTRATIONS = ("bittern", "mirabel", "two-sisters", "dunlin")


def with_index(name: str) -> str:
    """The path of a field in the first row, where it stands in a table."""
    return name.replace("candidate.", "candidate.0.").replace("motor.", "motor.0.")


def known(plan: Plan, path: str) -> Typical:
    found = typical(plan, path)
    assert found is not None, path
    return found


def shown(plan: Plan, path: str, unit: str) -> tuple[float, float]:
    found, entry = known(plan, path), entry_at(path)
    return convert(found.low, unit, entry.dimension), convert(found.high, unit, entry.dimension)


@pytest.fixture(scope="module")
def complete(launch: Plan, change: Change) -> Plan:
    """The launch with everything that a range is worked out from."""
    more = {
        "present.engine_power": "40 hp",
        "present.propeller_diameter": "18 in",
        "present.propeller_blades": "3",
        "engine.candidate.0.swept_volume": "1.6 L",
        "engine.motor.0.name": "motor",
        "engine.motor.0.battery": "40 kWh",
        "propeller.diameter": "19 in",
    }
    return change(with_row(launch, "engine.motor"), more)


@pytest.mark.parametrize("name", FIELDS)
def test_every_entry_gives_a_range_to_a_complete_plan(complete: Plan, name: str) -> None:
    found = known(complete, with_index(name))
    assert found.low < found.high
    assert len(found.source) > 10
    assert found.source.isascii()


def test_entries_and_rules_belong_together() -> None:
    data = table("typical")
    assert {name for name in FIELDS if "between" not in data[name]} == set(RULES)
    assert len(FIELDS) >= 25
    for name in FIELDS:
        section, *rest = name.split(".")
        kind = {"candidate": Candidate, "motor": Motor}[rest[0]] if len(rest) == 2 else SECTIONS[section]
        assert entries(kind)[rest[-1]].kind in (Kind.QUANTITY, Kind.QUANTITIES), name


# By hand: a launch of 11.2 m (36.745 ft), 3.1 m, 0.65 m and 9 t (8.858 long tons, 19 842 lb), volume 8.772 m3.
@pytest.mark.parametrize(
    ("path", "unit", "low", "high"),
    [
        ("hull.waterline_beam", "m", 11.2 / 5.0, 11.2 / 3.3),
        ("hull.waterline_length", "m", 30.48 * (8.858 / 230.0) ** (1 / 3), 30.48 * (8.858 / 120.0) ** (1 / 3)),
        ("hull.displacement", "kg", 6049.0, 11594.0),
        ("hull.hull_draft", "m", 8.772 / (11.2 * 3.1 * 0.46), 8.772 / (11.2 * 3.1 * 0.33)),
        ("hull.prismatic", "", 0.54, 0.60),
        ("hull.appendage_area", "m2", 0.20 * 25.87, 0.35 * 25.87),
        ("speed.cruise", "kn", 6.062, 6.971),
        ("speed.top", "kn", 6.971, 8.123),
        ("power.wake", "", 0.18, 0.30),
        ("engine.candidate.0.rated_power", "hp", 24.88, 43.97),
        ("engine.candidate.0.weight", "kg", 0.7 * 228.1, 1.3 * 228.1),
        ("engine.candidate.0.governed_speed", "rpm", 2940.0, 3080.0),
        ("engine.motor.0.battery_weight", "kg", 40_000.0 / 120.0, 40_000.0 / 90.0),
        ("engine.motor.0.chain_efficiency", "%", 78.65, 88.47),
        ("engine.intake_air", "C", 40.0, 55.0),
        ("present.shaft_diameter", "in", 18.0 / 17.5, 18.0 / 14.0),
        ("present.gear_ratio", ":1", 1.8, 3.0),
        ("propeller.pitch", "in", 19.0 * 0.39 * 7.8**0.23, 19.0 * 0.52 * 7.8**0.28),
        ("propeller.diameter", "in", 632.7 * 38.44**0.2 / 1400**0.6, 632.7 * 38.44**0.2 / 933.3**0.6),
        ("shaft.span", "m", 0.6, 1.2),
        ("fit.exhaust_bore", "mm", 60.0, 76.0),
        ("fit.radiated_heat", "kW", 30.0 * 0.25 * 42.7 / 3.6 * 0.03, 30.0 * 0.25 * 42.7 / 3.6 * 0.06),
        ("fit.inlet_bore", "mm", 4.61 * math.sqrt(24.0 / 2.0), 4.61 * math.sqrt(45.0 / 1.5)),
        ("fit.cranking_current", "A", 192.0, 288.0),
    ],
)
def test_a_launch_by_hand(complete: Plan, path: str, unit: str, low: float, high: float) -> None:
    assert shown(complete, path, unit) == pytest.approx((low, high), rel=1e-3)


# By hand: a semi-displacement boat of 12 m (39.37 ft) and 14 t: displacement-length ratio 225.8, limit 1.531.
@pytest.mark.parametrize(
    ("path", "unit", "low", "high"),
    [
        ("hull.waterline_beam", "m", 12.0 / 3.6, 12.0 / 2.9),
        ("hull.displacement", "kg", 11160.0, 19841.0),
        ("hull.buoyancy_centre", "% L", -6.0, -3.0),
        ("speed.cruise", "kn", 6.275, 7.216),
        ("speed.top", "kn", 8.408, 9.606),
        ("power.thrust_deduction", "", 0.04, 0.10),
    ],
)
def test_a_semi_displacement_yacht_by_hand(change: Change, path: str, unit: str, low: float, high: float) -> None:
    yacht = {
        "hull.kind": "semi-displacement motor yacht",
        "hull.waterline_length": "12 m",
        "hull.displacement": "14 t",
        "hull.propeller_place": "twin screws on struts",
    }
    plan = change(Plan(), yacht)
    assert shown(plan, path, unit) == pytest.approx((low, high), rel=1e-3)


@pytest.mark.parametrize(
    ("path", "of", "texts", "rises"),
    [
        ("hull.waterline_beam", "hull.waterline_length", ("8 m", "10 m", "12 m", "14 m"), True),
        ("hull.displacement", "hull.waterline_length", ("8 m", "10 m", "12 m", "14 m"), True),
        ("hull.hull_draft", "hull.displacement", ("5 t", "8 t", "11 t"), True),
        ("hull.hull_draft", "hull.waterline_beam", ("2.5 m", "3 m", "3.5 m"), False),
        ("speed.top", "hull.waterline_length", ("8 m", "10 m", "12 m", "14 m"), True),
        ("engine.candidate.0.rated_power", "hull.displacement", ("5 t", "8 t", "11 t"), True),
        ("engine.candidate.0.weight", "engine.candidate.0.rated_power", ("10 kW", "30 kW", "90 kW"), True),
        ("propeller.diameter", "engine.candidate.0.rated_speed", ("2200 rpm", "2800 rpm", "3600 rpm"), False),
        ("present.propeller_pitch", "speed.top", ("6 kn", "7 kn", "8 kn"), True),
        ("fit.exhaust_bore", "engine.candidate.0.rated_power", ("10 kW", "40 kW", "120 kW"), True),
    ],
)
def test_a_range_follows_what_it_depends_on(
    complete: Plan, path: str, of: str, texts: tuple[str, ...], rises: bool
) -> None:
    found = [known(with_text(complete, of, text), path) for text in texts]
    for ends in ([item.low for item in found], [item.high for item in found]):
        assert sorted(set(ends), reverse=not rises) == ends


def test_each_of_two_engines_has_half_of_the_power(complete: Plan) -> None:
    one, two = (known(with_text(complete, "hull.screws", n), "present.engine_power") for n in ("1", "2"))
    assert (two.low, two.high) == pytest.approx((one.low / 2.0, one.high / 2.0))


def test_an_empty_plan_knows_only_what_depends_on_nothing() -> None:
    plan = with_row(with_row(Plan(), "engine.candidate"), "engine.motor")
    for path in ("hull.waterline_beam", "hull.prismatic", "speed.top", "engine.candidate.0.rated_power", "shaft.span"):
        assert typical(plan, path) is None, path
    assert typical(plan, "propeller.tip_clearance") == Typical(
        0.1, 0.2, table("typical")["propeller.tip_clearance"]["source"]
    )
    assert typical(Plan(), "fit.exhaust_bore") is None


@pytest.mark.parametrize(
    "path",
    ["hull.windage_area", "hull.kind", "fit.room_length", "hull.nothing", "nowhere.at_all", "hull", "", "source",
     "engine.candidate.9.weight", "engine.candidate.x.weight", "engine.candidate", "hull.0", "0.hull.prismatic"],
)  # fmt: skip
def test_there_is_no_range_where_none_is_known_or_no_field_is(complete: Plan, path: str) -> None:
    assert typical(complete, path) is None


def test_there_is_no_range_where_the_data_have_none(complete: Plan, change: Change) -> None:
    assert typical(change(complete, {"hull.kind": "fin-keel sailing yacht", "hull.propeller_place": "behind a skeg"}),
                   "hull.appendage_area") is None  # fmt: skip
    assert typical(change(complete, {"engine.candidate.0.rated_power": "60 kW"}), "fit.fuel_line_bore") is None
    assert typical(change(complete, {"engine.candidate.0.rated_power": "900 kW"}), "engine.candidate.0.weight") is None
    assert typical(change(complete, {"shaft.use": "yacht used lightly"}), "shaft.safety_factor") is None
    mean_width = {"propeller.area_measure": "mean-width ratio of a blade"}
    assert typical(change(complete, mean_width), "propeller.area_ratio") is None


def test_an_electric_drive_has_belts_and_no_exhaust(complete: Plan) -> None:
    plan = with_text(complete, "engine.chosen", "motor")
    assert shown(plan, "gear.ratio", ":1") == pytest.approx((1.5, 3.5))
    for path in ("fit.exhaust_bore", "fit.radiated_heat", "fit.fuel_line_bore", "fit.cranking_current"):
        assert typical(plan, path) is None, path


@pytest.mark.parametrize("text", ["", "many", "-3 m", "1e9 km", "nan"])
def test_what_is_empty_or_not_understood_is_no_ground_for_a_range(complete: Plan, text: str) -> None:
    plan = with_text(complete, "hull.waterline_length", text)
    for path in ("hull.waterline_beam", "hull.displacement", "speed.cruise", "hull.hull_draft"):
        assert typical(plan, path) is None, path


@pytest.mark.parametrize("absurd", [0.0, -1.0, 1e-300, 1e300, math.inf, -math.inf, math.nan])
def test_absurd_numbers_never_raise(complete: Plan, absurd: float) -> None:
    plan: Any = complete
    for section in SECTIONS:
        for path in paths(complete, section):
            kind = entry_at(path).kind
            if kind is Kind.QUANTITY:
                plan = with_value(plan, path, Quantity(absurd, str(absurd)))
            elif kind is Kind.QUANTITIES:
                plan = with_value(plan, path, (Quantity(absurd, str(absurd)), Quantity(1.0, "1")))
    for name in FIELDS:
        found = typical(plan, with_index(name))
        assert found is None or found.low < found.high
    ratios = (Quantity(absurd, str(absurd)), Quantity(1.0, "1"))
    found = typical(with_value(complete, "gear.ratios", ratios), "propeller.diameter")
    assert found is not None
    assert found.low < found.high
    strange = replace(plan, hull=replace(plan.hull, kind="airship", propeller_place="aloft", screws=-4))
    assert typical(strange, "hull.prismatic") is None
    assert typical(strange, "power.wake") is None


@pytest.mark.parametrize("blades", ["2", "3", "4"])
@pytest.mark.parametrize("wheel", ["present.propeller_", "propeller."])
def test_wheels_of_two_to_four_blades_have_their_usual_areas(complete: Plan, wheel: str, blades: str) -> None:
    """A range the wrong way round is not shown, and nobody would miss it; more blades have more area."""
    areas = [known(with_text(complete, f"{wheel}blades", each), f"{wheel}area_ratio") for each in (blades, "3")]
    assert areas[0].low < areas[0].high
    assert (areas[0].high < areas[1].low, areas[0].low > areas[1].high) == (blades == "2", blades == "4")


@pytest.mark.parametrize("battery", BATTERY_KINDS)
@pytest.mark.parametrize("name", ["usable", "chain_efficiency", "battery_weight"])
def test_every_kind_of_battery_has_its_ranges(complete: Plan, battery: str, name: str) -> None:
    """But for the usable share of nickel manganese cobalt, of which there is no figure of its own."""
    found = typical(with_text(complete, "engine.motor.0.battery_kind", battery), f"engine.motor.0.{name}")
    if (name, battery) == ("usable", "lithium nickel manganese cobalt"):
        assert found is None
    else:
        assert found is not None
        assert found.low < found.high


@pytest.mark.parametrize("kind", BOAT_KINDS)
def test_every_kind_of_boat_has_her_ranges(complete: Plan, kind: str) -> None:
    plan = with_text(complete, "hull.kind", kind)
    for name in FIELDS:
        if name.startswith("hull.") and name != "hull.appendage_area":
            assert known(plan, name).low < known(plan, name).high


@pytest.mark.parametrize("boat", DEMONSTRATIONS)
def test_demonstrations_have_sensible_ranges(root: Path, boat: str) -> None:
    plan = load_plan(root / "saved_plans" / f"{boat}.toml")
    found = {path: typical(plan, path) for section in SECTIONS for path in paths(plan, section)}
    given = {path: item for path, item in found.items() if item is not None}
    assert len(given) >= 25
    for path, item in given.items():
        limits = entry_at(path).limits
        assert limits is not None
        assert limits[0] <= item.low < item.high <= limits[1], path
    for name in ("waterline_length", "waterline_beam", "hull_draft", "displacement"):
        item = known(plan, f"hull.{name}")
        assert item.low <= getattr(plan.hull, name).si <= item.high, name

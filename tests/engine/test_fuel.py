"""Behaviour of fuel burned."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.constants import HOUR, LITRE, RPM
from engine.machinery.diesel import ENGINE_KINDS, DieselEngine, EngineKind
from engine.machinery.duty_cycles import DUTY_CYCLES
from engine.machinery.fuel import (
    CONSUMPTION_RULES,
    DIESEL,
    FUELS,
    G_PER_KWH,
    check_fuel_rate,
    cycle_specific_consumption,
    fuel_rate,
    full_load_consumption,
    litres_per_hour,
)
from engine.machinery.fuel_maps import fuel_map

RATED_POWER, RATED_SPEED = 60e3, 2800 * RPM


def engine_of(kind: EngineKind) -> DieselEngine:
    return DieselEngine(rated_power=RATED_POWER, rated_speed=RATED_SPEED, kind=kind)


@pytest.mark.parametrize(("kind", "grams"), list(zip(ENGINE_KINDS, (275.0, 250.0, 225.0, 210.0), strict=True)))
def test_each_kind_burns_its_default_at_rated_power(kind: EngineKind, grams: float) -> None:
    rate = fuel_rate(engine_of(kind), RATED_POWER, RATED_SPEED)
    assert rate / RATED_POWER / G_PER_KWH == pytest.approx(grams, rel=1e-9)


def test_the_data_sheets_consumption_comes_first() -> None:
    engine = DieselEngine(RATED_POWER, RATED_SPEED, "turbocharged", specific_consumption=218 * G_PER_KWH)
    assert full_load_consumption(engine) == pytest.approx(218 * G_PER_KWH)
    assert fuel_rate(engine, RATED_POWER, RATED_SPEED) == pytest.approx(218 * G_PER_KWH * RATED_POWER)


@given(st.sampled_from(ENGINE_KINDS), st.floats(0.05, 1.1), st.floats(0.0, 1.3), st.floats(1e-3, 0.2))
def test_more_power_at_one_speed_always_burns_more(kind: EngineKind, x: float, torque: float, more: float) -> None:
    engine = engine_of(kind)
    low, high = (t * x * RATED_POWER for t in (torque, torque + more))
    assert fuel_rate(engine, high, x * RATED_SPEED) > fuel_rate(engine, low, x * RATED_SPEED)


@pytest.mark.parametrize("kind", ENGINE_KINDS)
def test_fuel_does_not_follow_the_cube_of_speed_even_where_power_does(kind: EngineKind) -> None:
    # A trap: at half speed the power is an eighth, but friction and heat loss are not.
    engine = engine_of(kind)
    at_half = fuel_rate(engine, RATED_POWER / 8.0, RATED_SPEED / 2.0)
    assert at_half / np.asarray(fuel_rate(engine, RATED_POWER, RATED_SPEED)) > 1.1 / 8.0


@pytest.mark.parametrize("kind", ENGINE_KINDS)
def test_along_the_propeller_line_each_kilowatt_hour_costs_more_the_slower_she_goes(kind: EngineKind) -> None:
    engine = engine_of(kind)
    x = np.array([0.8, 0.7, 0.6, 0.5, 0.4])
    over_cube = np.asarray(fuel_rate(engine, RATED_POWER * x**3, RATED_SPEED * x)) / x**3
    assert np.all(np.diff(over_cube) > 0.0)
    assert over_cube[-1] > 1.15 * np.asarray(fuel_rate(engine, RATED_POWER, RATED_SPEED))


@pytest.mark.parametrize("kind", ENGINE_KINDS)
def test_the_makers_own_curve_comes_before_the_map_and_the_full_load_figure(kind: EngineKind) -> None:
    """Even one that no map would give: burning with the cube of speed, at half of the map's rate."""
    x = np.array([0.4, 0.6, 0.8, 1.0])
    rates = 0.5 * np.asarray(fuel_rate(engine_of(kind), RATED_POWER, RATED_SPEED)) * x**3
    points = tuple(zip((x * RATED_SPEED).tolist(), rates.tolist(), strict=True))
    engine = DieselEngine(
        RATED_POWER, RATED_SPEED, kind, specific_consumption=300 * G_PER_KWH, propeller_fuel_curve=points
    )
    assert np.asarray(fuel_rate(engine, RATED_POWER * x**3, RATED_SPEED * x)) == pytest.approx(rates, rel=1e-9)


@pytest.mark.parametrize("kind", ENGINE_KINDS)
def test_a_running_engine_burns_fuel_without_load_and_a_stopped_one_none(kind: EngineKind) -> None:
    engine = engine_of(kind)
    speeds = np.array([0.2, 0.5, 1.0]) * RATED_SPEED
    assert np.all(np.asarray(fuel_rate(engine, 0.0, speeds)) > 0.0)
    assert fuel_rate(engine, 0.0, 0.0) == 0.0


@pytest.mark.parametrize("name", ["A", "B", "C", "D"])
def test_the_map_is_hit_at_its_own_cells(name: str) -> None:
    shape = fuel_map(name)
    kinds: dict[str, EngineKind] = {
        "A": "indirect injection", "B": "turbocharged", "C": "direct injection", "D": "turbocharged and charge-cooled"
    }  # fmt: skip
    engine = engine_of(kinds[name])
    x, t = shape.speed_fraction[:, None], shape.torque_fraction
    found = np.asarray(fuel_rate(engine, x * t * RATED_POWER, x * RATED_SPEED))
    expected = full_load_consumption(engine) * RATED_POWER * x * shape.fuel_per_revolution
    assert found == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(
    ("kind", "map_speed", "edge", "share"),
    [
        ("direct injection", 1000 / 3000, 120 / 368, 14.12 / (14.12 + 205.717 * (1000 / 3000) * (120 / 368))),
        ("indirect injection", 2000 / 4000, 31.64 / 118.7, 3.0 - 2.0 * (330.0 * 47.46) / (420.0 * 31.64)),
    ],
    ids=["the EPA line, where the map's own is cheaper", "the map's own line, where that is dearer"],
)
def test_below_a_map_the_dearer_of_two_straight_lines_runs_to_no_load(
    kind: EngineKind, map_speed: float, edge: float, share: float
) -> None:
    """By hand, from the row of that speed: fuel without load over fuel at the least torque of the map."""
    engine, power = engine_of(kind), np.array([0.0, 0.25, 0.5, 1.0]) * edge * map_speed * RATED_POWER
    burned = np.asarray(fuel_rate(engine, power, map_speed * RATED_SPEED))
    assert burned / burned[-1] == pytest.approx([share, 0.75 * share + 0.25, 0.5 * share + 0.5, 1.0], rel=1e-9)


@pytest.mark.parametrize("kind", ENGINE_KINDS)
def test_no_engine_idles_on_less_than_a_fiftieth_of_its_full_fuel(kind: EngineKind) -> None:
    """The EPA line says 6.4 % at any speed; a third of that is left at idle where a map knows nothing so slow."""
    engine = engine_of(kind)
    full = np.asarray(fuel_rate(engine, RATED_POWER, RATED_SPEED))
    assert 0.0195 < fuel_rate(engine, 0.0, 0.27 * RATED_SPEED) / full < 0.0642


def test_between_cells_consumption_stays_between_its_neighbours() -> None:
    shape = fuel_map("C")
    engine = engine_of("direct injection")
    x = 0.5 * (shape.speed_fraction[1] + shape.speed_fraction[2])
    t = 0.5 * (shape.torque_fraction[3] + shape.torque_fraction[4])
    per_revolution = fuel_rate(engine, x * t * RATED_POWER, x * RATED_SPEED) / (
        full_load_consumption(engine) * RATED_POWER * x
    )
    corners = shape.fuel_per_revolution[1:3, 3:5]
    assert corners.min() < per_revolution < corners.max()


@pytest.mark.parametrize("kind", ENGINE_KINDS)
def test_no_efficiency_beyond_what_diesels_reach(kind: EngineKind) -> None:
    engine = engine_of(kind)
    x, t = np.linspace(0.2, 1.05, 40)[:, None], np.linspace(0.02, 1.2, 60)
    power = x * t * RATED_POWER
    efficiency = power / (np.asarray(fuel_rate(engine, power, x * RATED_SPEED)) * DIESEL.heating_value)
    assert float(efficiency.max()) < 0.45


def test_makers_propeller_curve_is_met_at_its_points_and_shapes_what_lies_between() -> None:
    speeds = np.array([1400, 2000, 2400, 2800]) * RPM
    litres = np.array([2.6, 6.2, 10.1, 16.0])
    rates = litres * DIESEL.density * LITRE / HOUR
    points = tuple(zip(speeds.tolist(), rates.tolist(), strict=True))
    engine = DieselEngine(RATED_POWER, RATED_SPEED, "turbocharged", propeller_fuel_curve=points)
    on_curve = RATED_POWER * (speeds / RATED_SPEED) ** 3
    assert np.asarray(litres_per_hour(fuel_rate(engine, on_curve, speeds))) == pytest.approx(litres, rel=1e-9)
    off_curve = np.asarray(fuel_rate(engine, 0.8 * on_curve, speeds))
    assert np.all((off_curve < rates) & (off_curve > 0.8 * rates))


def test_a_broadcast_of_boats_by_speeds() -> None:
    powers, speeds = np.full((7, 1), 20e3), np.linspace(20.0, 45.0, 5)
    assert np.shape(fuel_rate(engine_of("turbocharged"), powers, speeds)) == (7, 5)
    assert isinstance(fuel_rate(engine_of("turbocharged"), 20e3, 40.0), float)
    assert np.isnan(fuel_rate(engine_of("turbocharged"), np.nan, 40.0))


@pytest.mark.parametrize("kind", ENGINE_KINDS)
def test_the_light_cycle_costs_more_for_each_kilowatt_hour(kind: EngineKind) -> None:
    """E5 idles for a third of its time and has half of E3's mean load; both lie above full load's consumption."""
    engine = engine_of(kind)
    light, heavy = (cycle_specific_consumption(engine, DUTY_CYCLES[name]) for name in ("E5", "E3"))
    assert light > heavy > 0.9 * full_load_consumption(engine)


def test_a_cycle_is_its_modes_added_up() -> None:
    """Against fuel and energy added up by hand over the five modes."""
    engine, cycle = engine_of("direct injection"), DUTY_CYCLES["E5"]
    burned = energy = 0.0
    for speed, power, weight in zip(cycle.speed_fraction, cycle.power_fraction, cycle.weight, strict=True):
        turning = speed * RATED_SPEED if speed > 0.0 else 0.27 * RATED_SPEED
        burned += weight * float(fuel_rate(engine, power * RATED_POWER, turning))
        energy += weight * power * RATED_POWER
    assert cycle_specific_consumption(engine, cycle) == pytest.approx(burned / energy)


def test_beyond_the_map_is_reported_not_hidden() -> None:
    engine = engine_of("turbocharged")
    assert check_fuel_rate(engine, 30e3, 2200 * RPM) == ()
    sentences = " ".join(found.sentence() for found in check_fuel_rate(engine, 500.0, 500 * RPM))
    assert "end row" in sentences
    assert "straight line" in sentences


def test_the_edge_of_a_map_is_told_in_figures_that_can_be_read() -> None:
    (_, torque) = check_fuel_rate(engine_of("direct injection"), 500.0, 500 * RPM)
    assert torque.sentence().startswith("The share of the rated torque is outside 0.326 to 1.14; ")


def test_a_default_used_for_the_wrong_size_of_engine_is_reported() -> None:
    found = check_fuel_rate(engine_of("indirect injection"), 40e3, 2600 * RPM)
    assert any("rated power" in record.quantity for record in found)
    last, beyond = (DieselEngine(power, RATED_SPEED, "indirect injection") for power in (40e3, 40.1e3))
    told = [[record.quantity for record in check_fuel_rate(one, 20e3, 2000 * RPM)] for one in (last, beyond)]
    assert told == [[], ["rated power in kW"]]
    known = DieselEngine(RATED_POWER, RATED_SPEED, "indirect injection", specific_consumption=280 * G_PER_KWH)
    assert check_fuel_rate(known, 40e3, 2600 * RPM) == ()


def test_consumption_is_of_the_power_at_the_crankshaft_wherever_the_maker_measures_power() -> None:
    """38.8 kW behind a gear of 0.97 is 40 kW at 250 g/kWh: 10 kg an hour."""
    at_shaft = DieselEngine(
        38.8e3, RATED_SPEED, "direct injection", "propeller shaft", specific_consumption=250 * G_PER_KWH
    )
    assert fuel_rate(at_shaft, 40e3, RATED_SPEED) == pytest.approx(10.0 / 3600.0, rel=1e-9)


def test_power_below_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="power"):
        fuel_rate(engine_of("turbocharged"), -1.0, 40.0)


def test_litres_an_hour_of_a_rate() -> None:
    """5.4925 kg an hour at 0.845 kg to the litre."""
    assert litres_per_hour(5.4925 / 3600, 845.0) == pytest.approx(6.5, rel=1e-12)


def test_diesel_holds_11_86_kilowatt_hours_a_kilogram() -> None:
    assert DIESEL.heating_value / 3.6e6 == pytest.approx(11.861, abs=5e-4)


def test_every_fuel_lies_in_its_printed_density_range() -> None:
    for fuel in FUELS.values():
        assert fuel.density_range is None or fuel.density_range[0] <= fuel.density <= fuel.density_range[1], fuel.name


def test_no_rule_of_thumb_is_impossible() -> None:
    # "0.18 pint per horsepower-hour", often quoted, would be 73 % efficient: none such may slip into the table.
    for rule in CONSUMPTION_RULES:
        efficiency = 1.0 / (np.asarray(rule.specific_consumption(DIESEL.density)) * DIESEL.heating_value)
        assert 0.25 < efficiency < 0.45, rule.text


def test_an_unknown_map_is_refused() -> None:
    with pytest.raises(ValueError, match="name"):
        fuel_map("E")

"""The search of the market against trying everything one by one, its limits, and what it recommends."""

from dataclasses import replace

import numpy as np
import pytest

from engine.constants import INCH, KNOT, RPM
from engine.propeller import market
from engine.propeller.geometry import stock_pitch_step
from engine.propeller.hull_curve import HullCurve
from engine.propeller.market import (
    Blades,
    MarketBoat,
    MarketEngine,
    PlausibleBoats,
    search,
    stock_of,
)
from engine.propeller.ranking import (
    MarketLimits,
    Rule,
    chance_class,
    compared,
    in_order,
    mean_regret,
    nothing_better_follows,
)
from engine.propeller.series import SERIES
from tests.engine.market_by_brute_force import Boat, search_slowly

RHO = 1025.0
SPEEDS = np.linspace(0.0, 10.0, 81)
THRUST = 40.0 * SPEEDS**2 * (1.0 + (SPEEDS / 4.0) ** 4) / 0.8
MIDDLE = HullCurve(SPEEDS, THRUST, 0.78, 1.0, RHO)
BOAT = MarketBoat(MIDDLE, 6.5 * KNOT, 106e3, 1.19e-6)
RATED_SPEED = 3000.0 * RPM
RATIOS = np.array([2.6, 2.8, 3.0])
LIMITS = MarketLimits(largest_diameter=0.56, light_running=0.02, tip_speed=45.0)
GAWN, B_SERIES = SERIES["gawn"], SERIES["wageningen_b"]
KINDS = (Blades(GAWN, 3, 0.55), Blades(GAWN, 4, 0.7), Blades(B_SERIES, 4, 0.6))
STOCK = stock_of(KINDS, INCH * np.arange(18, 23), INCH)


def burn(power, speed):
    """An invented engine: half a litre an hour for each turn in a hundred a minute, and 0.26 L for each kWh."""
    return 0.26e-3 * np.asarray(power) + 0.005 * np.asarray(speed) / RPM * 0.1


ENGINE = MarketEngine(26e3, RATED_SPEED, burn)


def plausible(size=16, resistance=0.08, pitch=0.005, output=0.01, mean_output=1.0, torque=0.0, weighted=False):
    scores = np.random.default_rng(7).standard_normal((6, size))
    hull = HullCurve(
        SPEEDS, THRUST * np.exp(resistance * scores[0])[:, None], 0.78 + 0.02 * scores[1], np.ones(size), RHO
    )
    weights = np.exp(scores[5]) if weighted else np.ones(size)
    return PlausibleBoats(
        hull,
        weights / weights.sum(),
        1.0 + pitch * scores[2],
        mean_output * (1.0 + output * scores[3]),
        1.0 + torque * scores[4],
    )


SETTINGS = {
    "usual": plausible(),
    "weak engine, the top class not reached": plausible(mean_output=0.82),
    "weighted, wide doubt": plausible(resistance=0.3, pitch=0.03, output=0.08, torque=0.03, weighted=True),
}


def slowly(boats, limits=LIMITS, stock=STOCK, engine=ENGINE):
    hull, size = boats.hull, boats.weights.size
    each = [
        Boat(SPEEDS, thrust, float(advance), float(rotative), RHO)
        for thrust, advance, rotative in zip(
            hull.thrust, hull.advance_fraction, hull.relative_rotative_efficiency, strict=True
        )
    ]
    factors = np.broadcast_arrays(boats.pitch_factor, boats.output_factor, boats.torque_factor, np.empty(size))[:3]
    setting = {
        "power": engine.power_at_propeller,
        "rated_speed": engine.rated_speed,
        "burn": engine.burn,
        "cruise": BOAT.cruise_speed,
        "pressure": BOAT.shaft_pressure,
        "viscosity": BOAT.kinematic_viscosity,
        "largest": limits.largest_diameter,
        "wanted": limits.light_running,
        "width": limits.light_width,
        "tip_speed": limits.tip_speed,
    }
    middle = Boat(SPEEDS, THRUST, 0.78, 1.0, RHO)
    return search_slowly(stock, RATIOS, middle, each, list(zip(*factors, strict=True)), boats.weights, setting)


def names(rows):
    return [(row.kind, round(row.diameter, 6), round(row.pitch, 6), row.ratio) for row in rows]


@pytest.mark.parametrize("boats", SETTINGS.values(), ids=SETTINGS.keys())
def test_it_finds_what_trying_everything_finds(boats, monkeypatch):
    expected = slowly(boats)
    everything = search(STOCK, RATIOS, BOAT, boats, ENGINE, LIMITS, rows=1000)
    assert len(expected) == everything.feasible == everything.tried == len(everything.rows) > 20
    assert names(everything.rows) == names(expected)
    for field, slow_field, tolerance in (("burn", "burn", 1e-6), ("light_running", "light", 1e-8)):
        found = [getattr(row, field) for row in everything.rows]
        np.testing.assert_allclose(found, [getattr(row, slow_field) for row in expected], rtol=tolerance, atol=1e-9)
    for field in ("chance", "regret"):
        found = [getattr(row, field) for row in everything.rows]
        np.testing.assert_allclose(found, [getattr(row, field) for row in expected], rtol=1e-6, atol=1e-9)
    monkeypatch.setattr(market, "_COMBINATIONS_AT_ONCE", 3)
    first = search(STOCK, RATIOS, BOAT, boats, ENGINE, LIMITS, rows=4)
    assert names(first.rows) == names(expected[:4])


def test_the_settings_are_of_the_kinds_they_claim(monkeypatch):
    monkeypatch.setattr(market, "_COMBINATIONS_AT_ONCE", 3)
    usual, weak, _ = (search(STOCK, RATIOS, BOAT, boats, ENGINE, LIMITS, rows=4) for boats in SETTINGS.values())
    assert max(row.chance for row in usual.rows) >= 0.9
    assert usual.tried < usual.feasible
    assert max(row.chance for row in weak.rows) < 0.9
    assert weak.tried == weak.feasible
    assert np.ptp(SETTINGS["weighted, wide doubt"].weights) > 0.05
    wide = search(STOCK, RATIOS, BOAT, SETTINGS["weighted, wide doubt"], ENGINE, LIMITS, rows=1000)
    assert len({round(row.chance, 6) for row in wide.rows}) >= 5


def test_too_large_wheels_are_ruled_out_and_the_counts_say_so():
    found = search(STOCK, RATIOS, BOAT, plausible(), ENGINE, replace(LIMITS, largest_diameter=0.5), rows=1000)
    assert max(row.diameter for row in found.rows) <= 0.5
    larger = int((STOCK.diameter > 0.5).sum())
    assert found.ruled_out[Rule.DIAMETER].combinations == larger * RATIOS.size
    without = search(STOCK, RATIOS, BOAT, plausible(), ENGINE, replace(LIMITS, largest_diameter=9.0))
    assert found.feasible + found.ruled_out[Rule.DIAMETER].by_this_alone == without.feasible


@pytest.mark.parametrize(
    ("rule", "limits", "boat"),
    [
        (Rule.DIAMETER, replace(LIMITS, largest_diameter=0.1), BOAT),
        (Rule.OVERLOADS, replace(LIMITS, light_running=2.0), BOAT),
        (Rule.TOO_LIGHT, replace(LIMITS, light_running=-0.9), BOAT),
        (Rule.TIP_SPEED, replace(LIMITS, tip_speed=5.0), BOAT),
        (Rule.BLADE_AREA, LIMITS, replace(BOAT, shaft_pressure=20e3)),
        (Rule.BURN, LIMITS, replace(BOAT, cruise_speed=11.0)),
        (Rule.SPEED, LIMITS, replace(BOAT, hull=HullCurve(SPEEDS[:9], THRUST[:9], 0.78, 1.0, RHO))),
    ],
)
def test_each_limit_can_leave_nothing_and_is_named(rule, limits, boat):
    found = search(STOCK, RATIOS, boat, plausible(), ENGINE, limits)
    assert (found.rows, found.feasible, found.tried) == ((), 0, 0)
    assert found.ruled_out[rule].combinations == found.combinations == STOCK.diameter.size * RATIOS.size
    assert found.ruled_out[rule].by_this_alone > 0 or rule is Rule.SPEED
    assert all(other.by_this_alone == 0 for name, other in found.ruled_out.items() if name is not rule)


def test_nothing_in_stock_is_nothing_found():
    found = search(stock_of([], [0.5], INCH), RATIOS, BOAT, plausible(), ENGINE, LIMITS)
    assert (found.rows, found.wheels, found.combinations) == ((), 0, 0)


def test_the_search_tells_how_far_it_is_and_can_be_stopped(monkeypatch):
    monkeypatch.setattr(market, "_COMBINATIONS_AT_ONCE", 3)
    shares = []
    search(STOCK, RATIOS, BOAT, plausible(), ENGINE, LIMITS, told=shares.append)
    assert shares[0] == 0.0
    assert shares[-1] == 1.0
    assert shares == sorted(shares)
    assert len(shares) > 3

    def stop(share):
        if share > 0.0:
            raise InterruptedError

    with pytest.raises(InterruptedError):
        search(STOCK, RATIOS, BOAT, plausible(), ENGINE, LIMITS, told=stop)


def test_the_stock_has_whole_pitch_steps_within_the_series():
    stock = stock_of([KINDS[0]], [0.36, 0.6], stock_pitch_step)
    low, high = GAWN.pitch_ratio
    assert (stock.pitch / stock.diameter >= low - 1e-9).all()
    assert (stock.pitch / stock.diameter <= high + 1e-9).all()
    small, large = (stock.pitch[stock.diameter == diameter] for diameter in (0.36, 0.6))
    np.testing.assert_allclose(np.diff(small), INCH / 2.0)
    np.testing.assert_allclose(np.diff(large), INCH)
    assert small[0] - INCH / 2.0 < low * 0.36
    assert small[-1] + INCH / 2.0 > high * 0.36


def test_a_chance_counts_in_steps_up_to_enough():
    chance = np.array([0.0, 0.0499, 0.05, 0.849, 0.85, 0.8999, 0.9, 1.0, 1.0 - 1e-12])
    assert chance_class(chance).tolist() == [0, 0, 1, 16, 17, 17, 18, 18, 18]
    assert chance_class(np.array([0.1 + 0.2]))[0] == chance_class(np.array([0.3]))[0]
    assert in_order(np.array([0.7, 0.95, 1.0, 0.72]), np.array([1.0, 3.0, 2.0, 0.5])).tolist() == [2, 1, 3, 0]


def test_only_the_best_class_and_near_equal_burn_is_compared():
    chance, burn = np.array([0.6, 0.95, 1.0, 0.9]), np.array([2.0, 3.0, 3.02, 3.04])
    assert compared(chance, burn).tolist() == [False, True, True, False]


def test_the_search_goes_on_while_a_near_equal_may_follow():
    chance, burn = np.array([1.0, 0.5, 1.0]), np.array([3.0, 3.005, 3.01])
    assert not nothing_better_follows(chance, burn, 3.02, rows=2)
    assert nothing_better_follows(chance, burn, 3.031, rows=2)
    assert not nothing_better_follows(chance, burn, 3.031, rows=3)


def test_regret_is_what_knowing_the_boat_would_have_saved():
    burn_of = np.array([[4.0, 5.0], [4.4, 4.0]])
    light = np.array([[0.02, -0.01], [0.10, 0.03]])
    # losses: 0 and 0.25 + 0.05; 0.1 + 0.04 and 0
    found = mean_regret(burn_of, light, np.array([0.75, 0.25]), most_light=0.06)
    np.testing.assert_allclose(found, [0.25 * 0.30, 0.75 * 0.14])
    unknown = mean_regret(
        np.column_stack([burn_of, [np.nan, 1.0]]), np.ones((2, 3)) * 0.01, np.array([3.0, 1.0, 4.0]), 1
    )
    np.testing.assert_allclose(unknown, [0.25 * 0.25, 0.75 * 0.1])
    assert np.isnan(mean_regret(np.full((2, 1), np.nan), np.zeros((2, 1)), np.ones(1), 1.0)).all()


def test_of_those_too_close_to_call_the_number_of_blades_nearest_to_the_one_asked_for_goes_before_regret():
    kinds = (Blades(B_SERIES, 3, 0.6), Blades(B_SERIES, 4, 0.6), Blades(B_SERIES, 5, 0.6))
    stock = stock_of(kinds, [0.53, 0.54], 0.005)
    found = {
        asked: search(stock, RATIOS, BOAT, plausible(), ENGINE, LIMITS, rows=1000, blades_asked=asked)
        for asked in (None, 2, 3, 4, 5)
    }
    close = [row for row in found[None].rows if np.isfinite(row.regret)]
    least = {
        blades: min(row.regret for row in close if kinds[row.kind].blades == blades)
        for blades in {kinds[row.kind].blades for row in close}
    }
    assert found[None].rows[0].regret == min(least.values())
    assert len(least) > 1
    for asked in (2, 3, 4, 5):
        recommended, *others = found[asked].rows
        nearest = min(least, key=lambda blades: abs(blades - asked))
        assert (kinds[recommended.kind].blades, recommended.regret) == (nearest, least[nearest])
        assert sorted(names(others)) == sorted(names(row for row in found[None].rows if row != recommended))


def test_of_wheels_equal_on_the_middle_the_one_with_less_regret_is_recommended():
    """Fuel by power alone makes neighbouring pitches equal, and the chance is the same; what tells them apart is one
    boat of a small weight whose engine is far weaker: the coarser the pitch, the more it is overloaded there."""
    stock = stock_of([KINDS[2]], [0.53], 0.002)
    hull = HullCurve(SPEEDS, np.tile(THRUST, (2, 1)), np.array([0.78, 0.78]), np.ones(2), RHO)
    boats = PlausibleBoats(hull, np.array([0.905, 0.095]), output_factor=np.array([1.0, 0.75]))
    engine = MarketEngine(26e3, RATED_SPEED, lambda power, speed: 0.26e-3 * np.asarray(power) + 0.0 * np.asarray(speed))
    found = search(stock, np.array([3.1]), BOAT, boats, engine, replace(LIMITS, light_width=0.06), rows=1000)
    close = [row for row in found.rows if np.isfinite(row.regret)]
    recommended, least_burn = found.rows[0], min(close, key=lambda row: row.burn)
    assert {round(row.chance, 9) for row in close} == {0.905}
    assert recommended.regret == min(row.regret for row in close)
    assert recommended.regret < 0.9 * least_burn.regret
    assert 1.003 * least_burn.burn < recommended.burn <= 1.01 * least_burn.burn
    assert [row.burn for row in found.rows[1:]] == sorted(row.burn for row in found.rows[1:])

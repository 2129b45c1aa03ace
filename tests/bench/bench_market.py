"""How long a search of the market takes: 15,000 wheels with ten ratios on 512 boats, in four cases.

Points: each wheel with each ratio at rated power and at cruise, and those tried on each boat. Two baselines of the same
run: a bare loop over as many points, and a solver that finds where a wheel takes rated power, once for each.
"""

import time
from collections.abc import Iterator

import numpy as np

from engine.constants import INCH, KNOT, RPM, TWO_PI
from engine.machinery.diesel import DieselEngine
from engine.machinery.fuel import DIESEL, fuel_rate, litres_per_hour
from engine.numeric import Real
from engine.propeller.hull_curve import HullCurve
from engine.propeller.market import (
    Blades,
    MarketBoat,
    MarketEngine,
    PlausibleBoats,
    Stock,
    search,
    stock_of,
)
from engine.propeller.ranking import MarketLimits
from engine.propeller.series import SERIES
from tests.bench.lines import Line, Target, alternating, beside

PASSES, SOLVED = 10, 2000
BOATS = 512
RATIOS = np.array([1.5, 1.75, 2.0, 2.25, 2.5, 2.75, 3.0, 3.25, 3.5, 4.0])
RATED_SPEED = 3000.0 * RPM
SPEEDS = np.linspace(0.0, 7.0, 57)
RESISTANCE = 40.0 * SPEEDS**2 * (1.0 + (SPEEDS / 4.0) ** 4)
DIESEL_ENGINE = DieselEngine(rated_power=40e3, rated_speed=RATED_SPEED, kind="indirect injection")
LIMITS = MarketLimits(largest_diameter=0.72, light_running=0.03, tip_speed=39.0)
LAX_LIMITS = MarketLimits(largest_diameter=1.0, light_running=0.0, tip_speed=60.0, light_width=0.12)


def burn(power: Real, speed: Real) -> Real:
    return litres_per_hour(fuel_rate(DIESEL_ENGINE, power, speed), DIESEL.density)


ENGINE = MarketEngine(36e3, RATED_SPEED, burn)
BOAT = MarketBoat(HullCurve(SPEEDS, RESISTANCE / 0.8, 0.78, 1.0, 1025.0), 6.5 * KNOT, 106e3, 1.19e-6)


def stock() -> Stock:
    """15,000 wheels and more: ten kinds, 24 diameters, half-inch pitches."""
    kinds = [Blades(SERIES["gawn"], blades, area) for blades in (3, 4) for area in (0.5, 0.55, 0.6, 0.7)]
    kinds += [Blades(SERIES["wageningen_b"], blades, area) for blades in (3, 4) for area in (0.5, 0.65)]
    return stock_of(kinds, INCH * np.arange(14, 38), INCH / 2.5)


def plausible(resistance_doubt: float, pitch_doubt: float, output_doubt: float, mean_output: float) -> PlausibleBoats:
    scores = np.random.default_rng(1).standard_normal((4, BOATS))
    thrust = RESISTANCE / 0.8 * np.exp(resistance_doubt * scores[0])[:, None]
    hull = HullCurve(SPEEDS, thrust, 0.78 + 0.02 * scores[1], np.ones(BOATS), 1025.0)
    pitch, output = 1.0 + pitch_doubt * scores[2], mean_output * (1.0 + output_doubt * scores[3])
    return PlausibleBoats(hull, np.full(BOATS, 1.0 / BOATS), pitch, output)


def horner_seconds(points: int) -> float:
    """A bare loop: KT and KQ of as many points, each evaluated in ten passes of Horner's rule, in chunks."""
    chunk = 4096
    cubics = np.random.default_rng(2).random((2, 4, chunk))
    J = np.full(chunk, 0.5)
    start = time.perf_counter()
    for _ in range(-(-points // chunk)):
        for _ in range(PASSES):
            for c0, c1, c2, c3 in cubics:
                ((c3 * J + c2) * J + c1) * J + c0
    return time.perf_counter() - start


def solver_seconds(points: int) -> float:
    """One scipy.optimize.brentq for each point, timed on some and carried on: where a wheel takes rated power on the
    hull, which is what the search solves for each of them."""
    from scipy.optimize import brentq

    wheel, D = SERIES["gawn"].cubics(0.75, 0.55, 3), 0.5
    (t0, t1, t2, t3), (q0, q1, q2, q3) = wheel.thrust_cubic.tolist(), wheel.torque_cubic.tolist()
    dragged, advance = float(wheel.zero_thrust_advance_ratio), float(BOAT.hull.advance_fraction)
    thrusts = BOAT.hull.thrust

    def spare_thrust(J: float, power: float) -> float:
        KT, KQ = ((t3 * J + t2) * J + t1) * J + t0, ((q3 * J + q2) * J + q1) * J + q0
        n = (power / (TWO_PI * 1025.0 * D**5 * KQ)) ** (1.0 / 3.0)
        return KT * 1025.0 * n * n * D**4 - float(np.interp(J * n * D / advance, SPEEDS, thrusts))

    start = time.perf_counter()
    for power in np.linspace(20e3, 40e3, SOLVED):
        brentq(spare_thrust, 1e-6, dragged, args=(power,))
    return (time.perf_counter() - start) / SOLVED * points


def lines(quick: bool) -> Iterator[Line]:
    """Operating points a second, beside those of the bare loop and of the solver."""
    wheels = stock()
    usual, weak = plausible(0.08, 0.005, 0.01, 1.0), plausible(0.25, 0.03, 0.05, 0.6)
    cases = {
        "usual doubt": (usual, LIMITS),
        "wide doubt": (plausible(0.25, 0.03, 0.05, 1.0), LIMITS),
        "top class never reached": (weak, LIMITS),
        "top class never reached, limits lax": (weak, LAX_LIMITS),
    }
    for name, (boats, limits) in list(cases.items())[: 1 if quick else None]:
        found = search(wheels, RATIOS, BOAT, boats, ENGINE, limits, rows=40)
        # each wheel with each ratio at rated power and at cruise, and those tried on each of the boats
        points = 2 * found.combinations + found.tried * BOATS

        def searched(boats: PlausibleBoats = boats, limits: MarketLimits = limits) -> float:
            began = time.perf_counter()
            search(wheels, RATIOS, BOAT, boats, ENGINE, limits, rows=40)
            return time.perf_counter() - began

        took, bare, solved = alternating(
            1 if quick else 5,
            searched,
            lambda points=points: horner_seconds(points),
            lambda points=points: solver_seconds(points),
        )
        own, horner, solver = ([1e-6 * points / seconds for seconds in each] for each in (took, bare, solved))
        words = f"market, {name}"
        yield beside(words, "M points/s", own, horner, "bare Horner", Target(0.5, is_ratio=True, is_least=True))
        yield beside(words, "M points/s", own, solver, "brentq each", Target(500.0, is_ratio=True, is_least=True))

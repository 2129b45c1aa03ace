"""The market searched the slow way: one wheel, one ratio, one boat at a time, with equations of its own.

Written apart from engine/propeller/{at_power,market,ranking}: a boat's speed is sought at a shaft speed, and round that
the shaft speed at which the power is taken. Only the series' polynomials and the numbers of the rules are shared.
"""

from dataclasses import dataclass, field
from math import inf, nan, pi

import numpy as np
from scipy.optimize import brentq

from engine.propeller.cavitation import burrill_limit
from engine.propeller.ranking import LIGHT_TOLERANCE
from engine.propeller.wageningen import reynolds_correction, reynolds_number

TIGHT = {"xtol": 1e-14, "rtol": 1e-14}


@dataclass(frozen=True)
class Boat:
    """One boat."""

    speed: np.ndarray
    thrust: np.ndarray
    advance: float
    rotative: float
    density: float

    def asked(self, speed):
        return float(np.interp(speed, self.speed, self.thrust))


@dataclass(frozen=True)
class Wheel:
    """One wheel as made; kt and kq: four coefficients."""

    diameter: float
    kt: tuple
    kq: tuple


@dataclass
class Row:
    """One wheel with one ratio."""

    kind: int
    diameter: float
    pitch: float
    ratio: float
    light: float
    burn: float
    chance: float = nan
    regret: float = nan
    losses: list = field(default_factory=list)


def polynomial(terms, x):
    return sum(term * x**power for power, term in enumerate(terms))


def wheel_of(kind, diameter, pitch, pitch_factor=1.0, torque_factor=1.0, reynolds=None):
    """The wheel with her pitch made wrong by a factor, at a Reynolds number when the series has the correction."""
    pitch_ratio = pitch_factor * pitch / diameter
    open_water = kind.series.cubics(pitch_ratio, kind.area_ratio, kind.blades)
    if kind.series.name == "wageningen_b" and reynolds is not None:
        open_water = open_water + reynolds_correction(pitch_ratio, kind.area_ratio, kind.blades, reynolds).open_water
    return Wheel(diameter, tuple(open_water.thrust_cubic), tuple(open_water.torque_cubic * torque_factor))


def boat_speed(wheel, boat, shaft_speed):
    """Where the wheel's thrust is what the hull asks; infinite when that is faster than the hull's speeds."""
    D = wheel.diameter

    def spare(speed):
        J = boat.advance * speed / (shaft_speed * D)
        return polynomial(wheel.kt, J) * boat.density * shaft_speed**2 * D**4 - boat.asked(speed)

    return brentq(spare, 0.0, boat.speed[-1], **TIGHT) if spare(boat.speed[-1]) < 0.0 else inf


def torque(wheel, boat, shaft_speed, speed):
    J = boat.advance * speed / (shaft_speed * wheel.diameter)
    return polynomial(wheel.kq, J) * boat.density * shaft_speed**2 * wheel.diameter**5 / boat.rotative


def shaft_speed_at_power(wheel, boat, power):
    """Shaft speed at which the wheel, driving the boat, takes a power; the hull's speeds must reach far enough."""

    def spare(n):
        speed = boat_speed(wheel, boat, n)
        return power - 2.0 * pi * n * torque(wheel, boat, n, speed) if speed < inf else -power

    return brentq(spare, 3.0, 60.0, **TIGHT)


def cruise(wheel, boat, speed, burn, ratio):
    """Fuel at a boat speed."""
    D = wheel.diameter

    def spare(n):
        return polynomial(wheel.kt, boat.advance * speed / (n * D)) * boat.density * n**2 * D**4 - boat.asked(speed)

    n = brentq(spare, boat.advance * speed / (1.2 * D), 100.0, **TIGHT)
    return float(burn(2.0 * pi * n * torque(wheel, boat, n, speed), n * ratio))


def needed_area(wheel, pitch, boat, n, speed, pressure):
    """Expanded area ratio by Burrill's merchant line and Taylor's relation."""
    D = wheel.diameter
    q = 0.5 * boat.density * ((boat.advance * speed) ** 2 + (0.7 * pi * n * D) ** 2)
    projected = boat.asked(speed) / (q * burrill_limit(pressure / q)) / (pi / 4.0 * D**2)
    return projected / (1.067 - 0.229 * pitch / D)


def search_slowly(stock, ratios, middle, boats, factors, weights, setting):
    """All rows in order, the recommended first.

    factors: for each boat those on pitch, output and torque.   setting: dict of power, rated_speed, burn, cruise,
    pressure, viscosity, largest, wanted, tip_speed, width.
    """
    rows = []
    for index, D, pitch in zip(stock.kind, stock.diameter, stock.pitch, strict=True):
        kind = stock.kinds[index]
        reynolds = reynolds_of(kind, D, pitch, middle, setting)
        wheel = wheel_of(kind, D, pitch, reynolds=reynolds)
        n = shaft_speed_at_power(wheel, middle, setting["power"])
        area = needed_area(wheel, pitch, middle, n, boat_speed(wheel, middle, n), setting["pressure"])
        for ratio in ratios:
            light = n * ratio / setting["rated_speed"] - 1.0
            fits = (
                setting["largest"] >= D
                and setting["wanted"] - LIGHT_TOLERANCE <= light <= setting["wanted"] + setting["width"]
                and pi * D * setting["rated_speed"] / ratio <= setting["tip_speed"]
                and area <= kind.area_ratio
            )
            if fits:
                row = Row(
                    index, D, pitch, ratio, light, cruise(wheel, middle, setting["cruise"], setting["burn"], ratio)
                )
                row.losses, row.chance = on_boats(kind, row, reynolds, boats, factors, weights, setting)
                rows.append(row)
    return ranked(rows, weights, setting)


def reynolds_of(kind, D, pitch, middle, setting):
    wheel = wheel_of(kind, D, pitch)
    n = shaft_speed_at_power(wheel, middle, setting["power"])
    advance = middle.advance * boat_speed(wheel, middle, n)
    return reynolds_number(D, kind.area_ratio, kind.blades, n, advance, setting["viscosity"])


def on_boats(kind, row, reynolds, boats, factors, weights, setting):
    """For each boat (burn, light running), and the chance of reaching rated speed."""
    answers, chance = [], 0.0
    for boat, (pitch_factor, output, torque_factor), weight in zip(boats, factors, weights, strict=True):
        wheel = wheel_of(kind, row.diameter, row.pitch, pitch_factor, torque_factor, reynolds)
        light = shaft_speed_at_power(wheel, boat, setting["power"] * output) * row.ratio / setting["rated_speed"] - 1.0
        chance += weight * (light >= 0.0)
        answers.append((cruise(wheel, boat, setting["cruise"], setting["burn"], row.ratio), light))
    return answers, chance


def steps(row):
    return int(min(row.chance, 0.9) / 0.05 + 1e-9)


def ranked(rows, weights, setting):
    rows = sorted(rows, key=lambda row: (-steps(row), row.burn))
    close = [row for row in rows if steps(row) == steps(rows[0]) and row.burn <= 1.01 * rows[0].burn]
    regrets = [0.0] * len(close)
    for index, weight in enumerate(weights):
        least_burn = min(row.losses[index][0] for row in close)
        losses = []
        for row in close:
            burn, light = row.losses[index]
            too_light = max(0.0, light - setting["wanted"] - setting["width"])
            losses.append(burn / least_burn - 1.0 + 5.0 * max(0.0, -light) + too_light)
        regrets = [so_far + weight * (loss - min(losses)) for so_far, loss in zip(regrets, losses, strict=True)]
    for row, regret in zip(close, regrets, strict=True):
        row.regret = regret
    recommended = min(close, key=lambda row: row.regret, default=None)
    return [recommended] * (recommended is not None) + [row for row in rows if row is not recommended]

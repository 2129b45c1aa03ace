"""Coincidences that shake a boat: blades against firing, against the shaft's whirling, and behind a keel."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.constants import RPM
from engine.data import table
from engine.findings import Finding, fits, look
from engine.machinery.whirling import blade_rate_is_clear
from engine.numeric import Real, plain
from engine.showing import numbered
from engine.validity import not_negative, positive

_VIBRATION = table("vibration")
_COINCIDENCE = _VIBRATION["coincidence"]
COINCIDENCE_TOLERANCE: float = _COINCIDENCE["tolerance"]
_RATE_SOURCE: str = _COINCIDENCE["source"]
_MASKING_SOURCE: str = _VIBRATION["masking"]["source"]
_WHIRLING_SOURCE = "blade-rate critical kept out of 0.85 to 1.20 of the running speed: class practice, from memory"
_FIRING_WORDS = {1.0: "the firing rate", 2.0: "twice the firing rate", 0.5: "half the firing rate"}
_ENGINE_WORDS = {1.0: "the engine's own speed", 2.0: "twice the engine's speed"}


def firing_rate(cylinders: Real, engine_speed: Real) -> Real:
    """Firing rate of a four-stroke engine [Hz], half the cylinders times its speed.

    cylinders: number, > 0, firing evenly.   engine_speed: [rev/s], >= 0.
    Raises: ValueError naming the argument.   Source: each cylinder of a four-stroke fires every second revolution.
    """
    return plain(0.5 * positive("cylinders", cylinders) * not_negative("engine_speed", engine_speed))


@dataclass(frozen=True)
class Coincidence:
    """Blade rate on, or near, a rate of the engine; as both follow engine speed it holds at every rpm.

    words: the engine's rate, "twice the firing rate".   rate_ratio: blade rate over that rate, near 1 [-].
    is_strong: whether that rate is the firing rate itself, not a multiple or an order of engine speed.
    """

    words: str
    rate_ratio: float
    is_strong: bool


def coincidences(blades: int, ratio: float, cylinders: int) -> tuple[Coincidence, ...]:
    """The engine's rates on which the blade rate falls within 5 % (the tolerance is ours), the firing rate first.

    blades: of the propeller, > 0.   ratio: of the gear, engine over shaft speed, > 0.   cylinders: four-stroke, > 0.
    Returns: one for each rate hit; empty when clear. A multiple of the firing rate that is also an order of the
    engine's speed comes once.
    Valid: evenly firing four-strokes.   Raises: ValueError naming the argument.
    Source: blade rate over firing rate 2 Z/(G N), over engine speed Z/G; which to avoid, trade practice, from memory.
    """
    per_engine_speed = float(positive("blades", blades) / positive("ratio", ratio))
    firing_per_speed = float(firing_rate(cylinders, 1.0))
    rates = {multiple * firing_per_speed: _FIRING_WORDS[multiple] for multiple in _COINCIDENCE["of_firing"]}
    for order in _COINCIDENCE["of_engine_speed"]:
        rates.setdefault(order, _ENGINE_WORDS[order])
    return tuple(
        Coincidence(words, per_engine_speed / rate, rate == firing_per_speed)
        for rate, words in rates.items()
        if abs(per_engine_speed / rate - 1.0) <= COINCIDENCE_TOLERANCE + 1e-9
    )


def judge_coincidences(blades: int, ratio: float, cylinders: int) -> tuple[Finding, ...]:
    """Verdict on the blade rate against the engine's rates; arguments as `coincidences`."""
    found = coincidences(blades, ratio, cylinders)
    wheel = f"{blades} blades behind {ratio:g}:1 and {numbered(cylinders, 'cylinder')}"
    if not found:
        return (fits(f"With {wheel} the blade rate keeps clear of the engine's rates.", _RATE_SOURCE),)
    return tuple(_coincidence_finding(wheel, coincidence) for coincidence in found)


def _coincidence_finding(wheel: str, coincidence: Coincidence) -> Finding:
    away = 100.0 * abs(coincidence.rate_ratio - 1.0)
    near = "is" if away < 0.05 else f"is within {away:.1f} % of"
    text = f"With {wheel} the blade rate {near} {coincidence.words}, at every engine speed"
    if coincidence.is_strong:
        return look(f"{text}: the two shake her together. Take another number of blades or ratio.", _RATE_SOURCE)
    return fits(f"{text}: worth avoiding if another number of blades suits as well.", _RATE_SOURCE)


@dataclass(frozen=True, eq=False)
class CriticalCrossing:
    """Where the blade rate meets the shaft's whirling speed.

    shaft_speed: [rev/s].   is_inside: whether the shaft runs there in its working range; same shape.
    """

    shaft_speed: Real
    is_inside: bool | NDArray[np.bool_]


def critical_crossings(blades: Real, critical_speed: Real, lowest: Real, highest: Real) -> CriticalCrossing:
    """Shaft speed at which the blade rate excites the shaft's whirling, n_crit/Z.

    blades: number, > 0.   critical_speed: of whirling [rev/s], > 0; infinite when there is none.
    lowest, highest: ends of the working range of the shaft [rev/s], >= 0. They broadcast.
    Raises: ValueError naming the argument.   Source: definition of blade rate.
    """
    crossing = positive("critical_speed", critical_speed) / positive("blades", blades)
    inside = (crossing >= not_negative("lowest", lowest)) & (crossing <= not_negative("highest", highest))
    return CriticalCrossing(plain(crossing), bool(inside) if np.ndim(inside) == 0 else np.asarray(inside))


def judge_critical_crossing(crossing: CriticalCrossing, continuous_speed: float) -> Finding:
    """Verdict on one crossing against the shaft speed held for hours [rev/s]; 0.85 to 1.20 of it is to be kept free.

    Source: class practice, from memory.
    """
    turning = float(crossing.shaft_speed)
    if not np.isfinite(turning):
        return fits("The shaft has no whirling speed for the blades to excite.", _WHIRLING_SOURCE)
    text = f"The blades excite the shaft's whirling at {turning / RPM:.0f} rpm of the shaft"
    if not crossing.is_inside:
        return fits(f"{text}, outside its working range.", _WHIRLING_SOURCE)
    if blade_rate_is_clear(turning, 1, continuous_speed):
        return fits(f"{text}: pass through it, do not stay there.", _WHIRLING_SOURCE)
    cruise = f"{continuous_speed / RPM:.0f} rpm she cruises at"
    return look(
        f"{text}, close to the {cruise}: another number of blades or a stiffer shaft moves it.", _WHIRLING_SOURCE
    )


def masked_together(blades: int, behind_keel: bool) -> bool:
    """Whether two blades lose the flow at once: an even number of them behind a keel or deadwood.

    blades: number, > 0.   behind_keel: a keel, deadwood or aperture stands ahead, above and below the shaft.
    Raises: ValueError naming the argument.   Source: trade practice, from memory.
    """
    return behind_keel and float(positive("blades", blades)) % 2.0 == 0.0


def judge_masking(blades: int, behind_keel: bool) -> Finding:
    """Verdict on the number of blades behind what stands ahead of them; arguments as `masked_together`."""
    if not behind_keel:
        return fits("Nothing stands right ahead of the propeller to mask its blades.", _MASKING_SOURCE)
    if not masked_together(blades, behind_keel):
        return fits(f"With {blades} blades one at a time passes behind the keel, which is kinder.", _MASKING_SOURCE)
    together = "Both blades pass" if blades == 2 else f"Two of the {blades} blades at a time pass"
    text = f"{together} behind the keel together, and the pulses add: an odd number of blades is kinder."
    return look(text, _MASKING_SOURCE)

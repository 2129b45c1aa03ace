"""How much lighter than rated power a clean propeller is meant to run, as practised, and what it keeps in hand."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from engine.constants import RPM
from engine.data import table
from engine.findings import Finding, fits, look, stop
from engine.numeric import Real, plain
from engine.validity import positive

_DATA = table("light_running")
POWER_EXPONENTS: tuple[float, float] = tuple(_DATA["power"]["exponent"])
"""Low and high exponent of power with shaft speed for a fitted propeller [-]: the handbook's 2.7 and the cube law."""
_SAME = 1e-9


@dataclass(frozen=True)
class LightRunningPractice:
    """One trade's practice: where, over rated speed, the clean propeller takes rated power.

    words: of whom.   fraction: low and high above rated, of rated speed [-]; or speed: above rated [rev/s] of the
    engine; the other is None.   status: how sure.   refuse: whether it is not to be chosen by default.
    """

    key: str
    words: str
    status: str
    fraction: tuple[float, float] | None = None
    speed: tuple[float, float] | None = None
    refuse: bool = False

    def within(self, rated_speed: float) -> tuple[float, float]:
        """Low and high light running [-].

        rated_speed: of the engine [rev/s], > 0.   Raises: ValueError naming it.   Source: as `status` says.
        """
        rated = float(positive("rated_speed", rated_speed))
        if self.fraction is not None:
            return self.fraction
        assert self.speed is not None
        low, high = self.speed
        return low / rated, high / rated


def _practices() -> dict[str, LightRunningPractice]:
    return {
        row["key"]: LightRunningPractice(
            key=row["key"],
            words=row["words"],
            status=row["status"],
            fraction=tuple(row["above_rated_fraction"]) if "above_rated_fraction" in row else None,
            speed=tuple(rpm * RPM for rpm in row["above_rated_rpm"]) if "above_rated_rpm" in row else None,
            refuse=row.get("refuse", False),
        )
        for row in _DATA["practice"]
    }


PRACTICES: Mapping[str, LightRunningPractice] = _practices()
"""By key: displacement, heavy_use, gear_trade, ship, ship_wide, overpropped."""


def power_in_hand(light_running: Real, exponent: Real = POWER_EXPONENTS[1]) -> Real:
    """Share by which the power a propeller takes at rated speed could grow before it took rated power [-].

    light_running: over rated speed, less one [-], > -1.   exponent: of power with shaft speed, 2.7 to 3 [-].
    Returns: (1 + light running)^exponent - 1; below zero when overloaded.   Raises: ValueError naming the argument.
    Source: exponent 2.7 D. Gerr (1989), Propeller Handbook, formula 1-2, from memory; 3 the cube law.
    """
    above = positive("1 + light_running", 1.0 + np.asarray(light_running, dtype=float))
    return plain(above ** np.asarray(exponent) - 1.0)


def judge_light_running(light_running: float, rated_speed: float) -> Finding:
    """Verdict on a margin chosen: light running [-] for an engine's rated speed [rev/s], > 0.

    Below nought stops, above ship practice is too light; between, it names the practice it agrees with.
    Source: the practices, each with its status; which of them ends in which verdict is ours.
    """
    rated_rpm, above_rpm = rated_speed / RPM, light_running * rated_speed / RPM
    if light_running < -_SAME:
        refused = PRACTICES["overpropped"]
        text = (
            f"A propeller that holds the engine {-above_rpm:.0f} rpm below its rated {rated_rpm:.0f} overloads it, "
            "the more so when she is fouled: do not order it."
        )
        return stop(text, f"{refused.words}: {refused.status}")
    low, high = sorted(float(power_in_hand(light_running, exponent)) for exponent in POWER_EXPONENTS)
    share = f"{100.0 * low:.0f}" if f"{low:.2f}" == f"{high:.2f}" else f"{100.0 * low:.0f} to {100.0 * high:.0f}"
    words = (
        f"The light running to aim at, {100.0 * light_running:.1f} %, is {above_rpm:.0f} rpm above the rated "
        f"{rated_rpm:.0f}, {share} % of power in hand"
    )
    ship = PRACTICES["ship"]
    most = ship.within(rated_speed)[1]
    if light_running > most + _SAME:
        text = f"{words}: more than the {100.0 * most:.0f} % of ships. The governor ends it before the power is used."
        return look(text, f"{ship.words}: {ship.status}")
    agreeing = _practices_that_hold(light_running, rated_speed)
    if not agreeing:
        return fits(f"{words}: between the practices of boats and of ships.", _sources(("displacement", "ship")))
    return fits(
        f"{words}, as is the practice of {'; '.join(PRACTICES[key].words for key in agreeing)}.", _sources(agreeing)
    )


def _practices_that_hold(light_running: float, rated_speed: float) -> tuple[str, ...]:
    """Keys of the practices whose range holds the margin, the refused and the widest left out."""
    held = []
    for key, practice in PRACTICES.items():
        low, high = practice.within(rated_speed)
        if not practice.refuse and key != "ship_wide" and low - _SAME <= light_running <= high + _SAME:
            held.append(key)
    return tuple(held)


def _sources(keys: tuple[str, ...]) -> str:
    return "; ".join(dict.fromkeys(PRACTICES[key].status for key in keys))

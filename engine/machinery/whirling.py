"""Whirling of a shaft with the propeller overhung behind its aft bearing."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import pi
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from engine.constants import RPM, TWO_PI
from engine.data import table
from engine.findings import Finding, fits, look, stop
from engine.numeric import Real, plain, told_apart
from engine.validity import not_negative, positive

_BEARINGS = table("bearings")
_WATER: Mapping[str, float] = _BEARINGS["entrained_water"]
_WHIRLING: Mapping[str, float] = _BEARINGS["whirling"]
GYRATION_RADIUS_PER_DIAMETER: float = _BEARINGS["propeller_inertia"]["gyration_radius_per_diameter"]
LEAST_WHIRLING_MARGIN: float = _WHIRLING["least_margin"]
PREFERRED_WHIRLING_MARGIN: float = _WHIRLING["preferred_margin"]
_MARGIN_SOURCE = "class practice, from memory"

Mode: TypeAlias = Literal["safe", "forward synchronous", "blade forward", "blade backward"]


@dataclass(frozen=True, eq=False)
class PropellerInWater:
    """What the shaft end carries, entrained water included. mass [kg]; inertias [kg m2]; any one broadcast shape."""

    mass: Real
    diametral_inertia: Real
    polar_inertia: Real


def propeller_polar_inertia(mass: Real, propeller_diameter: Real) -> Real:
    """Polar inertia of a dry propeller from mass and diameter, m (0.21 D)^2, when the maker gives none.

    mass: [kg], >= 0.   propeller_diameter: [m], > 0.
    Returns: inertia [kg m2]; broadcast shape.
    Raises: ValueError naming the argument.
    Source: from memory, radius of gyration 0.20 to 0.22 D; the middle is taken.
    """
    radius = GYRATION_RADIUS_PER_DIAMETER * positive("propeller_diameter", propeller_diameter)
    return plain(not_negative("mass", mass) * radius**2)


def propeller_in_water(mass: Real, polar_inertia: Real) -> PropellerInWater:
    """Adds the water that moves with the propeller to its dry mass and inertia.

    mass: dry [kg], >= 0.   polar_inertia: dry [kg m2], >= 0; half of it is the diametral inertia (thin disc).
    Raises: ValueError naming the argument.
    Source: factors 1.30 (mass), 1.60 (diametral), 1.25 (polar), from memory of practice after Panagopulos, E. (1950),
    Trans. SNAME 58. Woytowich, R. (1979), J. Ship Research 23(4), prints 1.25 for mass and inertia as a rough value.
    """
    inertia = not_negative("polar_inertia", polar_inertia)
    return PropellerInWater(
        mass=plain(_WATER["mass"] * not_negative("mass", mass)),
        diametral_inertia=plain(_WATER["diametral_inertia"] * 0.5 * inertia),
        polar_inertia=plain(_WATER["polar_inertia"] * inertia),
    )


def whirling_inertia(propeller: PropellerInWater, mode: Mode = "safe", blades: Real | None = None) -> Real:
    """Moment of inertia that tilts with the shaft end in a mode of whirl [kg m2].

    mode: "safe" leaves the gyroscopic effect out; "forward synchronous" is shaft-rate whirl; "blade forward" and
    "blade backward" are excited at blade rate and need the number of blades.
    Raises: ValueError naming the argument.
    Source: Jasper, N.H. (1954), DTMB report 827; Woytowich (1979), method.
    """
    diametral, polar = np.asarray(propeller.diametral_inertia), np.asarray(propeller.polar_inertia)
    if mode == "safe":
        return plain(diametral)
    if mode == "forward synchronous":
        return plain(diametral - polar)
    if blades is None:
        raise ValueError(f"blades is needed for mode {mode!r}")
    share = polar / positive("blades", blades)
    return plain(diametral - share if mode == "blade forward" else diametral + share)


def whirling_critical_speed(
    span: Real,
    overhang: Real,
    diameter: Real,
    elastic_modulus: Real,
    density: Real,
    propeller_mass: Real,
    tilting_inertia: Real,
) -> Real:
    """First whirling speed of a shaft with an overhung propeller, by the Dunkerley sum.

    span: between the two aftmost bearings [m], > 0.   overhang: from the aft bearing's reaction to the propeller's
    centre of gravity [m], >= 0; take the reaction a quarter to a third of a rubber bearing's length from its aft end.
    diameter: [m], > 0.   elastic_modulus: [Pa], > 0.   density: [kg/m3], > 0.
    propeller_mass: entrained water included [kg], >= 0.   tilting_inertia: whirling_inertia(...) [kg m2].
    Returns: critical speed [rev/s]; broadcast shape; inf where the gyroscopic effect is so strong that none exists.
    Raises: ValueError naming the argument.
    Error: with mode "safe" it errs low, by 1 to 7 % against a finite-element model of three small-craft shafts.
    Source: beam flexibilities for simple supports summed after Dunkerley; derived by us, not printed.
    """
    length, overhung = positive("span", span), not_negative("overhang", overhang)
    size = positive("diameter", diameter)
    stiffness = positive("elastic_modulus", elastic_modulus) * pi * size**4 / 64.0
    mass_per_length = positive("density", density) * pi * size**2 / 4.0
    tip_per_force = overhung**2 * (overhung + length) / (3.0 * stiffness)
    slope_per_couple = (length / 3.0 + overhung) / stiffness
    of_span = mass_per_length * length**4 / (pi**4 * stiffness)
    of_overhang = mass_per_length * (overhung**4 / 4.0 + length * overhung**3 / 3.0) / (3.0 * stiffness)
    of_propeller = not_negative("propeller_mass", propeller_mass) * tip_per_force
    total = np.asarray(of_propeller + np.asarray(tilting_inertia) * slope_per_couple + of_span + of_overhang)
    exists = total > 0.0
    speed = 1.0 / (TWO_PI * np.sqrt(np.where(exists, total, 1.0)))
    return plain(np.where(exists, speed, np.where(np.isnan(total), np.nan, np.inf)))


def blade_rate_is_clear(critical_speed: Real, blades: Real, continuous_speed: Real) -> bool | NDArray[np.bool_]:
    """Whether the blade-rate critical, critical_speed/blades, keeps out of 0.85 to 1.20 of the running speed.

    critical_speed: from a blade mode [rev/s].   blades: number, > 0.   continuous_speed: shaft's [rev/s], > 0.
    Returns: True where clear; broadcast shape.   Raises: ValueError naming the argument.
    Source: class practice, from memory.
    """
    ratio = np.asarray(critical_speed) / (positive("blades", blades) * positive("continuous_speed", continuous_speed))
    clear = (ratio < _WHIRLING["blade_rate_low"]) | (ratio > _WHIRLING["blade_rate_high"])
    return bool(clear) if np.ndim(clear) == 0 else np.asarray(clear)


def judge_whirling(critical_speed: float, highest_shaft_speed: float) -> Finding:
    """Verdict on the whirling margin: 30 % fits, 20 % is the least, below that stops.

    critical_speed: may be infinite; highest_shaft_speed: > 0 [rev/s].   Source: class practice, from memory.
    """
    margin = critical_speed / highest_shaft_speed - 1.0
    if margin < 0.0:
        return stop(
            f"The shaft whirls at {critical_speed / RPM:.0f} rpm, below its full speed of "
            f"{highest_shaft_speed / RPM:.0f} rpm: shorten the span or the overhang, or take a thicker shaft.",
            _MARGIN_SOURCE,
        )
    if np.isinf(margin):
        return fits("The shaft has no whirling speed of this kind.", _MARGIN_SOURCE)
    limit = LEAST_WHIRLING_MARGIN if margin < LEAST_WHIRLING_MARGIN else PREFERRED_WHIRLING_MARGIN
    words = f"The shaft begins to whirl {told_apart(100.0 * margin, 100.0 * limit)} % above full speed"
    if margin < LEAST_WHIRLING_MARGIN:
        text = f"{words}; at least {100.0 * LEAST_WHIRLING_MARGIN:.0f} % is wanted. Shorten the span or the overhang."
        return stop(text, _MARGIN_SOURCE)
    if margin < PREFERRED_WHIRLING_MARGIN:
        return look(f"{words}; {100.0 * PREFERRED_WHIRLING_MARGIN:.0f} % is better.", _MARGIN_SOURCE)
    return fits(f"{words}.", _MARGIN_SOURCE)

"""Propeller-shaft diameter by torsion, the safety factor of an existing shaft, and two rules to compare with."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import pi

import numpy as np

from engine.constants import RPM, TWO_PI
from engine.data import table
from engine.findings import Finding, fits, look, stop
from engine.numeric import Real, plain, told_apart
from engine.validity import OutOfRange, not_negative, outside_range, positive

_FACTORS = table("shaft_factors")
_M68 = _FACTORS["iacs_m68"]
_PROPELLER_RULE = _FACTORS["propeller_rule"]
_KEY = table("shaft_ends")["key"]

IACS_M68_CONTEXT: str = _M68["context"]
SAFETY_FACTOR_FLOOR: float = _FACTORS["floor"]["safety_factor"]
GENERIC_PROPELLER_DIVISOR: float = _PROPELLER_RULE["generic_divisor"]
_RULE_SOURCE = "Gerr (2009), Boat Mechanical Systems Handbook, Formula 1-2"
_FLOOR_SOURCE = "ABYC P-6, committee minutes (2008)"
KEY_SHEAR_FRACTION: float = _KEY["shear_fraction_of_yield"]
KEY_CRUSHING_FRACTION: float = _KEY["crushing_fraction_of_yield"]


@dataclass(frozen=True)
class SafetyFactor:
    """The factor this program suggests for one use, and where it comes from."""

    use: str
    value: float
    status: str


SAFETY_FACTORS: Mapping[str, SafetyFactor] = {
    use: SafetyFactor(use, row["value"], row["status"]) for use, row in _FACTORS["safety_factor"].items()
}
"""Suggested factors by use, lightest use first."""


def shaft_torque(power: Real, shaft_speed: Real) -> Real:
    """Torque that carries a power at a speed of rotation, Q = P/(2 pi n).

    power: in the shaft [W], >= 0.   shaft_speed: [rev/s], > 0.
    Returns: torque [N m]; broadcast shape.
    Raises: ValueError naming the argument.
    Source: definition.
    """
    return plain(not_negative("power", power) / (TWO_PI * positive("shaft_speed", shaft_speed)))


def shaft_diameter_small_craft(power: Real, shaft_speed: Real, shear_yield: Real, safety_factor: Real) -> Real:
    """Least diameter of a solid shaft by the small-craft rule: torsion alone, all else in the safety factor.

    power: in the shaft, after the gear [W], >= 0.   shaft_speed: at that power [rev/s], > 0.
    shear_yield: yield strength in torsional shear, not tensile yield [Pa], > 0.
    safety_factor: [-], > 0; see SAFETY_FACTORS.
    Returns: diameter [m]; broadcast shape.
    Raises: ValueError naming the argument.
    Source: Gerr, D. (2009), Boat Mechanical Systems Handbook, Formula 1-2, tradition of ABYC P-6. The exact form
    D^3 = 16 Q SF/(pi St) is used; the printed 321000 and 3651 are roundings of it by 0.005 % and 0.02 %.
    Checked against: tests/published/test_shaft_diameter.py.
    """
    factor = positive("safety_factor", safety_factor)
    torque = np.asarray(shaft_torque(power, shaft_speed))
    return plain(np.cbrt(16.0 * torque * factor / (pi * positive("shear_yield", shear_yield))))


def safety_factor_of_shaft(diameter: Real, power: Real, shaft_speed: Real, shear_yield: Real) -> Real:
    """Safety factor an existing shaft has: the small-craft rule turned round.

    diameter: [m], > 0.   power: after the gear [W], > 0.   shaft_speed: [rev/s], > 0.   shear_yield: [Pa], > 0.
    Returns: factor [-]; broadcast shape.
    Raises: ValueError naming the argument.
    Source: as shaft_diameter_small_craft.
    """
    torque = np.asarray(shaft_torque(positive("power", power), shaft_speed))
    strength = positive("shear_yield", shear_yield) * pi * positive("diameter", diameter) ** 3 / 16.0
    return plain(strength / torque)


def allowable_shaft_power(diameter: Real, shaft_speed: Real, shear_yield: Real, safety_factor: Real) -> Real:
    """Power a shaft may carry at a speed: the small-craft rule turned round.

    diameter: [m], > 0.   shaft_speed: [rev/s], > 0.   shear_yield: [Pa], > 0.   safety_factor: [-], > 0.
    Returns: power [W]; broadcast shape.
    Raises: ValueError naming the argument.
    Source: as shaft_diameter_small_craft.
    """
    strength = positive("shear_yield", shear_yield) * pi * positive("diameter", diameter) ** 3 / 16.0
    speed = positive("shaft_speed", shaft_speed)
    return plain(TWO_PI * speed * strength / positive("safety_factor", safety_factor))


def judge_safety_factor(actual: float, wanted: float, shaft: str = "The shaft") -> Finding:
    """Verdict on a shaft's safety factor against the one wanted.

    actual, wanted: [-].   shaft: what the sentence calls it.
    Below the wanted factor: look again; below the floor of 2: stop.
    Source: floor ABYC P-6, committee minutes (2008); factor as shaft_diameter_small_craft.
    """
    words = f"{shaft} has a safety factor of"
    if actual < SAFETY_FACTOR_FLOOR:
        told = told_apart(actual, SAFETY_FACTOR_FLOOR, 1)
        return stop(f"{words} {told}, under the floor of {SAFETY_FACTOR_FLOOR:g}: it must be replaced.", _FLOOR_SOURCE)
    if actual < wanted * (1.0 - 1e-9):
        return look(f"{words} {told_apart(actual, wanted, 1)}; {wanted:g} is wanted for this use.", _RULE_SOURCE)
    return fits(f"{words} {actual:.1f}, and {wanted:g} is wanted for this use.", _RULE_SOURCE)


def shaft_diameter_iacs_m68(
    power: Real, shaft_speed: Real, tensile_strength: Real, fit: str = "keyed taper", *, bore_ratio: Real = 0.0
) -> Real:
    """Propeller-shaft diameter by the class rule, to compare with only; show IACS_M68_CONTEXT beside it.

    power: [W], >= 0.   shaft_speed: [rev/s], > 0.
    tensile_strength: specified minimum [Pa]; held to the rule's 400 to 600 MPa, which check_iacs_m68 reports.
    fit: "keyed taper", "keyless or flange" or "forward part".   bore_ratio: inside over outside diameter, 0 to < 1;
    up to 0.4 it counts as solid.
    Returns: diameter [m]; broadcast shape.
    Raises: ValueError naming the argument.
    Source: IACS UR M68 (2005), d mm = F k cbrt(P/n / (1 - bore^4) * 560/(Rm + 160)), kW and rpm, F = 100.
    Checked against: tests/published/test_shaft_diameter.py.
    """
    if fit not in _M68["k"]:
        raise ValueError(f"fit must be one of {', '.join(_M68['k'])}, not {fit!r}")
    bore = not_negative("bore_ratio", bore_ratio)
    if np.any(bore >= 1.0):
        raise ValueError("bore_ratio must be less than one")
    bore = np.where(bore <= _M68["bore_ratio_ignored"], 0.0, bore)
    strength_mpa = np.clip(np.asarray(tensile_strength) / 1e6, _M68["strength_floor_mpa"], _M68["strength_cap_mpa"])
    kw_per_rpm = (not_negative("power", power) / 1e3) / (positive("shaft_speed", shaft_speed) / RPM)
    cube = kw_per_rpm / (1.0 - bore**4) * 560.0 / (strength_mpa + 160.0)
    return plain(1e-3 * _M68["factor"] * _M68["k"][fit] * np.cbrt(cube))


def check_iacs_m68(tensile_strength: Real) -> tuple[OutOfRange, ...]:
    """Where the class rule holds the strength to its floor or ceiling instead of the value given.

    tensile_strength: [Pa], any shape.   Source: IACS UR M68 (2005).
    """
    floor, cap = _M68["strength_floor_mpa"], _M68["strength_cap_mpa"]
    note = f"the rule counts it as {floor:g} or {cap:g} MPa, so a stronger metal earns no smaller shaft"
    return outside_range("tensile strength in MPa", np.asarray(tensile_strength) / 1e6, floor, cap, note)


def propeller_divisor(blades: int, metal: str) -> float:
    """Divisor of the quick rule, by blades (2, 3 or 4) and kind of metal.

    metal: "weaker metals" (naval brass, nickel-copper) or "high-strength stainless".
    Raises: ValueError naming the argument.
    Source: Gerr (2009), Table 1-1; the note in shaft_factors.toml tells an oddity of the copy seen.
    """
    metals = [name for name, row in _PROPELLER_RULE.items() if isinstance(row, dict)]
    if metal not in metals:
        raise ValueError(f"metal must be one of {', '.join(metals)}, not {metal!r}")
    divisors = _PROPELLER_RULE[metal]["divisors"]
    if str(blades) not in divisors:
        raise ValueError(f"blades must be one of {', '.join(divisors)}, not {blades}")
    return float(divisors[str(blades)])


def shaft_diameter_from_propeller(propeller_diameter: Real, divisor: Real = GENERIC_PROPELLER_DIVISOR) -> Real:
    """Quick rule, propeller diameter over a divisor: a sanity band, not a size.

    propeller_diameter: [m], > 0.   divisor: propeller_divisor(...), or 14, the generic trade form.
    Returns: shaft diameter [m]; broadcast shape.
    Raises: ValueError naming the argument.
    Source: Gerr (2009), Table 1-1.
    """
    return plain(positive("propeller_diameter", propeller_diameter) / positive("divisor", divisor))


def key_shear_stress(torque: Real, mean_diameter: Real, key_width: Real, key_length: Real) -> Real:
    """Shear stress in a key, 2Q/(D b L); keep it under KEY_SHEAR_FRACTION of the key's yield (from memory).

    torque: [N m].   mean_diameter: of the taper over the key [m], > 0.   key_width, key_length: [m], > 0.
    Returns: stress [Pa]; broadcast shape.   Raises: ValueError naming the argument.   Source: statics.
    """
    area = positive("key_width", key_width) * positive("key_length", key_length)
    return plain(2.0 * np.asarray(torque) / (positive("mean_diameter", mean_diameter) * area))


def key_crushing_stress(torque: Real, mean_diameter: Real, key_height: Real, key_length: Real) -> Real:
    """Pressure on a key's half height, 4Q/(D h L); keep it under KEY_CRUSHING_FRACTION of yield (from memory).

    torque: [N m].   mean_diameter: of the taper over the key [m], > 0.   key_height, key_length: [m], > 0.
    Returns: pressure [Pa]; broadcast shape.   Raises: ValueError naming the argument.   Source: statics.
    """
    area = positive("key_height", key_height) * positive("key_length", key_length)
    return plain(4.0 * np.asarray(torque) / (positive("mean_diameter", mean_diameter) * area))

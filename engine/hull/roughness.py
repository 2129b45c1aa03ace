"""Added friction of a fouled hull.

Apply it to friction, not as a share of power: friction is most of the resistance at low speed and a third of it near
hull speed. The usual ship formulas (ITTC-1978, Townsin) are not here because at boat size they give nonsense.
"""

from dataclasses import dataclass

import numpy as np

from engine.data import table
from engine.hull.friction import hull_reynolds_number
from engine.numeric import Array, Real, plain
from engine.validity import require_not_negative
from engine.water import Water

_NEWTON_ROUNDS = 5
"""Newton's rule on the smooth line doubles the digits each round."""

_ROUGH_ROUNDS = 12
"""The rough line's fixed point gains nearly a digit a round."""


@dataclass(frozen=True)
class FoulingClass:
    """State of a hull's surface: height of equivalent sand roughness [m]."""

    name: str
    roughness_height: float
    is_within_correlation: bool
    """The standard roughness in a method's correlation allowance covers it, so nothing is added."""


FOULING_CLASSES: dict[str, FoulingClass] = {
    name: FoulingClass(name, 1e-6 * row["height_micrometre"], row["within_correlation"])
    for name, row in table("roughness")["classes"].items()
}
"""After Schultz (2007), from memory; cleanest first."""


def friction_coefficient_schoenherr(reynolds: Real) -> Real:
    """Friction coefficient of a smooth plate by Schoenherr's line, 0.242 / sqrt(CF) = log10(Rn CF).

    reynolds: [-], from 1e5.   Source: K. E. Schoenherr (1932), Trans. SNAME 40; from memory.
    """
    log_reynolds = np.log10(reynolds)
    root: Array = np.asarray((log_reynolds - 2.0) / np.sqrt(0.075))  # 1 / sqrt(CF), starting from the ITTC 1957 line
    for _ in range(_NEWTON_ROUNDS):
        excess = 0.242 * root + 2.0 * np.log10(root) - log_reynolds
        root = root - excess / (0.242 + 2.0 / (root * np.log(10.0)))
    return plain(root**-2)


def roughness_allowance(roughness_height: Real, speed: Real, waterline_length: Real, water: Water) -> Real:
    """Rise of the friction coefficient [-] of a rough hull over a smooth one.

    roughness_height: equivalent sand roughness [m]; speed: [m/s]; waterline_length: [m]; any shapes.
    Returns: dCF [-], zero for a smooth hull and at rest.
    Source: ours, after P. S. Granville (1958), similarity law of rough plates, with the roughness function
    (1/0.41) ln(1 + 0.26 ks+). Its rises for the ship of Schultz (2007) rank as his do and are 2.1 to 2.4 times his
    rises of total power, as they should be where friction is a little under half of it.
    Raises: ValueError for a negative height or speed.
    """
    require_not_negative(roughness_height=roughness_height, speed=speed)
    Rn = hull_reynolds_number(speed, waterline_length, water)
    height_reynolds = speed * roughness_height / water.kinematic_viscosity
    smooth = np.asarray(friction_coefficient_schoenherr(Rn))
    rough = smooth
    for _ in range(_ROUGH_ROUNDS):
        shift = 1.0 + 0.26 * np.sqrt(0.5 * rough) * height_reynolds
        rough = np.asarray(friction_coefficient_schoenherr(plain(Rn / shift)))
    return plain(rough - smooth)


def fouling_allowance(name: str, speed: Real, waterline_length: Real, water: Water) -> Real:
    """Rise of the friction coefficient [-] for one of FOULING_CLASSES; zero for a clean hull.

    speed: [m/s].   waterline_length: [m].   Raises: ValueError for an unknown class.   Source: `roughness_allowance`.
    """
    if name not in FOULING_CLASSES:
        raise ValueError(f"There is no fouling class {name!r}; the classes are: {', '.join(FOULING_CLASSES)}.")
    fouling = FOULING_CLASSES[name]
    height = 0.0 if fouling.is_within_correlation else fouling.roughness_height
    return roughness_allowance(height, speed, waterline_length, water)


def fouling_resistance(allowance: Real, wetted_surface: Real, speed: Real, water: Water) -> Real:
    """Added resistance [N] of a friction rise [-] over a wetted surface, appendages included [m2], at a speed [m/s].

    Source: definition of the coefficient.
    """
    return plain(0.5 * water.density * np.square(speed) * wetted_surface * allowance)

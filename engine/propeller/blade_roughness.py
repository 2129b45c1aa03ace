"""What a rough or foul propeller costs: less thrust and more torque at the same advance ratio.

The formula knows the friction of the blades only. Growth also spoils their shape, so take it as the least that is lost.
Source: ITTC (1978), performance prediction method, from memory; the same term is in Holtrop & Mennen (1982).
"""

from dataclasses import dataclass
from typing import Any

import numpy as np

from engine.data import table
from engine.numeric import Real, plain
from engine.propeller.open_water import OpenWater
from engine.propeller.polynomials import CUBIC_LENGTH
from engine.validity import defined_where, require_not_negative, require_positive

_DRAG = table("blade_roughness")["drag"]


@dataclass(frozen=True)
class BladeState:
    """State of a wheel's blades: height of roughness [m], and months since cleaning from which to expect it."""

    name: str
    roughness_height: float
    from_months: float
    status: str


def _blade_state(name: str, row: dict[str, Any]) -> BladeState:
    return BladeState(name, 1e-6 * row["height_micrometre"], row["from_months"], row["status"])


BLADE_STATES: dict[str, BladeState] = {
    name: _blade_state(name, row) for name, row in table("blade_roughness")["states"].items()
}
"""Cleanest first; the first is the blade a series stands for, which adds nothing."""

CLEAN_BLADE = next(iter(BLADE_STATES.values()))


def blade_roughness_after(months: Real) -> Real:
    """Height of roughness [m] to expect of a wheel without antifouling, in steps; up to the first of them it rises
    evenly, as no wheel fouls in a day.

    months: since the blades were last cleaned, any shape.   Raises: ValueError when negative.
    Source: ours, after common practice.
    """
    require_not_negative(months=months)
    heights = np.array([state.roughness_height for state in BLADE_STATES.values()])
    starts = [state.from_months for state in BLADE_STATES.values()]
    in_steps = heights[np.searchsorted(starts, months, side="right") - 1]
    return plain(np.where(np.less(months, starts[1]), np.interp(months, starts[:2], heights[:2]), in_steps))


def blade_drag_coefficient(chord: Real, thickness_ratio: Real, roughness_height: Real) -> Real:
    """Drag coefficient of a rough blade section, 2 (1 + 2 t/c) [1.89 + 1.62 log10(c/kp)]^-2.5.

    chord: at 0.75 of the radius [m].   thickness_ratio: t/c there [-].   roughness_height: kp [m]. They broadcast.
    Returns: CD [-], NaN where the roughness is so many times the chord that the formula has no value.
    Valid: a height that is small against the chord, up to a hundredth of it (ours).
    Raises: ValueError for a chord or height of zero and less.
    Source: ITTC (1978), from memory; 1.89, 1.62 and 2.5 seen in one copy of Holtrop & Mennen (1982).
    """
    require_positive(chord=chord, roughness_height=roughness_height)
    base = np.asarray(_DRAG["intercept"] + _DRAG["slope"] * np.log10(chord / np.asarray(roughness_height)))
    plate = defined_where(base > 0.0, base) ** -_DRAG["exponent"]
    return plain(2.0 * (1.0 + _DRAG["thickness_factor"] * np.asarray(thickness_ratio)) * plate)


@dataclass(frozen=True, eq=False)
class RoughnessEffect:
    """What rough blades change, of one geometry or an array of them, at any advance ratio.

    drag_coefficient: rise of CD [-].   thrust_coefficient: change of KT, negative.   torque_coefficient: of KQ.
    """

    drag_coefficient: Real
    thrust_coefficient: Real
    torque_coefficient: Real

    @property
    def open_water(self) -> OpenWater:
        """As cubics in J, to add to a series' own."""
        steady = np.eye(CUBIC_LENGTH)[0]
        return OpenWater(
            np.asarray(self.thrust_coefficient)[..., None] * steady,
            np.asarray(self.torque_coefficient)[..., None] * steady,
        )


def blade_roughness_effect(
    diameter: Real,
    pitch_ratio: Real,
    blades: Real,
    chord: Real,
    thickness_ratio: Real,
    roughness_height: Real,
) -> RoughnessEffect:
    """Change of KT and KQ from clean blades to rough ones.

    diameter: [m].   pitch_ratio: P/D [-].   blades: [-].   chord, thickness_ratio: at 0.75 of the radius [m], [-]; of
    the B-series, wageningen.blade_chord and blade_thickness.   roughness_height: [m]. All broadcast.
    Returns: dKT = -0.3 (P/D) (c Z/D) dCD and dKQ = 0.25 (c Z/D) dCD. It is a difference between two full-size wheels,
    so it goes with a Reynolds correction as well as without.
    Valid: as `blade_drag_coefficient`.   Raises: as there, and for a diameter of zero and less.
    Source: ITTC (1978), from memory.
    """
    require_positive(diameter=diameter)
    rough, clean = (
        np.asarray(blade_drag_coefficient(chord, thickness_ratio, height))
        for height in (roughness_height, CLEAN_BLADE.roughness_height)
    )
    rise = rough - clean
    load = rise * chord * blades / diameter
    return RoughnessEffect(
        drag_coefficient=plain(rise),
        thrust_coefficient=plain(-_DRAG["thrust_factor"] * np.asarray(pitch_ratio) * load),
        torque_coefficient=plain(_DRAG["torque_factor"] * load),
    )

"""Stern gear besides bearings: packing, anode gap, key, where thrust goes, and when torsion wants the makers' check."""

from collections.abc import Iterator

import numpy as np

from engine.constants import INCH
from engine.data import table
from engine.findings import Finding, fits, look
from engine.machinery.shaft import (
    KEY_CRUSHING_FRACTION,
    KEY_SHEAR_FRACTION,
    key_crushing_stress,
    key_shear_stress,
)
from engine.machinery.shaft_ends import ShaftTaper
from engine.numeric import Real, plain
from engine.validity import OutOfRange, outside_range, positive

_STERN = table("stern_gear")
_TORSION = _STERN["torsion"]
PACKING_STATUS: str = _STERN["packing_status"]
ANODE_GAP: float = _STERN["anode"]["gap_mm"] / 1e3
"""Least distance from anode to bearing [m]; displacement and sailing craft; printed, 1 copy."""
THRUST_PATH_NOTE: str = _STERN["notes"]["thrust_path"]
DIRECT_THRUST_NOTE: str = _STERN["notes"]["direct_thrust"]
DRIP_NOTE: str = _STERN["notes"]["drip"]
SEAL_FEED_NOTE: str = _STERN["notes"]["seal_feed"]


def packing_size(shaft_diameter: Real) -> Real:
    """Side of the square packing of a stuffing box [m] for a shaft diameter [m], > 0.

    Raises: ValueError naming the argument.
    Valid: shafts of 1 to 2 in, which check_packing_size says; beyond 2 in an eighth of the diameter.
    Source: trade table, from memory.
    """
    size = positive("shaft_diameter", shaft_diameter)
    rows = _STERN["packing"]
    within = [size <= row["shaft_to_in"] * INCH * (1.0 + 1e-9) for row in rows]
    sizes = [np.full(size.shape, row["packing_in"] * INCH) for row in rows]
    return plain(np.select(within, sizes, _STERN["packing_per_diameter"] * size))


def check_packing_size(shaft_diameter: Real) -> tuple[OutOfRange, ...]:
    """Where the trade table of packings does not reach.   shaft_diameter: [m], any shape.   Source: as packing_size."""
    limits = _STERN["packing_range"]
    inches = np.asarray(shaft_diameter, dtype=float) / INCH
    return outside_range("shaft diameter in inches", inches, limits["from_in"], limits["to_in"], "measure the box")


def bearing_press_fit(bore: Real) -> Real:
    """Interference of a bearing shell in its housing [m], a light press; bore of the housing [m], > 0.

    Raises: ValueError naming the argument.   Source: about 0.001 in per in of bore; printed, 1 copy, informal.
    """
    return plain(_STERN["press_fit_per_bore"] * positive("bore", bore))


def key_stress_ratio(torque: float, taper: ShaftTaper, key_yield: float) -> tuple[float, float] | None:
    """(shear, crushing) in the key over what it may bear [-]; None where the table seen gives no key.

    torque: [N m].   key_yield: tensile yield of the key [Pa], > 0.   The height of the key is taken as its width, a
    square key, where the table gives none (from memory).
    Raises: ValueError naming the argument.
    Valid: a key as long as the shortest taper, which no keyway quite is, so the stress errs low; none of the torque is
    carried by the taper's own grip, so it errs high.
    Source: statics; limits 0.4 and 0.9 of yield, from memory.
    """
    bearable = float(positive("key_yield", key_yield))
    if taper.keyway_width is None or taper.length is None or taper.taper is None:
        return None
    length = taper.length[0]
    mean = taper.diameter - 0.5 * taper.taper * length
    shear = float(key_shear_stress(torque, mean, taper.keyway_width, length))
    height = taper.keyway_width if taper.key_height is None else taper.key_height
    crushing = float(key_crushing_stress(torque, mean, height, length))
    return shear / (KEY_SHEAR_FRACTION * bearable), crushing / (KEY_CRUSHING_FRACTION * bearable)


def torsion_reasons(cylinders: int | None, rated_power: float, length_over_diameter: float | None) -> Iterator[str]:
    """Why the makers should check torsional vibration, in plain words.

    rated_power: [W].   length_over_diameter: of the shaft [-].   None where not known.
    Source: trade practice, from memory.
    """
    if cylinders is not None and cylinders < _TORSION["few_cylinders"]:
        yield f"the engine has {'one cylinder' if cylinders == 1 else f'{cylinders} cylinders'}"
    if length_over_diameter is not None and length_over_diameter > _TORSION["long_diameters"]:
        yield f"the shaft is {length_over_diameter:.0f} diameters long"
    if rated_power > _TORSION["high_power_kw"] * 1e3:
        yield "the engine is a large one"


def judge_torsion(
    *, cylinders: int | None, rated_power: float, length_over_diameter: float | None, is_diesel: bool = True
) -> Finding:
    """Verdict on torsional vibration; arguments as `torsion_reasons`.   is_diesel: rather than a motor."""
    reasons = list(torsion_reasons(cylinders, rated_power, length_over_diameter))
    if reasons:
        text = (
            f"Ask the makers for a check of torsional vibration: {', '.join(reasons)}. Gear rattle at idle is its sign."
        )
        return look(text, _TORSION["status"])
    usual = ": a damper plate behind the diesel" if is_diesel else ""
    return fits(f"Nothing here asks for more against torsion than makers usually fit{usual}.", _TORSION["status"])

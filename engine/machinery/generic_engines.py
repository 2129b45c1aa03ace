"""Generic candidates to try a plan with before there is a data sheet: all of them invented, and marked so."""

from collections.abc import Mapping
from dataclasses import dataclass

from engine.data import table
from engine.numeric import Real, plain
from engine.validity import positive

INVENTED = "a generic invented example"
_MASS = table("generic_engines")["mass"]


@dataclass(frozen=True)
class GenericEngine:
    """One invented candidate.   changes: field of a data sheet -> what would be typed there."""

    name: str
    is_electric: bool
    changes: Mapping[str, str]


def generic_mass(power: Real) -> Real:
    """Mass of a marinised diesel with gear, dry [kg], by rated power [W], > 0.

    Raises: ValueError naming the argument.   Valid: 8 to 400 kW.   Error: 30 %.
    Source: m = 25 P^0.65, P in kW, from memory of common data sheets; no source.
    """
    return plain(_MASS["at_one_kilowatt_kg"] * (positive("power", power) / 1e3) ** _MASS["exponent"])


def _of(row: Mapping[str, str], *, is_electric: bool) -> GenericEngine:
    return GenericEngine(row["name"], is_electric, {**row, "figures": INVENTED})


GENERIC_ENGINES: Mapping[str, GenericEngine] = {
    row["name"]: _of(row, is_electric=kind == "electric")
    for kind in ("diesel", "electric")
    for row in table("generic_engines")[kind]
}

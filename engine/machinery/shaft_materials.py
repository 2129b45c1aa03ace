"""Propeller-shaft materials by UNS and EN designation, with the doubt that belongs to each value."""

from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches

import numpy as np

from engine.data import table
from engine.numeric import Real
from engine.validity import OutOfRange, outside_range


@dataclass(frozen=True)
class ShaftMaterial:
    """Minima for bar in the condition named, SI.

    shear_yield: yield in torsional shear, what the small-craft rule wants [Pa].   largest_diameter: up to which the
    strengths hold [m], None where no limit was seen.   pits_when_idle: pits or corrodes in still sea water under
    bearings and seals.   status: where the values come from; "from memory" is a default to override.
    """

    key: str
    uns: str
    en: str
    kind: str
    condition: str
    tensile_yield: float
    tensile_strength: float
    shear_yield: float
    elastic_modulus: float
    density: float
    largest_diameter: float | None
    pits_when_idle: bool
    fit_for_sea_water: bool
    status: str
    note: str
    uns_also: str = ""

    @property
    def words(self) -> str:
        """The metal as an order names it: "S32205 or S31803, EN 1.4462 (duplex stainless)"."""
        numbers = f"{self.uns} or {self.uns_also}" if self.uns_also else self.uns
        return f"{numbers}, EN {self.en} ({self.kind})" if self.en else f"{numbers} ({self.kind})"


def _materials() -> dict[str, ShaftMaterial]:
    materials = {}
    for key, row in table("shaft_materials")["material"].items():
        largest_mm = row.get("largest_diameter_mm")
        materials[key] = ShaftMaterial(
            key=key,
            uns=row["uns"],
            en=row["en"],
            kind=row["kind"],
            condition=row["condition"],
            tensile_yield=row["tensile_yield_mpa"] * 1e6,
            tensile_strength=row["tensile_strength_mpa"] * 1e6,
            shear_yield=row["shear_yield_mpa"] * 1e6,
            elastic_modulus=row["elastic_modulus_gpa"] * 1e9,
            density=row["density_kg_m3"],
            largest_diameter=None if largest_mm is None else largest_mm / 1e3,
            pits_when_idle=row["pits_when_idle"],
            fit_for_sea_water=row["fit_for_sea_water"],
            status=row["status"],
            note=row["note"],
            uns_also=row.get("uns_also", ""),
        )
    return materials


MATERIALS: Mapping[str, ShaftMaterial] = _materials()
"""By key: the UNS number, with the condition where one metal comes in two ("S20910 high strength")."""


def shaft_material(designation: str) -> ShaftMaterial:
    """The material of a key of MATERIALS, a UNS number or an EN number.

    Raises: ValueError naming the nearest key when unknown, or the choices when the condition is missing.
    """
    wanted = designation.strip().upper()
    for key, material in MATERIALS.items():
        if key.upper() == wanted:
            return material
    found = [
        key for key, metal in MATERIALS.items() if wanted and wanted in (metal.uns, metal.uns_also, metal.en.upper())
    ]
    if len(found) == 1:
        return MATERIALS[found[0]]
    if found:
        raise ValueError(f"{designation!r} comes in several conditions: say {' or '.join(found)}")
    near = get_close_matches(wanted, MATERIALS, n=1, cutoff=0.0)
    raise ValueError(f"no shaft material {designation!r}; did you mean {near[0]!r}?")


def check_material_diameter(material: ShaftMaterial, diameter: Real) -> tuple[OutOfRange, ...]:
    """Where a shaft is thicker than the bar for which the material's strength holds; empty where no limit was seen.

    diameter: [m], any shape.   Source: as the material's status.
    """
    if material.largest_diameter is None:
        return ()
    note = f"the strength of {material.key} is not known there: {material.note}"
    largest_mm = material.largest_diameter * 1e3
    return outside_range("shaft diameter in mm", np.asarray(diameter) * 1e3, 0.0, largest_mm, note)

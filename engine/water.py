"""Density and viscosity of the water a boat floats in."""

from dataclasses import dataclass
from typing import Literal, TypeAlias, get_args

import numpy as np

from engine.data import table
from engine.numeric import Array, Real, plain

WaterKind: TypeAlias = Literal["sea", "fresh", "brackish"]
WATER_KINDS: tuple[WaterKind, ...] = get_args(WaterKind)


@dataclass(frozen=True)
class Water:
    """Water as the resistance formulas see it: density [kg/m3] and kinematic viscosity [m2/s]."""

    density: Real
    kinematic_viscosity: Real


def water(kind: WaterKind, temperature_c: Real) -> Water:
    """Properties of sea, fresh or brackish water at a temperature.

    kind: "sea" (standard, 35.165 g/kg), "fresh", or "brackish": half the salinity of the sea, taken halfway between
    the two columns (ours; linear in salinity, within 0.1 %).
    temperature_c: [C], 0 to 30, any shape; four-point cubic interpolation in the 1 C table.
    Returns: Water with the shape of temperature_c.
    Raises: ValueError for an unknown kind or a temperature outside the table.
    Source: ITTC (2011), Procedure 7.5-02-01-03. Checked against: tests/published/test_water_table.py.
    """
    if kind not in WATER_KINDS:
        raise ValueError(f"The kind of water must be one of {', '.join(WATER_KINDS)}, not {kind!r}.")
    columns = table("water")
    temperature = np.asarray(temperature_c, dtype=float)
    grid = np.array(columns["temperature"])
    if not np.all((temperature >= grid[0]) & (temperature <= grid[-1])):
        raise ValueError(
            f"The water temperature must lie between {grid[0]:g} and {grid[-1]:g} degrees Celsius: "
            "the table of water properties goes no further."
        )
    parts = ("sea", "fresh") if kind == "brackish" else (kind,)
    density = np.mean([columns[part]["density"] for part in parts], axis=0)
    viscosity = np.mean([columns[part]["kinematic_viscosity"] for part in parts], axis=0)
    return Water(
        density=plain(_interpolate_cubic(temperature, grid, density)),
        kinematic_viscosity=plain(1e-6 * _interpolate_cubic(temperature, grid, viscosity)),
    )


def _interpolate_cubic(x: Array, grid: Array, values: Array) -> Array:
    """Lagrange's cubic through the four nearest points of an evenly spaced grid."""
    step = grid[1] - grid[0]
    first = np.clip(np.floor((x - grid[0]) / step).astype(int) - 1, 0, grid.size - 4)
    s = (x - grid[first]) / step
    weights = (
        -(s - 1.0) * (s - 2.0) * (s - 3.0) / 6.0,
        s * (s - 2.0) * (s - 3.0) / 2.0,
        -s * (s - 1.0) * (s - 3.0) / 2.0,
        s * (s - 1.0) * (s - 2.0) / 6.0,
    )
    total: Array = np.sum([weight * values[first + k] for k, weight in enumerate(weights)], axis=0)
    return total

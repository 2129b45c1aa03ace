"""Four published fuel maps and full-load torque shapes, made dimensionless by the rated point."""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from engine.data import table
from engine.numeric import Array

EPA_LINE = table("fuel")["epa_line"]
"""Fuel over power as a constant and a share that falls with load; source and status in its table."""


@dataclass(frozen=True, eq=False)
class FuelMap:
    """One engine's map as fractions of its rated point; used for shape only.

    speed_fraction: (S,) rows.   torque_fraction: (T,) columns.   fuel_per_revolution: (S, T), 1 at the rated point.
    The first column, no torque, is `unloaded`; the published map begins with the second.
    full_load_speed_fraction, full_load_torque_fraction: (F,) the full-load curve, ending at or beyond 1.
    """

    name: str
    engine: str
    source: str
    speed_fraction: Array
    torque_fraction: Array
    fuel_per_revolution: Array
    full_load_speed_fraction: Array
    full_load_torque_fraction: Array


@cache
def fuel_map(name: str) -> FuelMap:
    """The map "A", "B", "C" or "D", without the cells its file keeps out of use.

    Raises: ValueError naming the argument.   Source: the map's own, as FuelMap.source; the cells left out are ours.
    """
    maps = table("fuel_maps")["map"]
    if name not in maps:
        raise ValueError(f"name must be one of {', '.join(maps)}, not {name!r}")
    data = maps[name]
    curve_speed = np.asarray(data["full_load_speed_rpm"], dtype=float)
    curve_torque = np.asarray(data["full_load_torque_nm"], dtype=float)
    rated_torque = float(np.interp(data["rated_rpm"], curve_speed, curve_torque))
    speed, torque = np.asarray(data["speed_rpm"], dtype=float), np.asarray(data["torque_nm"], dtype=float)
    rows, columns = speed >= data["lowest_speed_used_rpm"], torque >= data["lowest_torque_used_nm"]
    fuel = (np.asarray(data["bsfc_g_per_kwh"], dtype=float) * torque)[np.ix_(rows, columns)]
    speed_fraction = speed[rows] / data["rated_rpm"]
    torque_fraction = torque[columns] / rated_torque
    fuel /= interpolate_bilinear(speed_fraction, torque_fraction, fuel, np.asarray(1.0), np.asarray(1.0))
    return FuelMap(
        name=name,
        engine=data["engine"],
        source=data["source"],
        speed_fraction=speed_fraction,
        torque_fraction=np.append(0.0, torque_fraction),
        fuel_per_revolution=np.column_stack([unloaded(speed_fraction, torque_fraction, fuel), fuel]),
        full_load_speed_fraction=curve_speed / data["rated_rpm"],
        full_load_torque_fraction=curve_torque / rated_torque,
    )


def unloaded(speed_fraction: Array, torque_fraction: Array, fuel_per_revolution: Array) -> Array:
    """Fuel per revolution without load, where a published map ends at some torque: a straight (Willans) line goes on.

    speed_fraction: (S,) rows.   torque_fraction: (T,) columns, > 0.   fuel_per_revolution: (S, T).
    Returns: (S,), unit of fuel_per_revolution: what the map's first two columns point to; or, where that is more, what
    the EPA line leaves of the first column when the load is taken off.
    Source: the first as Willans drew it; the second United States EPA (2000), EPA420-R-00-002, Table 5-1, from memory.
    To take the dearer one is ours: a map that ends at a third of the torque says little of none, and range must last.
    """
    first, step = fuel_per_revolution[:, 0], torque_fraction[1] - torque_fraction[0]
    by_map = first - torque_fraction[0] * (fuel_per_revolution[:, 1] - first) / step
    load = torque_fraction[0] * speed_fraction
    by_epa = first * EPA_LINE["over_load"] / (EPA_LINE["over_load"] + EPA_LINE["constant"] * load)
    return np.asarray(np.maximum(by_map, by_epa))


def interpolate_bilinear(rows: Array, columns: Array, values: Array, row: Array, column: Array) -> Array:
    """Bilinear interpolation that holds the end rows and runs straight on past the end columns.

    rows: (S,) rising.   columns: (T,) rising.   values: (S, T).   row, column: any broadcast shape.
    Returns: that shape, unit of values.   Source: definition; holding rows and running on past columns is ours.
    """
    row, column = (each.T for each in np.broadcast_arrays(row, column))  # speed by speed, as the boats' curves lie
    held = np.minimum(np.maximum(row, rows[0]), rows[-1])
    i, j = _step(rows, held), _step(columns, column)
    row_below, column_below = rows.take(i), columns.take(j)
    along = (held - row_below) / (rows.take(i + 1) - row_below)
    across = (column - column_below) / (columns.take(j + 1) - column_below)
    cells, place = values.ravel(), i * columns.size + j  # to take along one axis is several times quicker than by two
    above = place + columns.size
    lower = cells.take(place) * (1.0 - across) + cells.take(place + 1) * across
    upper = cells.take(above) * (1.0 - across) + cells.take(above + 1) * across
    return np.asarray(lower * (1.0 - along) + upper * along).T


def _step(grid: Array, value: Array) -> NDArray[np.intp]:
    """In which step of a rising grid a value lies, beyond its ends the end ones: counted, as to search for them takes
    several times as long."""
    inner = grid[1:-1].reshape(-1, *(1,) * value.ndim)
    return np.asarray((value > inner).sum(axis=0))

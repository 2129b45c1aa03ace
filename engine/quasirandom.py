"""Points that fill a space of many unknowns evenly, and the same every time: the Sobol sequence."""

from functools import lru_cache
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from engine.data import table
from engine.numeric import Array

_ROWS: list[dict[str, int | list[int]]] = table("sobol")["dimension"]

MOST_DIMENSIONS = 1 + len(_ROWS)
"""The most unknowns the table of direction numbers serves."""


def sobol_points(size: int, dimensions: int) -> Array:
    """The first points of the Sobol sequence, each moved to the middle of its cell, so that none lies on an edge.

    size: how many points, a power of two.   dimensions: 1 to MOST_DIMENSIONS.
    Returns: (size, dimensions), each between 0 and 1, ends left out; in the order of the Gray code. Read-only.
    Raises: ValueError when size is not a power of two, or the dimensions are not in the table.
    Source: I. M. Sobol (1967); direction numbers S. Joe and F. Y. Kuo (2008); Gray-code order I. A. Antonov and
    V. M. Saleev (1979). The move by half a cell is ours.
    """
    return _read_only((_cells(size, dimensions) + 0.5) / size)


@lru_cache(maxsize=16)
def normal_scores(size: int, dimensions: int) -> Array:
    """The same points as independent standard normal scores: mean 0, standard deviation 1 in each column.

    size, dimensions: as for sobol_points.   Returns: (size, dimensions). Read-only.
    Raises: ValueError as sobol_points.
    """
    cells = _cells(size, dimensions)
    normal = NormalDist()
    score_of_cell = np.array([normal.inv_cdf((cell + 0.5) / size) for cell in range(size)])
    return _read_only(score_of_cell[cells])


@lru_cache(maxsize=16)
def _cells(size: int, dimensions: int) -> NDArray[np.int64]:
    """In which of the `size` equal cells each point lies, (size, dimensions): every cell once in each column."""
    if size < 1 or size & (size - 1):
        raise ValueError(f"the number of points must be a power of two, not {size}")
    if not 1 <= dimensions <= MOST_DIMENSIONS:
        raise ValueError(f"the Sobol table serves 1 to {MOST_DIMENSIONS} unknowns, not {dimensions}")
    bits = size.bit_length() - 1
    counter = np.arange(size)
    gray_code = counter ^ (counter >> 1)
    cells = np.zeros((size, dimensions), dtype=np.int64)
    directions = np.array([_directions(dimension, bits) for dimension in range(dimensions)], dtype=np.int64)
    for bit in range(bits):
        is_set = (gray_code >> bit) & 1
        cells ^= is_set[:, None] * directions[:, bit]
    cells.flags.writeable = False
    return cells


def _directions(dimension: int, bits: int) -> list[int]:
    """Direction numbers v_1 ... v_bits of one dimension as whole numbers below 2^bits: Joe and Kuo (2008)."""
    if dimension == 0:
        numbers = [1] * bits
    else:
        numbers = _continued_numbers(_ROWS[dimension - 1], bits)
    return [number << (bits - 1 - place) for place, number in enumerate(numbers)]


def _continued_numbers(row: dict[str, int | list[int]], bits: int) -> list[int]:
    """m_1 ... m_bits: those of the table, then by the recurrence of its primitive polynomial."""
    degree, coefficients, numbers = row["degree"], row["coefficients"], row["numbers"]
    assert isinstance(degree, int)
    assert isinstance(coefficients, int)
    assert isinstance(numbers, list)
    found = list(numbers)
    while len(found) < bits:
        following = found[-degree] ^ (found[-degree] << degree)
        for step in range(1, degree):
            if (coefficients >> (degree - 1 - step)) & 1:
                following ^= found[-step] << step
        found.append(following)
    return found[:bits]


def _read_only(array: Array) -> Array:
    array.flags.writeable = False
    return array

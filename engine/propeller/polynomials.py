"""Polynomials of propeller series in J, pitch ratio, blade area ratio and number of blades, summed up step by step.

For blades of one area and number they are coefficients of the powers of P/D and J, for one pitch of those of J alone.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from engine.numeric import Array, Real

CUBIC_LENGTH = 4
PITCH_POWERS = 7
"""Powers of P/D that the polynomials of propeller series use: 0 to 6."""

Term = tuple[float, int, int, int, int]
"""Coefficient and the powers of J, pitch ratio, area ratio and number of blades."""


def at_pitch(terms: Array, pitch_ratio: Array) -> Array:
    """Coefficients of the powers of P/D and J (..., 7, 4) to those of J alone, broadcast shape + (4,).

    pitch_ratio: P/D [-]; broadcasts against the leading axes of the terms.
    In memory the powers come first, so that each of them lies in one piece for all propellers: numpy goes through it in
    one sweep.
    """
    if terms.ndim == 2:
        powers = powers_of(pitch_ratio, PITCH_POWERS)
        cubic = (terms.T @ powers.reshape(PITCH_POWERS, -1)).reshape(CUBIC_LENGTH, *pitch_ratio.shape)
    else:
        lying = widened(powers_first(terms), 2, pitch_ratio.ndim)
        cubic = lying[-1] * pitch_ratio
        for power in range(PITCH_POWERS - 2, 0, -1):
            cubic += lying[power]
            cubic *= pitch_ratio
        cubic += lying[0]
    return np.moveaxis(cubic, 0, -1)


def collapse(terms: tuple[Term, ...], area_ratio: Real, blades: Real) -> Array:
    """Sum the terms of a polynomial into its coefficients of powers of P/D and J.

    area_ratio: in the basis of the terms [-].   blades: number. They broadcast.
    Returns: (broadcast shape) + (7, 4).   Raises: IndexError for a power of P/D above 6 or of J above 3.
    """
    table = _tabled(terms)
    areas, counts = (
        powers_of(np.asarray(value, dtype=float), most)[which]
        for value, which, most in (
            (area_ratio, table.of_area, table.area_powers),
            (blades, table.of_blades, table.blade_powers),
        )
    )
    monomials = widened(areas, 1, counts.ndim - 1) * widened(counts, 1, areas.ndim - 1)
    summed = table.places @ monomials.reshape(len(terms), -1)
    return powers_last(summed.reshape(PITCH_POWERS, CUBIC_LENGTH, *monomials.shape[1:]))


def powers_first(family: Array) -> Array:
    """A view of a family's coefficients (..., 7, 4) with the powers of P/D and J as first axes."""
    return np.moveaxis(family, (-2, -1), (0, 1))


def powers_last(family: Array) -> Array:
    """The reverse of `powers_first`."""
    return np.moveaxis(family, (0, 1), (-2, -1))


def widened(values: Array, first: int, dimensions: int) -> Array:
    """Axes of length 1 after some first ones, so that at least so many follow, which broadcast from the right.

    values: (F, ...).   first: how many axes F stands for.   dimensions: how many follow at least.
    """
    missing = dimensions - (values.ndim - first)
    return values.reshape(values.shape[:first] + (1,) * missing + values.shape[first:])


@dataclass(frozen=True, eq=False)
class _Tabled:
    """A polynomial's terms (T,): their powers of area and blades, and where each adds to, (28, T)."""

    of_area: NDArray[np.intp]
    of_blades: NDArray[np.intp]
    area_powers: int
    blade_powers: int
    places: Array


@cache
def _tabled(terms: tuple[Term, ...]) -> _Tabled:
    rows = np.array(terms, dtype=float)
    of_j, of_pitch, of_area, of_blades = rows[:, 1:].astype(np.intp).T
    places = np.zeros((PITCH_POWERS, CUBIC_LENGTH, len(rows)))
    places[of_pitch, of_j, np.arange(len(rows))] = rows[:, 0]
    most_area, most_blades = int(of_area.max()) + 1, int(of_blades.max()) + 1
    return _Tabled(of_area, of_blades, most_area, most_blades, places.reshape(-1, len(rows)))


def powers_of(value: Array, count: int) -> Array:
    """value^0, value^1, ... along a first axis of length count; multiplied up, which is several times quicker."""
    powers = np.ones((count, *value.shape))
    for power in range(1, count):
        np.multiply(powers[power - 1], value, out=powers[power, ...])
    return powers

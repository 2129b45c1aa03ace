"""The array types that formulas share: a float or a numpy array in, the broadcast shape out."""

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Array: TypeAlias = NDArray[np.float64]
Real: TypeAlias = float | Array
"""What a formula takes and returns. Scalars in give a float out; arrays broadcast."""


def plain(value: Array | np.floating | float) -> Real:
    """A float when the value has no dimensions, else the array itself."""
    array = np.asarray(value, dtype=float)
    return float(array) if array.ndim == 0 else array

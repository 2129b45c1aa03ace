"""Test cycles of ISO 8178-4 as load profiles: share of time at each speed and power."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from engine.data import table
from engine.numeric import Array, Real, plain


@dataclass(frozen=True, eq=False)
class DutyCycle:
    """speed_fraction, power_fraction: of rated, one per mode (M,); idle has speed 0.   weight: shares of time (M,)."""

    name: str
    use: str
    status: str
    speed_fraction: Array
    power_fraction: Array
    weight: Array

    @property
    def mean_load(self) -> float:
        """Mean power over rated power [-]."""
        return float(np.sum(self.weight * self.power_fraction))

    def weighted_mean(self, values: Real) -> Real:
        """Time-weighted mean of one value per mode, on the last axis (..., M)."""
        return plain(np.sum(np.asarray(values, dtype=float) * self.weight, axis=-1))


DUTY_CYCLES: Mapping[str, DutyCycle] = {
    name: DutyCycle(
        name=name,
        use=row["use"],
        status=row["status"],
        speed_fraction=np.asarray(row["speed_fraction"]),
        power_fraction=np.asarray(row["power_fraction"]),
        weight=np.asarray(row["weight"]),
    )
    for name, row in table("engine_rating")["test_cycle"].items()
}
"""E3 for propeller-law engines, E5 for diesel craft under 24 m, E2 and D2 at constant speed."""

"""What service adds to calm water: wind on the upperworks, or a plain sea margin. Never both for the same weather.

Order of application: calm hull and appendages, fouling (roughness), shallow water (shallow_water), wind, effective
power, propulsive losses, engine margin; each stays a line of its own.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np

from engine.data import table
from engine.numeric import Real, plain


@dataclass(frozen=True)
class Upperworks:
    """A kind of superstructure and its drag coefficient in a head wind, on the frontal area [-]."""

    name: str
    low: float
    high: float
    drag_coefficient: float
    source: str
    status: str


def _upperworks(name: str, row: dict[str, Any]) -> Upperworks:
    low, high = row["drag_coefficient"]
    default = row.get("default", 0.5 * (low + high))
    return Upperworks(name, low, high, default, row["source"], row["status"])


UPPERWORKS: dict[str, Upperworks] = {name: _upperworks(name, row) for name, row in table("air_drag")["kinds"].items()}

AIR_DENSITY: float = table("air_drag")["air"]["density"]
"""At 15 C [kg/m3]."""


def air_resistance(
    frontal_area: Real,
    drag_coefficient: Real,
    speed: Real,
    *,
    wind_speed: Real = 0.0,
    wind_angle_deg: Real = 0.0,
    air_density: Real = AIR_DENSITY,
) -> Real:
    """Drag of the air [N] along the heading; negative when a following wind pushes.

    frontal_area: hull above water, house, mast and rig [m2]; drag_coefficient: [-], see UPPERWORKS.
    speed: of the boat [m/s]; wind_speed: true wind [m/s]; wind_angle_deg: 0 from ahead, 180 from astern [deg].
    Returns: [N]; with no wind, the drag of still air. A wind 30 degrees off the bow gives 10 to 25 % more than this.
    Source: 0.5 rho CD A V |V| on the relative wind along the heading; ITTC 7.5-02-03-01.4, from memory.
    """
    relative = speed + wind_speed * np.cos(np.radians(wind_angle_deg))
    return plain(0.5 * air_density * drag_coefficient * frontal_area * relative * np.abs(relative))


@dataclass(frozen=True)
class SeaMargin:
    """A usual addition to calm-water power, as fractions."""

    name: str
    label: str
    low: float
    high: float
    status: str

    @property
    def fraction(self) -> float:
        """The middle, the default."""
        return 0.5 * (self.low + self.high)


def _sea_margin(name: str, row: dict[str, Any]) -> SeaMargin:
    low, high = row["fraction"]
    return SeaMargin(name, row["label"], low, high, row["status"])


SEA_MARGINS: dict[str, SeaMargin] = {
    name: _sea_margin(name, row) for name, row in table("service_allowances")["sea_margin"].items()
}

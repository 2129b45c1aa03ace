"""What service adds to calm water: fouling, the bottom, and wind and waves or a plain sea margin in their place.

Order of application: calm hull and appendages, fouling (fouling, roughness), shallow water (shallow_water), wind, waves
(waves) or margin, effective power, propulsive losses, engine margin; each stays a line of its own.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np

from engine.data import table
from engine.hull.form import HullForm
from engine.hull.roughness import fouling_resistance
from engine.hull.shallow_water import in_shallow_water, shallow_water
from engine.numeric import Array, Real, plain
from engine.validity import require_not_negative
from engine.water import Water


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


@dataclass(frozen=True, kw_only=True, eq=False)
class ServiceConditions:
    """What a boat meets in service; as it stands, deep calm water, a clean hull and no upperworks. Fields broadcast.

    friction_rise: of a foul hull [-], by the months (fouling) or by its class (roughness).
    depth: of the water [m]; None: deep.
    frontal_area: of the upperworks [m2]; drag_coefficient: [-], see UPPERWORKS.
    wind_speed: true wind [m/s]; wind_angle_deg: 0 from ahead, 180 from astern [deg].
    wave_resistance: [N], by one of the formulas of waves.
    sea_margin: fraction of the resistance of the hull. A margin stands for wind and waves already: give it or
        them, never both for the same weather.
    """

    friction_rise: Real = 0.0
    depth: Real | None = None
    frontal_area: Real = 0.0
    drag_coefficient: Real = UPPERWORKS["unknown"].drag_coefficient
    wind_speed: Real = 0.0
    wind_angle_deg: Real = 0.0
    wave_resistance: Real = 0.0
    sea_margin: Real = 0.0


@dataclass(frozen=True, eq=False)
class ServiceParts:
    """Resistance in service, part by part [N]; every field has the broadcast shape (..., S) of boats and speeds."""

    calm: Real
    """Clean hull and appendages in calm deep water, without the air."""
    fouling: Real
    shallow: Real
    """What the bottom adds to the two; NaN where `in_shallow_water` has no value."""
    wind: Real
    """Drag of the air, that of still air included."""
    waves: Real
    margin: Real
    """The sea margin, on calm, fouling and shallow together."""
    total: Real


def service_resistance(
    form: HullForm,
    speed: Array,
    calm: Real,
    wetted_surface: Real,
    water: Water,
    conditions: ServiceConditions,
) -> ServiceParts:
    """The parts together, in the order of application. A sea margin and wind or waves both given are both added.

    form: only its sections matter here, and only in shallow water; fields (..., 1).
    speed: grid (S,), rising [m/s].   calm: (..., S), without the drag of the air [N].
    wetted_surface: hull and appendages [m2].   conditions: fields that broadcast with (..., S).
    Returns: ServiceParts.   Valid: as its parts; `shallow_water` tells how the depth stands.
    Raises: ValueError for a depth not greater than the draft, a negative area, margin or friction rise.
    Source: the order is ours; sources of the parts as in their modules.
    """
    require_not_negative(
        friction_rise=conditions.friction_rise,
        frontal_area=conditions.frontal_area,
        wave_resistance=conditions.wave_resistance,
        sea_margin=conditions.sea_margin,
    )
    fouling = fouling_resistance(conditions.friction_rise, wetted_surface, speed, water)
    hull = np.asarray(calm + fouling)
    in_depth = hull
    if conditions.depth is not None:
        loss = shallow_water(form, speed, conditions.depth).speed_loss
        in_depth = np.asarray(in_shallow_water(speed, hull, loss))
    wind = air_resistance(
        conditions.frontal_area,
        conditions.drag_coefficient,
        speed,
        wind_speed=conditions.wind_speed,
        wind_angle_deg=conditions.wind_angle_deg,
    )
    margin = conditions.sea_margin * in_depth
    total = in_depth + wind + conditions.wave_resistance + margin
    parts = (calm, fouling, in_depth - hull, wind, conditions.wave_resistance, margin, total)
    return ServiceParts(*(plain(part) for part in np.broadcast_arrays(*parts)))

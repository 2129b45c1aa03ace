"""The best propeller of a series when one of thrust, power, diameter and shaft speed is still free.

Each route solves KT or KQ = C J^m for every pitch ratio of the series and keeps the best open-water efficiency.
The optimum is flat: 5 % in diameter costs under 1 % of efficiency. Behind a hull the best diameter is some 3-5 %
smaller than these open-water ones (from memory), and the B-series asks for larger, finer propellers than stock ones.

All four routes take the series, blades (number) and area_ratio (expanded AE/A0), which broadcast with the rest.
Valid: geometries that `series.outside` and `series.reservations` say nothing of; the value is still the polynomial's.
Error: pitch ratio to half of the last step, 0.00025; efficiency at it relative 1e-11 of the polynomials' own.
Source: definitions of KT, KQ and J; the polynomials are those of the series. NaN where no pitch ratio carries the
loading, nothing is raised.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from engine.constants import TWO_PI
from engine.numeric import Array, Real, arrays, plain
from engine.propeller.equilibrium import advance_ratio_for_loading
from engine.propeller.open_water import OpenWaterSeries

_GRID_STEP = 0.01
"""Of pitch ratio, for the whole range of a series; round the best of it finer ones follow (ours)."""
_FINE_STEPS = np.linspace(-_GRID_STEP, _GRID_STEP, 41)


@dataclass(frozen=True, eq=False)
class Optimum:
    """Best pitch ratio of a series for one loading; all fields have the broadcast shape.

    pitch_ratio, advance_ratio, efficiency: [-].   thrust: [N].   delivered_power: [W].   diameter: [m].
    shaft_speed: [rev/s].   at_series_end: the best lies at the first or last pitch ratio of the series, so the
    true optimum may lie beyond. All NaN where no pitch ratio carries the loading.
    """

    pitch_ratio: Real
    advance_ratio: Real
    efficiency: Real
    thrust: Real
    delivered_power: Real
    diameter: Real
    shaft_speed: Real
    at_series_end: NDArray[np.bool_]


def optimum_for_thrust_at_diameter(
    series: OpenWaterSeries,
    blades: Real,
    area_ratio: Real,
    *,
    thrust: Real,
    diameter: Real,
    advance_speed: Real,
    density: Real,
) -> Optimum:
    """Best pitch and its shaft speed when thrust and diameter are known: KT = C J2.

    thrust: [N], >= 0.   diameter: [m], > 0.   advance_speed: V (1 - w) [m/s], > 0.   density: [kg/m3]. They broadcast.
    Returns: Optimum of the broadcast shape.   Valid, error, source: as the module says.
    """
    T, D, Va, rho = arrays(thrust, diameter, advance_speed, density)
    best = _best(series, blades, area_ratio, "thrust", T / (rho * (Va * D) ** 2), 2)
    return _optimum(series, blades, area_ratio, best, D, Va / (best.advance_ratio * D), rho)


def optimum_for_thrust_at_shaft_speed(
    series: OpenWaterSeries,
    blades: Real,
    area_ratio: Real,
    *,
    thrust: Real,
    shaft_speed: Real,
    advance_speed: Real,
    density: Real,
) -> Optimum:
    """Best diameter and pitch when thrust and shaft speed are known: KT = C J4.

    thrust: [N], >= 0.   shaft_speed: [rev/s], > 0.   advance_speed: V (1 - w) [m/s], > 0.   density: [kg/m3].
    They broadcast.   Returns: Optimum of the broadcast shape.   Valid, error, source: as the module says.
    """
    T, n, Va, rho = arrays(thrust, shaft_speed, advance_speed, density)
    best = _best(series, blades, area_ratio, "thrust", T * n**2 / (rho * Va**4), 4)
    return _optimum(series, blades, area_ratio, best, Va / (best.advance_ratio * n), n, rho)


def optimum_for_power_at_shaft_speed(
    series: OpenWaterSeries,
    blades: Real,
    area_ratio: Real,
    *,
    power: Real,
    shaft_speed: Real,
    advance_speed: Real,
    density: Real,
) -> Optimum:
    """Best diameter and pitch when delivered power and shaft speed are known: KQ = C J5.

    power: delivered [W], >= 0.   shaft_speed: [rev/s], > 0.   advance_speed: V (1 - w) [m/s], > 0.
    density: [kg/m3]. They broadcast.
    Returns: Optimum of the broadcast shape.   Valid, error, source: as the module says.
    """
    P, n, Va, rho = arrays(power, shaft_speed, advance_speed, density)
    best = _best(series, blades, area_ratio, "torque", P * n**2 / (TWO_PI * rho * Va**5), 5)
    return _optimum(series, blades, area_ratio, best, Va / (best.advance_ratio * n), n, rho)


def optimum_for_power_at_diameter(
    series: OpenWaterSeries,
    blades: Real,
    area_ratio: Real,
    *,
    power: Real,
    diameter: Real,
    advance_speed: Real,
    density: Real,
) -> Optimum:
    """Best pitch and its shaft speed when delivered power and diameter are known: KQ = C J3.

    power: delivered [W], >= 0.   diameter: [m], > 0.   advance_speed: V (1 - w) [m/s], > 0.   density: [kg/m3].
    They broadcast.   Returns: Optimum of the broadcast shape.   Valid, error, source: as the module says.
    """
    P, D, Va, rho = arrays(power, diameter, advance_speed, density)
    best = _best(series, blades, area_ratio, "torque", P / (TWO_PI * rho * Va**3 * D**2), 3)
    return _optimum(series, blades, area_ratio, best, D, Va / (best.advance_ratio * D), rho)


@dataclass(frozen=True, eq=False)
class _Best:
    pitch_ratio: Array
    advance_ratio: Array
    at_series_end: NDArray[np.bool_]


def _best(
    series: OpenWaterSeries,
    blades: Real,
    area_ratio: Real,
    curve: Literal["thrust", "torque"],
    constant: Array,
    power: int,
) -> _Best:
    """Highest eta0 over the whole pitch range, then over finer steps round it: several local optima are possible."""
    Z, area = arrays(blades, area_ratio)

    def over(pitch_ratios: Array) -> tuple[Array, Array, NDArray[np.intp]]:
        open_water = series.cubics(pitch_ratios, area[..., None], Z[..., None])
        J = np.asarray(advance_ratio_for_loading(open_water, curve, constant[..., None], power))
        efficiency = np.asarray(open_water.efficiency(J))
        index = np.argmax(np.where(np.isnan(efficiency), -np.inf, efficiency), axis=-1)
        return efficiency, J, index

    low, high = series.pitch_ratio
    grid = series.pitch_ratio_grid(_GRID_STEP)
    _, _, index = over(grid)
    fine = np.clip(grid[index][..., None] + _FINE_STEPS, low, high)
    _, J, index = over(fine)
    pitch_ratio = np.take_along_axis(fine, index[..., None], axis=-1)[..., 0]
    advance_ratio = np.take_along_axis(J, index[..., None], axis=-1)[..., 0]
    pitch_ratio = np.where(np.isnan(advance_ratio), np.nan, pitch_ratio)
    return _Best(pitch_ratio, advance_ratio, np.asarray((pitch_ratio <= low) | (pitch_ratio >= high)))


def _optimum(
    series: OpenWaterSeries, blades: Real, area_ratio: Real, best: _Best, D: Array, n: Array, rho: Array
) -> Optimum:
    open_water = series.cubics(best.pitch_ratio, area_ratio, blades)
    J = best.advance_ratio
    torque = np.asarray(open_water.torque_coefficient(J)) * rho * n**2 * D**5
    return Optimum(
        plain(best.pitch_ratio),
        plain(J),
        open_water.efficiency(J),
        plain(np.asarray(open_water.thrust_coefficient(J)) * rho * n**2 * D**4),
        plain(TWO_PI * n * torque),
        plain(D * np.ones_like(J)),
        plain(n * np.ones_like(J)),
        best.at_series_end,
    )

"""One stock propeller with one ratio on the plausible boats: as each of them gets it, in every state she is run in."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from engine.numeric import Array
from engine.propeller.equilibrium import OperatingPoint
from engine.propeller.hull_curve import HullCurve, stacked
from engine.propeller.open_water import OpenWater
from engine.propeller.series import series_with_no_way_on
from engine.stages.blades import fouled
from engine.stages.boats import each_boat
from engine.stages.cases import Case
from engine.stages.drive import Drive
from engine.stages.full_throttle import (
    BoatsCurves,
    FullThrottle,
    curves_over_shaft_speed,
    speed_at_full_throttle,
    try_on_boats,
)
from engine.stages.propulsion import boats_points
from engine.stages.setting import Setting

_AT_ONCE = 3
"""Trials of a whole fleet worked out at once; more take memory and gain nothing. Ours."""


State = tuple[HullCurve, float]
"""What of a case full throttle depends on: the hull curves of its boats, that very object, and the months of growth."""


@dataclass(frozen=True, eq=False)
class Wheel:
    """A propeller ordered for a setting.   diameter, pitch: as ordered [m]."""

    setting: Setting
    diameter: float
    pitch: float
    _curves: dict[float, OpenWater] = field(default_factory=dict, repr=False)
    _full: dict[State, FullThrottle] = field(default_factory=dict, repr=False)
    _points: dict[State, OperatingPoint] = field(default_factory=dict, repr=False)

    def open_water(self, case: Case) -> OpenWater:
        """As each boat gets it, columns (N, 1): pitch as made, torque as it turns out, growth as in the case."""
        if case.months not in self._curves:
            made = self._made_pitch
            built = self._built(self.setting.open_water(self.diameter, made))
            grown = fouled(built, self.diameter, made / self.diameter, self.setting.kind, case.months)
            self._curves[case.months] = grown
        return self._curves[case.months]

    def with_no_way_on(self) -> OpenWater:
        """The same, clean, for J = 0 alone: by another series where her own was not tested so slow."""
        kind = self.setting.kind
        series = series_with_no_way_on(kind.series)
        if series is kind.series:
            return self.open_water(self.setting.cases.calm)
        return self._built(series.cubics(self._made_pitch / self.diameter, kind.area_ratio, kind.blades))

    @property
    def _made_pitch(self) -> Array:
        """Of each boat's wheel, (N, 1) [m]."""
        return np.asarray(self.pitch * np.asarray(self.setting.hull.boats.propeller_pitch))

    def _built(self, series: OpenWater) -> OpenWater:
        """Curves of a series with the torque as it turns out on each boat."""
        factor = np.asarray(self.setting.hull.boats.blade_torque)[..., None]
        return OpenWater(series.thrust_cubic, series.torque_cubic * factor)

    def full_throttle(self, case: Case) -> FullThrottle:
        """Full throttle on each boat of a case, worked out once for cases that share hull curves and growth."""
        state = _state(case)
        if state not in self._full:
            drive, ratio, output = self.setting.drive, self.setting.ratio, self.setting.hull.boats.engine_output
            self._full[state] = try_on_boats(self.open_water(case), self.diameter, case.boats, drive, ratio, output)
        return self._full[state]

    def at(self, case: Case, speed: Array) -> OperatingPoint:
        """What it does on each boat at boat speeds (S,) [m/s]: fields (N, S)."""
        return boats_points(self.open_water(case), self.diameter, case.boats, speed)

    def points(self, case: Case) -> OperatingPoint:
        """What it does on each boat at the speeds of a case's hull curves, worked out once: fields (N, S)."""
        state = _state(case)
        if state not in self._points:
            self._points[state] = boats_points(self.open_water(case), self.diameter, case.boats)
        return self._points[state]

    def over(self, case: Case, shaft_speed: Array) -> BoatsCurves:
        """What it does on each boat over shaft speeds (M,) [rev/s]: fields (N, M)."""
        return curves_over_shaft_speed(self.points(case), case.boats.speed, shaft_speed)


def try_together(tries: Iterable[tuple[Wheel, Case]], near: FullThrottle | None = None) -> None:
    """Work out full throttle of several wheels or cases at once, which takes less than one after the other.

    tries: with one drive, on boats of one fleet.   near: that of a like wheel on these boats, to start the search
    from.   Each wheel then answers `Wheel.full_throttle` for its cases.
    """
    left = {(wheel, _state(case)): (wheel, case) for wheel, case in tries if _state(case) not in wheel._full}
    for batch in _batches(list(left.values())):
        _try_all(batch, near)


def _batches(tries: Sequence[tuple[Wheel, Case]]) -> Iterator[Sequence[tuple[Wheel, Case]]]:
    """So many of them as are worked out at once."""
    for start in range(0, len(tries), _AT_ONCE):
        yield tries[start : start + _AT_ONCE]


def _try_all(tries: Sequence[tuple[Wheel, Case]], near: FullThrottle | None) -> None:
    start = None if near is None else np.tile(near.advance_share, len(tries))
    all_together = try_on_boats(*_stacked(tries), start)
    count = len(tries[0][1].boats.thrust)
    for place, (wheel, case) in enumerate(tries):
        wheel._full[_state(case)] = all_together.rows(slice(place * count, (place + 1) * count))


def speeds_together(wheels: Sequence[Wheel]) -> Array:
    """Boat speed at full throttle in calm water of wheels, at least one, on boats of one fleet with one drive, (W, N)
    [m/s].

    That of `Wheel.full_throttle`, for who asks for nothing else of it.
    """
    tries = [(wheel, wheel.setting.cases.calm) for wheel in wheels]
    found = [speed_at_full_throttle(*_stacked(batch)) for batch in _batches(tries)]
    return np.concatenate(found).reshape(len(wheels), -1)


def _stacked(tries: Sequence[tuple[Wheel, Case]]) -> tuple[OpenWater, Array, HullCurve, Drive, Array, Array]:
    """What `try_on_boats` takes, of all these boats one below the other."""
    wheels, cases = zip(*tries, strict=True)
    setting, count = wheels[0].setting, len(cases[0].boats.thrust)
    curves = [wheel.open_water(case) for wheel, case in tries]
    return (
        OpenWater(
            np.concatenate([one.thrust_cubic for one in curves]), np.concatenate([one.torque_cubic for one in curves])
        ),
        np.repeat([wheel.diameter for wheel in wheels], count)[:, None],
        stacked([case.boats for case in cases]),
        setting.drive,
        np.repeat([wheel.setting.ratio for wheel in wheels], count)[:, None],
        np.tile(each_boat(setting.hull.boats.engine_output, count), len(wheels))[:, None],
    )


def _state(case: Case) -> State:
    return case.boats, case.months

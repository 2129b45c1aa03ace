"""The chosen wheel in every state, over the engine's speeds and among its neighbours: what the room does not change."""

import math
from dataclasses import dataclass, replace

import numpy as np

from engine.findings import Outcome, stop
from engine.propeller import handbook
from engine.propeller.bollard import BollardPull, bollard_pull
from engine.propeller.equilibrium import OperatingPoint
from engine.propeller.interaction import bollard_thrust_deduction
from engine.propeller.matching import PITCH_RATIO_STEP, pitch_ratio_to_absorb
from engine.stages.doubt import DoubtRow, what_to_measure
from engine.stages.drive import ElectricDrive
from engine.stages.propeller_answers import MatchRow
from engine.stages.propeller_findings import FULL_THROTTLE, half_load_findings
from engine.stages.propeller_tables import SHAFT_SPEEDS, match_rows, sizes_around, tried_beside
from engine.stages.setting import Setting
from engine.stages.sizing import Size, TriedSizes
from engine.stages.wheel import Wheel, try_together

_TURNABLE = "a propeller that the engine can turn; the findings say what helps."


@dataclass(frozen=True, eq=False)
class Match:
    """A wheel tried on the boats.

    around: the size, first, and those about it on the middle of the fleet.   beside: wheels of these sizes, tried.
    cruise: at the cruising speed in calm water, (N, 1).   held: the wheel of each boat with no way on.
    handbook: diameter and pitch [m] by the trade's quick method, which has no pitch for a boat so slow that its slip
    would be all of it.   series_pitch: at that diameter, the pitch [m] at which the series takes the engine's power at
    rated speed, as the handbook's does; None if none.
    rows: over the engine's speeds.   doubt: about the engine speed at full throttle.
    """

    wheel: Wheel
    around: TriedSizes
    beside: tuple[Wheel, ...]
    cruise: OperatingPoint
    held: BollardPull
    handbook: tuple[float, float | None]
    series_pitch: float | None
    rows: tuple[MatchRow, ...]
    doubt: tuple[DoubtRow, ...]

    @property
    def pitch_exponent(self) -> float:
        """Exponent of the pitch in the shaft speed at which rated power is taken, d ln n / d ln P (about -0.6 to -0.9).
        From the sizes of the chosen diameter; NaN with fewer than two."""
        around = self.around
        known = (around.diameter == around.diameter[0]) & np.isfinite(around.light_running)
        if known.sum() < 2:
            return math.nan
        pitch, turning = np.log(around.pitch[known]), np.log1p(around.light_running[known])
        return float((turning[pitch.argmax()] - turning[pitch.argmin()]) / np.ptp(pitch))


def assess_match(setting: Setting, size: Size, area_ratio: float | None) -> Outcome[Match]:
    """The wheel of a size behind a ratio. No answers where full throttle cannot be worked out for most boats.

    area_ratio: as of `ChosenSize`.
    """
    setting = replace(setting, area_ratio=area_ratio)
    hull, cases = setting.hull, setting.cases
    wheel = Wheel(setting, *size)
    calm = wheel.full_throttle(cases.calm)
    try_together(((wheel, case) for case in (*cases, cases.margin)), near=calm)
    turning = calm.shaft_speed / setting.rated_shaft_speed
    if not hull.fleet.band(turning).low >= SHAFT_SPEEDS[0]:
        text = (
            "With this size full throttle cannot be worked out: it holds the engine under a quarter of its rated "
            "speed, or drives the boat faster than was worked out. Choose another size, or leave it empty."
        )
        slips = half_load_findings(setting)
        return Outcome(None, (stop(text, FULL_THROTTLE, "propeller.diameter"), *slips), _TURNABLE)
    around = sizes_around(setting, *size)
    quick = _handbook_size(setting, float(hull.fleet.median(calm.boat_speed)))
    match = Match(
        wheel=wheel,
        around=around,
        beside=tried_beside(wheel, around),
        cruise=wheel.at(cases.calm, np.array([setting.cruise])),
        held=_held(wheel),
        handbook=quick,
        series_pitch=_series_pitch(setting, quick[0]),
        rows=tuple(match_rows(wheel)),
        doubt=what_to_measure(
            hull.fleet, calm.shaft_speed, hull.logbook, hull.trial, of_motor=isinstance(setting.drive, ElectricDrive)
        ),
    )
    return Outcome(match)


def _held(wheel: Wheel) -> BollardPull:
    """The propeller of each boat at full throttle with no way on."""
    setting = wheel.setting
    drive, boats = setting.drive, setting.hull.boats
    return bollard_pull(
        wheel.with_no_way_on(),
        wheel.diameter,
        lambda n: drive.full_load_at_propeller(n, setting.ratio),
        drive.engine.no_load_speed / setting.ratio,
        setting.hull.water.density,
        bollard_thrust_deduction(),
        output=boats.engine_output,
    )


def _handbook_size(setting: Setting, top: float) -> tuple[float, float | None]:
    """As `Match.handbook`, for the number of blades where the method has a factor for it."""
    diameter = float(handbook.diameter(setting.drive.power_at_propeller, setting.rated_shaft_speed))
    factors, slip = handbook.blade_factors(min(setting.kind.blades, handbook.MOST_BLADES)), float(handbook.slip(top))
    pitch = None if slip >= 1.0 else float(handbook.pitch_from_slip(top, setting.rated_shaft_speed, slip))
    return diameter * factors.diameter, None if pitch is None else pitch * factors.pitch


def _series_pitch(setting: Setting, diameter: float) -> float | None:
    """As `Match.series_pitch`, at a diameter [m]."""
    match = pitch_ratio_to_absorb(
        setting.family(diameter),
        setting.kind.series.pitch_ratio_grid(PITCH_RATIO_STEP),
        diameter,
        setting.drive.power_at_propeller,
        setting.rated_shaft_speed,
        setting.cases.calm.middle,
    )
    pitch = float(match.pitch_ratio) * diameter
    return pitch if math.isfinite(pitch) else None

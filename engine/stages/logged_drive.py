"""What a log was taken with: gear, propeller and tachometer, of the present engine or of the new one on its trial."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from engine.constants import HOUR, KNOT, LITRE, MONTH, TWO_PI
from engine.data import table
from engine.defaults import amount, amount_or_none, whole, word
from engine.hull.consensus import Consensus
from engine.hull.form import HullForm
from engine.machinery.fuel import G_PER_KWH
from engine.numeric import Array, Real
from engine.plan import Plan
from engine.propeller.equilibrium import OperatingPoint
from engine.propeller.market import Blades
from engine.propeller.open_water import OpenWater
from engine.sections.engine import Candidate
from engine.sections.present import WAYS_TO_MEASURE_SPEED, LogRow
from engine.sections.trial import FULL, TrialRun
from engine.stages.blades import BladeWater, fouled, present_blades, wanted_blades
from engine.stages.boats import Boats, boats_of
from engine.stages.propulsion import boats_hull_curve, boats_points
from engine.stages.resistance import bare_resistance, fouling_force, still_air
from engine.stages.unknowns import as_described
from engine.water import Water

_SPEED_DOUBT = table("doubt")["reading"]["speed_kn"]
_SAME = 0.002
"""Sizes and ratios that differ by this share are the same, written in another way. Ours."""
_CONSUMPTION = table("fuel")["default_consumption"]
_OLD_ENGINE = "indirect injection"
"""Of an old engine that is not known; the doubt about it is wide."""
TWO_RUNS = WAYS_TO_MEASURE_SPEED[0]


@dataclass(frozen=True, eq=False)
class Reading:
    """One row that can be read.

    index: of the row in the plan.   engine_speed: [rev/s].   speed: [m/s].   fuel_flow: of one engine [m3/s].
    measured: how the speed was taken.   full_throttle: whether the engine gave all it had.   drawn: by one motor [W].
    """

    index: int
    engine_speed: float
    speed: float
    fuel_flow: float | None
    measured: str
    full_throttle: bool = False
    drawn: float | None = None

    @property
    def speed_kn(self) -> float:
        return self.speed / KNOT

    def taken(self, *, is_electric: bool) -> float | None:
        """What one engine takes, as it is shown: [L/h], or [kW] of a motor; None while that was not read."""
        if is_electric:
            return None if self.drawn is None else self.drawn / 1e3
        return None if self.fuel_flow is None else self.fuel_flow * HOUR / LITRE

    @property
    def speed_doubt(self) -> float:
        """Standard deviation of the speed [m/s]."""
        return float(_SPEED_DOUBT[self.measured]) * KNOT

    @classmethod
    def of_row(cls, index: int, row: LogRow) -> "Reading | None":
        """The reading in a row of the log; None while rpm or speed is missing."""
        if row.engine_speed is None or row.speed is None:
            return None
        return cls(index, row.engine_speed.si, row.speed.si, amount_or_none(row, "fuel_flow"), word(row, "measured"))

    @classmethod
    def of_run(cls, index: int, run: TrialRun) -> "Reading | None":
        """The reading in a run of the trial, the mean of both ways where both are there; None while rpm or speed is
        missing."""
        if run.engine_speed is None or run.speed is None:
            return None
        back = run.speed_back
        speed = run.speed.si if back is None else 0.5 * (run.speed.si + back.si)
        measured = word(run, "measured") if back is None else TWO_RUNS
        is_full = word(run, "throttle") == FULL
        flow, drawn = amount_or_none(run, "fuel_flow"), amount_or_none(run, "drawn")
        return cls(index, run.engine_speed.si, speed, flow, measured, is_full, drawn)


@dataclass(frozen=True, eq=False)
class LoggedDrive:
    """The gear and propeller that are in the boat when a log is taken.

    diameter, pitch: [m].   months: of growth on the blades.   is_new: whether it is what the plan has put into her.
    tachometer: whether it was checked.   rated_power: of the engine [W], None while it is not known.
    consumption: of such an engine [kg/J], None of one that burns nothing.   water: that its blades meet at full power,
    for their Reynolds number; None leaves the series uncorrected.
    """

    ratio: float
    diameter: float
    pitch: float
    kind: Blades
    months: float
    is_new: bool
    tachometer: str
    rated_power: float | None
    consumption: float | None
    water: BladeWater | None = None

    @classmethod
    def present(cls, plan: Plan) -> "LoggedDrive | None":
        """What is in her now; None while ratio, diameter or pitch is missing or no series was tested at the pitch."""
        now, kind = plan.present, present_blades(plan)
        if now.gear_ratio is None or now.propeller_diameter is None or now.propeller_pitch is None or kind is None:
            return None
        return cls(
            ratio=now.gear_ratio.si,
            diameter=now.propeller_diameter.si,
            pitch=now.propeller_pitch.si,
            kind=kind,
            months=amount(now, "time_since_cleaning") / MONTH,
            is_new=False,
            tachometer=word(now, "tachometer"),
            rated_power=amount_or_none(now, "engine_power"),
            consumption=_CONSUMPTION[_OLD_ENGINE]["g_per_kwh"] * G_PER_KWH,
        )

    @classmethod
    def fitted(cls, plan: Plan, water: Water) -> "LoggedDrive | None":
        """What was fitted, where the trial does not say it what the plan has chosen; None while ratio, diameter or
        pitch is known from neither, or no series was tested at the pitch."""
        trial, engine = plan.trial, plan.engine.selected
        ratio = trial.gear_ratio or plan.gear.ratio
        diameter = trial.propeller_diameter or plan.propeller.diameter
        pitch = trial.propeller_pitch or plan.propeller.pitch
        kind = fitted_blades(plan)
        if ratio is None or diameter is None or pitch is None or not kind.series.describes(diameter.si, pitch.si):
            return None
        return cls(
            ratio=ratio.si,
            diameter=diameter.si,
            pitch=pitch.si,
            kind=kind,
            months=amount(trial, "time_since_cleaning") / MONTH,
            is_new=True,
            tachometer=word(trial, "tachometer"),
            rated_power=None if engine is None else amount_or_none(engine, "rated_power"),
            consumption=_CONSUMPTION[word(engine, "kind")]["g_per_kwh"] * G_PER_KWH
            if isinstance(engine, Candidate)
            else None,
            water=_blade_water(plan, ratio.si, water),
        )

    def is_the_same(self, diameter: float, pitch: float, blades: int, ratio: float) -> bool:
        """Whether it is a wheel of this size [m] and so many blades in this ratio."""
        own = (self.diameter, self.pitch, self.ratio)
        is_near = all(abs(a / b - 1.0) <= _SAME for a, b in zip(own, (diameter, pitch, ratio), strict=True))
        return is_near and self.kind.blades == blades

    def readings(self, plan: Plan) -> tuple[Reading, ...]:
        """The rows of its log that can be read."""
        if self.is_new:
            found = [Reading.of_run(index, run) for index, run in enumerate(plan.trial.run)]
        else:
            found = [Reading.of_row(index, row) for index, row in enumerate(plan.present.log)]
        return tuple(reading for reading in found if reading is not None)

    def open_water(self, pitch_factor: Real = 1.0, torque_factor: Real = 1.0) -> OpenWater:
        """Its curves with the growth on its blades, and with another pitch and torque by a factor."""
        pitch_ratio = self.pitch / self.diameter * np.asarray(pitch_factor)
        series = self._series(pitch_ratio)
        clean = OpenWater(series.thrust_cubic, series.torque_cubic * np.asarray(torque_factor)[..., None])
        return fouled(clean, self.diameter, pitch_ratio, self.kind, self.months)

    @cached_property
    def _as_fitted(self) -> OpenWater:
        return self.open_water()

    def _series(self, pitch_ratio: Real) -> OpenWater:
        if self.water is None:
            return self.kind.series.cubics(pitch_ratio, self.kind.area_ratio, self.kind.blades)
        return self.water.family(self.kind, self.diameter).at(pitch_ratio)

    def on_boats(self, boats: Boats, pitch_factor: Real = 1.0) -> OpenWater:
        """Its curves as each boat has it."""
        if self.is_new:
            return self.open_water(np.asarray(boats.propeller_pitch) * pitch_factor, boats.blade_torque)
        return self.open_water(np.asarray(boats.present_propeller_pitch) * pitch_factor)

    def tachometer_of(self, boats: Boats) -> Real:
        """What the tachometer shows over what is [-]."""
        return boats.trial_tachometer if self.is_new else boats.tachometer

    def absorbed_power(self, reading: Reading, advance_fraction: float, density: float) -> float:
        """What it takes at a logged speed and rpm [W].   advance_fraction: speed of advance over boat speed [-]."""
        n = reading.engine_speed / self.ratio
        KQ = float(self._as_fitted.torque_coefficient(self._advance_ratio(reading, advance_fraction)))
        return TWO_PI * KQ * density * n**3 * self.diameter**5

    def is_outrun(self, reading: Reading, advance_fraction: float) -> bool:
        """Whether it would be dragged at a logged speed and rpm, past the J of zero thrust.

        advance_fraction: as in absorbed_power. Apparent slip does not tell: a large slow wheel that drives the boat
        can show one below zero, as it works in the wake and pulls to a J above its pitch ratio.
        """
        dragged = float(self._as_fitted.zero_thrust_advance_ratio)
        return self._advance_ratio(reading, advance_fraction) > dragged

    def _advance_ratio(self, reading: Reading, advance_fraction: float) -> float:
        return reading.speed * advance_fraction * self.ratio / (reading.engine_speed * self.diameter)


def _blade_water(plan: Plan, ratio: float, water: Water) -> BladeWater | None:
    """As the propeller page has it: at rated shaft speed and top speed; None while these are not given."""
    engine, top = plan.engine.selected, plan.speed.top
    if engine is None or engine.rated_speed is None or top is None:
        return None
    advance = top.si * (1.0 - float(boats_of(plan, water, as_described).wake_fraction))
    return BladeWater(engine.rated_speed.si / ratio, advance, float(water.kinematic_viscosity))


def fitted_blades(plan: Plan) -> Blades:
    """The blades of the propeller that was fitted: those that the plan asks for, in the number that was fitted."""
    return wanted_blades(plan, plan.trial.propeller_blades or whole(plan.propeller, "blades"))


def logged_resistance(
    plan: Plan, drive: LoggedDrive, boats: Boats, described: HullForm, opinion: Consensus, water: Water
) -> Array:
    """Resistance of the boats as they were when a log was taken, growth and still air included, (N, S) [N]."""
    return np.asarray(
        bare_resistance(boats, described, opinion, water)
        + fouling_force(plan, boats, opinion.speed, water, drive.months)
        + still_air(plan, boats, opinion.speed)
    )


def logged_point(
    plan: Plan, drive: LoggedDrive, boats: Boats, described: HullForm, opinion: Consensus, water: Water
) -> OperatingPoint:
    """What the propeller of a log does when it drives each of the boats at the speeds of an opinion: fields (N, R)."""
    resistance = logged_resistance(plan, drive, boats, described, opinion, water)
    hull = boats_hull_curve(plan, boats, opinion.speed, resistance, water.density)
    return boats_points(drive.on_boats(boats), drive.diameter, hull)

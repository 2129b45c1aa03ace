"""Stock propellers tried with the drive on the boat: what the propeller stage chooses from."""

import math
from dataclasses import dataclass

import numpy as np

from engine.constants import INCH, KNOT
from engine.numeric import Array, Real
from engine.plan import Plan
from engine.propeller.equilibrium import OperatingPoint, shaft_speed_at_boat_speed
from engine.propeller.matching import (
    AbsorbedPower,
    FullThrottle,
    absorbed_power_curve,
    full_throttle,
    light_running_margin,
    rated_power_crossing,
)
from engine.propeller.open_water import OpenWater
from engine.propeller.wageningen import WAGENINGEN_B, ReynoldsCorrection, reynolds_correction, reynolds_number
from engine.sections.drive import SIZE_STEPS
from engine.stages.blades import fouled, months_allowed_for
from engine.stages.defaults import amount, whole, word
from engine.stages.demand import Demand
from engine.stages.drive import Drive
from engine.stages.gear import GearAnswers
from engine.stages.hull import HullAnswers
from engine.stages.speed import SpeedAnswers

_SHAFT_SPEEDS = np.linspace(0.25, 1.25, 41)
"""Shaft speeds over rated speed at which demand and full load are compared."""
_SMALLER_DIAMETERS = 5
_CENTIMETRE = 0.01
_MARGIN_TOLERANCE = 0.005
"""A size may miss the light-running margin asked for by this much: a tenth of an inch of pitch or so."""


@dataclass(frozen=True, eq=False)
class Setting:
    """What a propeller is tried in: boat, engine and gear."""

    plan: Plan
    hull: HullAnswers
    speed: SpeedAnswers
    demand: Demand
    drive: Drive
    ratio: float

    @property
    def blades(self) -> int:
        return whole(self.plan.propeller, "blades")

    @property
    def area_ratio(self) -> float:
        return amount(self.plan.propeller, "area_ratio")

    @property
    def rated_shaft_speed(self) -> float:
        return self.drive.engine.rated_speed / self.ratio


@dataclass(frozen=True, eq=False)
class Trial:
    """Propellers tried with the drive on the boat; every array has the shape of the sizes tried.

    absorbed, service: over shaft speed, clean in calm water and with the sea margin.   light_running: over rated speed,
    where the propeller takes rated power, less one.   cruise: at the cruising speed, calm.
    """

    diameter: Array
    pitch: Array
    absorbed: AbsorbedPower
    service: AbsorbedPower
    full_throttle: FullThrottle
    service_full_throttle: FullThrottle
    light_running: Array
    cruise: OperatingPoint
    cruise_l_per_h: Array


def stock_steps(plan: Plan) -> tuple[float, float]:
    """(step of diameter, step of pitch) of the stock sizes [m]."""
    sizes = word(plan.propeller, "sizes")
    if sizes == SIZE_STEPS[2]:
        return _CENTIMETRE, _CENTIMETRE
    return INCH, INCH if sizes == SIZE_STEPS[0] else INCH / 2.0


def stock_sizes(plan: Plan, gear: GearAnswers) -> tuple[Array, Array]:
    """Diameters and pitches to try, all pairs that the series describes; the owner's own where given. Empty if none."""
    step, pitch_step = stock_steps(plan)
    wanted_diameter, wanted_pitch = plan.propeller.diameter, plan.propeller.pitch
    chosen = next(option for option in gear.options if option.chosen)
    if wanted_diameter is not None:
        diameters = np.array([wanted_diameter.si])
    else:
        fitting = chosen.diameter_m if math.isfinite(chosen.diameter_m) else gear.largest_diameter_m
        largest = min(math.ceil(fitting / step - 1e-6), math.floor(gear.largest_diameter_m / step + 1e-6))
        diameters = step * np.arange(max(1, largest - _SMALLER_DIAMETERS), largest + 1)
    if wanted_pitch is not None:
        pitches = np.array([wanted_pitch.si])
    else:
        highest = WAGENINGEN_B.pitch_ratio[1] * diameters.max(initial=0.0)
        pitches = pitch_step * np.arange(1, math.ceil(highest / pitch_step) + 1)
    every_diameter, every_pitch = np.meshgrid(diameters, pitches, indexing="ij")
    return described_by_the_series(every_diameter.ravel(), every_pitch.ravel())


def described_by_the_series(diameter: Array, pitch: Array) -> tuple[Array, Array]:
    """Those of the sizes whose pitch ratio the series was tested for; beyond it the polynomials mean nothing."""
    low, high = WAGENINGEN_B.pitch_ratio
    inside = (pitch >= low * diameter) & (pitch <= high * diameter)
    return diameter[inside], pitch[inside]


def try_propellers(setting: Setting, diameter: Array, pitch: Array) -> Trial:
    """Run propellers of these sizes [m] with the drive on the boat, clean in calm water and in service."""
    drive, demand = setting.drive, setting.demand
    shaft_speed: Array = setting.rated_shaft_speed * _SHAFT_SPEEDS
    open_water = corrected_open_water(setting, diameter, pitch)
    calm, service = (
        absorbed_power_curve(wheel, diameter, shaft_speed, hull)
        for wheel, hull in (
            (open_water, demand.calm),
            (in_service(setting, open_water, diameter, pitch), demand.service),
        )
    )
    available = drive.full_load_at_propeller(shaft_speed, setting.ratio)
    governed = drive.engine.no_load_speed / setting.ratio
    crossing = rated_power_crossing(calm, drive.power_at_propeller)
    point = shaft_speed_at_boat_speed(open_water, diameter, setting.speed.cruise_kn * KNOT, demand.calm)
    burn = drive.burn_l_per_h(point.delivered_power, np.asarray(point.shaft_speed) * setting.ratio)
    return Trial(
        diameter=diameter,
        pitch=pitch,
        absorbed=calm,
        service=service,
        full_throttle=full_throttle(calm, available, governed),
        service_full_throttle=full_throttle(service, available, governed),
        light_running=np.asarray(light_running_margin(crossing, setting.rated_shaft_speed)),
        cruise=point,
        cruise_l_per_h=burn * demand.screws,
    )


def corrected_open_water(setting: Setting, diameter: Array, pitch: Array) -> OpenWater:
    """The series for these sizes, corrected for the Reynolds number of the blades at rated shaft speed."""
    open_water = WAGENINGEN_B.cubics(pitch / diameter, setting.area_ratio, setting.blades)
    return open_water + blade_reynolds(setting, diameter, pitch).open_water


def in_service(setting: Setting, open_water: OpenWater, diameter: Array, pitch: Array) -> OpenWater:
    """The same wheels with the growth on their blades that the plan allows for."""
    months = months_allowed_for(setting.plan)
    return fouled(open_water, diameter, pitch / diameter, setting.area_ratio, setting.blades, months)


def blade_reynolds(setting: Setting, diameter: Array, pitch: Array) -> ReynoldsCorrection:
    """The correction for the Reynolds number of the blades at rated shaft speed and top speed."""
    return reynolds_correction(pitch / diameter, setting.area_ratio, setting.blades, _reynolds(setting, diameter))


def _reynolds(setting: Setting, diameter: Array) -> Real:
    advance = setting.speed.top_kn * KNOT * float(setting.demand.calm.advance_fraction)
    return reynolds_number(
        diameter,
        setting.area_ratio,
        setting.blades,
        setting.rated_shaft_speed,
        advance,
        setting.hull.water.kinematic_viscosity,
    )


def choose(plan: Plan, trial: Trial) -> int | None:
    """The size that burns least at cruise among the coarsest of each diameter that leave the margin asked for."""
    wanted = amount(plan.propeller, "light_running")
    if plan.propeller.diameter is not None and plan.propeller.pitch is not None:
        return 0
    best: int | None = None
    for diameter in np.unique(trial.diameter):
        light = np.where(trial.diameter == diameter, trial.light_running, np.nan)
        enough = np.flatnonzero(light >= wanted - _MARGIN_TOLERANCE)
        if len(enough) == 0 and plan.propeller.pitch is not None:
            enough = np.flatnonzero(np.isfinite(light))
        if len(enough) == 0:
            continue
        coarsest = int(enough[np.argmin(light[enough])])
        if best is None or trial.cruise_l_per_h[coarsest] < trial.cruise_l_per_h[best]:
            best = coarsest
    return best

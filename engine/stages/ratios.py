"""Every ratio on offer with the propeller that suits it best, on the middle of the fleet: which ratio that settles."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from engine.bands import UNKNOWN
from engine.constants import RPM
from engine.findings import Outcome, lacking, stop
from engine.machinery.gearbox import rating_margin
from engine.machinery.shaft import shaft_torque
from engine.numeric import Array
from engine.plan import Plan
from engine.propeller import handbook
from engine.propeller.cavitation import burrill_check, dynamic_pressure, tip_speed
from engine.propeller.equilibrium import shaft_speed_at_boat_speed
from engine.propeller.matching import PITCH_RATIO_STEP, PitchFound, PitchToAbsorb, pitch_ratio_to_absorb
from engine.propeller.ranking import LIGHT_WIDTH
from engine.stages.blades import BladeWater, wider_areas
from engine.stages.cases import Cases
from engine.stages.demand import ThrustDemand
from engine.stages.drive import Drive
from engine.stages.gear_answers import RatioRow
from engine.stages.gear_findings import MATCHED, WORTH, has_own_rating
from engine.stages.hull import HullAnswers
from engine.stages.room import propeller_limit, tip_clearance
from engine.stages.setting import Setting
from engine.stages.speed import SpeedAnswers
from engine.stages.stock import LAST_LINE, stock_steps, whole_steps
from engine.stages.wording import Wording

_DIAMETER_SHARES = np.linspace(0.45, 1.6, 47)
"""Diameters tried, over the handbook's; the largest that fits is tried as well."""


@dataclass(frozen=True)
class Option:
    """The row of a ratio, and the speed that the middle of the fleet reaches [m/s], -inf when no propeller suits.

    free: consumption at cruise on that middle, had the propeller all room.
    """

    row: RatioRow
    reached: float
    free: float

    @property
    def suits(self) -> bool:
        """Whether there is a propeller for it."""
        return math.isfinite(self.reached)


@dataclass(frozen=True, kw_only=True)
class Ratios:
    """What the ratios on offer come to.

    ratio: the chosen one.   largest_diameter_m: of a propeller that there is room for.   recommended_ratio: of those in
    which the gear carries the engine, if any.   best_use_ratio: what it would be if the gear carried it in every one.
    """

    ratio: float
    largest_diameter_m: float
    recommended_ratio: float
    best_use_ratio: float
    options: tuple[Option, ...]


def assess_ratios(
    plan: Plan, hull: HullAnswers, speed: SpeedAnswers, demand: ThrustDemand, cases: Cases, drive: Drive
) -> Outcome[Ratios]:
    """For every ratio on offer the propeller that fits and absorbs the power best."""
    limit = propeller_limit(plan)
    if not plan.gear.ratios:
        return Outcome(None, waits_for="the ratios on offer.")
    if limit is None:
        return lacking("the room for the propeller", "propeller")
    settings = [Setting(plan, hull, speed, demand, cases, drive, ratio) for ratio in ratios_on_offer(plan)]
    options = tuple(_options(settings, limit))
    usable = [option for option in options if option.suits]
    if not usable:
        return Outcome(
            None,
            (stop(_none_suits(plan, options, limit), MATCHED, "gear.ratios"),),
            "a ratio or a room that suits the engine; the findings say more.",
        )
    recommended = _recommended([option for option in usable if option.row.is_carried] or usable)
    ratios = Ratios(
        ratio=plan.gear.ratio.si if plan.gear.ratio else recommended,
        largest_diameter_m=limit,
        recommended_ratio=recommended,
        best_use_ratio=_recommended(usable),
        options=options,
    )
    return Outcome(ratios)


def _none_suits(plan: Plan, options: Sequence[Option], limit: float) -> str:
    """That no ratio suits, and what would help. Where there is a propeller for one at all, the room is too small."""
    text = "In none of the ratios on offer does a propeller of the blades asked for take the power and fit the room."
    rows = [option.row for option in options if math.isfinite(option.row.free_diameter_m)]
    if not rows:
        return f"{text} Look at the power, the ratios on offer and the speeds of the speed page."
    least, size = min(rows, key=lambda row: row.free_diameter_m), Wording(plan.units).size
    return (
        f"{text} There is room for {size(limit)} across the blades; with {least.ratio:.4g}:1 it would best have "
        f"{size(least.free_diameter_m)}. It takes more room, a shallower ratio, as a faster shaft wants a smaller "
        "propeller, or less power."
    )


def ratios_on_offer(plan: Plan) -> list[float]:
    """The ratios of the plan, and the chosen one, from the shallowest to the deepest."""
    return sorted({ratio.si for ratio in plan.gear.ratios} | ({plan.gear.ratio.si} if plan.gear.ratio else set()))


def _rating(plan: Plan, ratio: float) -> float | None:
    """The rating [W per rev/s] of the gear in a ratio: its own where it has one, else the gear's."""
    gear = plan.gear
    if has_own_rating(plan, ratio):
        own = {on_offer.si: rating.si for on_offer, rating in zip(gear.ratios, gear.ratings, strict=True)}
        return own[ratio]
    return None if gear.rating is None else gear.rating.si


def _recommended(options: list[Option]) -> float:
    """The fastest at full power; a shallower ratio wins when the deeper one gains next to nothing."""
    fastest = max(option.reached for option in options)
    return next(option.row.ratio for option in options if option.reached >= fastest * (1.0 - WORTH))


def _options(settings: Sequence[Setting], limit: float) -> Iterator[Option]:
    """What each ratio comes to with the largest diameter [m] that fits.   settings: alike but for the ratio."""
    first, ratio = settings[0], np.array([[setting.ratio] for setting in settings])
    shaft_speed = first.drive.engine.rated_speed / ratio
    usual = np.asarray(handbook.diameter(first.drive.power_at_propeller, shaft_speed))
    ends = (np.full_like(usual, end) for end in (limit, _largest_stocked(first, limit)))
    tried = np.sort(np.hstack([usual * _DIAMETER_SHARES, *ends]), axis=1)
    water = replace(first.blade_water, shaft_speed=shaft_speed)
    trial = _absorbing(first, water, tried)
    pitch = np.asarray(trial.pitch_ratio) * tried
    reached = np.where(trial.found == PitchFound.YES, np.asarray(trial.boat_speed), -np.inf)
    fitting = np.where(_may_be_taken(first, water, tried, trial, limit), reached, -np.inf)
    freest = np.argmax(reached, axis=1)[:, None]
    wished, its_pitch = (np.take_along_axis(each, freest, axis=1) for each in (tried, pitch))
    free = _middle_consumption(first, water, wished, its_pitch, ratio)
    for row, setting in enumerate(settings):
        yield _option(setting, tried[row], pitch[row], reached[row], fitting[row], float(free[row, 0]))


def _may_be_taken(
    setting: Setting, water: BladeWater, tried: Array, trial: PitchToAbsorb, limit: float
) -> NDArray[np.bool_]:
    """Which of the diameters (R, D) fit, and have blade area enough for the propeller page to take a wheel of them.

    A ratio counts when a size in stock among them has, at the lightest that page lets through, with usual blades or,
    where none has, with the next wider in stock. Where no ratio counts, or the owner has his wheel, area does not.
    """
    fits = np.asarray((tried <= limit) & (trial.found == PitchFound.YES))
    own = setting.plan.propeller
    if own.diameter is not None and own.pitch is not None:
        return fits
    advance = np.asarray(trial.advance_ratio) * water.shaft_speed * (1.0 + setting.wanted_margin) * tried
    lightest = water.shaft_speed * (1.0 + setting.wanted_margin + LIGHT_WIDTH)
    q = dynamic_pressure(tried, lightest, advance, setting.hull.water.density)
    is_in_stock = tried <= _largest_stocked(setting, limit)
    may_be_taken, counts = np.zeros_like(fits), np.zeros((len(tried), 1), dtype=bool)
    for area in (setting.kind.area_ratio, *wider_areas(setting.plan)):
        if counts.all():
            break
        burrill = burrill_check(trial.thrust, tried, trial.pitch_ratio, area, q, setting.shaft_pressure, LAST_LINE)
        enough = fits & (np.asarray(burrill.area_ratio_needed) <= area) & ~counts
        has_one = (enough & is_in_stock).any(axis=1, keepdims=True)
        may_be_taken |= enough & has_one
        counts |= has_one
    return may_be_taken if counts.any() else fits


def _largest_stocked(setting: Setting, limit: float) -> float:
    """The largest diameter in stock that fits [m], the limit itself where none is so small."""
    step = stock_steps(setting.plan).diameter
    return whole_steps(limit, step) * step or limit


def _absorbing(setting: Setting, water: BladeWater, diameter: Array) -> PitchToAbsorb:
    """For each diameter (R, D) the pitch that takes the engine's power at the light-running margin asked for.

    water: at the rated shaft speed of each ratio, (R, 1).
    """
    return pitch_ratio_to_absorb(
        water.family(setting.kind, diameter),
        setting.kind.series.pitch_ratio_grid(PITCH_RATIO_STEP),
        diameter,
        setting.drive.power_at_propeller,
        water.shaft_speed * (1.0 + setting.wanted_margin),
        setting.cases.margin.middle,
    )


def _middle_consumption(setting: Setting, water: BladeWater, diameter: Array, pitch: Array, ratio: Array) -> Array:
    """Consumption of all engines at cruise on the middle of the fleet; NaN for a pitch that is NaN. All (R, 1)."""
    calm = setting.cases.calm.middle
    wheels = water.family(setting.kind, diameter).at(pitch / diameter)
    point = shaft_speed_at_boat_speed(wheels, diameter, setting.cruise, calm)
    each = setting.drive.consumption(point.delivered_power, np.asarray(point.shaft_speed) * ratio)
    return each * setting.demand.screws


def _option(setting: Setting, tried: Array, pitch: Array, reached: Array, fitting: Array, free: float) -> Option:
    """A ratio with the propeller that suits it best.

    tried: diameters (D,) [m].   pitch, reached: with each the pitch that suits [m], and the boat's speed on it [m/s].
    fitting: that speed, -inf where it may not be taken.
    """
    drive, shaft_speed = setting.drive, setting.rated_shaft_speed
    best, freest = int(np.argmax(fitting)), int(np.argmax(reached))
    nothing = not np.isfinite(fitting[best])
    diameter = math.nan if nothing else float(tried[best])
    rating = _rating(setting.plan, setting.ratio)
    row = RatioRow(
        ratio=setting.ratio,
        shaft_rpm=shaft_speed / RPM,
        free_diameter_m=float(tried[freest]) if np.isfinite(reached[freest]) else math.nan,
        diameter_m=diameter,
        pitch_m=math.nan if nothing else float(pitch[best]),
        efficiency_fraction=UNKNOWN,
        tip_clearance_fraction=tip_clearance(setting.plan, diameter),
        top_kn=UNKNOWN,
        cruise_l_per_h=drive.if_fuel(UNKNOWN),
        cruise_drawn_kw=drive.if_electric(UNKNOWN),
        tip_speed_m_per_s=math.nan if nothing else float(tip_speed(diameter, shaft_speed)),
        shaft_torque_nm=float(shaft_torque(drive.power_after_gear, shaft_speed)),
        rating_margin_fraction=None if rating is None else rating_margin(drive.gear_rating_needed, rating),
        chosen=False,
    )
    return Option(row, float(fitting[best]), free)

"""Stage 2: how fast should she go? What each further half knot costs."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from engine.answers import answer, table
from engine.bands import Band
from engine.constants import KILOWATT_HOUR, KNOT, NAUTICAL_MILE
from engine.data import table as data_table
from engine.defaults import amount, word
from engine.findings import Finding, Outcome, fits, look, stop
from engine.hull.displacement_rules import speed_length_ratio, speed_length_ratio_limit_gerr, wave_length
from engine.plan import Plan
from engine.sections.performance import ALL_METHODS
from engine.stages.hull import HullAnswers
from engine.stages.resistance import (
    CalmResistance,
    ResistanceCurve,
    calm_resistance,
    each_at_speed,
    resistance_curve,
    steps_to_reach,
)
from engine.stages.wording import Wording, listed, more_or_less, percent

HULL_SPEED_RATIO: float = data_table("handbook_rules")["hull_speed"]["constant"]


@dataclass(frozen=True)
class SpeedStep:
    """What one speed asks for, and what the last half knot to it cost."""

    speed_kn: float = answer("Speed")
    speed_length_ratio: float = answer("Speed-length ratio")
    effective_power_kw: Band = answer("Effective power", spread=True)
    energy_per_mile_kwh: Band = answer("Energy per mile")
    step_cost_fraction: Band = answer("Power for the last half knot")


@dataclass(frozen=True, kw_only=True)
class SpeedAnswers:
    """The two speeds she is planned for, and the wave she makes."""

    cruise_kn: float = answer("Cruising speed")
    top_kn: float = answer("Top speed wanted")
    hull_speed_kn: Band = answer("Hull speed")
    cruise_speed_length_ratio: float = answer("Speed-length ratio at cruise")
    top_speed_length_ratio: float = answer("Speed-length ratio at top speed")
    cruise_froude_number: float = answer("Froude number at cruise")
    top_froude_number: float = answer("Froude number at top speed")
    cruise_wave_m: float = answer("Length of her wave at cruise")
    top_wave_m: float = answer("Length of her wave at top speed")
    curve: ResistanceCurve
    steps: tuple[SpeedStep, ...] = table("What each half knot costs, calm water, bare of propeller losses")


_COMMON = "common practice, no source"
_STEP_KN = 0.5


@dataclass(frozen=True)
class Reach:
    """How far the speeds go at which she is worked out: steps of the grid beyond rest."""

    steps: int


def assess_reach(plan: Plan, hull_speed_kn: Band) -> Outcome[Reach]:
    """Beyond the highest of hull speed and the speeds planned for; most changes of a speed leave it as it is."""
    if plan.speed.cruise is None or plan.speed.top is None:
        wanted = (("the cruising speed", plan.speed.cruise), ("the top speed wanted", plan.speed.top))
        return Outcome(None, waits_for=f"{listed([words for words, speed in wanted if speed is None])}.")
    return Outcome(Reach(steps_to_reach(_highest(plan, hull_speed_kn))))


def _highest(plan: Plan, hull_speed_kn: Band) -> float:
    """The highest speed of interest [m/s]."""
    return max(amount(plan.speed, "cruise"), amount(plan.speed, "top"), hull_speed_kn.best * KNOT)


def assess_calm_resistance(plan: Plan, hull: HullAnswers, steps: int) -> Outcome[CalmResistance]:
    """What no allowance of the power page changes.   steps: of the grid beyond rest."""
    return Outcome(calm_resistance(plan, hull.fleet, hull.boats, hull.form, hull.water, steps))


def assess_speed(plan: Plan, hull: HullAnswers, calm: CalmResistance) -> Outcome[SpeedAnswers]:
    """The planned speeds against the length of the boat, and the price of each half knot in calm water."""
    cruise, top = amount(plan.speed, "cruise"), amount(plan.speed, "top")
    length = hull.waterline_length_m.best
    curve = resistance_curve(plan, hull.fleet, hull.boats, hull.form, hull.water, calm)
    if not np.all(np.isfinite(np.interp([cruise, top], curve.speed, curve.median_calm))):
        return Outcome(None, (_no_method(word(plan.power, "method")),), "a resistance method that knows such a hull.")
    answers = SpeedAnswers(
        cruise_kn=cruise / KNOT,
        top_kn=top / KNOT,
        hull_speed_kn=hull.hull_speed_kn,
        cruise_speed_length_ratio=float(speed_length_ratio(cruise, length)),
        top_speed_length_ratio=float(speed_length_ratio(top, length)),
        cruise_froude_number=float(hull.form.froude_number(cruise)),
        top_froude_number=float(hull.form.froude_number(top)),
        cruise_wave_m=float(wave_length(cruise)),
        top_wave_m=float(wave_length(top)),
        curve=curve,
        steps=tuple(_steps(curve, length, _highest(plan, hull.hull_speed_kn))),
    )
    return Outcome(answers, tuple(_findings(plan, hull, answers)))


def _no_method(chosen: str) -> Finding:
    """Why there is no resistance, and what would help."""
    source = "ranges of the methods, listed on the hull page"
    if chosen == ALL_METHODS:
        text = (
            "The resistance methods have no value for this hull at these speeds. Look again at the dimensions, the "
            "displacement, the coefficients, the centre of buoyancy and the transom."
        )
        return stop(text, source, "hull.displacement")
    text = (
        f"The method you chose, {chosen}, has no value for this hull at these speeds. "
        "Choose another on the power page, or all that apply."
    )
    return stop(text, source, "power.method")


def _steps(curve: ResistanceCurve, length: float, highest: float) -> Iterator[SpeedStep]:
    last = np.ceil(highest / KNOT / _STEP_KN + 1.0) * _STEP_KN
    speed = KNOT * np.arange(2.0 * _STEP_KN, last + 0.1 * _STEP_KN, _STEP_KN)
    force = np.column_stack([each_at_speed(curve, curve.calm, v) for v in speed])
    power = force * speed
    slower = np.column_stack([each_at_speed(curve, curve.calm, speed[0] - _STEP_KN * KNOT) * _STEP_KN * KNOT, power])
    powers, energies, costs = (
        curve.fleet.each_band(values)
        for values in (power / 1e3, force * NAUTICAL_MILE / KILOWATT_HOUR, power / slower[:, :-1] - 1.0)
    )
    for i, v in enumerate(speed):
        yield SpeedStep(
            speed_kn=float(v / KNOT),
            speed_length_ratio=float(speed_length_ratio(v, length)),
            effective_power_kw=powers[i],
            energy_per_mile_kwh=energies[i],
            step_cost_fraction=costs[i],
        )


def _findings(plan: Plan, hull: HullAnswers, answers: SpeedAnswers) -> Iterator[Finding]:
    hull_kn, length = answers.hull_speed_kn.best, hull.waterline_length_m.best
    most = max(float(speed_length_ratio_limit_gerr(hull.displacement_kg.best, length)), HULL_SPEED_RATIO)
    if answers.cruise_kn > answers.top_kn:
        yield stop(
            f"The cruising speed, {answers.cruise_kn:.1f} kn, is above the top speed wanted, {answers.top_kn:.1f} kn. "
            "Raise the one or lower the other.",
            "a cruising speed lies below full throttle",
            "speed.cruise",
        )
    for name, speed_kn, ratio in (
        ("cruising speed", answers.cruise_kn, answers.cruise_speed_length_ratio),
        ("top speed wanted", answers.top_kn, answers.top_speed_length_ratio),
    ):
        path = "speed.cruise" if name.startswith("cruising") else "speed.top"
        text = (
            f"The {name}, {speed_kn:.1f} kn, is {percent(speed_kn / hull_kn)} of hull speed "
            f"(speed-length ratio {ratio:.2f})."
        )
        if ratio <= HULL_SPEED_RATIO:
            yield fits(text, _COMMON, path)
        elif ratio > most:
            most_kn = speed_kn * most / ratio
            yield look(
                f"{text} By a handbook's rule a boat of her weight and length goes no faster than about "
                f"{most_kn:.1f} kn unless she planes. Planing is not worked out here, so any higher speed on these "
                "pages is less sure: wish for less.",
                "Gerr (1989), formula 2-3, from memory, but at least hull speed",
                path,
            )
        else:
            yield look(
                f"{text} From hull speed an eighth more speed takes two to two and a half times the power.",
                "regressions of tank tests; hull speed: common practice",
                path,
            )
    costs = dict.fromkeys(_cost_at(answers, speed_kn) for speed_kn in (answers.cruise_kn, hull_kn))
    yield fits(
        f"At cruise her wave is {Wording(plan.units).length(answers.cruise_wave_m)} long. {' '.join(costs)}",
        "middle of the plausible boats, effective power in calm water by the methods of the power page",
    )


def _cost_at(answers: SpeedAnswers, speed_kn: float) -> str:
    step = min(answers.steps, key=lambda step: abs(step.speed_kn - speed_kn))
    if not step.step_cost_fraction.is_known:
        return f"What the half knot up to {step.speed_kn:.1f} kn takes the methods in use cannot say."
    return f"The half knot up to {step.speed_kn:.1f} kn takes {more_or_less(step.step_cost_fraction.best)} power."

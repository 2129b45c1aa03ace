"""Stage 2: how fast should she go? What each further half knot costs."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from engine.answers import answer, table
from engine.constants import KNOT, NAUTICAL_MILE
from engine.data import table as data_table
from engine.findings import Finding, Outcome, fits, look, stop
from engine.hull.displacement_rules import speed_length_ratio, wave_length
from engine.plan import Plan
from engine.stages.hull import HullAnswers
from engine.stages.resistance import ResistanceCurve, at_speed, resistance_curve
from engine.stages.wording import Wording, percent

HULL_SPEED_RATIO: float = data_table("handbook_rules")["hull_speed"]["constant"]


@dataclass(frozen=True)
class SpeedStep:
    """What one speed asks for, and what the last half knot to it cost."""

    speed_kn: float = answer("Speed")
    speed_length_ratio: float = answer("Speed-length ratio")
    effective_power_kw: float = answer("Effective power")
    energy_per_mile_kwh: float = answer("Energy per mile, kWh")
    step_cost_fraction: float = answer("Power for the last half knot")


@dataclass(frozen=True, kw_only=True)
class SpeedAnswers:
    """The two speeds she is planned for, and the wave she makes."""

    cruise_kn: float = answer("Cruising speed")
    top_kn: float = answer("Top speed wanted")
    hull_speed_kn: float = answer("Hull speed")
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


def assess_speed(plan: Plan, hull: HullAnswers) -> Outcome[SpeedAnswers]:
    """The planned speeds against the length of the boat, and the price of each half knot in calm water."""
    if plan.speed.cruise is None or plan.speed.top is None:
        return Outcome(None, waits_for="the cruising speed and the top speed wanted.")
    cruise, top = plan.speed.cruise.si, plan.speed.top.si
    length = hull.waterline_length_m
    curve = resistance_curve(plan, hull, max(cruise, top))
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
        steps=tuple(_steps(curve, length, max(cruise, top, hull.hull_speed_kn * KNOT))),
    )
    return Outcome(answers, tuple(_findings(plan, answers)))


def _steps(curve: ResistanceCurve, length: float, highest: float) -> Iterator[SpeedStep]:
    last = np.ceil(highest / KNOT / _STEP_KN + 1.0) * _STEP_KN
    for speed_kn in np.arange(2.0 * _STEP_KN, last + 0.1, _STEP_KN):
        force, before = (at_speed(curve, curve.calm, kn * KNOT) for kn in (speed_kn, speed_kn - _STEP_KN))
        power = force * speed_kn * KNOT
        yield SpeedStep(
            speed_kn=float(speed_kn),
            speed_length_ratio=float(speed_length_ratio(speed_kn * KNOT, length)),
            effective_power_kw=power / 1e3,
            energy_per_mile_kwh=force * NAUTICAL_MILE / 3.6e6,
            step_cost_fraction=power / (before * (speed_kn - _STEP_KN) * KNOT) - 1.0,
        )


def _findings(plan: Plan, answers: SpeedAnswers) -> Iterator[Finding]:
    hull_kn = answers.hull_speed_kn
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
        else:
            yield look(
                f"{text} Above hull speed power climbs two to two and a half times for an eighth more speed.",
                "regressions of tank tests; hull speed: common practice",
                path,
            )
    yield fits(
        f"At cruise her wave is {Wording(plan.units).length(answers.cruise_wave_m)} long. "
        f"{_cost_at(answers, answers.cruise_kn)} "
        f"{_cost_at(answers, hull_kn)}",
        f"{answers.curve.method.source}, effective power in calm water",
    )


def _cost_at(answers: SpeedAnswers, speed_kn: float) -> str:
    step = min(answers.steps, key=lambda step: abs(step.speed_kn - speed_kn))
    return f"The half knot up to {step.speed_kn:.1f} kn takes {percent(step.step_cost_fraction)} more power."

"""What there is to say about the chosen propeller: full throttle, room, cavitation, series, the quick method."""

from collections.abc import Iterator

import numpy as np

from engine.constants import INCH, KNOT, RPM
from engine.findings import Finding, Verdict, fits, look, stop
from engine.propeller.cavitation import TIP_SPEED_LIMITS, burrill_check, dynamic_pressure, pressure_above_vapour
from engine.propeller.wageningen import WAGENINGEN_B
from engine.stages.blades import LIGHT_GROWTH, growth_is_beyond, months_allowed_for
from engine.stages.defaults import amount
from engine.stages.doubt import SOURCE as DOUBT_SOURCE
from engine.stages.fitting import Setting, blade_reynolds
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.room import shaft_depth
from engine.stages.wording import Wording, percent

FULL_THROTTLE = "equilibrium of hull, propeller and engine; light running: trade practice for displacement boats"
_FAR_TOO_LIGHT = 0.07
_MOST_LIGHT = 0.25
_HANDBOOK_SPREAD = 0.12
_TWO_BLADE_EFFICIENCY = 0.75
_MOST_BOATS = 0.75
"""When fewer of the plausible boats than this reach rated speed, the size wants a second look (ours)."""


def propeller_findings(setting: Setting, answers: PropellerAnswers) -> Iterator[Finding]:
    yield _rated_speed_finding(setting, answers)
    yield _boats_finding(answers)
    yield from _doubt_findings(answers)
    yield from _service_findings(answers)
    yield from _growth_findings(setting)
    yield from _room_findings(setting, answers)
    yield from _cavitation_findings(setting, answers)
    yield from _series_findings(setting, answers)
    yield _handbook_finding(setting, answers)


def _cure(answers: PropellerAnswers, wanted: float) -> str:
    """The change of pitch that gives the margin asked for, from the computed exponent."""
    ratio = ((1.0 + wanted) / (1.0 + answers.light_running_fraction.best)) ** (1.0 / answers.pitch_exponent)
    metres = answers.pitch_m * (ratio - 1.0)
    if not np.isfinite(metres):
        return "The size is too far from what suits to name a cure."
    sense = "more" if metres > 0.0 else "less"
    return f"About {abs(metres) / INCH:.1f} in ({abs(metres) * 1e3:.0f} mm) {sense} pitch suits."


def _worth(per_inch: float) -> str:
    return f"An inch of pitch is worth {-per_inch:.0f} rpm." if np.isfinite(per_inch) else ""


def _rated_speed_finding(setting: Setting, answers: PropellerAnswers) -> Finding:
    wanted = amount(setting.plan.propeller, "light_running")
    light, rated = answers.light_running_fraction.best, answers.rated_rpm
    turning = answers.full_throttle_rpm
    per_inch = answers.inch_of_pitch_rpm
    if not light <= _MOST_LIGHT:
        return look(
            "The propeller is far too light: even a quarter above rated speed it would not take the engine's power.",
            FULL_THROTTLE,
            "propeller.pitch",
        )
    if light < 0.0:
        short = rated - turning.best
        return stop(
            f"Overloaded: at full throttle the engine reaches {turning.best:.0f} of {rated:.0f} rpm, "
            f"{short:.0f} short, even clean and in calm water. {_cure(answers, wanted)}",
            FULL_THROTTLE,
            "propeller.pitch",
        )
    text = (
        f"At full throttle, clean and in calm water, the engine reaches {turning.best:.0f} rpm, "
        f"{turning.low:.0f} to {turning.high:.0f} (rated {rated:.0f}); the propeller runs {percent(light, 1)} light. "
        f"{_worth(per_inch)}"
    )
    if light < wanted - 0.01:
        text = f"{text} That is less in hand than the {percent(wanted)} asked for."
        return look(text, FULL_THROTTLE, "propeller.pitch")
    if light > max(_FAR_TOO_LIGHT, wanted + 0.03):
        return look(
            f"{text} That is too light: the governor ends it before the power is used. {_cure(answers, wanted)}",
            FULL_THROTTLE,
            "propeller.pitch",
        )
    return fits(text, FULL_THROTTLE)


def _boats_finding(answers: PropellerAnswers) -> Finding:
    share = answers.reaches_rated_fraction
    text = f"In {1000.0 * share:.0f} of 1,000 plausible boats the engine reaches its rated speed at full throttle."
    source = "the plausible boats in equilibrium with propeller and engine"
    return fits(text, source) if share >= _MOST_BOATS else look(text, source, "propeller.pitch")


def _doubt_findings(answers: PropellerAnswers) -> Iterator[Finding]:
    if answers.doubt:
        first = answers.doubt[0]
        yield fits(
            f"Most of the doubt in the engine speed at full throttle goes when you do this: {first.action} "
            f"It would take away {percent(first.share_fraction)} of it.",
            DOUBT_SOURCE,
        )


def _service_findings(answers: PropellerAnswers) -> Iterator[Finding]:
    service, rated = answers.service_full_throttle_rpm.best, answers.rated_rpm
    if not np.isfinite(service):
        yield look("With your margin for wind and sea full throttle cannot be worked out.", FULL_THROTTLE)
        return
    text = f"With your margin for wind and sea she reaches {service:.0f} rpm at full throttle"
    if service >= rated * 0.995:
        yield fits(f"{text}: the engine still gets its rated speed.", FULL_THROTTLE)
    else:
        yield look(
            f"{text}, {rated - service:.0f} below rated: do not hold full throttle in such weather.", FULL_THROTTLE
        )


def _growth_findings(setting: Setting) -> Iterator[Finding]:
    if growth_is_beyond(months_allowed_for(setting.plan)):
        height = LIGHT_GROWTH.roughness_height * 1e6
        yield look(
            f"After so many months the wheel may carry barnacles. It is reckoned with light growth ({height:.0f} "
            "micrometres); barnacles may cost a third of its efficiency: clean it when you can.",
            "ITTC (1978), blade roughness, from memory; months and heights are ours",
            "power.time_since_cleaning",
        )


def _room_findings(setting: Setting, answers: PropellerAnswers) -> Iterator[Finding]:
    asked = amount(setting.plan.propeller, "tip_clearance")
    gap = percent(answers.tip_clearance_fraction)
    text = f"The tips clear the hull by {gap} of the diameter; {percent(asked)} is asked for"
    source = "a maker's minimum of 10 %, confirmed by trade practice"
    if answers.tip_clearance_fraction >= asked - 1e-6:
        yield fits(f"{text}.", source)
    elif answers.tip_clearance_fraction <= 0.0:
        yield stop("The propeller is larger than the room for it.", source, "propeller.diameter")
    else:
        yield look(f"{text}: expect noise and vibration, or take a smaller wheel.", source, "propeller.diameter")


def _cavitation_findings(setting: Setting, answers: PropellerAnswers) -> Iterator[Finding]:
    area, needed = answers.area_ratio, answers.needed_area_ratio.best
    keller = f"Keller (1966) asks for a blade area ratio of {needed:.2f}; the wheel has {area:.2f}"
    source = "Keller (1966), as used by Holtrop and Mennen (1982); advice for small single-screw boats, not a stop"
    yield fits(f"{keller}.", source) if area >= needed else look(f"{keller}.", source, "propeller.area_ratio")
    shaft_speed = answers.full_throttle_rpm.best * RPM / setting.ratio
    advance = answers.top_kn.best * KNOT * float(setting.demand.calm.advance_fraction)
    density = setting.hull.water.density
    check = burrill_check(
        answers.thrust_n.best,
        answers.diameter_m,
        answers.pitch_ratio,
        area,
        dynamic_pressure(answers.diameter_m, shaft_speed, advance, density),
        pressure_above_vapour(shaft_depth(setting.plan), density),
    )
    text = f"Burrill's line for about 5 % cavitation asks for {float(check.area_ratio_needed):.2f} at full throttle"
    burrill = "Burrill (1943), merchant line; fit from memory, checked against printed chart readings"
    if float(check.area_ratio_needed) <= area:
        yield fits(f"{text}; the wheel has {area:.2f}.", burrill)
    else:
        yield look(f"{text}; the wheel has {area:.2f}. More blade area is quieter.", burrill, "propeller.area_ratio")
    tip = answers.tip_speed_m_per_s.best
    quiet, ordinary = float(TIP_SPEED_LIMITS["quiet"]), float(TIP_SPEED_LIMITS["ordinary"])
    tips = f"The tips run at {tip:.0f} m/s"
    practice = "trade practice, from memory"
    if tip <= quiet:
        yield fits(f"{tips}: quiet up to {quiet:.0f}.", practice)
    elif tip <= ordinary:
        yield fits(f"{tips}: ordinary up to {ordinary:.0f}.", practice)
    else:
        yield look(
            f"{tips}, above {ordinary:.0f}: noise and erosion. A deeper ratio slows them.", practice, "gear.ratio"
        )


def _series_findings(setting: Setting, answers: PropellerAnswers) -> Iterator[Finding]:
    for record in WAGENINGEN_B.outside(answers.pitch_ratio, answers.area_ratio, answers.blades):
        yield look(record.sentence(), WAGENINGEN_B.source, "propeller.area_ratio")
    if answers.blades == 2 and answers.cruise_efficiency_fraction.best > _TWO_BLADE_EFFICIENCY:
        yield look(
            f"An efficiency above {percent(_TWO_BLADE_EFFICIENCY)} is optimistic for two blades.", WAGENINGEN_B.source
        )
    correction = blade_reynolds(setting, np.asarray(answers.diameter_m), np.asarray(answers.pitch_m))
    for record in correction.outside:
        yield look(record.sentence(), "Oosterveld and van Oossanen (1975), Reynolds correction")


def _handbook_finding(setting: Setting, answers: PropellerAnswers) -> Finding:
    say = Wording(setting.plan.units)
    size = f"{say.size(answers.handbook_diameter_m)} by {say.size(answers.handbook_pitch_m)}"
    source = "Gerr (1989), Propeller Handbook, formulas 5-2 and 5-3; slip from memory"
    total = answers.diameter_m + answers.pitch_m
    gap = total / (answers.handbook_diameter_m + answers.handbook_pitch_m) - 1.0
    text = (
        f"The trade's quick method gives {size} for three blades: {percent(abs(gap))} "
        f"{'less' if gap > 0 else 'more'} in all"
    )
    return Finding(
        Verdict.FITS if abs(gap) <= _HANDBOOK_SPREAD else Verdict.LOOK,
        f"{text} than the size chosen, diameter and pitch added up.",
        source,
        "propeller.diameter",
    )

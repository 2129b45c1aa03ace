"""What there is to say about the engine with the chosen propeller: full throttle in every state, and the cure."""

from collections.abc import Iterator

import numpy as np

from engine.constants import INCH, KNOT, RPM
from engine.defaults import amount_or_none
from engine.findings import Finding, fits, look, stop
from engine.hull.shallow_water import SHALLOW_SOURCE, ShallowWarning, shallow_water
from engine.propeller.light_running import PRACTICES, judge_light_running
from engine.propeller.ranking import LIGHT_TOLERANCE
from engine.showing import share_of_boats, thousandths
from engine.stages.blades import LIGHT_GROWTH, growth_is_beyond, months_allowed_for, wanted_blades
from engine.stages.doubt import first_step
from engine.stages.logged_drive import LoggedDrive
from engine.stages.propeller_answers import CaseRow, PropellerAnswers
from engine.stages.propeller_checks import propeller_checks
from engine.stages.setting import Setting
from engine.stages.wording import Wording, capitalised, months_of, percent

FULL_THROTTLE = "equilibrium of hull, propeller and engine; light running: trade practice for displacement boats"
_, TOO_LIGHT = PRACTICES["ship"].within(1.0)
"""Light running beyond which the governor ends it before the power is used: the upper end of ship practice."""
_LIGHTER = 0.03
"""Light running this much over what was asked for is too much as well (ours)."""
_AS_TOLD = 3
"""Light running is judged as it is told, to a tenth of a per cent: the search stops at the same limit, and calls for no
cure of the wheel that it has found there."""
_AS_GOOD_AS_RATED = 0.995
"""Of rated speed: less than what a tachometer shows (ours)."""
_LEAST_AT_HALF_LOAD = 0.5
"""Of the displacement; a boat that weighs less at half load is more likely a slip of the pen (ours)."""
_NO_RPM = 0.5
"""Rounds to no revolution a minute."""
_TOLD = 0.0005
"""Share of the boats from which it rounds to one in 1,000; fewer are not told."""


def propeller_findings(setting: Setting, answers: PropellerAnswers) -> Iterator[Finding]:
    """Sentences about the propeller, the engine first."""
    tried = _tried(setting, answers)
    yield _rated_speed_finding(setting, answers, tried)
    yield _boats_finding(answers, tried)
    yield judge_light_running(setting.wanted_margin, setting.drive.engine.rated_speed)
    yield from first_step("the engine speed at full throttle", answers.doubt)
    yield from _area_findings(setting)
    yield from _case_findings(answers)
    yield from _depth_findings(setting, answers)
    yield from _growth_findings(setting)
    yield from propeller_checks(setting, answers)


def _tried(setting: Setting, answers: PropellerAnswers) -> str:
    """What a sea trial with this wheel in this ratio reached at full throttle; "" without one."""
    full = [reading.engine_speed for reading in setting.hull.trial.readings if reading.full_throttle]
    fitted = LoggedDrive.fitted(setting.plan, setting.hull.water) if full else None
    if fitted is None or not fitted.is_the_same(answers.diameter_m, answers.pitch_m, answers.blades, setting.ratio):
        return ""
    return f"In the sea trial it reached {max(full) / RPM:.0f} rpm: the trial page says what that means."


def _rated_speed_finding(setting: Setting, answers: PropellerAnswers, tried: str) -> Finding:
    wanted = setting.wanted_margin
    light, rated = answers.light_running_fraction.best, answers.rated_rpm
    turning = answers.full_throttle_rpm
    worth, cure = (tried, tried) if tried else (_worth(answers.inch_of_pitch_rpm), _cure(answers, wanted))
    if not answers.light_running_fraction.is_known:
        return look(
            "Most of the plausible boats are faster than was worked out before the propeller takes the engine's power: "
            "how light it runs is not known, and the engine is far larger than her speeds ask for.",
            FULL_THROTTLE,
            "engine.candidate",
        )
    if not answers.takes_the_power:
        return look(
            "The propeller is far too light: even a quarter above rated speed it would not take the engine's power.",
            FULL_THROTTLE,
            "propeller.pitch",
        )
    if light < 0.0:
        short = rated - turning.best
        return stop(
            f"Overloaded: at full throttle the engine reaches {turning.best:.0f} of {rated:.0f} rpm, "
            f"{short:.0f} short, even clean and in calm water. {cure}",
            FULL_THROTTLE,
            "propeller.pitch",
        )
    text = (
        f"At full throttle, clean and in calm water, the engine reaches {turning.best:.0f} rpm, "
        f"{turning.low:.0f} to {turning.high:.0f} (rated {rated:.0f}); the propeller runs {percent(light, 1)} light"
        f"{_margin_words(setting)}."
    )
    if light >= wanted - LIGHT_TOLERANCE and turning.best < rated:
        return look(
            f"{text} Fully loaded it overloads the engine by {rated - turning.best:.0f} rpm: keep the margin for the "
            f"full load, unless she never carries it. {worth}",
            FULL_THROTTLE,
            "propeller.margin_state",
        )
    if light < wanted - LIGHT_TOLERANCE:
        text = f"{text} That is less in hand than the {percent(wanted)} asked for. {worth}"
        return look(text, FULL_THROTTLE, "propeller.pitch")
    if round(light, _AS_TOLD) > max(TOO_LIGHT, wanted + _LIGHTER):
        return look(
            f"{text} That is too light: the governor ends it before the power is used. {cure}",
            FULL_THROTTLE,
            "propeller.pitch",
        )
    return fits(f"{text} {worth}", FULL_THROTTLE, "propeller.pitch")


def _margin_words(setting: Setting) -> str:
    """The state that the light running is told for, where it is not the calm one of the sentence."""
    cases = setting.cases
    return "" if cases.margin.boats is cases.calm.boats else f" ({cases.margin.words})"


def _worth(per_inch: float) -> str:
    return f"An inch of pitch is worth {-per_inch:.0f} rpm." if np.isfinite(per_inch) else ""


def _cure(answers: PropellerAnswers, wanted: float) -> str:
    """The change of pitch that gives the margin asked for, from the computed exponent, where there are such wheels."""
    ratio = ((1.0 + wanted) / (1.0 + answers.light_running_fraction.best)) ** (1.0 / answers.pitch_exponent)
    metres = answers.pitch_m * (ratio - 1.0)
    if not answers.wheel.setting.kind.series.describes(answers.diameter_m, answers.pitch_m + metres):
        return "The size is too far from what suits to name a cure."
    sense = "more" if metres > 0.0 else "less"
    return f"About {abs(metres) / INCH:.1f} in ({abs(metres) * 1e3:.0f} mm) {sense} pitch suits."


def _boats_finding(answers: PropellerAnswers, tried: str) -> Finding:
    """In how many of the boats rated speed is reached, what goes wrong in the others, by how much, and, of a wheel that
    has not been tried, what makes it surer."""
    share, rated = answers.reaches_rated_fraction, answers.rated_rpm
    text = f"In {share_of_boats(share)} plausible boats the engine reaches its rated speed at full throttle."
    light = answers.light_running_fraction
    if answers.overloaded_fraction >= _TOLD:
        text += f" In {thousandths(answers.overloaded_fraction)} she is overloaded"
        short = -light.low * rated
        text += f", in one boat of ten by {short:.0f} rpm or more." if short > _NO_RPM else "."
    unknown = 1.0 - share - answers.overloaded_fraction
    if unknown >= _TOLD:
        text += f" In {thousandths(unknown)} she is faster than was worked out, so it is not known."
    if answers.overspeeding_fraction >= _TOLD:
        text += (
            f" In {thousandths(answers.overspeeding_fraction)} the propeller runs more than {percent(TOO_LIGHT)} "
            "light: the governor ends it before the power is used"
        )
        least = f"; in one boat of ten using it would take {light.high * rated:.0f} rpm over rated, or more."
        text += least if light.high > TOO_LIGHT else "."
    source = "the plausible boats in equilibrium with propeller and engine"
    if answers.is_sure_enough:
        return fits(text, source, "propeller.pitch")
    return look(text if tried else f"{text} {_surer(answers)}", source, "propeller.pitch")


def _surer(answers: PropellerAnswers) -> str:
    """What one step less pitch does to that."""
    same = [row for row in answers.neighbours if row.diameter_m == answers.diameter_m]
    finer = [row for row in same if row.pitch_m < answers.pitch_m]
    share = thousandths(finer[-1].reaches_rated_fraction) if finer else ""
    if not finer or share == thousandths(answers.reaches_rated_fraction):
        return "Less pitch makes it surer."
    less = answers.pitch_m - finer[-1].pitch_m
    return f"{less / INCH:.2g} in ({less * 1e3:.0f} mm) less pitch makes it {share}."


def _case_findings(answers: PropellerAnswers) -> Iterator[Finding]:
    """What becomes of full throttle foul, in a head wind and with all that is allowed for."""
    _, *harder = answers.cases
    for case in harder:
        yield _case_finding(case, answers.rated_rpm)


def _case_finding(case: CaseRow, rated: float) -> Finding:
    state = capitalised(case.state)
    turning = case.full_throttle_rpm.best
    if not np.isfinite(turning):
        return look(f"{state}: full throttle cannot be worked out.", FULL_THROTTLE)
    text = f"{state}: {turning:.0f} rpm and {case.top_kn.best:.1f} kn at full throttle"
    if round(turning) >= rated:
        return fits(f"{text}, so the engine still gets its rated speed.", FULL_THROTTLE)
    text = f"{text}, {rated - turning:.0f} rpm below rated"
    if turning >= rated * _AS_GOOD_AS_RATED:
        return fits(f"{text}, which is as good.", FULL_THROTTLE)
    return look(f"{text}: do not hold full throttle in that state.", FULL_THROTTLE)


def _area_findings(setting: Setting) -> Iterator[Finding]:
    """That wider blades than usual are taken, where they are."""
    if setting.area_ratio is not None:
        yield look(
            f"With the usual blade area ratio, {wanted_blades(setting.plan).area_ratio:.2f}, no stock size keeps to "
            f"every rule; the wheel here has {setting.area_ratio:.2f}. Order it so, and give it as the blade area "
            "ratio: the trial is read by what the plan says.",
            "areas of stock wheels from memory, trade practice; Burrill (1943)",
            "propeller.area_ratio",
        )


def _depth_findings(setting: Setting, answers: PropellerAnswers) -> Iterator[Finding]:
    """That full throttle is faster than the formula for the depth of the water holds for, where it is."""
    depth, form, top = amount_or_none(setting.plan.power, "water_depth"), setting.hull.form, answers.cases[-1].top_kn
    if depth is None or depth <= float(form.draft) or not top.is_known:
        return
    if ShallowWarning.BEYOND_FORMULA in shallow_water(form, top.best * KNOT, depth).warnings:
        yield look(
            f"With all that you allow for, {top.best:.1f} kn at full throttle is too fast for the formula of shallow "
            f"water to hold in {Wording(setting.plan.units).length(depth)} of it: take that speed, and the fastest of "
            "the range page, for a guess.",
            SHALLOW_SOURCE,
            "power.water_depth",
        )


def _growth_findings(setting: Setting) -> Iterator[Finding]:
    months = months_allowed_for(setting.plan)
    if growth_is_beyond(months):
        height = LIGHT_GROWTH.roughness_height * 1e6
        yield look(
            f"After {months_of(months)} without cleaning the wheel may carry barnacles. It is reckoned with light "
            f"growth ({height:.0f} micrometres); barnacles may cost a third of its efficiency: clean it when you can.",
            "ITTC (1978), blade roughness, from memory; months and heights are ours",
            "power.time_since_cleaning",
        )


def half_load_findings(setting: Setting) -> Iterator[Finding]:
    """Whether a displacement at half load that counts can be one."""
    half, whole = setting.plan.propeller.half_load, setting.plan.hull.displacement
    if setting.cases.margin.boats is setting.cases.calm.boats or half is None or whole is None:
        return
    given = f"The displacement at half load, {half.text}"
    if half.si > whole.si:
        yield look(
            f"{given}, is more than {whole.text} at full load, her displacement on the hull page: she is tried with "
            "the latter.",
            "half of the load weighs less than all of it",
            "propeller.half_load",
        )
    elif half.si < _LEAST_AT_HALF_LOAD * whole.si:
        share = percent(half.si / whole.si)
        text = (
            f"{given}, is {share} of her displacement on the hull page, which is at full load. Half of fuel, water and "
            "stores is seldom so much."
        )
        yield look(text, "half of the displacement as the limit: ours", "propeller.half_load")

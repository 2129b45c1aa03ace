"""Checks of the chosen propeller: room, cavitation, the series it rests on, the quick method, vibration, hand, pull."""

import math
from collections.abc import Iterator

from engine.constants import INCH, KNOT, PSI, RPM
from engine.defaults import amount
from engine.findings import Finding, Verdict, fits, look, stop
from engine.hull.displacement_rules import speed_length_ratio
from engine.machinery.diesel import check_full_load
from engine.machinery.vibration import judge_coincidences, judge_masking
from engine.propeller import handbook
from engine.propeller.bollard import ASTERN_NOTE, ASTERN_STATUS, SAILING_NOTE, SAILING_STATUS, STOPPING_NOTE
from engine.propeller.cavitation import (
    TIP_SPEED_LIMITS,
    blade_loading_check,
    burrill_check,
    dynamic_pressure,
)
from engine.propeller.geometry import CLEARANCES, stock_pitch_step, tip_clearance_fraction
from engine.propeller.handbook import MOST_BLADES
from engine.propeller.interaction import ARRANGEMENTS
from engine.propeller.series import series_with_no_way_on
from engine.propeller.wageningen import reynolds_correction
from engine.sections.electric import Motor
from engine.stages.boats import each_boat, is_behind_a_keel, is_sailing_yacht, stern
from engine.stages.drive import DieselDrive
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.room import shaft_depth
from engine.stages.setting import Setting
from engine.stages.stock import stock_steps
from engine.stages.wording import Wording, as_much_or, percent

_HANDBOOK_SPREAD = 0.12
"""Diameter and pitch may add up to this share more or less than the quick method's before a second look is asked for;
ours: at 3:1 the method itself asks for 4 to 16 % more pitch than the series."""
_OFF_A_STEP = 0.01
"""A pitch nearer to a whole step than this share of one is that step, written in another unit (ours)."""


def propeller_checks(setting: Setting, answers: PropellerAnswers) -> Iterator[Finding]:
    """Sentences about the propeller itself."""
    yield from _stock_findings(setting, answers)
    yield from _room_findings(setting, answers)
    yield from _immersion_findings(setting, answers)
    yield from _cavitation_findings(setting, answers)
    yield from _series_findings(setting, answers)
    yield _handbook_finding(setting, answers)
    yield from _vibration_findings(setting, answers)
    yield from _pull_findings(setting, answers)


def _stock_findings(setting: Setting, answers: PropellerAnswers) -> Iterator[Finding]:
    """Whether foundries keep such a pitch; nothing when the plan orders in centimetres."""
    if stock_steps(setting.plan).unit != "in":
        return
    step = stock_pitch_step(answers.diameter_m)
    steps = answers.pitch_m / step
    if abs(steps - round(steps)) > _OFF_A_STEP:
        yield fits(
            f"Wheels of this diameter are mostly kept in {step / INCH:g} in steps of pitch, so this one is pitched to "
            "order. Have its pitch measured before it is fitted.",
            "from memory, trade practice",
        )


def _is_enough(there: float, asked: float) -> bool:
    """Whether what is there reads as no less than what is asked for, both told to the hundredth or the per cent."""
    return round(there, 2) >= round(asked, 2)


def _room_findings(setting: Setting, answers: PropellerAnswers) -> Iterator[Finding]:
    asked = amount(setting.plan.propeller, "tip_clearance")
    gap = percent(answers.tip_clearance_fraction)
    text = f"The tips clear the hull by {gap} of the diameter; {percent(asked)} is asked for"
    source = "Gerr (1989), Propeller Handbook, from memory; 10 % is also a maker's minimum, confirmed by trade practice"
    wanted = _handbook_clearance(setting, answers)
    if answers.tip_clearance_fraction <= 0.0:
        yield stop("The propeller is larger than the room for it.", source, "propeller.diameter")
    elif _is_enough(answers.tip_clearance_fraction, max(asked, wanted)):
        yield fits(f"{text}.", source)
    elif _is_enough(answers.tip_clearance_fraction, asked):
        yield look(
            f"{text}, but the handbook wants {percent(wanted)} at her speed and rpm: expect noise and vibration, or "
            "take a smaller wheel.",
            source,
            "propeller.tip_clearance",
        )
    else:
        yield look(f"{text}: expect noise and vibration, or take a smaller wheel.", source, "propeller.diameter")


def _handbook_clearance(setting: Setting, answers: PropellerAnswers) -> float:
    """Least gap at the tips by the handbook, as a share of the diameter."""
    length_ratio = speed_length_ratio(answers.top_kn.best * KNOT, setting.hull.form.waterline_length)
    return float(tip_clearance_fraction(length_ratio, setting.rated_shaft_speed))


def _immersion_findings(setting: Setting, answers: PropellerAnswers) -> Iterator[Finding]:
    """How deep the upper tip lies at rest; nothing while the depth of the shaft is only assumed."""
    if setting.plan.propeller.shaft_depth is None:
        return
    cover = (shaft_depth(setting.plan) - 0.5 * answers.diameter_m) / answers.diameter_m
    least, better = CLEARANCES["immersion"]["least"], CLEARANCES["immersion"]["better"]
    place = "under" if cover >= 0.0 else "above"
    text = f"The upper tip lies {percent(abs(cover))} of the diameter {place} water at rest"
    source = "trade practice, from memory"
    if _is_enough(cover, least):
        yield fits(f"{text}; {percent(least)} is the least, {percent(better)} is better.", source)
    else:
        yield look(
            f"{text}; {percent(least)} under it is the least: it may draw air. Check the depth of the shaft, or lower "
            "it.",
            source,
            "propeller.shaft_depth",
        )


def _cavitation_findings(setting: Setting, answers: PropellerAnswers) -> Iterator[Finding]:
    """Four opinions on the blade area, and the tips. All at full throttle, clean and calm, middle of the fleet."""
    area, needed = answers.area_ratio, answers.needed_area_ratio.best
    keller = f"Keller (1966) asks for a blade area ratio of {needed:.2f}; the wheel has {area:.2f}"
    source = "Keller (1966), as used by Holtrop and Mennen (1982); advice for small single-screw boats, not a stop"
    yield fits(f"{keller}.", source) if _is_enough(area, needed) else look(f"{keller}.", source, "propeller.area_ratio")
    yield _burrill_finding(setting, answers)
    yield _loading_finding(setting, answers)
    yield _tip_speed_finding(answers, Wording(setting.plan.units))


def _advance(setting: Setting, answers: PropellerAnswers) -> float:
    """Speed of advance at full throttle [m/s]."""
    return answers.top_kn.best * KNOT * float(setting.demand.calm.advance_fraction)


def _burrill_finding(setting: Setting, answers: PropellerAnswers) -> Finding:
    area = answers.area_ratio
    shaft_speed = answers.full_throttle_rpm.best * RPM / setting.ratio
    density = setting.hull.water.density
    checks = [
        burrill_check(
            answers.thrust_n.best,
            answers.diameter_m,
            answers.pitch_ratio,
            area,
            dynamic_pressure(answers.diameter_m, shaft_speed, _advance(setting, answers), density),
            setting.shaft_pressure,
            line,
        )
        for line in ("lower", "merchant")
    ]
    quiet, usual = (float(check.area_ratio_needed) for check in checks)
    source = "Burrill (1943), merchant and lower line; fits from memory, checked against printed chart readings"
    if not math.isfinite(quiet + usual):
        sigma = float(checks[0].cavitation_number)
        return look(
            f"Burrill's chart ends before blades so fast (cavitation number {sigma:.3f}): no area is enough. A deeper "
            "ratio slows them.",
            source,
            "gear.ratio",
        )
    text = (
        f"Burrill's chart asks for a blade area ratio of {usual:.2f} for about 5 % cavitation and {quiet:.2f} for his "
        f"lower line, quiet running or heavy towing; the wheel has {area:.2f}."
    )
    text = " ".join([text, *(record.sentence() for record in checks[0].outside)])
    if _is_enough(area, quiet):
        return fits(text, source)
    if _is_enough(area, usual):
        return fits(f"{text} It will do, and more area would be quieter.", source)
    return look(
        f"{text} Take more blade area. The search of stock wheels goes by the 5 % first.",
        source,
        "propeller.area_ratio",
    )


def _loading_finding(setting: Setting, answers: PropellerAnswers) -> Finding:
    check = blade_loading_check(
        answers.thrust_n.best,
        answers.diameter_m,
        answers.disc_area_ratio,
        _advance(setting, answers),
        shaft_depth(setting.plan),
    )
    carried, allowed = float(check.loading), float(check.allowed_loading)
    text = (
        f"By the handbook the blades carry {carried / PSI:.1f} of {allowed / PSI:.1f} psi allowed "
        f"({carried / 1e3:.0f} of {allowed / 1e3:.0f} kPa)"
    )
    source = "Gerr (1989), Propeller Handbook, formulas 5-6 and 5-7, from memory"
    needed = float(check.area_ratio_needed)
    if _is_enough(answers.disc_area_ratio, needed):
        return fits(f"{text}.", source)
    return look(
        f"{text}: a disc-area ratio of {needed:.2f} would do, the wheel has {answers.disc_area_ratio:.2f}.",
        source,
        "propeller.area_ratio",
    )


def _tip_speed_finding(answers: PropellerAnswers, say: Wording) -> Finding:
    tip = answers.tip_speed_m_per_s.best
    quiet, ordinary = float(TIP_SPEED_LIMITS["quiet"]), float(TIP_SPEED_LIMITS["ordinary"])
    tips, practice = f"The tips run at {say.tip_speed(tip)}", "trade practice, from memory"
    if tip <= quiet:
        return fits(f"{tips}: quiet up to {say.tip_speed(quiet)}.", practice)
    if tip <= ordinary:
        return fits(f"{tips}: ordinary up to {say.tip_speed(ordinary)}.", practice)
    return look(
        f"{tips}, above {say.tip_speed(ordinary)}: noise and erosion. A deeper ratio slows them.",
        practice,
        "gear.ratio",
    )


def _series_findings(setting: Setting, answers: PropellerAnswers) -> Iterator[Finding]:
    kind = setting.kind
    yield fits(
        f"The wheel is reckoned by the {kind.series.label}. Flat-faced and airfoil series differ by 3 to 5 % in "
        "efficiency, and by up to a tenth in the torque at the same pitch: ask which sections the wheel has.",
        f"{kind.series.source}; spread by comparison of the series",
        "propeller.sections",
    )
    for record in kind.series.outside(answers.pitch_ratio, kind.area_ratio, kind.blades):
        yield look(record.sentence(), kind.series.source, "propeller.area_ratio")
    efficiency = answers.cruise_efficiency_fraction.best
    for record in kind.series.reservations(answers.pitch_ratio, kind.blades, efficiency):
        yield look(record.sentence(), kind.series.source, "propeller.pitch")
    if kind.series.reynolds_correction:
        reynolds = setting.blade_water.reynolds(kind, answers.diameter_m)
        for record in reynolds_correction(answers.pitch_ratio, kind.area_ratio, kind.blades, reynolds).outside:
            yield look(record.sentence(), "Oosterveld and van Oossanen (1975), Reynolds correction")


def _handbook_finding(setting: Setting, answers: PropellerAnswers) -> Finding:
    say = Wording(setting.plan.units)
    blades = min(answers.blades, MOST_BLADES)
    taken_as = f", the most it has factors for; this wheel has {answers.blades}" if answers.blades > blades else ""
    source = (
        "Gerr (1989), Propeller Handbook, formulas 5-2 and 5-3, blade factors; slip and factors from memory; 12 % as "
        "the limit is ours"
    )
    if answers.handbook_pitch_m is None:
        text = (
            f"The trade's quick method does not hold at the {answers.top_kn.best:.1f} kn that she reaches: its slip "
            f"would be more than 1. It gives {say.size(answers.handbook_diameter_m)} of diameter and no pitch."
        )
        return look(text, source, "propeller.diameter")
    size = f"{say.size(answers.handbook_diameter_m)} by {say.size(answers.handbook_pitch_m)}"
    total = answers.diameter_m + answers.pitch_m
    gap = total / (answers.handbook_diameter_m + answers.handbook_pitch_m) - 1.0
    text = (
        f"The trade's quick method gives {size} for {blades} blades{taken_as}; the size chosen is "
        f"{as_much_or(gap)}, diameter and pitch added up."
    )
    if answers.series_pitch_m is not None:
        text += f" At its diameter the tested series asks for {say.size(answers.series_pitch_m)} of pitch."
    verdict = Verdict.FITS if abs(gap) <= _HANDBOOK_SPREAD else Verdict.LOOK
    return Finding(verdict, text, source, "propeller.diameter")


def _vibration_findings(setting: Setting, answers: PropellerAnswers) -> Iterator[Finding]:
    chosen = setting.plan.engine.selected
    if isinstance(chosen, Motor):
        yield fits("A motor does not fire, so the blade rate meets nothing of its own.", "blade rate and firing rate")
    elif chosen is None or chosen.cylinders is None:
        yield look(
            "The number of cylinders is not given, so the blade rate cannot be held against the engine's firing.",
            "blade rate and firing rate",
            "engine.candidate",
        )
    else:
        yield from judge_coincidences(answers.blades, setting.ratio, chosen.cylinders)
    yield judge_masking(answers.blades, is_behind_a_keel(setting.plan))
    arrangement = ARRANGEMENTS[stern(setting.plan)]
    if arrangement.note:
        yield look(f"{arrangement.note}. That is not in the numbers.", arrangement.status)


def _pull_findings(setting: Setting, answers: PropellerAnswers) -> Iterator[Finding]:
    say = Wording(setting.plan.units)
    quick = setting.demand.screws * float(handbook.bollard_thrust(setting.drive.power_at_propeller, answers.diameter_m))
    source = "the series at no advance and the engine's full load; thrust deduction from memory"
    fleet, series = setting.hull.fleet, setting.kind.series
    engine_speed = fleet.band(each_boat(answers.held.shaft_speed, fleet.rows)).best * setting.ratio
    is_governed = engine_speed >= setting.drive.engine.rated_speed
    how = "the governor holds the engine" if is_governed else "the engine is held down to less than its rated power"
    yield fits(
        f"Held at the quay she pulls about {say.force(answers.bollard_pull_n.best)} ahead, where {how}; the "
        f"handbook's rule, for the whole power, gives {say.force(quick)} of thrust.",
        f"{source}; Gerr (1989), formula 5-9",
    )
    slow = series_with_no_way_on(series)
    if slow is not series:
        yield look(
            f"That pull is by the {slow.label}: the {series.label} was not tested below an advance ratio of "
            f"{series.lowest_advance_ratio:g}.",
            f"{slow.source}; taking it is ours",
            "propeller.sections",
        )
    if isinstance(setting.drive, DieselDrive):
        for record in check_full_load(setting.drive.engine, engine_speed):
            yield look(
                f"Held at the quay the engine turns {engine_speed / RPM:.0f} rpm, and its full-load curve begins at "
                f"{record.low:.0f}: {record.note}.",
                source,
                "engine.candidate",
            )
    yield fits(f"{ASTERN_NOTE} {STOPPING_NOTE}", ASTERN_STATUS)
    if is_sailing_yacht(setting.plan):
        yield look(SAILING_NOTE, SAILING_STATUS, "propeller.blades")

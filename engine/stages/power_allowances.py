"""What is allowed for between the bare hull in calm water and service: wake, wind, waves, fouling, depth."""

from collections.abc import Iterator

import numpy as np

from engine.constants import GRAVITY, INCH, KNOT
from engine.data import table
from engine.defaults import amount, amount_or_none, word
from engine.findings import Finding, fits, look, stop
from engine.hull.fouling import class_like, fouling_outside
from engine.hull.shallow_water import SHALLOW_SOURCE, ShallowWarning, shallow_water, squat
from engine.hull.waves import kreitner_outside, stawave1_outside
from engine.plan import Plan
from engine.stages.blades import months_allowed_for
from engine.stages.boats import boats_of
from engine.stages.demand import Demand
from engine.stages.hull import HullAnswers
from engine.stages.resistance import each_at_speed, fouling_rise, fouls_fast
from engine.stages.speed import SpeedAnswers
from engine.stages.unknowns import as_described
from engine.stages.wording import Wording, capitalised, listed, months_of, percent

_LARGE_MARGIN = 0.25
"""A sea margin above this stands for more than a light wind (ours)."""
_DEEP_DRAUGHTS = 3.0
"""From so many draughts on water is called deep where ships manoeuvre: PIANC, from memory."""


def allowance_findings(plan: Plan, hull: HullAnswers, speed: SpeedAnswers, demand: Demand) -> Iterator[Finding]:
    """Sentences about all that stands between calm water and service, and about wake and thrust deduction."""
    yield from _interaction_findings(plan, hull, demand)
    yield from _weather_findings(plan, hull)
    yield from _fouling_findings(plan, hull, speed, demand)
    yield from _depth_findings(plan, hull, speed)


def _interaction_findings(plan: Plan, hull: HullAnswers, demand: Demand) -> Iterator[Finding]:
    between = demand.interaction
    usual = {
        "power.wake": (plan.power.wake, f"wake ({percent(float(between.wake_fraction))})"),
        "power.thrust_deduction": (
            plan.power.thrust_deduction,
            f"thrust deduction ({percent(float(between.thrust_deduction))})",
        ),
    }
    taken = {path: words for path, (given, words) in usual.items() if given is None}
    if not taken:
        return  # what the formulas have to say of themselves concerns nobody
    them = f"{capitalised(listed(list(taken.values())))} {'are' if len(taken) > 1 else 'is'}"
    yield fits(
        f"{them} half by her fullness and half what is usual here ({word(plan.hull, 'propeller_place')}), or what the "
        "log leaves of that; give your own if you know better.",
        "Taylor (1943), Gerr (1989) and typical values from memory, trade and tank practice; the mean is ours",
        next(iter(taken)),
    )
    if between.wake_clamped.any():
        yield look("The wake was held to what is believable for small craft.", "0 to 0.35, from memory", "power.wake")
    block = round(float(hull.form.block_coefficient), 2)
    for record in between.outside:
        if record.low <= block <= record.high:
            continue  # it reads as inside
        yield look(record.sentence(), "Taylor (1943) and Gerr (1989) compared with each other", "hull.hull_draft")


def _weather_findings(plan: Plan, hull: HullAnswers) -> Iterator[Finding]:
    wind, height = amount(plan.power, "head_wind"), amount(plan.power, "wave_height")
    if plan.hull.windage_area is None:
        tried = "the head wind that you give counts for nothing" if wind > 0.0 else "no head wind is tried"
        yield look(
            f"No frontal area is given, so the drag of the air is left out and {tried}.",
            "ITTC 7.5-02-03-01.4",
            "hull.windage_area",
        )
        wind = 0.0
    given = [words for words, value in (("a head wind", wind), ("waves", height)) if value > 0.0]
    margin, is_default = amount(plan.power, "sea_margin"), plan.power.sea_margin is None
    if given and (margin > _LARGE_MARGIN or (is_default and margin > 0.0)):
        both = capitalised(listed(given))
        large = (
            f"the sea margin of {percent(margin)} that stands there by default" if is_default else "a large sea margin"
        )
        yield look(
            f"{both} and {large} are both allowed for. Give the weather once, by itself or as a margin.",
            "the margin already stands for wind and waves",
            "power.sea_margin",
        )
    if height > 0.0:
        for record in (*stawave1_outside(hull.form, height), *kreitner_outside(height)):
            yield look(record.sentence(), "ISO 15016 (STAWAVE-1) and Kreitner (1939), from memory", "power.wave_height")
        yield look(
            "The resistance in head seas is the mean of two formulas for ships ten times as long: a rough guess.",
            "ISO 15016 (STAWAVE-1) and Kreitner (1939), from memory; the mean is ours",
            "power.wave_height",
        )


def _fouling_findings(plan: Plan, hull: HullAnswers, speed: SpeedAnswers, demand: Demand) -> Iterator[Finding]:
    months = months_allowed_for(plan)
    if months == 0.0:
        return
    cruise = speed.cruise_kn * KNOT
    length = float(hull.form.waterline_length)
    described = boats_of(plan, hull.water, as_described)
    rise = float(fouling_rise(months, described, cruise, hull.water, plan))
    curve = demand.resistance
    fouling, calm = (
        each_at_speed(curve, np.asarray(force), cruise) for force in (curve.parts.fouling, curve.parts.calm)
    )
    share = curve.fleet.band(fouling / calm).best
    warm = ", in water as warm as hers up to the rate of the tropics" if fouls_fast(plan) else ""
    source = (
        f"0.25 % of friction a day in temperate water{warm}, from memory, textbook tradition; classes after Schultz "
        "(2007)"
    )
    yield fits(
        f"After {months_of(months)} without cleaning she is as with {class_like(rise, cruise, length, hull.water)}: "
        f"{percent(share)} more resistance at cruise.",
        source,
        "power.time_since_cleaning",
    )
    for record in fouling_outside(rise, cruise, length, hull.water):
        yield look(record.sentence(), source, "power.time_since_cleaning")


def _depth_findings(plan: Plan, hull: HullAnswers, speed: SpeedAnswers) -> Iterator[Finding]:
    depth = amount_or_none(plan.power, "water_depth")
    if depth is None:
        return
    if depth <= float(hull.form.draft):
        yield stop("The water is no deeper than the hull's draft: she is aground.", SHALLOW_SOURCE, "power.water_depth")
        return
    under = depth - max(float(hull.form.draft), amount_or_none(plan.hull, "keel_draft") or 0.0)
    if under <= 0.0:
        text = "The water is no deeper than the draft to the bottom of her keel: she is aground."
        yield stop(text, "depth of the water less the draft", "power.water_depth")
        return
    effect = shallow_water(hull.form, speed.cruise_kn * KNOT, depth)
    at_top = shallow_water(hull.form, speed.top_kn * KNOT, depth)
    loss = float(effect.speed_loss)
    slower = f"costs {percent(loss, 1)} of her speed" if loss > 0.0 else "does not slow her"
    if not effect.warnings:
        yield fits(f"At cruise this depth {slower}.", SHALLOW_SOURCE)
    for warning in effect.warnings:
        text = f"At cruise in this depth {warning.value}."
        if warning is ShallowWarning.NEAR_CRITICAL:
            costs = f"this depth {slower}" if ShallowWarning.BEYOND_FORMULA not in effect.warnings else "in this depth"
            text = f"At cruise {costs}: {warning.value}. {_deeper_or_slower(plan, depth, speed.cruise_kn)}"
        yield look(text, SHALLOW_SOURCE, "power.water_depth")
    for warning in at_top.warnings:
        if warning not in effect.warnings:
            cure = _deeper_or_slower(plan, depth, speed.top_kn) if warning is ShallowWarning.NEAR_CRITICAL else ""
            text = f"At the top speed wanted, {speed.top_kn:.1f} kn, in this depth {warning.value}. {cure}".rstrip()
            yield look(text, SHALLOW_SOURCE, "power.water_depth")
    if np.any(effect.is_shallow):
        yield _squat_finding(plan, hull, speed, under)
        yield from _banks_finding(hull, depth)


def _deeper_or_slower(plan: Plan, depth: float, speed_kn: float) -> str:
    """What keeps her clear of the speed of the fastest wave, in this depth [m] or at this speed."""
    least = table("service_allowances")["shallow_water"]["warning_depth_froude_number"]
    slow_kn, deep = least * np.sqrt(GRAVITY * depth) / KNOT, (speed_kn * KNOT / least) ** 2 / GRAVITY
    step = 0.1 if plan.units == "metric" else 3.0 * INCH
    slow_kn, water = np.floor(slow_kn * 10.0) / 10.0, Wording(plan.units).length(np.ceil(deep / step) * step)
    return f"Slow down to about {slow_kn:.1f} kn, or find about {water} of water."


def _banks_finding(hull: HullAnswers, depth: float) -> Iterator[Finding]:
    """That the banks of a canal are not in the numbers; to look at where the water is but a few draughts deep."""
    draughts, source = depth / float(hull.form.draft), "what banks do is not worked out here"
    if draughts >= _DEEP_DRAUGHTS:
        yield fits("Banks close by slow her more than this depth alone, and that is not in the numbers.", source)
        return
    yield look(
        f"The water is only {draughts:.1f} times as deep as the draft of her hull. In a canal its banks hold her back "
        "as well, and that is not in the numbers: log the present engine there, before you trust power, fuel or range.",
        f"{source}; water is called deep from three drafts on: PIANC, from memory",
        "power.water_depth",
    )


def _squat_finding(plan: Plan, hull: HullAnswers, speed: SpeedAnswers, under: float) -> Finding:
    """How far she settles, beside the water under her [m]."""
    say, cruise = Wording(plan.units), speed.cruise_kn * KNOT
    wide, narrow = (float(squat(hull.form, cruise, confined=confined)) for confined in (False, True))
    text = (
        f"At cruise she settles by about {say.about_size(wide)}, in a narrow canal by {say.about_size(narrow)}; "
        f"{say.length(under)} of water is under her at rest"
    )
    source = f"{table('service_allowances')['squat']['source']}; from memory"
    if narrow >= under:
        return look(f"{text}. She may touch: slow down, or find deeper water.", source, "power.water_depth")
    return fits(f"{text}.", source)
